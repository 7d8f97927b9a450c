//! Wrong data: each kind a file that names what it sees, its likely cause, and what to ask. Nothing is repaired.

mod bores;
mod code;
mod described;
mod doubts;
mod evidence;
mod frame;
mod grid;
mod lines;
mod places;
mod readings;
mod tables;
#[cfg(test)]
mod tests;
mod walls;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::bore::FoundCircle;
use crate::job::rounds::Round;
use crate::job::{Job, SetUpPlacement};
use crate::plan::sentence::Sentence;
use crate::plan::{Finding, JournalAxis, Subject, Verdict};
use crate::say;
pub use code::{Code, is_suspicion};
pub use doubts::Doubts;
use readings::Readings;

/// Something typed that is hard to believe: what was found, what it probably is, and the question to answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Suspicion {
    /// What kind it is.
    pub code: Code,
    /// Hold where acting on the data as typed could cut metal wrongly, else go.
    pub verdict: Verdict,
    /// What it is about.
    pub subject: Subject,
    /// What was found.
    pub found: Sentence,
    /// The likely cause.
    pub likely: Sentence,
    /// What to answer before going on.
    pub ask: Sentence,
    /// The figures it rests on, mm unless the name says otherwise.
    pub evidence: BTreeMap<&'static str, f64>,
    /// The cylinders whose figures it puts in doubt.
    pub cylinders: Doubts,
}

impl Suspicion {
    /// The suspicion as a finding of the survey and the plan; one that asks about some of the bores that it doubts is a
    /// finding of all of those.
    #[must_use]
    pub fn finding(&self) -> Finding {
        let subject = match &self.subject {
            Subject::Cylinders(own) if self.cylinders.named().iter().any(|n| !own.contains(n)) => {
                let mut all: Vec<u32> = own.iter().chain(self.cylinders.named()).copied().collect();
                all.sort_unstable();
                all.dedup();
                Subject::Cylinders(all)
            }
            subject => subject.clone(),
        };
        Finding {
            code: self.code.word(),
            verdict: self.verdict,
            subject,
            text: say!("{}; likely {}; {}", self.found, self.likely, self.ask),
        }
    }
}

/// What every suspicion looks at.
pub(super) struct Asked<'a> {
    job: &'a Job,
    circles: &'a [FoundCircle],
    rounds: &'a [Round],
    placements: &'a [Option<SetUpPlacement>],
    journal_axis: &'a [JournalAxis],
    readings: Readings<'a>,
}

/// A kind of suspicion: all of it that a job gives cause for.
type Kind = fn(&Asked<'_>) -> Vec<Suspicion>;

/// What stands for itself, room by room.
const OTHERS: [&[Kind]; 5] = [frame::KINDS, bores::KINDS, walls::KINDS, tables::KINDS, described::KINDS];

/// Everything that is hard to believe, worst first within each kind.
pub(super) fn suspicions(
    job: &Job,
    circles: &[FoundCircle],
    rounds: &[Round],
    placements: &[Option<SetUpPlacement>],
    journal_axis: &[JournalAxis],
) -> Vec<Suspicion> {
    let readings = Readings::of(job, placements);
    let asked = Asked { job, circles, rounds, placements, journal_axis, readings };
    let mut named: BTreeSet<u32> = BTreeSet::new();
    let mut all = Vec::new();
    for kind in places::KINDS {
        let fresh: Vec<Suspicion> = kind(&asked)
            .into_iter()
            .filter(|s| !s.cylinders.named().iter().any(|c| named.contains(c)))
            .collect();
        named.extend(fresh.iter().flat_map(|s| s.cylinders.named()));
        all.extend(fresh);
    }
    all.extend(OTHERS.iter().copied().flatten().flat_map(|kind| kind(&asked)));
    once_of_a_diameter(&mut all);
    tables::unless_explained(&mut all);
    all
}

/// Leaves one question about each bore's diameter: one that holds, else the first.
fn once_of_a_diameter(all: &mut Vec<Suspicion>) {
    let of: Vec<(Doubts, Code, Verdict)> = all
        .iter()
        .filter(|s| s.code.is_of_diameter())
        .map(|s| (s.cylinders.clone(), s.code, s.verdict))
        .collect();
    let other = |s: &Suspicion, odd: bool, least: Verdict| {
        of.iter().any(|(cylinders, code, verdict)| {
            *cylinders == s.cylinders && (*code == Code::DiameterOdd) == odd && *verdict >= least
        })
    };
    all.retain(|s| match s.code {
        Code::DiameterOdd => !other(s, false, s.verdict),
        code if code.is_of_diameter() => s.verdict > Verdict::Go || !other(s, true, Verdict::Hold),
        _ => true,
    });
}
