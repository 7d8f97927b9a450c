//! Bores of both banks that lean alike on the machine, by more than bores do: the spindle's travel, as likely as the block.

use super::evidence::figures;
use super::lines::{lines, mean_tilt};
use super::{Asked, Suspicion};
use crate::job::{Front, ReadingFrame};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// The most that the bores of a block lean along and across on the machine, mm per mm: 0.25 and 0.3 over 140. Common practice,
/// no source.
const LEANS: [f64; 2] = [0.001_8, 0.002_1];

/// The travel leans in one set-up as in the other to within this, mm per mm. Common practice, no source.
const ALIKE: f64 = 0.000_5;

/// The lean is told over this length, mm.
const OVER_MM: f64 = 100.0;

/// Asks where the bores of every bank lean alike in the machine's own axes. The spindle that reads them will cut as it travels.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let on_machine = |bank: usize| {
        let mut own = asked.job.set_ups.iter().filter(|s| s.bank == bank);
        let first = own.next().filter(|s| matches!(s.frame, ReadingFrame::Machine(_)))?;
        own.all(|s| s.front == first.front).then_some(match first.front {
            Front::Left => 1.0,
            Front::Right => -1.0,
        })
    };
    let leans: Vec<[f64; 2]> = lines(asked.job, asked.circles)
        .iter()
        .filter(|bank| bank.lines.iter().filter(|l| l.tilt.is_some()).count() > 1)
        .filter_map(|bank| Some((on_machine(bank.bank)?, mean_tilt(&bank.lines)?)))
        .map(|(sign, tilt)| tilt.map(|t| sign * t))
        .collect();
    let [one, other] = leans.as_slice() else { return Vec::new() };
    let told = [0, 1].into_iter().find(|&k| {
        let least = one[k].abs().min(other[k].abs());
        least > LEANS[k] && (one[k] - other[k]).abs() <= ALIKE
    });
    let Some(k) = told else { return Vec::new() };
    let lean = f64::midpoint(one[k], other[k]).abs();
    vec![Suspicion {
        code: Code::BoreLeans,
        verdict: Verdict::Hold,
        subject: Subject::whole("machine"),
        found: say!(
            "the bores of both banks lean {} over {} along the machine's {}, alike in two set-ups",
            mm(OVER_MM * lean, 3),
            mm(OVER_MM, 0),
            ["X", "Y"][k]
        ),
        likely: "the spindle's travel, which is not square to its table: pockets would lean as much; or bores that were bored so"
            .into(),
        ask: "run the spindle down a square on the table, in X and in Y: is its travel square? Then release it by name"
            .into(),
        evidence: figures([("lean_over_100", OVER_MM * lean)]),
        cylinders: asked.job.block.cylinders().into(),
    }]
}
