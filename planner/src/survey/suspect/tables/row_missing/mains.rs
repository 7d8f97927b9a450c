//! A main that was not read, and every other was.

use crate::job::{ReadingFrame, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Code, Suspicion};
use borewright_geometry::sample::count;

/// Mains that are left to say whether they lie on a line, where one is out of reach.
const REST: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    (0..asked.job.set_ups.len()).filter_map(|index| main(asked, index)).collect()
}

/// The one main that a set-up lacks of those the block has, where more were read than a mandrel's two ends.
fn main(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let set_up = &asked.job.set_ups[index];
    let mains = &asked.job.block.journal_axis.mains;
    let has = |set_up: &SetUp, name: &str| match &set_up.frame {
        ReadingFrame::Machine(read) => read.axis.iter().chain(&read.mains).any(|p| *p.main == *name),
        ReadingFrame::Journal => false,
    };
    if !matches!(set_up.frame, ReadingFrame::Machine(_)) {
        return None;
    }
    let missing: Vec<_> = mains.iter().filter(|m| !has(set_up, &m.name)).collect();
    let [missing] = missing.as_slice() else { return None };
    // Of three mains the two ends are a mandrel's, unless another set-up has all three.
    let ends_only =
        mains.len() <= 3 && !asked.job.set_ups.iter().any(|s| mains.iter().all(|m| has(s, &m.name)));
    if ends_only || mains.len() < 3 {
        return None;
    }
    // An inner one that no set-up of several has is out of reach; three mains and more say whether they lie on a line.
    let on_machine = || asked.job.set_ups.iter().filter(|s| matches!(s.frame, ReadingFrame::Machine(_)));
    let reached = on_machine().any(|s| has(s, &missing.name));
    let is_end = [mains.first(), mains.last()].into_iter().flatten().any(|end| end.name == missing.name);
    if !reached && !is_end && on_machine().count() > 1 && mains.len() > REST {
        return None;
    }
    let name = plain(&missing.name, 20);
    Some(Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!("main {name} was not read, and every other main was"),
        likely: "a row left out".into(),
        ask: say!("read main {name} too: what was left out may be the one that stands off"),
        evidence: figures([("mains", count(mains.len())), ("missing_at", missing.x_mm)]),
        cylinders: asked.readings.cylinders(index).into(),
    })
}
