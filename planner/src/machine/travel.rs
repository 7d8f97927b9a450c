//! The machine's travel against every place that a bank's lists go to in its set-up.

use crate::job::Job;
use crate::plan::moves::MoveList;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Finding, Stage, Subject, Verdict};
use crate::say;
use crate::survey::Survey;

/// Places beyond the machine's travel: against the zero found in the set-up, or, where the machine does not know
/// it, the span of the list against the length of the travel.
pub(crate) fn travel(job: &Job, survey: &Survey, lists: &[MoveList]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for list in lists {
        let Some(bank) = job.block.banks.iter().position(|b| b.name == list.bank) else { continue };
        let index = job.set_ups.iter().position(|s| s.bank == bank);
        let placement = index.and_then(|i| survey.placements.get(i)).and_then(Option::as_ref);
        let zero = placement.map(|p| {
            let at = p.inverse().point(borewright_geometry::Point::new(0.0, 0.0, 0.0));
            let off = if list.stage == Stage::Finish { job.engine.deck.cut_mm } else { 0.0 };
            let height = job.deck_as_it_is_mm(bank, &survey.journal_axis) - off;
            let deck = p.inverse().point(borewright_geometry::Point::new(0.0, 0.0, height));
            [at.x_mm(), at.y_mm(), deck.z_mm()].map(|v| v * job.at_cutting())
        });
        for (axis, name) in [(0, "X"), (1, "Y"), (2, "Z")] {
            let told = || reached(list, axis).into_iter();
            let (least, most) =
                (told().fold(f64::INFINITY, f64::min), told().fold(f64::NEG_INFINITY, f64::max));
            let [from, to] = job.machine.travel_mm[axis];
            let beyond = match zero {
                Some(zero) => zero[axis] + least < from || zero[axis] + most > to,
                None => most - least > to - from,
            };
            if beyond && least.is_finite() {
                let place = zero.map_or_else(
                    || say!("a span of {}", mm(most - least, 1)),
                    |zero| {
                        say!(
                            "machine {name} from {} to {}",
                            before_mm(zero[axis] + least, 1),
                            mm(zero[axis] + most, 1)
                        )
                    },
                );
                let finding = Finding {
                    code: "travel",
                    verdict: Verdict::Hold,
                    subject: Subject::bank(&list.bank),
                    text: say!(
                        "{} is beyond the travel of {name}, {} to {}: no list of this bank is written",
                        place,
                        before_mm(from, 1),
                        mm(to, 1)
                    ),
                };
                if !findings.contains(&finding) {
                    findings.push(finding);
                }
            }
        }
    }
    findings
}

/// Every coordinate of an axis that a list goes to, mm; of an arc both sides of its circle, which is wider than its
/// ends.
fn reached(list: &MoveList, axis: usize) -> Vec<f64> {
    let mut at = [None, None, None];
    let mut reached = Vec::new();
    for m in &list.moves {
        let centre = [m.i_mm, m.j_mm].map(|v| v.unwrap_or(0.0));
        let radius = centre[0].hypot(centre[1]);
        if let (true, Some(from)) = (radius > 0.0 && axis < 2, at[axis]) {
            let middle: f64 = from + centre[axis];
            reached.extend([middle - radius, middle + radius]);
        }
        for (known, told) in at.iter_mut().zip([m.x_mm, m.y_mm, m.z_mm]) {
            *known = told.or(*known);
        }
        reached.extend([m.x_mm, m.y_mm, m.z_mm][axis]);
    }
    reached
}
