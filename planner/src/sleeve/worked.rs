//! Workings of a fit's figures.

use crate::material::Material;
use crate::plan::worked::{Figure, Origin, Symbol, Unit};

const LEAST: [Symbol; 4] = [
    Symbol::mm("i", "least interference on diameter", Origin::Figure("i_m - (t_s + t_p)")),
    Symbol::mm("i_m", "interference as described", Origin::Sleeve("body")),
    Symbol::mm("t_s", "either side of the sleeve's outside", Origin::Sleeve("body")),
    Symbol::mm("t_p", "either side of the pocket's size", Origin::Stated("allowances.pocket_size")),
];
const MOST: [Symbol; 4] = [
    Symbol::mm("i", "most interference on diameter", Origin::Figure("i_m + (t_s + t_p)")),
    LEAST[1],
    LEAST[2],
    LEAST[3],
];
const HOT: [Symbol; 9] = [
    Symbol::mm("i_w", "interference on diameter at work", Origin::Figure("i - d * (e_b - e_s)")),
    Symbol::mm("i", "the same at 20 degrees", Origin::Known("ask for its interference")),
    Symbol::mm("d", "diameter of the pocket", Origin::Sleeve("body")),
    Symbol::new(
        "e_b",
        "how much longer the block is at work, a share",
        Unit::Share,
        Origin::Formula("k_b * (T_b - 20)"),
    ),
    Symbol::new("e_s", "how much longer the sleeve is", Unit::Share, Origin::Formula("k_s * (T_s - 20)")),
    Symbol::new("k_b", "mean expansion of the block from 20 degrees, 1/K", Unit::Share, Origin::BlockMetal),
    Symbol::new("k_s", "mean expansion of the sleeve, 1/K", Unit::Share, Origin::SleeveMetal),
    Symbol::new("T_b", "block at work", Unit::Celsius, Origin::Stated("running.block")),
    Symbol::new("T_s", "sleeve at work", Unit::Celsius, Origin::Stated("running.sleeve")),
];
const PRESSURE: [Symbol; 9] = [
    Symbol::new(
        "p",
        "contact pressure at 20 degrees, Lamé's two rings",
        Unit::Stress,
        Origin::Figure(
            "i / d / (((o^2 + d^2) / (o^2 - d^2) + v_b) / E_b + ((d^2 + a^2) / (d^2 - a^2) - v_s) / E_s)",
        ),
    ),
    Symbol::mm("i", "interference on diameter", Origin::Known("ask for its interference")),
    Symbol::mm("d", "diameter of the pocket", Origin::Sleeve("body")),
    Symbol::mm(
        "o",
        "outside of the block round it: the pocket and twice the least wall left",
        Origin::Known("the least wall left round this step, of all bores"),
    ),
    Symbol::mm("a", "bore of the sleeve", Origin::Known("as supplied, or as finished")),
    Symbol::new("E_b", "elastic modulus of the block", Unit::Stress, Origin::BlockMetal),
    Symbol::new("v_b", "its contraction across", Unit::Share, Origin::BlockMetal),
    Symbol::new("E_s", "elastic modulus of the sleeve", Unit::Stress, Origin::SleeveMetal),
    Symbol::new("v_s", "its contraction across", Unit::Share, Origin::SleeveMetal),
];
const GAP: [Symbol; 9] = [
    Symbol::mm("g", "gap on diameter as the sleeve goes in", Origin::Figure("d * (e_b - e_s) - i")),
    Symbol::mm("i", "most interference on diameter at 20 degrees", Origin::Known("ask for its interference")),
    Symbol::mm("d", "diameter of the pocket", Origin::Sleeve("body")),
    HOT[3],
    HOT[4],
    HOT[5],
    HOT[6],
    Symbol::new(
        "T_b",
        "block as the sleeve goes in",
        Unit::Celsius,
        Origin::Known("the least that gives the gap asked for"),
    ),
    Symbol::new("T_s", "sleeve as it goes in", Unit::Celsius, Origin::Stated("going_in.sleeve")),
];

/// What the gap of a sleeve going in is worked from where the block at its hottest is not enough, and the sleeve is
/// chilled for it.
pub(super) const GAP_CHILLED: [Symbol; 9] = {
    let mut symbols = GAP;
    symbols[7] = Symbol::new(
        "T_b",
        "block as the sleeve goes in",
        Unit::Celsius,
        Origin::Known(
            "the hottest that it may be, less 20 K that it cools by on its way (common practice, no source)",
        ),
    );
    symbols[8] = Symbol::new(
        "T_s",
        "sleeve as it goes in",
        Unit::Celsius,
        Origin::Known("the warmest that gives the gap asked for"),
    );
    symbols
};

/// A pair of metals at a diameter.
#[derive(Clone, Copy)]
pub(super) struct Metals<'a> {
    pub(super) diameter_mm: f64,
    pub(super) block: &'a Material,
    pub(super) sleeve: &'a Material,
}

/// Least and most interference.
pub(super) fn tight(middle_mm: f64, [sleeve_mm, pocket_mm]: [f64; 2]) -> [Figure; 2] {
    let (kept, half) = (vec![middle_mm, sleeve_mm, pocket_mm], sleeve_mm + pocket_mm);
    [
        Figure::of("interference", middle_mm - half, &[&LEAST], kept.clone()),
        Figure::of("interference", middle_mm + half, &[&MOST], kept),
    ]
}

/// Interference at the temperatures at work.
pub(super) fn hot(value: f64, tight_mm: f64, metals: Metals<'_>, at_c: [f64; 2]) -> Figure {
    Figure::of("interference", value, &[&HOT], warmed(tight_mm, metals, at_c))
}

/// The gap while a sleeve goes in, chilled or as it is.
pub(super) fn gap(value: f64, most_mm: f64, metals: Metals<'_>, at_c: [f64; 2], chilled: bool) -> Figure {
    let kept = warmed(most_mm, metals, at_c);
    if chilled {
        Figure::of("gap", value, &[&GAP_CHILLED], kept)
    } else {
        Figure::of("gap", value, &[&GAP], kept)
    }
}

const SOAK: [Symbol; 3] = [
    Symbol::new("S", "block as it leaves the oven", Unit::Celsius, Origin::Figure("T_b + c")),
    Symbol::new(
        "T_b",
        "below this, heat again",
        Unit::Celsius,
        Origin::Known("the least that gives the gap asked for"),
    ),
    Symbol::new(
        "c",
        "what it cools by from the oven to the last sleeve, K",
        Unit::Celsius,
        Origin::Known("common practice, no source"),
    ),
];
const HOTTEST: [Symbol; 2] = [
    Symbol::new("S", "block as it leaves the oven: no hotter", Unit::Celsius, Origin::Figure("T_max")),
    Symbol::new("T_max", "the hottest that it may be", Unit::Celsius, Origin::Stated("going_in.hottest")),
];

/// How hot the block is soaked: above what gives the gap by what it cools, or at its hottest.
pub(super) fn soak(value: f64, block_c: f64, cools_k: f64) -> Figure {
    if value < block_c + cools_k {
        Figure::of("soak", value, &[&HOTTEST], vec![value])
    } else {
        Figure::of("soak", value, &[&SOAK], vec![block_c, cools_k])
    }
}

fn warmed(
    tight_mm: f64,
    Metals { diameter_mm, block, sleeve }: Metals<'_>,
    [block_c, sleeve_c]: [f64; 2],
) -> Vec<f64> {
    let strains = [block.strain(block_c), sleeve.strain(sleeve_c)];
    let means = [block.mean_per_k(block_c), sleeve.mean_per_k(sleeve_c)];
    let [e_b, e_s] = strains;
    let [k_b, k_s] = means;
    vec![tight_mm, diameter_mm, e_b, e_s, k_b, k_s, block_c, sleeve_c]
}

/// Contact pressure of a sleeve in the bare block.
pub(super) fn pressure(
    value: f64,
    tight_mm: f64,
    [outside_mm, inside_mm]: [f64; 2],
    metals: Metals<'_>,
) -> Figure {
    let Metals { diameter_mm, block, sleeve } = metals;
    let kept = vec![
        tight_mm,
        diameter_mm,
        outside_mm,
        inside_mm,
        block.elastic_mpa,
        block.poisson,
        sleeve.elastic_mpa,
        sleeve.poisson,
    ];
    Figure::of("pressure", value, &[&PRESSURE], kept)
}
