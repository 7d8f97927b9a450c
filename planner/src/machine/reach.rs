//! Whether the machine gets at the work: the spindle's nose past the clamps, and a stylus to the journal axis.

use crate::job::{Job, ReadingFrame};
use crate::plan::{Finding, Pass, Verdict};

/// Room between the nose and what stands on the deck, mm. Common practice, no source.
const NOSE_ROOM_MM: f64 = 5.0;

/// What a stylus needs beyond the journal axis when it reaches down a bore, mm. Common practice, no source.
const STYLUS_MM: f64 = 10.0;

/// What does not get there.
pub(crate) fn reach(job: &Job, passes: &[Pass]) -> Vec<Finding> {
    let banks = 0..job.block.banks.len();
    banks.flat_map(|bank| [nose(job, passes, bank), pick_up(job, bank)]).flatten().collect()
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
            || "the spindle's nose".to_owned(),
            |nose| format!("{:.0} mm round a bore's axis", nose / 2.0 + NOSE_ROOM_MM),
        );
        Finding {
            code: "nose",
            verdict: Verdict::Hold,
            subject: format!("bank {name}"),
            text: format!(
                "step {step}: the spindle's nose comes {height:.1} mm above the deck, where clamps stand {clamps:.1} mm high: \
                 none within {round}, or a longer bar"
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
        subject: format!("bank {}", layout.name),
        text: format!(
            "the mains span {span:.1} mm and X travels {:.1} mm; down the bores a stylus needs {needed:.1} mm and the longest tool \
             reaches {longest:.1} mm: carry the journal axis with a calibrated fixture, or take another machine",
            to - from
        ),
    })
}
