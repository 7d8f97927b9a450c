//! Each cylinder as the plan states it.

use crate::choose::Decision;
use crate::job::Job;
use crate::place::Seated;
use crate::plan::rounding::{plan as round, slope};
use crate::plan::{Cylinder, Measured, Xy, rounded};
use crate::survey::{CylinderSurvey, Survey};

pub(super) fn cylinders(job: &Job, survey: &Survey, decision: &Decision, may_cut: &[u32]) -> Vec<Cylinder> {
    let sleeve = &job.sleeves[decision.positions.sleeve].name;
    decision
        .positions
        .bores
        .iter()
        .filter_map(|bore| {
            let found = survey.cylinders.get(&bore.site.cylinder)?;
            let withheld = !may_cut.contains(&bore.site.cylinder);
            Some(Cylinder { withheld, ..cylinder(job, sleeve, bore, found) })
        })
        .collect()
}

pub(super) fn cylinder(job: &Job, sleeve: &str, bore: &Seated, found: &CylinderSurvey) -> Cylinder {
    let axis = &found.now.axis;
    let xy = |[x, y]: [f64; 2]| Xy { x: round(x), y: round(y) };
    let between = |a: [f64; 2], b: [f64; 2]| rounded::offset([a[0] - b[0], a[1] - b[1]]);
    Cylinder {
        cylinder: bore.site.cylinder,
        bank: job.bank(bore.bank).name.clone(),
        sleeve: sleeve.to_owned(),
        verdict: bore.verdict,
        fingerprint: String::new(),
        withheld: true,
        measured: Measured {
            x: round(axis.at_deck_mm[0]),
            y: round(axis.at_deck_mm[1]),
            diameter: round(found.now.diameter_mm),
            tilt: Xy { x: slope(axis.tilt[0]), y: slope(axis.tilt[1]) },
            roundness: found.now.roundness_mm.map(round),
        },
        true_position: xy(bore.true_mm),
        planned: xy(bore.planned_mm),
        off_true: between(axis.at_deck_mm, bore.true_mm),
        shift: between(bore.planned_mm, axis.at_deck_mm),
        why: bore.why.clone(),
        limits: bore.limits.iter().map(rounded::limit).collect(),
    }
}
