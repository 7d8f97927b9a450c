//! A journal axis read over a short base, which bores beyond its mains cannot rely on.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{Main, ReadingFrame};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    (0..asked.job.set_ups.len()).filter_map(|index| judge(asked, index)).collect()
}

/// A bore more than one main spacing beyond the mains that were read, where the block has mains further out.
///
/// An error of one end main is carried out by the lever; over one spacing it is at most doubled, with two mains read.
fn judge(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let set_up = &asked.job.set_ups[index];
    let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
    let mains = &asked.job.block.journal_axis.mains;
    let ends = |of: &[&Main]| -> Option<[f64; 2]> {
        let least = of.iter().map(|m| m.x_mm).min_by(f64::total_cmp)?;
        Some([least, of.iter().map(|m| m.x_mm).max_by(f64::total_cmp)?])
    };
    let all: Vec<&Main> = mains.iter().collect();
    let points = || readings.axis.iter().chain(&readings.mains);
    let read: Vec<&Main> = mains.iter().filter(|m| points().any(|p| *p.main == *m.name)).collect();
    let ([first, last], [front, rear]) = (ends(&all)?, ends(&read)?);
    let spacing = (last - first) / count(all.len().checked_sub(1)?);
    let beyond = |x: f64| {
        let before = if front > first { front - x } else { 0.0 };
        let after = if rear < last { x - rear } else { 0.0 };
        before.max(after)
    };
    let sites = &asked.job.bank(set_up.bank).sites;
    let far: Vec<u32> =
        sites.iter().filter(|s| beyond(s.x_mm) > spacing + 1e-6).map(|s| s.cylinder).collect();
    let most = sites.iter().map(|s| beyond(s.x_mm)).max_by(f64::total_cmp)?;
    if far.is_empty() {
        return None;
    }
    let named = read.iter().map(|m| plain(&m.name, 20)).collect::<Vec<_>>().join(", ");
    Some(Suspicion {
        code: Code::AxisShort,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the journal axis was read at mains {named} only, and a bore lies {} beyond them",
            mm(most, 1)
        ),
        likely: "mains left out: an error of one of those read grows with the distance".into(),
        ask: say!("read the journal axis at the mains farther out, at both ends of the bores"),
        evidence: figures([("beyond", most), ("spacing", spacing), ("mains", count(read.len()))]),
        cylinders: far.into(),
    })
}
