//! The account of where a cylinder is bored.

use super::Account;
use super::axis::Axis;
use super::origin::{Sources, bank_name, is_withheld};
use super::question::Question;
use crate::job::Aim;
use crate::plan::sentence::Sentence;
use crate::plan::worked::{Figure, Origin, Symbol};
use crate::planning::Planning;
use crate::say;
use crate::trace;

const KEPT: Origin = Origin::Known("kept there by what is told below");

/// By axis, of a bore that follows the journal axis.
const JOURNAL: [[Symbol; 6]; 2] = [
    symbols(["x", "t_x", "s_x", "f_x", "e_x", "v_x"], ["t_x + s_x", "f_x - t_x", "x - f_x"], Origin::Belongs),
    symbols(["y", "t_y", "s_y", "f_y", "e_y", "v_y"], ["t_y + s_y", "f_y - t_y", "y - f_y"], Origin::Belongs),
];
/// By axis, of a bore that follows the bore that is there.
const PARENT: [[Symbol; 6]; 2] = [
    symbols(["x", "t_x", "s_x", "f_x", "e_x", "v_x"], ["t_x + s_x", "f_x - t_x", "x - f_x"], Origin::Circles),
    symbols(["y", "t_y", "s_y", "f_y", "e_y", "v_y"], ["t_y + s_y", "f_y - t_y", "y - f_y"], Origin::Circles),
];

const fn symbols(
    [planned, aimed, moved, found, off, cut]: [&'static str; 6],
    [sum, stands_off, moves]: [&'static str; 3],
    aim: Origin,
) -> [Symbol; 6] {
    let aimed_at = match aim {
        Origin::Circles => "aimed at: the old bore at half the pocket's depth",
        _ => "aimed at: where the bore belongs from the journal axis",
    };
    [
        Symbol::mm(planned, "planned centre at the deck", Origin::Figure(sum)),
        Symbol::mm(aimed, aimed_at, aim),
        Symbol::mm(moved, "how far it is planned from there", KEPT),
        Symbol::mm(found, "the old bore at the deck, along its fitted axis", Origin::Circles),
        Symbol::mm(off, "how far the old bore stands off what is aimed at", Origin::Formula(stands_off)),
        Symbol::mm(cut, "how far the cut moves from the old bore", Origin::Formula(moves)),
    ]
}

/// By axis, of the figure that the lists are told.
const WORD: [[Symbol; 7]; 2] =
    [words("X", "machine's X, from the datum"), words("Y", "machine's Y, from the datum")];

const fn words(name: &'static str, says: &'static str) -> [Symbol; 7] {
    [
        Symbol::mm(name, says, Origin::Figure("g * (o + p * x + q * y)")),
        trace::TO_MACHINE[0],
        trace::TO_MACHINE[1],
        trace::TO_MACHINE[2],
        trace::TO_MACHINE[3],
        Symbol::mm("x", "planned centre at the deck, along", Origin::Planned),
        Symbol::mm("y", "planned centre at the deck, across", Origin::Planned),
    ]
}

pub(super) fn accounts(planning: &Planning, cylinder: u32, axis: Option<Axis>) -> Vec<Account> {
    if is_withheld(planning, cylinder) {
        return Vec::new();
    }
    Axis::OF_BORE
        .into_iter()
        .zip(0..)
        .filter(|(own, _)| axis.is_none_or(|axis| axis == *own))
        .flat_map(|own| [centre(planning, cylinder, own), word(planning, cylinder, own)])
        .flatten()
        .collect()
}

fn asked(cylinder: u32, axis: Axis) -> String {
    Question::Cylinder { cylinder, axis: Some(axis) }.to_string()
}

fn centre(planning: &Planning, cylinder: u32, (named, axis): (Axis, usize)) -> Option<Account> {
    let seen = planning.seen.as_ref()?;
    let bore = seen.positions.bores.iter().find(|b| b.site.cylinder == cylinder)?;
    let found = seen.survey.cylinders.get(&cylinder)?;
    let (planned, target) = (bore.planned_mm[axis], bore.target_mm[axis]);
    let old = found.now.axis.at_deck_mm[axis];
    let kept = vec![target, planned - target, old, old - target, planned - old];
    let symbols: &'static [&'static [Symbol]] = match (planning.job.aim, axis) {
        (Aim::Journal, 0) => &[&JOURNAL[0]],
        (Aim::Journal, _) => &[&JOURNAL[1]],
        (Aim::Parent, 0) => &[&PARENT[0]],
        (Aim::Parent, _) => &[&PARENT[1]],
    };
    let mut figure = Figure::of("centre", planned, symbols, kept);
    figure.worked.surface = Some(found.now.surface.word());
    let which = if axis == 0 { "along" } else { "across" };
    let title =
        say!("planned centre of cylinder {cylinder}, {which} bank {}", bank_name(&planning.job, bore.bank));
    let mut notes: Vec<Sentence> = vec![bore.why.whole()];
    if bore.cut.is_some() {
        notes.insert(0, "the pocket is cut: it stays where it was measured".into());
    }
    let rows = Sources::new(planning, Some(cylinder), "").figure(&figure, Some(bore.planned_mm));
    Some(Account { asked: asked(cylinder, named), title, rows, notes })
}

fn word(planning: &Planning, cylinder: u32, (named, axis): (Axis, usize)) -> Option<Account> {
    let seen = planning.seen.as_ref()?;
    let bore = seen.positions.bores.iter().find(|b| b.site.cylinder == cylinder)?;
    let told = trace::told(&planning.job, &seen.survey, &seen.positions, cylinder)?;
    let [o, p, q] = told.columns[axis];
    let symbols: &'static [&'static [Symbol]] = if axis == 0 { &[&WORD[0]] } else { &[&WORD[1]] };
    let figure = Figure::of("word", told.exact_mm[axis], symbols, vec![told.scale, o, p, q]);
    let rows = Sources::new(planning, Some(cylinder), "").figure(&figure, Some(bore.planned_mm));
    let letter = named.letter();
    let title = say!("cylinder {cylinder} on the machine, {letter}");
    let mut notes = Vec::new();
    if let Some(rounded) = told.word_mm {
        // The list's own figure, whatever the account is in.
        let units = planning.job.machine.list_units;
        let places = units.decimals();
        let [says, step] = [rounded[axis], units.step_mm()].map(|mm| units.told(mm, places));
        let unit = units.short();
        let said = format!(
            "the lists say {says:.places$} {unit}: to {step:.places$}, to the side that keeps the limits"
        );
        notes.push(said.into());
    }
    Some(Account { asked: asked(cylinder, named), title, rows, notes })
}
