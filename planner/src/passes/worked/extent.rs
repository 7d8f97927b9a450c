//! Workings of a pass's extent: its size and its depth.

use crate::plan::worked::{Figure, Origin, Symbol};

const OF_STEP: [Symbol; 3] = [
    Symbol::mm("D", "size of the pocket", Origin::Figure("D_s - i")),
    Symbol::mm("D_s", "outside of the sleeve there", Origin::Sleeve("body")),
    Symbol::mm("i", "interference, a clearance below nothing", Origin::Sleeve("body")),
];
const OF_FLANGE: [Symbol; 3] = [
    Symbol::mm("D", "size of the recess", Origin::Figure("D_f + c")),
    Symbol::mm("D_f", "diameter of the flange", Origin::Sleeve("flange.diameter")),
    Symbol::mm("c", "clearance round it", Origin::Sleeve("flange.clearance")),
];
const OF_BORE: [Symbol; 3] = [
    Symbol::mm("D", "size", Origin::Figure("B - h")),
    Symbol::mm("B", "the finished bore", Origin::Stated("finish.bore")),
    Symbol::mm("h", "left on diameter for what comes after", Origin::Stated("finish.hone_stock")),
];

/// Size of a step's pocket.
pub(in crate::passes) fn step_size(value: f64, outside_mm: f64) -> Figure {
    Figure::of("size", value, &[&OF_STEP], vec![outside_mm, outside_mm - value])
}

const OF_OWN_STEP: [Symbol; 3] = [
    Symbol::mm("D", "size of the pocket", Origin::Figure("D_s - i")),
    Symbol::mm("D_s", "outside of the sleeve that goes here", Origin::Known("as it was measured")),
    Symbol::mm("i", "interference, a clearance below nothing", Origin::Sleeve("body")),
];

/// The size of a step's pocket for a sleeve that was measured, mm.
pub(in crate::passes) fn own_size(value: f64, outside_mm: f64) -> Figure {
    Figure::of("size", value, &[&OF_OWN_STEP], vec![outside_mm, outside_mm - value])
}

/// Size of a flange's recess.
pub(in crate::passes) fn flange_size(value: f64, flange_mm: f64) -> Figure {
    Figure::of("size", value, &[&OF_FLANGE], vec![flange_mm, value - flange_mm])
}

/// Size of a finished or honed bore.
pub(in crate::passes) fn bore_size(value: f64, bore_mm: f64) -> Figure {
    Figure::of("size", value, &[&OF_BORE], vec![bore_mm, bore_mm - value])
}

const DECK_CUT: Symbol = Symbol::mm("c", "what is still to be cut off the deck", Origin::Stated("deck.cut"));
const LEFT_BELOW: Symbol =
    Symbol::mm("A", "left for the finishing pass to take", Origin::Stated("allowances.pocket"));
const PROUD: [Symbol; 2] = [
    Symbol::mm("p_1", "least that the flange is to stand proud", Origin::Sleeve("protrusion.min")),
    Symbol::mm("p_2", "most that it is to", Origin::Sleeve("protrusion.max")),
];
const OF_LEDGE: [Symbol; 2] = [
    Symbol::mm("d", "depth of the ledge", Origin::Figure("t - (p_1 + p_2) / 2 + c - A")),
    Symbol::mm("t", "thickness of the flange", Origin::Sleeve("flange.thickness")),
];
const OF_OWN_LEDGE: [Symbol; 2] = [
    Symbol::mm("d", "depth of the ledge", Origin::Figure("t - (p_1 + p_2) / 2 + c - A")),
    Symbol::mm(
        "t",
        "thickness of the flange",
        Origin::Known("the sleeve that goes here, as it was measured"),
    ),
];
const AS_CUT: [Symbol; 2] = [
    Symbol::mm("d", "depth of the ledge", Origin::Figure("l")),
    Symbol::mm("l", "the ledge that is there", Origin::Known("as it was measured, in the record")),
];
const OF_END: [Symbol; 4] = [
    Symbol::mm("d", "depth where the step ends", Origin::Figure("l + c - A")),
    Symbol::mm("l", "depth of its lower end, from the deck that is left", Origin::Sleeve("body")),
    DECK_CUT,
    LEFT_BELOW,
];
const THROUGH: [Symbol; 3] = [
    Symbol::mm("d", "through the bore and past its end", Origin::Figure("b + o")),
    Symbol::mm("b", "length of the bore", Origin::Block("parent.bore_length")),
    PAST,
];
const PAST: Symbol = Symbol::mm("o", "past the end, as far as there is room below", Origin::PRACTICE);
const FINISHED: [Symbol; 4] = [
    Symbol::mm("d", "depth where the finish bore ends, from the deck as it is", Origin::Figure("l + c + o")),
    Symbol::mm("l", "length of the sleeve", Origin::Sleeve("length")),
    DECK_CUT,
    PAST,
];

/// What a ledge's depth is worked from.
#[derive(Debug, Clone, Copy)]
pub(in crate::passes) enum Ledge {
    /// The flange as the sleeve is described, mm thick.
    Described(f64),
    /// The flange of the sleeve that goes there, mm thick.
    Measured(f64),
    /// It is there already.
    Cut,
}

/// Depth of a flange's ledge; `left_mm` of it are left for a later pass.
pub(in crate::passes) fn ledge_depth(
    value: f64,
    from: Ledge,
    proud_mm: [f64; 2],
    [cut_mm, left_mm]: [f64; 2],
) -> Figure {
    let kept = |thick: f64| [thick].into_iter().chain(proud_mm).chain([cut_mm, left_mm]).collect();
    match from {
        Ledge::Described(thick) => {
            Figure::of("depth", value, &[&OF_LEDGE, &PROUD, &[DECK_CUT, LEFT_BELOW]], kept(thick))
        }
        Ledge::Measured(thick) => {
            Figure::of("depth", value, &[&OF_OWN_LEDGE, &PROUD, &[DECK_CUT, LEFT_BELOW]], kept(thick))
        }
        Ledge::Cut => Figure::of("depth", value, &[&AS_CUT], vec![value]),
    }
}

/// Depth where a step of the pocket ends, `to_mm` below the deck that is left.
pub(in crate::passes) fn step_depth(value: f64, to_mm: f64, [cut_mm, left_mm]: [f64; 2]) -> Figure {
    Figure::of("depth", value, &[&OF_END], vec![to_mm, cut_mm, left_mm])
}

/// Depth of a cut through the bore.
pub(in crate::passes) fn through(value: f64, length_mm: f64) -> Figure {
    Figure::of("depth", value, &[&THROUGH], vec![length_mm, value - length_mm])
}

/// Depth of the finish bore.
pub(in crate::passes) fn finish_depth(value: f64, [length_mm, cut_mm, past_mm]: [f64; 3]) -> Figure {
    Figure::of("depth", value, &[&FINISHED], vec![length_mm, cut_mm, past_mm])
}
