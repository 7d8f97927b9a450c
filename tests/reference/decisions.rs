//! Decisions and their statistics against standards, handbook tables and worked examples.

use borewright_geometry::{Spread, eccentric_stock, normal_below};
use borewright_planner::passes::crosshatch_deg;
use borewright_planner::plan::Verdict;
use borewright_planner::shop::sd_factors;
use borewright_planner::{FACTOR, judge_margin};

use crate::near::near;

/// Source: ISO 14253-1:2017, guard band g = 1.65 u for 95 % conformance probability, as cited in a public
/// calibration procedure; the worked bore is computed from it, not published.
#[test]
fn the_decision_rule_accepts_rejects_and_leaves_open_where_iso_14253_1_does() {
    near(FACTOR, 1.65, 0.0);
    near(normal_below(FACTOR), 0.950_529, 5e-7);
    // A bore of 101.600 +0.013/0 with u = 0.0010: accept 101.60165 to 101.61135, reject below 101.59835 and
    // above 101.61465, undecided between.
    let judge = |size: f64| {
        let margin = (size - 101.600).min(101.613 - size);
        judge_margin(margin, 0.001)
    };
    // Two micrometre-fractions either side of each border; the rule itself compares within 1e-6.
    for (size, verdict) in [
        (101.601_652, Verdict::Go),
        (101.611_348, Verdict::Go),
        (101.601_645, Verdict::Hold),
        (101.611_355, Verdict::Hold),
        (101.598_355, Verdict::Hold),
        (101.614_645, Verdict::Hold),
        (101.598_345, Verdict::Stop),
        (101.614_655, Verdict::Stop),
    ] {
        assert_eq!(judge(size), verdict, "{size}");
    }
}

/// Source: true-position conversion, 2 sqrt(dx2 + dy2): (0.1, 0.15) and (0.02, -0.01) seen in published
/// conversion tables; the inch chart rows from memory, exact by the formula.
#[test]
fn a_position_zone_is_twice_the_distance_of_the_conversion_table() {
    let rows = [
        (0.1, 0.15, 0.360_6),
        (0.02, -0.01, 0.044_7),
        (0.003, 0.004, 0.010),
        (0.001, 0.001, 0.002_8),
        (0.002, 0.001, 0.004_5),
        (0.005, 0.005, 0.014_1),
        (0.010, 0.008, 0.025_6),
    ];
    for (dx, dy, zone) in rows {
        // The least zone that just holds the bore: margin zone / 2 - distance = 0.
        let bound = borewright_geometry::Bound::Inside { centre_mm: [0.0, 0.0], radius_mm: zone / 2.0 };
        near(bound.margin([dx, dy]).value_mm, 0.0, 0.5e-4);
    }
}

/// Source: JCGM 100:2008, example H.1, end-gauge calibration: terms 25, 9.7, 16.6, 2.9 nm (after the guide's
/// own rounding) combine to 32 nm; 31.66 before rounding, recomputed with a published uncertainty library.
#[test]
fn independent_parts_combine_as_in_the_guides_end_gauge_example() {
    let parts = [25.0, 9.68, 16.60, 2.89].map(|nm| nm * 1e-6);
    near(Spread::all(&parts).along([1.0, 0.0]) * 1e6, 31.66, 0.02);
}

/// Source: JCGM 101:2008, 9.2.2: four standard normal inputs added have a standard uncertainty of 2.
#[test]
fn four_equal_parts_double_as_in_the_supplements_additive_model() {
    near(Spread::all(&[1.0; 4]).along([0.0, 1.0]), 2.0, 1e-12);
}

/// Source: points of chi-squared as printed in the NIST/SEMATECH e-Handbook of statistical methods, 1.3.6.7.4: 5 % and 95 %
/// of 9 degrees of freedom, 2.5 % and 97.5 % of 10.
#[test]
fn the_limits_of_a_spread_are_those_of_the_printed_table() {
    for (n, surely, low, high) in [(10, 0.90, 3.325, 16.919), (11, 0.95, 3.247, 20.483)] {
        let freedom = f64::from(n - 1);
        let [least, most] = sd_factors(n, surely).unwrap();
        near(freedom / most.powi(2), low, 5e-4);
        near(freedom / least.powi(2), high, 5e-4);
    }
}

/// Source: Klocke, Manufacturing Processes 2, honing kinematics (from memory).
#[test]
fn the_crosshatch_follows_the_published_formula() {
    near(crosshatch_deg(101.6, 200.0, 130.0, 75.0), 33.972_1, 5e-5);
}

/// Source: worked by hand, common practice: an inside diameter that shares the parent's error of 0.38, cut from
/// 96.00 to 97.60, takes 0.42 to 1.18 a side.
#[test]
fn an_eccentric_first_cut_takes_what_the_sum_says() {
    let stock = eccentric_stock(48.0, 48.8, 0.31_f64.hypot(0.22));
    near(stock.least_mm, 0.42, 0.000_5);
    near(stock.most_mm, 1.18, 0.000_5);
}
