//! Cylinders in another order than they were read: reversed, or two exchanged.

use super::evidence::{EXPLAINED_MM, GROSS_MM, explains, figures, rms};
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::say;
use crate::survey::suspect::Code;

/// Asks about every set-up whose bores each stand at the place of another of its bores, and names the order in
/// which they fit.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let stands = asked.readings.as_typed(index);
        // For each bore the cylinder at whose true place it stands.
        let at: Vec<Option<u32>> = stands
            .iter()
            .map(|s| {
                let x = s.true_mm[0] + s.off_mm[0];
                stands.iter().find(|other| (x - other.true_mm[0]).abs() < GROSS_MM).map(|o| o.cylinder)
            })
            .collect();
        let mut taken: Vec<u32> = at.iter().flatten().copied().collect();
        taken.sort_unstable();
        taken.dedup();
        if taken.len() != stands.len() {
            continue;
        }
        let moved: Vec<(u32, u32)> = stands
            .iter()
            .zip(&at)
            .filter_map(|(s, at)| at.filter(|at| *at != s.cylinder).map(|at| (s.cylinder, at)))
            .collect();
        let typed_mm = rms(stands.iter().map(|s| s.off_mm[0]));
        let ordered_mm = rms(stands
            .iter()
            .zip(&at)
            .filter_map(|(s, at)| Some(s.true_mm[0] + s.off_mm[0] - asked.readings.true_mm((*at)?)[0])));
        if moved.is_empty() || !explains(typed_mm, ordered_mm) || ordered_mm >= EXPLAINED_MM {
            continue;
        }
        let typed: Vec<u32> = stands.iter().map(|s| s.cylinder).collect();
        let mut back: Vec<u32> = at.iter().flatten().copied().collect();
        back.reverse();
        let reversed = back == typed;
        let how = if reversed { "typed from the other end" } else { "rows exchanged" };
        let bank = &asked.job.bank(set_up.bank).name;
        found.push(Suspicion {
            code: Code::CylinderOrder,
            verdict: Verdict::Hold,
            subject: Subject::bank(bank),
            found: say!(
                "{}; in that order {} is left (rms), as typed {typed_mm:.1}",
                moved
                    .iter()
                    .map(|(c, at)| format!("what is called cylinder {c} stands at cylinder {at}"))
                    .collect::<Vec<_>>()
                    .join(", "),
                mm(ordered_mm, 3)
            ),
            likely: say!("the cylinders {how}"),
            ask: say!(
                "in which order were {} read? Across, diameters and walls typed with them go with the answer",
                cylinder_words(&typed)
            ),
            evidence: figures([("rms_as_typed", typed_mm), ("rms_reordered", ordered_mm)]),
            cylinders: moved.iter().map(|(c, _)| *c).collect(),
        });
    }
    found
}
