//! Workings of a check: why a reading is expected where it is, and why its window is so wide.

use crate::passes::STONES_SHARE;
use crate::plan::check::Asked;
use crate::plan::worked::{Figure, Origin, Symbol, Unit};

const EXPECTED: Origin = Origin::Known("ask for what is expected");

/// The window's ends of a length that is expected at `E`.
const ENDS: [Symbol; 3] = [
    Symbol::mm("E", "what is expected", EXPECTED),
    Symbol::mm("lo", "least that is as asked", Origin::Formula("E - w")),
    Symbol::mm("hi", "most that is as asked", Origin::Formula("E + w")),
];
const TURNED: [Symbol; 3] = [
    Symbol::new("E", "what is expected", Unit::Angle, EXPECTED),
    Symbol::new("lo", "least that is as asked", Unit::Angle, Origin::Formula("E - w")),
    Symbol::new("hi", "most that is as asked", Unit::Angle, Origin::Formula("E + w")),
];

const fn either_side(origin: Origin, says: &'static str) -> [Symbol; 2] {
    [Symbol::mm("w", "either side of what is expected", Origin::Figure("T")), Symbol::mm("T", says, origin)]
}

/// What sets how wide a window is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wide {
    /// A touch before the first chip.
    Touch,
    /// The depth of a first cut.
    Cut,
    /// The step's own tolerance.
    Step,
    /// The shop's tolerance of a register.
    Register,
    /// A length in coolant, held by its clearance, which is narrower than the usual figure.
    Clearance,
    /// A length in coolant, by the usual figure.
    Wet,
    /// A length in coolant, by what its bar clears of the part above.
    Above,
    /// Stones that leave stock for the next.
    Stones,
    /// A ledge's depth.
    Ledge,
    /// Corners of a deck.
    Level,
    /// A finish bore.
    Finish,
    /// The finished bore.
    Bore,
}

const TOUCH: [Symbol; 2] = either_side(
    Origin::PRACTICE,
    "far above any instrument, below any mistake of sign, bank or bore that matters",
);
const CUT: [Symbol; 2] =
    either_side(Origin::PRACTICE, "what a scale or a depth gauge reads at an uneven step");
const STEP: [Symbol; 2] =
    either_side(Origin::Sleeve("body"), "the pocket's own tolerance in the sleeve's fit");
const REGISTER: [Symbol; 2] =
    either_side(Origin::Stated("allowances.pocket_size"), "tolerance of a register's size");
const CLEARANCE: [Symbol; 2] = [
    Symbol::mm("w", "either side: half of the clearance, so that the sleeve passes", Origin::Figure("c / 2")),
    Symbol::mm("c", "clearance of the sleeve there, on diameter", Origin::Sleeve("body")),
];
const WET: [Symbol; 2] =
    either_side(Origin::PRACTICE, "it locates nothing, but the metal round it was judged for this size");
const ABOVE: [Symbol; 2] =
    either_side(Origin::Sleeve("body"), "wider, its bar would cut the register above on its way down");
const STONES: [Symbol; 2] = [
    Symbol::mm(
        "w",
        "either side: the next stones take their scratches out and are done in their time",
        Origin::Figure("t / 3"),
    ),
    Symbol::mm("t", "what the next stones are to take, on diameter", Origin::PRACTICE),
];
const LEDGE: [Symbol; 2] =
    either_side(Origin::Stated("allowances.ledge_depth"), "tolerance of a ledge's depth");
const LEVEL: [Symbol; 2] =
    either_side(Origin::PRACTICE, "corners of one deck may differ by so much in height");
const FINISH: [Symbol; 2] =
    either_side(Origin::PRACTICE, "of the size that is left for the hone, or of the last cut");
const BORE: [Symbol; 2] = either_side(Origin::Stated("finish.tolerance"), "tolerance of the finished bore");

/// A reading within `width_mm` either side of what is expected, with what sets that window.
pub(super) fn within(asked: Asked, wide: Wide, width_mm: f64) -> Asked {
    let symbols: &'static [&'static [Symbol]] = match wide {
        Wide::Touch => &[&TOUCH, &ENDS],
        Wide::Cut => &[&CUT, &ENDS],
        Wide::Step => &[&STEP, &ENDS],
        Wide::Register => &[&REGISTER, &ENDS],
        Wide::Clearance => &[&CLEARANCE, &ENDS],
        Wide::Wet => &[&WET, &ENDS],
        Wide::Above => &[&ABOVE, &ENDS],
        Wide::Stones => &[&STONES, &ENDS],
        Wide::Ledge => &[&LEDGE, &ENDS],
        Wide::Level => &[&LEVEL, &ENDS],
        Wide::Finish => &[&FINISH, &ENDS],
        Wide::Bore => &[&BORE, &ENDS],
    };
    let from = match wide {
        Wide::Clearance => 2.0 * width_mm,
        Wide::Stones => width_mm / STONES_SHARE,
        _ => width_mm,
    };
    ended(asked, symbols, width_mm, vec![from])
}

fn ended(mut asked: Asked, symbols: &'static [&'static [Symbol]], width: f64, mut kept: Vec<f64>) -> Asked {
    if let (Some(expected), Some(least), Some(most)) = (asked.expected, asked.least, asked.most) {
        kept.extend([expected, least, most]);
        asked.worked.push(Figure::of("within", width, symbols, kept));
    }
    asked
}

const PLACE: [Symbol; 4] = [
    Symbol::mm("w", "either side of what is expected", Origin::Figure("k * sqrt(u_m^2 + u_c^2)")),
    Symbol::new("k", "standard uncertainties to either side", Unit::Share, Origin::PRACTICE),
    Symbol::mm("u_m", "of where the machine bores", Origin::Stated("instruments.machine")),
    Symbol::mm("u_c", "of a bore centre as it is read", Origin::Stated("instruments.centre")),
];

/// A bore's own place, within what machine and instrument leave open.
pub(super) fn placed(asked: Asked, width_mm: f64, factor: f64, [machine_mm, centre_mm]: [f64; 2]) -> Asked {
    ended(asked, &[&PLACE, &ENDS], width_mm, vec![factor, machine_mm, centre_mm])
}

const BY_EYE: [Symbol; 2] = [
    Symbol::new("w", "either side of what is expected", Unit::Angle, Origin::Figure("T")),
    Symbol::new("T", "edges of an arc of iron are told to this by eye", Unit::Angle, Origin::PRACTICE),
];

/// A direction or an arc as it is seen.
pub(super) fn by_eye(asked: Asked, width_deg: f64) -> Asked {
    ended(asked, &[&BY_EYE, &TURNED], width_deg, vec![width_deg])
}

const HEIGHT: [Symbol; 5] = [
    Symbol::mm("lo", "least that is as asked", Origin::Figure("p_1 - c")),
    Symbol::mm("hi", "most that is as asked", Origin::Formula("p_2 - c")),
    Symbol::mm("p_1", "least that the flange stands proud", Origin::Sleeve("protrusion.min")),
    Symbol::mm("p_2", "most that it stands proud", Origin::Sleeve("protrusion.max")),
    Symbol::mm(
        "c",
        "what is still to be cut off the deck once the sleeves are in",
        Origin::Stated("deck.cut"),
    ),
];
const ON_STEP: [Symbol; 5] = [
    Symbol::mm("lo", "least that is as asked", Origin::Figure("p - a - c")),
    Symbol::mm("hi", "most that is as asked", Origin::Formula("p + a - c")),
    Symbol::mm("p", "how far the sleeve is left above the deck", Origin::Sleeve("length")),
    Symbol::mm("a", "a sleeve down on its step stands as high all round", Origin::PRACTICE),
    Symbol::mm(
        "c",
        "what is still to be cut off the deck once the sleeves are in",
        Origin::Stated("deck.cut"),
    ),
];

/// A flange's height over the deck, asked `from` to `to` proud, with a cut of the deck to come.
pub(super) fn proud(mut asked: Asked, [from_mm, to_mm]: [f64; 2], waits_mm: f64) -> Asked {
    if let (Some(least), Some(most)) = (asked.least, asked.most) {
        let kept = vec![most, from_mm, to_mm, waits_mm];
        asked.worked.push(Figure::of("within", least, &[&HEIGHT], kept));
    }
    asked
}

/// The height over the deck of a sleeve that stands on a step, asked `proud_mm` give or take `alike_mm`, with a cut
/// of the deck to come.
pub(super) fn on_step(mut asked: Asked, [proud_mm, alike_mm]: [f64; 2], waits_mm: f64) -> Asked {
    if let (Some(least), Some(most)) = (asked.least, asked.most) {
        let kept = vec![most, proud_mm, alike_mm, waits_mm];
        asked.worked.push(Figure::of("within", least, &[&ON_STEP], kept));
    }
    asked
}

/// What a bound on one side rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bound {
    /// Flatness of a deck.
    Flat,
    /// Sleeves that are cut flush.
    Flush,
    /// Roughness of the finished bore.
    Rough,
}

const FLAT: [Symbol; 2] = at_most(Origin::PRACTICE, "flatness over the deck");
const FLUSH: [Symbol; 2] = at_most(Origin::PRACTICE, "heights of one deck may differ by so much");
const ROUGH: [Symbol; 2] = [
    Symbol::new("hi", "most that is as asked", Unit::Micrometres, Origin::Figure("M")),
    Symbol::new("M", "most that the job asks for", Unit::Micrometres, Origin::Stated("finish.roughness")),
];

const fn at_most(origin: Origin, says: &'static str) -> [Symbol; 2] {
    [Symbol::mm("hi", "most that is as asked", Origin::Figure("M")), Symbol::mm("M", says, origin)]
}

/// A reading of which only the most is asked, with what that rests on.
pub(super) fn most(mut asked: Asked, bound: Bound) -> Asked {
    let symbols: &'static [&'static [Symbol]] = match bound {
        Bound::Flat => &[&FLAT],
        Bound::Flush => &[&FLUSH],
        Bound::Rough => &[&ROUGH],
    };
    if let Some(most) = asked.most {
        asked.worked.push(Figure::of("within", most, symbols, vec![most]));
    }
    asked
}

/// A reading with the figure that it is expected at, and what that is worked from.
pub(super) fn expected(mut asked: Asked, figure: Option<Figure>) -> Asked {
    asked.worked.extend(figure.map(|figure| Figure { about: "expected", ..figure }));
    asked
}

const LINER: [Symbol; 1] =
    [Symbol::mm("E", "outside diameter of the old liner", Origin::Block("parent.liner"))];

/// The hole that a liner came out of.
pub(super) fn of_liner(mut asked: Asked, outside_mm: f64) -> Asked {
    asked.worked.push(Figure::of("expected", outside_mm, &[&LINER], vec![outside_mm]));
    asked
}

const HOLE: [Symbol; 5] = [
    Symbol::mm("lo", "least that is as asked", Origin::Figure("E - s")),
    Symbol::mm("hi", "most that is as asked", Origin::Formula("E + g")),
    Symbol::mm("E", "what is expected", EXPECTED),
    Symbol::mm("s", "a press fit and some rust", Origin::PRACTICE),
    Symbol::mm("g", "a larger one is another liner's", Origin::PRACTICE),
];

/// The window of such a hole, smaller and larger than the liner by these, mm.
pub(super) fn of_hole(mut asked: Asked, [smaller_mm, larger_mm]: [f64; 2]) -> Asked {
    if let (Some(expected), Some(least), Some(most)) = (asked.expected, asked.least, asked.most) {
        let kept = vec![most, expected, smaller_mm, larger_mm];
        asked.worked.push(Figure::of("within", least, &[&HOLE], kept));
    }
    asked
}

const FITTED: [Symbol; 3] = [
    Symbol::mm("E", "the middle of what is asked", Origin::Figure("(lo + hi) / 2")),
    Symbol::mm("lo", "least that is as asked", Origin::Known("ask for its window")),
    Symbol::mm("hi", "most that is as asked", Origin::Known("ask for its window")),
];
const ON_LEDGE: [Symbol; 5] = [
    Symbol::mm("E", "what flange and ledge give", Origin::Figure("t - l + c_0 - c")),
    Symbol::mm("t", "thickness of the flange", Origin::Sleeve("flange.thickness")),
    Symbol::mm("l", "depth of the ledge as it was cut", Origin::Known("as it was measured, in the record")),
    Symbol::mm("c_0", "what is cut off the deck in all", Origin::Stated("deck.cut")),
    Symbol::mm("c", "what of it waits for the sleeves", Origin::Stated("deck.cut")),
];

/// The middle of a flange's window.
pub(super) fn middle([least_mm, most_mm]: [f64; 2], value: f64) -> Figure {
    Figure::of("expected", value, &[&FITTED], vec![least_mm, most_mm])
}

/// A flange on a ledge that is cut.
pub(super) fn on_ledge([thick_mm, ledge_mm]: [f64; 2], [cut_mm, waits_mm]: [f64; 2], value: f64) -> Figure {
    Figure::of("expected", value, &[&ON_LEDGE], vec![thick_mm, ledge_mm, cut_mm, waits_mm])
}

const DECK: [Symbol; 3] = [
    Symbol::mm("E", "the deck above the journal axis once it is cut", Origin::Figure("H - c")),
    Symbol::mm("H", "the deck as it is above the journal axis", Origin::SetUp),
    Symbol::mm("c", "what is cut off it", Origin::Stated("deck.cut")),
];

/// A deck once it is cut.
pub(super) fn deck(height_mm: f64, cut_mm: f64, value: f64) -> Figure {
    Figure::of("expected", value, &[&DECK], vec![height_mm, cut_mm])
}
