//! Workings of a touch check's figures, and of the time in feed.

use crate::plan::worked::{Figure, Origin, Symbol, Unit};

const STEPS: Symbol = Symbol::new(
    "k",
    "steps of a list",
    Unit::PerLength,
    Origin::Known("lists tell a thousandth of a mm, or a tenth of a thousandth of an inch"),
);

/// What brings a place of a bank to the machine's scales.
pub(crate) const TO_MACHINE: [Symbol; 4] = [
    Symbol::new(
        "g",
        "what a length at 20 degrees is on the machine's scales while it is cut",
        Unit::Share,
        Origin::Stated("temperature"),
    ),
    Symbol::mm("o", "the deck's own place in the machine", Origin::SetUp),
    Symbol::new("p", "share of the bank's x", Unit::Share, Origin::SetUp),
    Symbol::new("q", "share of the bank's y", Unit::Share, Origin::SetUp),
];

const fn old(
    [told, exact, x, y]: [&'static str; 4],
    [rounded, sum]: [&'static str; 2],
    says: &'static str,
) -> [Symbol; 9] {
    [
        Symbol::mm(told, says, Origin::Figure(rounded)),
        Symbol::mm(exact, "the same before it is rounded", Origin::Formula(sum)),
        STEPS,
        TO_MACHINE[0],
        TO_MACHINE[1],
        TO_MACHINE[2],
        TO_MACHINE[3],
        Symbol::mm(x, "the old bore at the deck, along its fitted axis: along the bank", Origin::Circles),
        Symbol::mm(y, "the same across", Origin::Circles),
    ]
}

const OLD: [[Symbol; 9]; 2] = [
    old(
        ["X", "v", "x_f", "y_f"],
        ["round(v * k) / k", "g * (o + p * x_f + q * y_f)"],
        "X of the old bore's middle",
    ),
    old(
        ["Y", "v", "x_f", "y_f"],
        ["round(v * k) / k", "g * (o + p * x_f + q * y_f)"],
        "Y of the old bore's middle",
    ),
];

/// One coordinate of the old bore's middle, X (0) or Y (1): as told, before it is rounded to a step, from a scale,
/// the columns of the way to the machine and a place in the bank.
pub(super) fn old_bore(
    axis: usize,
    [told_mm, exact_mm, step_mm, scale]: [f64; 4],
    [o, p, q]: [f64; 3],
    [x, y]: [f64; 2],
    surface: &'static str,
) -> Figure {
    let symbols: &'static [&'static [Symbol]] = if axis == 0 { &[&OLD[0]] } else { &[&OLD[1]] };
    let mut figure =
        Figure::of("expected", told_mm, symbols, vec![exact_mm, 1.0 / step_mm, scale, o, p, q, x, y]);
    figure.worked.surface = Some(surface);
    figure
}

const WORD: [[Symbol; 2]; 2] = [
    [
        Symbol::mm("X", "X as the list says it", Origin::Figure("X_l")),
        Symbol::mm("X_l", "the list's own word", Origin::Known("ask for `cylinder N x`")),
    ],
    [
        Symbol::mm("Y", "Y as the list says it", Origin::Figure("Y_l")),
        Symbol::mm("Y_l", "the list's own word", Origin::Known("ask for `cylinder N y`")),
    ],
];

/// A word of a list, X (0) or Y (1).
pub(crate) fn word(axis: usize, value: f64) -> Figure {
    let symbols: &'static [&'static [Symbol]] = if axis == 0 { &[&WORD[0]] } else { &[&WORD[1]] };
    Figure::of("expected", value, symbols, vec![value])
}

const ON_PLATE: [Symbol; 3] = [
    Symbol::mm("Z", "Z of what is touched", Origin::Figure("round(t * k) / k")),
    Symbol::mm("t", "thickness of the plate; the deck itself is zero", Origin::Stated("finish.plate")),
    STEPS,
];
const ON_DECK: [Symbol; 2] = [
    Symbol::mm("Z", "Z of what is touched", Origin::Figure("Z_0")),
    Symbol::mm("Z_0", "zero of the lists", Origin::Known("the deck, docs/formats.md")),
];

/// Z of the deck, or of a plate on it.
pub(super) fn height(told_mm: f64, plate_mm: Option<f64>, step_mm: f64) -> Figure {
    match plate_mm {
        Some(plate) => Figure::of("expected", told_mm, &[&ON_PLATE], vec![plate, 1.0 / step_mm]),
        None => Figure::of("expected", told_mm, &[&ON_DECK], vec![told_mm]),
    }
}

/// Minutes in feed, of so many feeds.
const IN_FEED: [Symbol; 5] = [
    Symbol::new("t", "minutes in feed", Unit::Minutes, Origin::Figure("L_1 / F_1")),
    Symbol::new("t", "minutes in feed", Unit::Minutes, Origin::Figure("L_1 / F_1 + L_2 / F_2")),
    Symbol::new("t", "minutes in feed", Unit::Minutes, Origin::Figure("L_1 / F_1 + L_2 / F_2 + L_3 / F_3")),
    Symbol::new(
        "t",
        "minutes in feed",
        Unit::Minutes,
        Origin::Figure("L_1 / F_1 + L_2 / F_2 + L_3 / F_3 + L_4 / F_4"),
    ),
    Symbol::new(
        "t",
        "minutes in feed",
        Unit::Minutes,
        Origin::Figure("L_1 / F_1 + L_2 / F_2 + L_3 / F_3 + L_4 / F_4 + r"),
    ),
];
const LIST: Origin = Origin::Known("the list's own rows");
const WAY: [[Symbol; 2]; 4] = [way("L_1", "F_1"), way("L_2", "F_2"), way("L_3", "F_3"), way("L_4", "F_4")];
const REST: [Symbol; 1] = [Symbol::new("r", "minutes at further feeds", Unit::Minutes, LIST)];

const fn way(length: &'static str, feed: &'static str) -> [Symbol; 2] {
    [
        Symbol::mm(length, "way of the tool at this feed: down, up, round", LIST),
        Symbol::new(feed, "feed as the list tells it", Unit::Feed, LIST),
    ]
}

/// Minutes of a pass, from length, mm, and feed, mm/min, of its moves.
pub(super) fn in_feed(minutes: f64, ways: &[[f64; 2]]) -> Option<Figure> {
    let symbols: &'static [&'static [Symbol]] = match ways {
        [] => return None,
        [_] => &[&[IN_FEED[0]], &WAY[0]],
        [_, _] => &[&[IN_FEED[1]], &WAY[0], &WAY[1]],
        [_, _, _] => &[&[IN_FEED[2]], &WAY[0], &WAY[1], &WAY[2]],
        [_, _, _, _] => &[&[IN_FEED[3]], &WAY[0], &WAY[1], &WAY[2], &WAY[3]],
        _ => &[&[IN_FEED[4]], &WAY[0], &WAY[1], &WAY[2], &WAY[3], &REST],
    };
    let (told, rest) = ways.split_at(ways.len().min(WAY.len()));
    let more = (!rest.is_empty()).then(|| rest.iter().map(|[length, feed]| length / feed).sum());
    Some(Figure::of("minutes", minutes, symbols, told.iter().flatten().copied().chain(more).collect()))
}
