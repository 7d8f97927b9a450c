//! The seat: the ledge under the flange, what presses on it, and what its metal bears.

use serde::Serialize;

use crate::job::{CoolantHole, HeadBolts, Job};
use crate::place::Positions;

/// Directions in which the ledge is added up.
const RAYS: u32 = 3600;

/// More holes than this in one ledge leave none to speak of; the rest is not added up.
const MOST_HOLES: usize = 48;

/// Steps along a ray, where a hole opens in the ledge.
const ALONG: u32 = 60;

/// The ledge of a pocket.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Seat {
    /// Bearing area of the smallest ledge, mm².
    pub area: f64,
    /// The cylinder that has it; `None` where all are alike.
    pub smallest_at: Option<u32>,
    /// Width of the ledge round the flange.
    pub width: f64,
    /// Its width at the flats, where the flange has them.
    pub width_at_flats: Option<f64>,
    /// Clamp of the bolts on one cylinder, N, where the job gives bolts.
    pub load: Option<f64>,
    /// Bearing pressure under it, MPa.
    pub pressure: Option<f64>,
    /// The same with every bolt at the most of its scatter.
    pub pressure_most: Option<f64>,
    /// What the block's metal bears for good at work, MPa: the smaller of its yield and its creep figure; `None` hotter than
    /// their tables reach.
    pub bears: Option<f64>,
    /// Which of the two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bears_by: Option<&'static str>,
    /// Pressure over the yield of the block's metal at work.
    pub ratio: Option<f64>,
    /// That yield, MPa; `None` hotter than its table reaches.
    pub yield_at_work: Option<f64>,
    /// Lift of the gas on the head, N, where the job gives its pressure and the block a fire ring.
    pub gas_load: Option<f64>,
    /// Bearing pressure left if all of the gas load came off the seat, with every bolt at the least of its scatter, MPa: the least that holds it down.
    pub pressure_at_peak: Option<f64>,
    /// Bearing pressure of the fire ring on the flange under the clamp, MPa.
    pub flange_pressure: Option<f64>,
}

/// The seat of the candidate at its planned places.
///
/// Area: from the edge of the flange to the chamfered edge of the pocket below, less the flats and any coolant hole
/// that opens in the ledge. Bolts: F = T / (K d), shared by the bank's cylinders.
pub(super) fn seat(job: &Job, positions: &Positions) -> Seat {
    let sleeve = &job.sleeves[positions.sleeve];
    let outer = sleeve.flange.diameter_mm / 2.0;
    let below = positions.pocket.steps.first().map_or(0.0, |s| s.radius_mm);
    let inner = below + job.allowances.ledge_chamfer_mm;
    let flat = sleeve.flange.flats_mm.map(|flats| flats / 2.0);
    let ledge = Ledge { inner, outer, flat, floor: positions.pocket.flange.depths.to_mm };
    let areas: Vec<(u32, f64)> = positions
        .bores
        .iter()
        .map(|bore| {
            let holes = job.block.coolant_holes.iter().filter(|h| h.bank == bore.bank);
            (bore.site.cylinder, ledge.area_mm2(bore.planned_mm, &holes.collect::<Vec<_>>()))
        })
        .collect();
    let whole = ledge.area_mm2([0.0, 0.0], &[]);
    let least = areas.iter().min_by(|a, b| a.1.total_cmp(&b.1)).filter(|a| a.1 < whole);
    let area = least.map_or(whole, |a| a.1);
    let load = job.engine.head_bolts.and_then(|bolts| clamp_n(job, &bolts));
    let scatter = job.engine.head_bolts.map_or(0.0, |bolts| bolts.scatter);
    let pressure = load.filter(|_| area > 0.0).map(|n| n / area);
    let at_c = job.engine.running.block_c;
    let yield_at_work = job.block.parent.material.yield_at_mpa(at_c);
    let bears = job.block.parent.material.bears_at(at_c).filter(|_| load.is_some());
    let ring = job.block.fire_ring;
    let gas_load = job
        .engine
        .head_bolts
        .and_then(|b| b.gas_mpa)
        .zip(ring)
        .map(|(mpa, ring)| mpa * std::f64::consts::FRAC_PI_4 * ring.inside_mm * ring.inside_mm);
    let ring_area =
        ring.map(|r| std::f64::consts::FRAC_PI_4 * (r.outside_mm * r.outside_mm - r.inside_mm * r.inside_mm));
    Seat {
        area,
        smallest_at: least.map(|a| a.0),
        width: (outer - inner).max(0.0),
        width_at_flats: flat.map(|f| (f.min(outer) - inner).max(0.0)),
        load,
        pressure,
        pressure_most: pressure.map(|p| p * (1.0 + scatter)),
        bears: bears.map(|b| b.mpa),
        bears_by: bears.map(|b| if b.by_creep { "creep" } else { "yield" }),
        ratio: pressure.zip(yield_at_work).map(|(p, y)| p / y),
        yield_at_work: load.and(yield_at_work),
        gas_load,
        pressure_at_peak: load
            .zip(gas_load)
            .filter(|_| area > 0.0)
            .map(|(n, gas)| (n * (1.0 - scatter) - gas) / area),
        flange_pressure: load.zip(ring_area).filter(|(_, a)| *a > 0.0).map(|(n, a)| n / a),
    }
}

/// A bank's bolts shared by its cylinders (the bank with the fewest decides).
fn clamp_n(job: &Job, bolts: &HeadBolts) -> Option<f64> {
    let fewest = job.block.banks.iter().map(|b| b.sites.len()).min()?;
    let cylinders = f64::from(u32::try_from(fewest).ok()?);
    (cylinders > 0.0).then(|| bolts.each_n * bolts.per_bank / cylinders)
}

/// A flange's ledge: an annulus cut by flats towards the neighbours.
struct Ledge {
    inner: f64,
    outer: f64,
    flat: Option<f64>,
    floor: f64,
}

impl Ledge {
    /// Bearing area at a centre, mm², by adding up narrow sectors; within 0.1 mm² of the closed form.
    fn area_mm2(&self, centre_mm: [f64; 2], holes: &[&CoolantHole]) -> f64 {
        let near = |o: &Opening| {
            let [dx, dy] = [0, 1].map(|k| o.centre_mm[k] - centre_mm[k]);
            dx.hypot(dy) < self.outer + o.radius_mm * o.stretch
        };
        let openings: Vec<Opening> =
            holes.iter().filter_map(|h| Opening::of(h, self.floor)).filter(near).take(MOST_HOLES).collect();
        let turn = std::f64::consts::TAU / f64::from(RAYS);
        let mut area = 0.0;
        for ray in 0..RAYS {
            let angle = (f64::from(ray) + 0.5) * turn;
            let (sin, cos) = angle.sin_cos();
            let reach = self.flat.map_or(self.outer, |flat| (flat / cos.abs().max(1e-9)).min(self.outer));
            if reach <= self.inner {
                continue;
            }
            if openings.is_empty() {
                area += (reach * reach - self.inner * self.inner) / 2.0 * turn;
                continue;
            }
            let step = (reach - self.inner) / f64::from(ALONG);
            for k in 0..ALONG {
                let r = self.inner + (f64::from(k) + 0.5) * step;
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
        let ledge = Ledge { inner: 53.0, outer: 56.0, flat: Some(54.98), floor: 6.0 };
        let segment = 56.0_f64.powi(2) * (54.98_f64 / 56.0).acos()
            - 54.98 * (56.0_f64.powi(2) - 54.98_f64.powi(2)).sqrt();
        let closed = std::f64::consts::PI * (56.0_f64.powi(2) - 53.0_f64.powi(2)) - 2.0 * segment;
        assert!((closed - 998.0).abs() < 1.0, "{closed}");
        assert!((ledge.area_mm2([0.0, 0.0], &[]) - closed).abs() < 0.1);
    }

    #[test]
    fn a_hole_through_the_ledge_takes_its_opening_out() {
        let ledge = Ledge { inner: 40.0, outer: 60.0, flat: None, floor: 6.0 };
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
