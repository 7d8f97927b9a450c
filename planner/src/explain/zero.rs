//! The account of where a bank's zero and deck stood on the machine's scales as it was read.

use super::Account;
use super::axis::Axis;
use super::origin::{Sources, bank_name};
use super::question::Question;
use crate::plan::worked::{Figure, Origin, Symbol, Unit};
use crate::planning::Planning;
use crate::say;
use crate::trace;

/// Symbols of the foot of the along datum on the journal axis, for one of the machine's axes.
const fn foot([middle, share]: [&'static str; 2], says: &'static str) -> [Symbol; 5] {
    [
        Symbol::mm(middle, says, Origin::SetUp),
        Symbol::new(share, "share of the fitted journal axis' direction", Unit::Share, Origin::SetUp),
        Symbol::mm("r", "how far along the axis zero lies from there", Origin::Formula("a_x * (d - m_x)")),
        Symbol::mm("d", "X of the along datum as read", Origin::SetUp),
        trace::TO_MACHINE[0],
    ]
}

const X: &[&[Symbol]] = &[
    &[Symbol::mm("X", "X of zero", Origin::Figure("g * (m_x + a_x * r)"))],
    &foot(["m_x", "a_x"], "X of the middle of all mains as read"),
];
/// What the way along the axis is worked from.
const ALONG: [Symbol; 2] = [
    Symbol::mm("m_x", "X of the middle of all mains as read", Origin::SetUp),
    Symbol::new("a_x", "share of X in the fitted journal axis' direction", Unit::Share, Origin::SetUp),
];
const Y: &[&[Symbol]] = &[
    &[Symbol::mm("Y", "Y of zero", Origin::Figure("g * (m_y + a_y * r)"))],
    &foot(["m_y", "a_y"], "Y of the middle of all mains as read"),
    &ALONG,
];
const Z: &[&[Symbol]] = &[
    &[Symbol::mm("Z", "Z of the deck over zero", Origin::Figure("g * (m_z + a_z * r + u_z * h)"))],
    &foot(["m_z", "a_z"], "Z of the middle of all mains as read"),
    &ALONG,
    &[
        Symbol::new("u_z", "share of Z in the direction square to axis and deck", Unit::Share, Origin::SetUp),
        Symbol::mm("h", "the deck above the journal axis: as read, else as described", Origin::SetUp),
    ],
];

pub(super) fn accounts(planning: &Planning, bank: usize, axis: Option<Axis>) -> Vec<Account> {
    let wanted = Axis::ALL.into_iter().filter(|own| axis.is_none_or(|axis| axis == *own));
    wanted.filter_map(|own| account(planning, bank, own)).collect()
}

/// Whether a bank was read on the machine, so that its zero stands there.
pub(super) fn is_known(planning: &Planning, bank: usize) -> bool {
    account(planning, bank, Axis::X).is_some()
}

fn account(planning: &Planning, bank: usize, axis: Axis) -> Option<Account> {
    let job = &planning.job;
    let survey = &planning.seen.as_ref()?.survey;
    let index = job.set_ups.iter().position(|s| s.bank == bank)?;
    let zero = survey.zeros.get(index)?.as_ref()?;
    let read = survey.journal_axis.iter().find(|a| a.set_up == job.set_ups[index].name);
    let deck = read.and_then(|a| a.deck_height).unwrap_or(job.bank(bank).deck_height_mm);
    let scale = job.at_cutting();
    let [middle, along] = [zero.middle_mm, zero.along].map(|three| axis.of_three(three));
    let mut kept = vec![middle, along, zero.reach_mm, zero.datum_mm, scale];
    let mut at = axis.of_three(zero.foot_mm);
    let symbols = match axis {
        Axis::X => X,
        Axis::Y => Y,
        Axis::Z => Z,
    };
    if axis != Axis::X {
        kept.extend([zero.middle_mm[0], zero.along[0]]);
    }
    if axis == Axis::Z {
        kept.extend([zero.up[2], deck]);
        at += zero.up[2] * deck;
    }
    let figure = Figure::of("zero", scale * at, symbols, kept);
    let first = job.bank(bank).sites.first()?.cylinder;
    let rows = Sources::new(planning, Some(first), "").figure(&figure, None);
    let asked = Question::Zero { bank: job.bank(bank).name.clone(), axis: Some(axis) }.to_string();
    let title = match axis {
        Axis::Z => say!("Z of the deck over zero of bank {} as it was read", bank_name(job, bank)),
        Axis::X | Axis::Y => {
            say!("{} of zero of bank {} as it was read", axis.letter(), bank_name(job, bank))
        }
    };
    let notes =
        vec!["the block left the table since: zero is picked up anew, and need not read the same".into()];
    Some(Account { asked, title, rows, notes })
}
