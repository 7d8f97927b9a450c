//! Readings with nothing to spare, among which a wrong one would not show. Told, and held where other readings deny what was
//! taken for granted.

use std::collections::BTreeMap;

use borewright_geometry::ONE_DEPTH_MM;
use borewright_geometry::clock::distance_mm;

use super::significance::NO_CHANCE;
use super::{CylinderSurvey, Survey};
use crate::job::{Aim, Job, Surface};
use crate::plan::{Finding, Subject, Verdict, cylinder_words};

/// A cut farther than this from its true place is there because of readings, mm.
const MOVED_MM: f64 = 0.02;

/// What nothing checks.
///
/// `moved` is how far each cylinder is planned off its true position, mm.
pub(crate) fn findings(job: &Job, survey: &Survey, moved: &BTreeMap<u32, f64>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, bank) in job.block.banks.iter().enumerate() {
        let of = |depths: usize| -> Vec<u32> {
            let own = survey.cylinders.iter().filter(|(_, c)| c.bank == index);
            own.filter(|(_, c)| c.now.diameters_mm.len() == depths).map(|(n, _)| *n).collect()
        };
        let subject = Subject::bank(&bank.name);
        let each = |n: &[u32]| if n.len() == 1 { "it" } else { "each" };
        let one = of(1);
        let leaning = leaning(job, survey, index);
        if !leaning.is_empty() {
            found.push(Finding {
                verdict: Verdict::Hold,
                ..note(
                    "one_depth",
                    Subject::Cylinders(leaning.clone()),
                    format!(
                        "the parent's hole was read at one depth only and taken to stand straight, while the liner in it leans \
                         by more than a hole that is straight would let it. Read {} at a second and a third depth",
                        each(&leaning)
                    ),
                )
            });
        }
        let one: Vec<u32> = one.into_iter().filter(|n| !leaning.contains(n)).collect();
        if !one.is_empty() {
            found.push(note(
                "one_depth",
                subject.clone(),
                format!(
                    "{}: read at one depth only, so nothing says how {}, and a slip in it shows only against the other \
                     bores. Read {} at a second and a third depth",
                    cylinder_words(&one),
                    if one.len() == 1 { "it leans" } else { "they lean" },
                    each(&one)
                ),
            ));
        }
        // A cut that goes to its true place whatever the bore reads is not moved by it.
        let follows = |n: &u32| job.aim == Aim::Parent || moved.get(n).is_some_and(|by| *by > MOVED_MM);
        let two: Vec<u32> = of(2).into_iter().filter(follows).collect();
        if !two.is_empty() {
            found.push(note(
                "two_depths",
                subject,
                format!(
                    "{}: read at two depths, which lie on a line whatever they are, and the cut follows them. Read {} at a \
                     third depth",
                    cylinder_words(&two),
                    each(&two)
                ),
            ));
        }
    }
    // A liner's size as described is what diameters are held against.
    if job.block.parent.liner.is_none() {
        let text = "the bores are in the block's own metal, and nothing says how wide they were made: were all diameters typed off by \
                    the same, nothing here would show it. Measure one bore again with another gauge";
        found.push(note("diameter_unchecked", Subject::whole("bores"), text.to_owned()));
    }
    found
}

/// A liner leans with its hole, but for what a careless fit leaves over the length of a bore, mm. Common practice, no source.
const WITHIN_ITS_HOLE_MM: f64 = 0.05;

/// The cylinders of a bank whose parent hole was read at one depth beside a liner that was read to lean.
fn leaning(job: &Job, survey: &Survey, bank: usize) -> Vec<u32> {
    let leans = |own: &CylinderSurvey| {
        let (hole, liner) = (own.by_surface.get(&Surface::Parent)?, own.by_surface.get(&Surface::Liner)?);
        let depth = (hole.depths_mm[1] - hole.depths_mm[0] < ONE_DEPTH_MM).then_some(hole.depths_mm[0])?;
        (liner.depths_mm[1] - liner.depths_mm[0] > ONE_DEPTH_MM).then_some(())?;
        // A short lever tells no lean.
        let lever = liner.depths_mm[1] - liner.depths_mm[0];
        let lean = job.instruments.lean.max(job.instruments.centre_mm * std::f64::consts::SQRT_2 / lever);
        let reach = |to: f64| {
            let off = distance_mm(liner.axis.at(depth), liner.axis.at(to));
            let allowed = WITHIN_ITS_HOLE_MM + NO_CHANCE * lean * (to - depth).abs();
            off > allowed
        };
        Some(reach(0.0) || reach(job.block.parent.bore_length_mm))
    };
    let own = survey.cylinders.iter().filter(|(_, c)| c.bank == bank);
    own.filter(|(_, c)| leans(c) == Some(true)).map(|(n, _)| *n).collect()
}

fn note(code: &'static str, subject: Subject, text: String) -> Finding {
    Finding { code, verdict: Verdict::Go, subject, text: text.into() }
}
