//! Registers: how each dry step of a sleeve grips its pocket, cold and at work.

use super::heat::Pair;
use super::rings::{Ring, contact_pressures};
use super::walls;
use super::worked::{self, Metals};
use crate::job::pocket::Feature;
use crate::job::{Job, Sleeve, Step};
use crate::material::{Material, REFERENCE_C};
use crate::place::Positions;
use crate::plan::fit::{Hoop, Interference, Register, Running, WallLeft};
use crate::plan::worked::Figure;
use crate::survey::Survey;

/// A rest of the old liner thinner than this is not counted as a ring, mm.
const NO_RING_MM: f64 = 0.05;

/// What the registers of one sleeve share.
struct Parts<'a> {
    job: &'a Job,
    sleeve: &'a Sleeve,
    block: &'a Material,
}

/// The dry steps.
pub(super) fn registers(job: &Job, survey: &Survey, positions: &Positions) -> Vec<Register> {
    let sleeve = &job.sleeves[positions.sleeve];
    let parts = Parts { job, sleeve, block: &job.block.parent.material };
    let steps = sleeve.body.iter().zip(&positions.pocket.steps).filter(|(step, _)| !step.wet);
    steps
        .map(|(step, feature)| register(&parts, step, feature, walls::least(job, survey, positions, feature)))
        .collect()
}

/// Either side of the middle interference, mm.
pub(super) fn half_mm(job: &Job, step: &Step) -> f64 {
    step.tolerance_mm + step.pocket_tolerance_mm.unwrap_or(job.allowances.pocket_size_mm)
}

/// How one dry step grips its pocket `feature`, cold, finished and at work; pressures and stresses only where the
/// `wall` behind it is known.
fn register(parts: &Parts<'_>, step: &Step, feature: &Feature, wall: Option<WallLeft>) -> Register {
    let pocket = feature.diameter_mm();
    let half = half_mm(parts.job, step);
    let interference = Interference { least: step.interference_mm - half, most: step.interference_mm + half };
    let outside = wall.map(|w| pocket + 2.0 * w.wall).filter(|outside| *outside > pocket);
    let at = &parts.job.engine.running;
    let (room, work) = ([REFERENCE_C; 2], [at.block_c, at.sleeve_c]);
    let (supplied, bored) = (parts.sleeve.bore_mm, parts.job.finish.bore_mm);
    let gripped =
        |inside: f64, tight: f64, heat: [f64; 2]| grip(parts, [pocket, outside?, inside], tight, heat);
    let middle = gripped(supplied, step.interference_mm, room);
    let most = gripped(supplied, interference.most, room);
    let finished = gripped(bored, interference.most, room);
    let pair = pair(parts, pocket);
    // From 20 °C to work; negative where the fit tightens.
    let lost = pair.opened_mm(at.block_c, at.sleeve_c);
    let hot = Interference { least: interference.least - lost, most: interference.most - lost };
    let at_work = gripped(bored, hot.most, work);
    let at_least = gripped(bored, hot.least, work);
    // As supplied, finished, and at work: the largest of all faces of all parts.
    let ratios = [&most, &finished, &at_work].map(|g| g.as_ref().and_then(|g| g.ratio));
    let hoop_ratio = ratios.into_iter().collect::<Option<Vec<f64>>>();
    let running = at_work.zip(at_least).map(|(most, least)| Running {
        interference: hot,
        pressure: most.pressure,
        pressure_least: least.pressure,
        hoop: most.hoop,
    });
    let worked =
        figures(parts, step, [pocket, outside.unwrap_or(0.0)], &Grips { interference, hot, middle: &middle });
    Register {
        feature: step.name.clone(),
        diameter: step.diameter_mm,
        pocket,
        interference,
        code: step.code.clone(),
        inside: parts.sleeve.bore_mm,
        outside,
        wall,
        pressure: middle.as_ref().map(|g| g.pressure),
        pressure_least: gripped(bored, interference.least, room).map(|g| g.pressure),
        hoop: middle.as_ref().map(|g| g.hoop),
        hoop_most: most.as_ref().map(|g| g.hoop),
        closure: middle.as_ref().map(|g| g.closure_mm),
        hoop_ratio: hoop_ratio.map(|r| r.into_iter().fold(0.0, f64::max)),
        hoop_ratio_at_most: outside
            .is_none()
            .then(|| at_most(parts, pocket, [interference.most, hot.most]))
            .flatten(),
        gone_at: pair.gone_at_c(step.interference_mm),
        running,
        worked,
    }
}

/// How a register grips, cold and hot.
struct Grips<'a> {
    interference: Interference,
    hot: Interference,
    middle: &'a Option<Grip>,
}

/// The figures of a register, each with what it is worked from.
fn figures(parts: &Parts<'_>, step: &Step, [pocket, outside]: [f64; 2], grips: &Grips<'_>) -> Vec<Figure> {
    let own = step.pocket_tolerance_mm.unwrap_or(parts.job.allowances.pocket_size_mm);
    let at = &parts.job.engine.running;
    let metals = Metals { diameter_mm: pocket, block: parts.block, sleeve: &parts.sleeve.material };
    let mut figures: Vec<Figure> = worked::tight(step.interference_mm, [step.tolerance_mm, own]).into();
    let (cold, hot) = (grips.interference, grips.hot);
    for (value, tight) in [(hot.least, cold.least), (hot.most, cold.most)] {
        figures.push(worked::hot(value, tight, metals, [at.block_c, at.sleeve_c]));
    }
    // Of three rings, with a share of the old liner between, no one formula tells the pressure.
    if let Some(grip) = grips.middle.as_ref().filter(|g| g.two_rings) {
        let inside = parts.sleeve.bore_mm;
        figures.push(worked::pressure(grip.pressure, step.interference_mm, [outside, inside], metals));
    }
    figures
}

/// The most of hoop over yield that any wall round the sleeve could give, at 20 °C and at work; `None` where a
/// yield is not known.
///
/// A thin wall takes up all of the interference: E δ / d. A rigid one leaves all of it to the sleeve, whose bore
/// then bears p · 2 b² / (b² − a²) with p = (δ / d) E / ((b² + a²) / (b² − a²) − ν) (Lamé).
fn at_most(parts: &Parts<'_>, pocket: f64, [cold, hot]: [f64; 2]) -> Option<f64> {
    let at = &parts.job.engine.running;
    let sleeve = &parts.sleeve.material;
    let liner = parts.job.block.parent.liner.as_ref().map(|l| &l.material);
    let insides = [parts.sleeve.bore_mm, parts.job.finish.bore_mm];
    let cases = [(cold, [REFERENCE_C; 2]), (hot, [at.block_c, at.sleeve_c])];
    let mut most: f64 = 0.0;
    for (tight, [block_c, sleeve_c]) in cases {
        let strain = tight.max(0.0) / pocket;
        for metal in std::iter::once(parts.block).chain(liner) {
            most = most.max(strain * metal.elastic_mpa / metal.yield_at_mpa(block_c)?);
        }
        for inside in insides.into_iter().filter(|inside| *inside < pocket) {
            let (a2, b2) = (inside * inside, pocket * pocket);
            let pressure = strain * sleeve.elastic_mpa / ((b2 + a2) / (b2 - a2) - sleeve.poisson);
            most = most.max(pressure * 2.0 * b2 / (b2 - a2) / sleeve.yield_at_mpa(sleeve_c)?);
        }
    }
    Some(most)
}

/// Block and sleeve at a diameter.
fn pair<'a>(parts: &Parts<'a>, diameter_mm: f64) -> Pair<'a> {
    Pair { diameter_mm, block: parts.block, sleeve: &parts.sleeve.material }
}

struct Grip {
    /// Whether the sleeve stands in the bare block.
    two_rings: bool,
    pressure: f64,
    hoop: Hoop,
    closure_mm: f64,
    /// Largest hoop stress over yield, over every face of every ring; `None` where a yield is not known.
    ratio: Option<f64>,
}

/// Sleeve in block, or sleeve in what is left of the old liner in the block.
fn grip(
    parts: &Parts<'_>,
    [pocket, outside, inside]: [f64; 3],
    tight_mm: f64,
    [block_c, sleeve_c]: [f64; 2],
) -> Option<Grip> {
    if inside >= pocket {
        return None;
    }
    let ring = |inside_mm: f64, outside_mm: f64, metal: &Material| Ring {
        inside_mm,
        outside_mm,
        elastic_mpa: metal.elastic_mpa,
        poisson: metal.poisson,
    };
    let sleeve = ring(inside, pocket, &parts.sleeve.material);
    let liner = parts.job.block.parent.liner.as_ref();
    let shell =
        liner.filter(|l| l.outside_mm > pocket + 2.0 * NO_RING_MM && l.outside_mm < outside - NO_RING_MM);
    let (rings, tight) = match shell {
        // The maker's fit of the liner is not known; taking it as 0 is on the safe side for the sleeve's grip.
        Some(liner) => {
            let between = ring(pocket, liner.outside_mm, &liner.material);
            (vec![sleeve, between, ring(liner.outside_mm, outside, parts.block)], vec![tight_mm, 0.0])
        }
        None => (vec![sleeve, ring(pocket, outside, parts.block)], vec![tight_mm]),
    };
    let pressures = contact_pressures(&rings, &tight, 0.0, 0.0);
    let pressure = pressures.first().copied()?;
    let beyond = pressures.get(1).copied().unwrap_or(0.0);
    let around = rings.get(1)?;
    let metals = std::iter::once((&parts.sleeve.material, sleeve_c))
        .chain(shell.map(|l| (&l.material, block_c)))
        .chain(std::iter::once((parts.block, block_c)));
    let within = std::iter::once(0.0).chain(pressures.iter().copied());
    let without = pressures.iter().copied().chain(std::iter::once(0.0));
    let faces = rings.iter().zip(metals).zip(within.zip(without));
    let ratio = faces
        .map(|((ring, (metal, celsius)), (inner, outer))| {
            let [at_bore, outside] =
                [ring.inside_mm, ring.outside_mm].map(|d| ring.hoop_mpa(d / 2.0, inner, outer).abs());
            Some(at_bore.max(outside) / metal.yield_at_mpa(celsius)?)
        })
        .collect::<Option<Vec<f64>>>()
        .map(|ratios| ratios.into_iter().fold(0.0, f64::max));
    Some(Grip {
        two_rings: shell.is_none(),
        pressure,
        hoop: Hoop {
            block: around.hoop_mpa(pocket / 2.0, pressure, beyond),
            sleeve: sleeve.hoop_mpa(pocket / 2.0, 0.0, pressure),
        },
        closure_mm: -sleeve.growth_mm(inside / 2.0, 0.0, pressure),
        ratio,
    })
}
