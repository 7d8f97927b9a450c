//! Readings with nothing to spare, among which a wrong one would not show. Told, not held.

use std::collections::BTreeMap;

use super::Survey;
use crate::job::{Aim, Job};
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

fn note(code: &'static str, subject: Subject, text: String) -> Finding {
    Finding { code, verdict: Verdict::Go, subject, text: text.into() }
}
