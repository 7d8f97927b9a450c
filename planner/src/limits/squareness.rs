//! The bore's axis square to the journal axis: the lean of the bank's Z from the spindle.

use super::{Asked, Better, Judges, Lack, Standing, Stated};
use crate::job::limits::SQUARENESS;
use crate::job::{Job, ReadingFrame};
use crate::plan::sentence::mm;
use crate::plan::worked::{Origin, Symbol, Worked};
use crate::read::fault::plain;
use crate::say;
use crate::survey::Survey;

/// Lean of the bores from the spindle.
pub(super) const LIMIT: Stated = Stated {
    better: Better::Smaller,
    of_metal: false,
    ..Stated::metal(
        SQUARENESS,
        "squareness",
        "Lean of the bank's Z from the machine's Z over the bore length.",
        Judges::Bank(standing),
    )
    .unless(deck_unread)
};

/// The set-up that gives a bank its datum, where it was read in the machine without a deck.
pub(super) fn unread_deck<'a>(asked: &Asked<'a>) -> Option<&'a str> {
    let datum = asked.job.set_ups.iter().find(|s| s.bank == asked.bank)?;
    let ReadingFrame::Machine(readings) = &datum.frame else { return None };
    readings.deck_mm.is_empty().then_some(datum.name.as_str())
}

/// The lack of a limit on squareness where no deck was read: the bank's Z is then the machine's own, and its lean
/// is nought only because it was not measured.
fn deck_unread(asked: &Asked<'_>) -> Option<Lack> {
    asked.job.limits.get(LIMIT.name)?;
    unread_deck(asked).map(|name| Lack {
        code: "deck_not_read",
        short: "its deck was not read",
        text: say!(
            "squareness is limited to {} and no deck was read in set-up {}: how the bores lean from the spindle is not \
             known. Read the deck at four points",
            mm(asked.job.limits.get(LIMIT.name).map_or(0.0, |l| l.least_mm), 3),
            plain(name, 40)
        ),
    })
}

/// What a margin is worked from.
const WORKING: [Symbol; 5] = [
    Symbol::mm("m", "what is left of the limit", Origin::Figure("w - sqrt(s_x^2 + s_y^2)")),
    Symbol::mm("u", "standard uncertainty of the margin", Origin::Stated("instruments.machine")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.squareness")),
    Symbol::mm("s_x", "lean over the length of the bore, along", Origin::SetUp),
    Symbol::mm("s_y", "the same across", Origin::SetUp),
];

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
            worked: Worked::of(
                &[&WORKING],
                vec![job.instruments.machine_mm, limit.least_mm, axis.squareness.x, axis.squareness.y],
            ),
        })
        .min_by(|a, b| a.margin_mm.total_cmp(&b.margin_mm))
}
