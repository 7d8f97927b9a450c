//! The seat: the ledge under the flange, or the step under a plain sleeve, what presses on it, and what its metal
//! bears.

use std::f64::consts::FRAC_PI_4;
use std::sync::LazyLock;

use super::holding;
use crate::job::{CoolantHole, HeadBolts, Job, Sleeve, Surface};
use crate::place::{Positions, Seated};
use crate::plan::fit::Seat;
use crate::survey::{CylinderSurvey, Survey};

/// Directions in which the ledge is added up.
const RAYS: u32 = 3600;

/// Sine and cosine of each.
static RAYS_AT: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let turn = std::f64::consts::TAU / f64::from(RAYS);
    (0..RAYS).map(|ray| ((f64::from(ray) + 0.5) * turn).sin_cos()).collect()
});

/// With more holes than this in it a ledge counts as none.
const MOST_HOLES: usize = 48;

/// Steps along a ray, where a hole opens in the ledge.
const ALONG: u32 = 60;

/// The seat of the candidate at its planned places.
///
/// Ledge: from the edge of the flange to the chamfered edge of the pocket below, less the flats and any coolant
/// hole that opens in it; the clamp presses on it, and gas takes off. Step: from the pocket to the step's own bore,
/// or to the farthest metal of the old one where that is wider; what of the clamp stands on the sleeve presses on
/// it, and gas with it.
pub(super) fn seat(job: &Job, survey: &Survey, positions: &Positions) -> Seat {
    let sleeve = &job.sleeves[positions.sleeve];
    let below = positions.pocket.steps.first().map_or(0.0, |s| s.radius_mm);
    let plain = match (&positions.pocket.flange, sleeve.flange()) {
        (Some(recess), Some(flange)) => Ledge {
            inner: below + job.allowances.ledge_chamfer_mm,
            outer: flange.diameter_mm / 2.0,
            flat: flange.flats_mm.map(|flats| flats / 2.0),
            floor: recess.cut.depths.to_mm,
            old: None,
        },
        _ => Ledge {
            inner: positions.pocket.foot.as_ref().map_or(0.0, |f| f.radius_mm),
            outer: positions.pocket.steps.last().map_or(0.0, |s| s.radius_mm),
            flat: None,
            floor: positions.pocket.depth_mm(),
            old: None,
        },
    };
    let foot = positions.pocket.foot.is_some();
    let ledges: Vec<(u32, f64, f64)> = positions
        .bores
        .iter()
        .map(|bore| {
            let found = survey.cylinders.get(&bore.site.cylinder).filter(|_| foot);
            let ledge = Ledge { old: found.map(|f| old(job, f, bore, plain.floor)), ..plain };
            let holes = job.block.coolant_holes.iter().filter(|h| h.bank == bore.bank);
            let area = ledge.area_mm2(bore.planned_mm, &holes.collect::<Vec<_>>());
            (bore.site.cylinder, area, ledge.width_mm())
        })
        .collect();
    let whole = plain.area_mm2([0.0, 0.0], &[]);
    let least = ledges.iter().min_by(|a, b| a.1.total_cmp(&b.1)).filter(|a| a.1 < whole);
    let area = least.map_or(whole, |a| a.1);
    let width = ledges.iter().map(|l| l.2).fold(plain.width_mm(), f64::min);
    let ring = job.block.fire_ring;
    let gas_load = match job.engine.head_bolts.and_then(|b| b.gas_mpa).zip(ring) {
        _ if foot => holding::gas_n(job, sleeve),
        Some((mpa, ring)) => Some(mpa * FRAC_PI_4 * ring.inside_mm * ring.inside_mm),
        None => None,
    };
    let share = if foot { on_sleeve(job, sleeve) } else { 1.0 };
    let load = job.engine.head_bolts.and_then(|bolts| clamp_n(job, &bolts)).map(|n| n * share);
    let scatter = job.engine.head_bolts.map_or(0.0, |bolts| bolts.scatter);
    let under = |n: f64| (n + gas_load.filter(|_| foot).unwrap_or(0.0)) / area;
    let pressure = load.filter(|_| area > 0.0).map(under);
    let at_c = job.engine.running.block_c;
    let yield_at_work = job.block.parent.material.yield_at_mpa(at_c);
    let bears = job.block.parent.material.bears_at(at_c).filter(|_| load.is_some());
    let ring_area =
        ring.map(|r| FRAC_PI_4 * (r.outside_mm * r.outside_mm - r.inside_mm * r.inside_mm)).filter(|_| !foot);
    let lifted = load.zip(gas_load).filter(|_| area > 0.0 && !foot);
    Seat {
        area,
        smallest_at: least.map(|a| a.0),
        width,
        width_at_flats: plain.flat.map(|f| (f.min(plain.outer) - plain.inner).max(0.0)),
        load,
        pressure,
        pressure_most: load.filter(|_| area > 0.0).map(|n| under(n * (1.0 + scatter))),
        bears: bears.map(|b| b.mpa),
        bears_by: bears.map(|b| if b.by_creep { "creep" } else { "yield" }),
        ratio: pressure.zip(yield_at_work).map(|(p, y)| p / y),
        yield_at_work: load.and(yield_at_work),
        gas_load,
        pressure_at_peak: lifted.map(|(n, gas)| (n * (1.0 - scatter) - gas) / area),
        flange_pressure: load.zip(ring_area).filter(|(_, a)| *a > 0.0).map(|(n, a)| n / a),
    }
}

/// The old bore at a step, as seen from the planned centre: its centre and farthest metal, mm.
///
/// The parent where it was read; else, down to the liner's end, what the liner stood in; below it the bore as it is
/// now.
fn old(job: &Job, found: &CylinderSurvey, bore: &Seated, depth_mm: f64) -> ([f64; 2], f64) {
    let liner = job.block.parent.liner.as_ref().filter(|l| depth_mm < l.length_mm);
    let (surface, radius_mm) = match (found.parent_bore(job), liner) {
        (Some(parent), _) => (parent, parent.farthest_mm(depth_mm)),
        (None, Some(liner)) => (found.bore_of(Surface::Liner), liner.outside_mm / 2.0),
        (None, None) => (&found.now, found.now.farthest_mm(depth_mm)),
    };
    let (there, cut) = (surface.axis.at(depth_mm), bore.cut_mm(depth_mm));
    ([there[0] - cut[0], there[1] - cut[1]], radius_mm)
}

/// Share of the fire ring's width that stands on a plain sleeve's end; all of the clamp where the block has no ring.
fn on_sleeve(job: &Job, sleeve: &Sleeve) -> f64 {
    let Some(ring) = job.block.fire_ring else { return 1.0 };
    let top = sleeve.body.first().map_or(0.0, |s| s.diameter_mm).clamp(ring.inside_mm, ring.outside_mm);
    let square = |d: f64| d * d;
    (square(top) - square(ring.inside_mm)) / (square(ring.outside_mm) - square(ring.inside_mm))
}

/// A bank's bolts shared by its cylinders (the bank with the fewest decides).
fn clamp_n(job: &Job, bolts: &HeadBolts) -> Option<f64> {
    let fewest = job.block.banks.iter().map(|b| b.sites.len()).min()?;
    let cylinders = f64::from(u32::try_from(fewest).ok()?);
    (cylinders > 0.0).then(|| bolts.each_n * bolts.per_bank / cylinders)
}

/// A flange's ledge, or a step: an annulus cut by flats towards the neighbours, or by the old bore.
#[derive(Debug, Clone, Copy)]
struct Ledge {
    inner: f64,
    outer: f64,
    flat: Option<f64>,
    floor: f64,
    /// Centre from its own and radius of a hole that is there already.
    old: Option<([f64; 2], f64)>,
}

impl Ledge {
    /// From where to where it reaches along a ray, mm.
    fn along(&self, sin: f64, cos: f64) -> [f64; 2] {
        let reach = self.flat.map_or(self.outer, |flat| (flat / cos.abs().max(1e-9)).min(self.outer));
        let hole = self.old.map_or(0.0, |([x, y], radius)| {
            let (along, across) = (x * cos + y * sin, y * cos - x * sin);
            let square = radius * radius - across * across;
            if square > 0.0 { along + square.sqrt() } else { 0.0 }
        });
        [self.inner.max(hole), reach]
    }

    /// The ledge's least width but for flats, mm; 0 where there is none.
    fn width_mm(&self) -> f64 {
        let hole = self.old.map_or(0.0, |([x, y], radius)| x.hypot(y) + radius);
        (self.outer - self.inner.max(hole)).max(0.0)
    }

    /// Bearing area at a centre, mm², by adding up narrow sectors; within 0.1 mm² of the closed form.
    fn area_mm2(&self, centre_mm: [f64; 2], holes: &[&CoolantHole]) -> f64 {
        let near = |o: &Opening| {
            let [dx, dy] = [0, 1].map(|k| o.centre_mm[k] - centre_mm[k]);
            dx.hypot(dy) < self.outer + o.radius_mm * o.stretch
        };
        let openings: Vec<Opening> = holes
            .iter()
            .filter_map(|h| Opening::of(h, self.floor))
            .filter(near)
            .take(MOST_HOLES + 1)
            .collect();
        if openings.len() > MOST_HOLES {
            return 0.0;
        }
        let turn = std::f64::consts::TAU / f64::from(RAYS);
        let mut area = 0.0;
        for &(sin, cos) in RAYS_AT.iter() {
            let [inner, reach] = self.along(sin, cos);
            if reach <= inner {
                continue;
            }
            if openings.is_empty() {
                area += (reach * reach - inner * inner) / 2.0 * turn;
                continue;
            }
            let step = (reach - inner) / f64::from(ALONG);
            for k in 0..ALONG {
                let r = inner + (f64::from(k) + 0.5) * step;
                let at = [centre_mm[0] + r * cos, centre_mm[1] + r * sin];
                if !openings.iter().any(|o| o.holds(at)) {
                    area += r * step * turn;
                }
            }
        }
        area
    }
}

/// Where a drilled hole opens in the plane of the ledge: an ellipse.
struct Opening {
    centre_mm: [f64; 2],
    /// Unit vector along which the hole leans, and its stretch.
    lean: [f64; 2],
    stretch: f64,
    radius_mm: f64,
}

impl Opening {
    /// `None` where the hole does not pass the plane.
    fn of(hole: &CoolantHole, floor: f64) -> Option<Self> {
        let (a, b) = (hole.start_mm, hole.end_mm);
        let radius_mm = hole.diameter_mm / 2.0;
        let along = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
        let length = (along[0] * along[0] + along[1] * along[1] + along[2] * along[2]).sqrt();
        // One that lies along the plane opens no ellipse in it; the limit on coolant holes watches those.
        if length <= 0.0 || along[2].abs() < 1e-3 * length {
            return None;
        }
        let share = (floor - a[2]) / along[2];
        if !(0.0..=1.0).contains(&share) {
            return None;
        }
        let across = along[0].hypot(along[1]);
        let lean = if across > 0.0 { [along[0] / across, along[1] / across] } else { [1.0, 0.0] };
        Some(Self {
            centre_mm: [a[0] + share * along[0], a[1] + share * along[1]],
            lean,
            stretch: length / along[2].abs(),
            radius_mm,
        })
    }

    fn holds(&self, at: [f64; 2]) -> bool {
        let d = [at[0] - self.centre_mm[0], at[1] - self.centre_mm[1]];
        let along = (d[0] * self.lean[0] + d[1] * self.lean[1]) / self.stretch;
        let across = d[1] * self.lean[0] - d[0] * self.lean[1];
        along.hypot(across) < self.radius_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ledge_of_a_flange_with_flats_agrees_with_its_closed_form() {
        // Flange 112, flats at 54.98, pocket 105 with a chamfer of 0.5: 998 mm² (common practice, worked example).
        let ledge = Ledge { inner: 53.0, outer: 56.0, flat: Some(54.98), floor: 6.0, old: None };
        let segment = 56.0_f64.powi(2) * (54.98_f64 / 56.0).acos()
            - 54.98 * (56.0_f64.powi(2) - 54.98_f64.powi(2)).sqrt();
        let closed = std::f64::consts::PI * (56.0_f64.powi(2) - 53.0_f64.powi(2)) - 2.0 * segment;
        assert!((closed - 998.0).abs() < 1.0, "{closed}");
        assert!((ledge.area_mm2([0.0, 0.0], &[]) - closed).abs() < 0.1);
    }

    #[test]
    fn an_old_bore_off_the_middle_takes_its_lens_out_of_a_step() {
        // Step from 42 to 43.25; an old bore of 42.5 whose middle stands 0.3 off leaves pi (43.25² - 42.5²) all the
        // same, for it lies wholly outside 42 but for nothing: 42.5 - 0.3 = 42.2.
        let step =
            Ledge { inner: 42.0, outer: 43.25, flat: None, floor: 130.0, old: Some(([0.3, 0.0], 42.5)) };
        let closed = std::f64::consts::PI * (43.25_f64.powi(2) - 42.5_f64.powi(2));
        assert!((step.area_mm2([0.0, 0.0], &[]) - closed).abs() < 0.1);
        assert!((step.width_mm() - (43.25 - 42.8)).abs() < 1e-12);
        // One that lies within the step's own bore takes nothing: pi (43.25² - 42²).
        let clear = Ledge { old: Some(([0.3, 0.0], 41.5)), ..step };
        let closed = std::f64::consts::PI * (43.25_f64.powi(2) - 42.0_f64.powi(2));
        assert!((clear.area_mm2([0.0, 0.0], &[]) - closed).abs() < 0.1);
        assert!((clear.width_mm() - 1.25).abs() < 1e-12);
        let gone = Ledge { old: Some(([0.0, 0.5], 43.0)), ..step };
        assert!(gone.width_mm() == 0.0);
    }

    #[test]
    fn a_hole_through_the_ledge_takes_its_opening_out() {
        let ledge = Ledge { inner: 40.0, outer: 60.0, flat: None, floor: 6.0, old: None };
        let hole = |lean: f64| CoolantHole {
            bank: 0,
            name: "steam hole".into(),
            start_mm: [50.0 - 6.0 * lean, 0.0, 0.0],
            end_mm: [50.0 + 6.0 * lean, 0.0, 12.0],
            diameter_mm: 4.0,
        };
        let whole = ledge.area_mm2([0.0, 0.0], &[]);
        let upright = whole - ledge.area_mm2([0.0, 0.0], &[&hole(0.0)]);
        assert!((upright - std::f64::consts::PI * 4.0).abs() < 0.3, "{upright}");
        // Leaning by atan(1): the ellipse is longer by the square root of two.
        let leaning = whole - ledge.area_mm2([0.0, 0.0], &[&hole(1.0)]);
        assert!((leaning - std::f64::consts::PI * 4.0 * 2.0_f64.sqrt()).abs() < 0.4, "{leaning}");
        let below = CoolantHole { start_mm: [50.0, 0.0, 8.0], ..hole(0.0) };
        assert!((ledge.area_mm2([0.0, 0.0], &[&below]) - whole).abs() < 1e-9);
    }
}
