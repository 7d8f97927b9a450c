//! The bore's axis square to the journal axis: the lean of the bank's Z from the spindle.

use super::{Better, Judges, Standing, Stated};
use crate::job::Job;
use crate::survey::Survey;

/// Lean of the bores from the spindle.
pub(super) const LIMIT: Stated = Stated {
    better: Better::Smaller,
    of_metal: false,
    ..Stated::metal(
        "squareness",
        "squareness",
        "Lean of the bank's Z from the machine's Z over the bore length.",
        Judges::Bank(standing),
    )
};

/// squareness - the lean over the bore length; machine set-ups only, the worst of a bank's.
fn standing(job: &Job, survey: &Survey, bank: usize) -> Option<Standing> {
    let limit = job.limits.get(LIMIT.name)?;
    let of_bank = job.set_ups.iter().filter(|s| s.bank == bank);
    of_bank
        .filter_map(|s| survey.journal_axis.iter().find(|axis| axis.set_up == s.name))
        .map(|axis| Standing {
            limit: LIMIT.name,
            feature: format!("set-up {}", axis.set_up),
            margin_mm: limit.least_mm - axis.squareness.x.hypot(axis.squareness.y),
            u_mm: job.instruments.machine_mm,
            least_mm: limit.least_mm,
            prefer_mm: limit.prefer_mm,
            prefer_margin_mm: limit.prefer_mm.map(|prefer| limit.least_mm - prefer),
        })
        .min_by(|a, b| a.margin_mm.total_cmp(&b.margin_mm))
}
