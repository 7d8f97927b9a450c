//! The old bore as a cut meets it, depth by depth.

use borewright_geometry::clock::distance_mm;

use super::Cut;

/// Distance of the old axis from the cut's at a depth, mm.
pub(super) fn apart(cut: &Cut<'_>, depth_mm: f64) -> f64 {
    let (old, new) = (cut.found.now.axis.at(depth_mm), cut.bore.cut_mm(depth_mm));
    distance_mm(old, new)
}

/// The old surface at one depth as the cut meets it.
pub(super) struct OldSurface {
    /// Its centre from the cut's, mm.
    pub(super) apart_mm: f64,
    /// Its centre in the bank, mm.
    pub(super) centre_mm: [f64; 2],
    /// At which depth, mm.
    pub(super) depth_mm: f64,
    /// How the spindle leans, mm per mm.
    pub(super) lean: [f64; 2],
    /// What it is.
    pub(super) surface: &'static str,
    /// Its nearest and farthest metal from its own centre, mm.
    pub(super) metal_mm: [f64; 2],
}

impl OldSurface {
    /// The old surface's nearest metal from the cut's axis, mm.
    pub(super) fn nearest_mm(&self) -> f64 {
        self.metal_mm[0] - self.apart_mm
    }
}

/// The old surface over some depths: along the fitted axis where it takes its extremes, and each circle as it was read.
pub(super) fn surfaces(cut: &Cut<'_>, ends_mm: [f64; 2]) -> Vec<OldSurface> {
    let bore = &cut.found.now;
    let (lean, surface) = (cut.bore.datum.lean, bore.surface.word());
    let fitted = depths(cut, ends_mm).into_iter().map(|depth| {
        let metal_mm = [bore.radius_mm(depth), bore.farthest_mm(depth)];
        let centre_mm = bore.axis.at(depth);
        OldSurface { apart_mm: apart(cut, depth), centre_mm, depth_mm: depth, lean, surface, metal_mm }
    });
    let [from, to] = ends_mm;
    let within = bore.rings.iter().filter(|r| from <= r.depth_mm && r.depth_mm <= to);
    let read = within.map(|r| {
        let new = cut.bore.cut_mm(r.depth_mm);
        let apart_mm = distance_mm(r.centre_mm, new);
        let (centre_mm, depth_mm, metal_mm) = (r.centre_mm, r.depth_mm, r.metal_mm);
        OldSurface { apart_mm, centre_mm, depth_mm, lean, surface, metal_mm }
    });
    fitted.chain(read).collect()
}

/// Depths at which a straight axis and a radius linear between readings take their extremes.
pub(super) fn depths(cut: &Cut<'_>, [from, to]: [f64; 2]) -> Vec<f64> {
    let between = cut.found.now.diameters_mm.iter().map(|row| row[0]).filter(|d| *d > from && *d < to);
    [from, to].into_iter().chain(between).collect()
}
