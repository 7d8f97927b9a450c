//! The machine's reach to the work: the spindle's nose past the clamps, and a stylus to the journal axis.

use crate::job::{Job, ReadingFrame};
use crate::plan::sentence::mm;
use crate::plan::{Finding, Pass, Subject, Verdict};
use crate::say;

/// Room between the nose and what stands on the deck, mm. Common practice, no source.
const NOSE_ROOM_MM: f64 = 5.0;

/// What a stylus needs beyond the journal axis when it reaches down a bore, mm. Common practice, no source.
const STYLUS_MM: f64 = 10.0;

/// What does not get there.
pub(crate) fn reach(job: &Job, passes: &[Pass]) -> Vec<Finding> {
    let banks = 0..job.block.banks.len();
    banks
        .flat_map(|bank| [nose(job, passes, bank), pick_up(job, bank), crossing(job, bank)])
        .flatten()
        .collect()
}

/// Rapids that cross nearer to a deck or a clamp than this may meet a burr or a dowel, mm. Common practice, no source.
const LEAST_CLEAR_MM: f64 = 1.0;

/// Rapids cross from bore to bore at the machine's clearance: whatever stands on the deck must be lower.
fn crossing(job: &Job, bank: usize) -> Option<Finding> {
    let clear = job.machine.clearance_mm;
    let clamps = job.set_up_of(bank).and_then(|s| s.clamps_mm);
    let text = if let Some(clamps) = clamps.filter(|clamps| *clamps > clear - LEAST_CLEAR_MM + 1e-9) {
        say!(
            "clamps stand {} above the deck and rapids cross it at {}, {} between them at least: lower clamps, or a machine \
             `clearance` above them",
            mm(clamps, 2),
            mm(clear, 2),
            mm(LEAST_CLEAR_MM, 1)
        )
    } else if clear < LEAST_CLEAR_MM {
        say!(
            "rapids cross the deck at {}, under {}: a burr or a dowel is higher",
            mm(clear, 2),
            mm(LEAST_CLEAR_MM, 1)
        )
    } else {
        return None;
    };
    Some(Finding {
        code: "crossing",
        verdict: Verdict::Hold,
        subject: Subject::bank(&job.bank(bank).name),
        text,
    })
}

/// The nose comes down beside the deepest cut: what stands there must be lower.
fn nose(job: &Job, passes: &[Pass], bank: usize) -> Option<Finding> {
    let clamps = job.set_up_of(bank)?.clamps_mm?;
    let name = &job.bank(bank).name;
    let own = passes.iter().filter(|p| p.bank == *name);
    let lowest = own.filter_map(|p| p.load.map(|l| (l.nose_above_deck, p.step)));
    let (height, step) = lowest.min_by(|a, b| a.0.total_cmp(&b.0))?;
    (height < clamps + NOSE_ROOM_MM).then(|| {
        let round = job.machine.nose_mm.map_or_else(
            || "the spindle's nose".into(),
            |nose| say!("{} round a bore's axis", mm(nose / 2.0 + NOSE_ROOM_MM, 0)),
        );
        Finding {
            code: "nose",
            verdict: Verdict::Hold,
            subject: Subject::bank(name),
            text: say!(
                "step {step}: the spindle's nose comes {} above the deck, where clamps stand {} high: none \
             within {round}, or a longer bar",
                mm(height, 1),
                mm(clamps, 1)
            ),
        }
    })
}

/// Where the axis was not read on this machine, it must be picked up there before the first cut.
fn pick_up(job: &Job, bank: usize) -> Option<Finding> {
    let read_here = job.set_ups.iter().any(|s| s.bank == bank && matches!(s.frame, ReadingFrame::Machine(_)));
    let mains = &job.block.journal_axis.mains;
    let span = mains.last()?.x_mm - mains.first()?.x_mm;
    let [from, to] = job.machine.travel_mm[0];
    let layout = job.bank(bank);
    let needed = layout.deck_height_mm + STYLUS_MM;
    let longest = job.machine.tools.iter().map(|t| t.reach_mm).fold(0.0, f64::max);
    let beyond = !read_here && span > to - from && longest < needed;
    beyond.then(|| Finding {
        code: "pick_up",
        verdict: Verdict::Hold,
        subject: Subject::bank(&layout.name),
        text: say!(
            "the mains span {} and X travels {}; down the bores a stylus needs {} and the longest tool \
             reaches {}: carry the journal axis with a calibrated fixture, or take another machine",
            mm(span, 1),
            mm(to - from, 1),
            mm(needed, 1),
            mm(longest, 1)
        ),
    })
}
