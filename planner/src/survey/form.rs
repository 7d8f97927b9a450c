//! The form of each bore: its circles by every definition, its axis, taper, barrel and cylindricity.

use borewright_geometry::clock::clock_deg;
use borewright_geometry::{
    ZoneCircle, fit_barrel_shape, fit_cylinder_along, fit_harmonics, maximum_inscribed_circle,
    minimum_circumscribed_circle, minimum_zone_circle, minimum_zone_cylinder_near,
};
use serde::Serialize;

use super::Survey;
use super::bore::{Bore, FoundCircle};
use super::bores::{ToBank, point_groups};
use crate::job::{Job, Surface};

/// One bore on one surface.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoreForm {
    /// The cylinder.
    pub cylinder: u32,
    /// Its bank.
    pub bank: String,
    /// What it was measured on.
    pub surface: &'static str,
    /// Along the bank at the deck, by its fitted axis, mm.
    pub x: f64,
    /// Across the bank at the deck, by its fitted axis, mm.
    pub y: f64,
    /// How far that is from the true position, along and across, mm: what the plan calls `off_true`.
    pub off_true: [f64; 2],
    /// Lean of its axis, mm per mm of depth.
    pub tilt: [f64; 2],
    /// Mean diameter, mm.
    pub diameter: f64,
    /// Diameter at the lowest depth less that at the highest, by least squares; `None` at one depth.
    pub taper: Option<Told>,
    /// How much wider the middle is than the ends; negative for a waist; `None` with less than three depths.
    pub barrel: Option<Told>,
    /// Peak-to-valley about the least-squares cylinder, mm, where points at two depths or more were read.
    pub cylindricity: Option<f64>,
    /// Peak-to-valley between the minimum zone cylinders, mm: never more than about the least-squares one.
    pub cylindricity_zone: Option<f64>,
    /// Its circles, by depth.
    pub circles: Vec<CircleForm>,
}

/// A figure and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Told {
    /// The figure, mm.
    pub mm: f64,
    /// Its standard uncertainty, mm.
    pub u: f64,
}

/// One circle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CircleForm {
    /// Below the deck, mm.
    pub depth: f64,
    /// Which round of measuring.
    pub set: Option<String>,
    /// Least squares (ISO 12181: LSC).
    pub lsc: Circle,
    /// Minimum zone (MZC): the two concentric circles closest together that hold all points.
    pub mzc: Option<Circle>,
    /// Least circumscribed (MCC).
    pub mcc: Option<Circle>,
    /// Largest inscribed (MIC).
    pub mic: Option<Circle>,
    /// Lobes: orders 2 to 8 that the points can tell.
    pub harmonics: Vec<Lobes>,
}

/// A circle and the roundness about it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Circle {
    /// Centre along the bank, mm.
    pub x: f64,
    /// Centre across the bank, mm.
    pub y: f64,
    /// Diameter, mm.
    pub diameter: f64,
    /// Peak-to-valley, mm; `None` where only centres were read.
    pub roundness: Option<f64>,
}

/// One order of lobes round a circle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Lobes {
    /// How many.
    pub order: u8,
    /// Amplitude on radius, mm.
    pub amplitude: f64,
    /// Clock of the first high, degrees.
    pub clock: f64,
}

/// Lobes of orders 2 to 8 of radii by clock; those that cannot be told are left out.
pub(super) fn lobes(radii: &[(f64, f64)]) -> Vec<Lobes> {
    let told = fit_harmonics(radii).map(|h| h.told).unwrap_or_default();
    told.iter()
        .filter(|h| h.order >= 2)
        .map(|h| Lobes { order: h.order, amplitude: h.amplitude_mm, clock: h.phase_deg })
        .collect()
}

/// Raw points of one circle, in the bank.
struct Cloud {
    of: (usize, u32, f64, Surface, Option<String>),
    points_mm: Vec<[f64; 2]>,
}

fn clouds(job: &Job, survey: &Survey) -> Vec<Cloud> {
    let mut clouds = Vec::new();
    for (index, (set_up, placement)) in job.set_ups.iter().zip(&survey.placements).enumerate() {
        let to_bank = ToBank::new(job, set_up, placement.as_ref());
        for group in point_groups(&set_up.points) {
            let first = group[0];
            clouds.push(Cloud {
                of: (index, first.cylinder, first.depth_mm, first.surface, first.set.clone()),
                points_mm: group.iter().map(|p| to_bank.place(p.at_mm, p.depth_mm)).collect(),
            });
        }
    }
    clouds
}

/// Every bore that was read, bank by bank.
pub(crate) fn bores(job: &Job, survey: &Survey) -> Vec<BoreForm> {
    let clouds = clouds(job, survey);
    let mut forms = Vec::new();
    for layout in &job.block.banks {
        for site in &layout.sites {
            let Some(found) = survey.cylinders.get(&site.cylinder) else { continue };
            for (surface, bore) in &found.by_surface {
                let of_bore =
                    survey.circles.iter().filter(|c| c.cylinder == site.cylinder && c.surface == *surface);
                let circles = of_bore.map(|c| circle(c, &clouds)).collect();
                let own: Vec<&Cloud> = clouds
                    .iter()
                    .filter(|c| planned(survey, c) && c.of.1 == site.cylinder && c.of.3 == *surface)
                    .collect();
                forms.push(form(job, (site.cylinder, &layout.name, *surface), bore, circles, &own));
            }
        }
    }
    forms
}

/// Whether a cloud is of the round that the bore's axis rests on: two clampings make no one cylinder.
fn planned(survey: &Survey, cloud: &Cloud) -> bool {
    let (set_up, cylinder, _, surface, set) = &cloud.of;
    let same = |c: &&FoundCircle| {
        c.set_up == *set_up && c.cylinder == *cylinder && c.surface == *surface && c.set == *set
    };
    survey.circles.iter().find(same).is_some_and(|c| c.planned)
}

/// A circle by all four definitions, with its lobes; those through points only where it was read by points, which
/// `clouds` has.
fn circle(c: &FoundCircle, clouds: &[Cloud]) -> CircleForm {
    let lsc =
        Circle { x: c.centre_mm[0], y: c.centre_mm[1], diameter: c.diameter_mm, roundness: c.roundness_mm };
    // Only a circle that came from points has them; a typed one at the same place has not.
    let key = (c.set_up, c.cylinder, c.depth_mm, c.surface, c.set.clone());
    let points = clouds.iter().find(|cloud| c.roundness_mm.is_some() && cloud.of == key);
    let points = points.map_or(&[] as &[[f64; 2]], |cloud| &cloud.points_mm);
    let zone = |fit: fn(&[[f64; 2]]) -> Result<ZoneCircle, borewright_geometry::ZoneCircleError>,
                radius: fn(&ZoneCircle) -> f64| {
        fit(points).ok().map(|z| Circle {
            x: z.centre_mm[0],
            y: z.centre_mm[1],
            diameter: 2.0 * radius(&z),
            roundness: Some(z.roundness_mm()),
        })
    };
    let radii: Vec<(f64, f64)> = points
        .iter()
        .map(|p| {
            let (dx, dy) = (p[0] - lsc.x, p[1] - lsc.y);
            (clock_deg([dx, dy]), dx.hypot(dy))
        })
        .collect();
    CircleForm {
        depth: c.depth_mm,
        set: c.set.clone(),
        lsc,
        mzc: zone(minimum_zone_circle, |z| (z.inner_mm + z.outer_mm) / 2.0),
        mcc: zone(minimum_circumscribed_circle, |z| z.outer_mm),
        mic: zone(maximum_inscribed_circle, |z| z.inner_mm),
        harmonics: if radii.is_empty() { Vec::new() } else { lobes(&radii) },
    }
}

/// The form of one bore from its axis, its circles and the points they came from; what needs two depths is none
/// with one.
fn form(
    job: &Job,
    (cylinder, bank, surface): (u32, &str, Surface),
    bore: &Bore,
    circles: Vec<CircleForm>,
    clouds: &[&Cloud],
) -> BoreForm {
    let diameters: Vec<(f64, f64)> = bore.diameters_mm.iter().map(|row| (row[0], row[1])).collect();
    let shape = fit_barrel_shape(&diameters, job.instruments.diameter_mm).ok();
    let told = |t: &borewright_geometry::Told| Told { mm: t.mm, u: t.u_mm };
    // A cylinder needs its points spread over a length: two depths at least.
    let deep = bore.depths_mm[1] > bore.depths_mm[0];
    let points: Vec<[f64; 3]> =
        clouds.iter().flat_map(|c| c.points_mm.iter().map(|p| [p[0], p[1], -c.of.2])).collect();
    let direction = [-bore.axis.tilt[0], -bore.axis.tilt[1], 1.0];
    let cylinder_fit = deep.then(|| fit_cylinder_along(&points, direction).ok()).flatten();
    let [x, y] = bore.axis.at_deck_mm;
    let true_mm = job.site(cylinder).map(|(bank, site)| [site.x_mm, job.bank(bank).axis_offset_mm]);
    BoreForm {
        cylinder,
        bank: bank.to_owned(),
        surface: surface.word(),
        x,
        y,
        off_true: true_mm.map_or([f64::NAN; 2], |at| [x - at[0], y - at[1]]),
        tilt: bore.axis.tilt,
        diameter: bore.diameter_mm,
        taper: shape.as_ref().map(|s| told(&s.taper)),
        barrel: shape.as_ref().and_then(|s| s.barrel.as_ref().map(told)),
        cylindricity: cylinder_fit.map(|c| c.cylindricity_mm),
        cylindricity_zone: cylinder_fit.map(|c| minimum_zone_cylinder_near(&points, &c).cylindricity_mm()),
        circles,
    }
}
