//! The journal axes of two set-ups in each other's place: both banks then stand off, and neither does with the two exchanged.

use super::evidence::{NEARER, figures};
use super::readings::{Readings, Stand};
use super::{Asked, Suspicion};
use crate::job::{Job, ReadingFrame, SetUpPlacement};
use crate::plan::sentence::{before_mm, mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::set_up::place;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// A bank that stands nearer than this across is not asked about, mm. Common practice, no source.
const OFF_MM: f64 = 0.08;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    found(asked).into_iter().collect()
}

/// `None` unless two machine set-ups, of two banks, each stand off and fit each other's axis.
fn found(asked: &Asked<'_>) -> Option<Suspicion> {
    let machine = asked.job.set_ups.iter().enumerate();
    let machine: Vec<usize> = machine
        .filter(|(_, s)| matches!(s.frame, ReadingFrame::Machine(_)))
        .map(|(index, _)| index)
        .collect();
    let [one, other] = machine.as_slice() else { return None };
    let set_ups = [&asked.job.set_ups[*one], &asked.job.set_ups[*other]];
    if set_ups[0].bank == set_ups[1].bank {
        return None;
    }
    let across = |stands: &[Stand]| {
        (!stands.is_empty()).then(|| stands.iter().map(|s| s.off_mm[1]).sum::<f64>() / count(stands.len()))
    };
    let off = [across(&asked.readings.as_typed(*one))?, across(&asked.readings.as_typed(*other))?];
    if off.iter().any(|off| off.abs() <= OFF_MM) {
        return None;
    }
    let exchanged = exchanged(asked.job, *one, *other)?;
    let places: Vec<Option<SetUpPlacement>> = exchanged
        .set_ups
        .iter()
        .map(|set_up| Some(place(&exchanged, set_up).ok()?.map(|placed| placed.placement)))
        .collect::<Option<_>>()?;
    let readings = Readings::of(&exchanged, &places);
    let then = [across(&readings.as_typed(*one))?, across(&readings.as_typed(*other))?];
    if off.iter().zip(&then).any(|(off, then)| NEARER * then.abs() > off.abs()) {
        return None;
    }
    let names = set_ups.map(|set_up| asked.job.bank(set_up.bank).name.clone());
    Some(Suspicion {
        code: Code::BanksSwapped,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!(
            "the bores stand {} across in bank {} and {} in bank {}, and with the journal axes of the two set-ups exchanged {} and {}",
            signed_mm(off[0], 3),
            names[0],
            signed_mm(off[1], 3),
            names[1],
            before_mm(then[0].abs(), 3),
            mm(then[1].abs(), 3)
        ),
        likely: "each set-up has the journal axis that was swept for the other, or the banks were bored so"
            .into(),
        ask: "sweep one main again in each set-up: which axis is whose?".into(),
        evidence: figures([
            ("off_one", off[0]),
            ("off_other", off[1]),
            ("then_one", then[0]),
            ("then_other", then[1]),
        ]),
        cylinders: asked
            .readings
            .cylinders(*one)
            .into_iter()
            .chain(asked.readings.cylinders(*other))
            .collect(),
    })
}

/// The job with the axes of two set-ups in each other's place.
fn exchanged(job: &Job, one: usize, other: usize) -> Option<Job> {
    let mut job = job.clone();
    let (ReadingFrame::Machine(first), ReadingFrame::Machine(second)) =
        (&job.set_ups[one].frame, &job.set_ups[other].frame)
    else {
        return None;
    };
    let (mut first, mut second) = (first.clone(), second.clone());
    std::mem::swap(&mut first.axis, &mut second.axis);
    std::mem::swap(&mut first.mains, &mut second.mains);
    job.set_ups[one].frame = ReadingFrame::Machine(first);
    job.set_ups[other].frame = ReadingFrame::Machine(second);
    Some(job)
}
