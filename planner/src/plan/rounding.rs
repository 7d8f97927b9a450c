//! Rounding, once, at the border: to a step, half away from zero, never to a negative zero.

use borewright_geometry::ON_LIMIT_MM;
use borewright_geometry::clock::distance_mm;

use super::ListUnits;

/// Decimals of lengths and angles in `plan.json`: a nanometre.
const PLAN_DECIMALS: i32 = 6;

/// Decimals of slopes in `plan.json`: a nanometre over a metre of depth.
const SLOPE_DECIMALS: i32 = 9;

/// To a number of decimals, half away from zero; no negative zero.
#[must_use]
pub fn decimals(value: f64, decimals: i32) -> f64 {
    let scale = 10_f64.powi(decimals);
    let rounded = (value * scale).round() / scale;
    // Beyond 2^53 steps the value has no such decimals to round.
    if rounded == 0.0 {
        0.0
    } else if rounded.is_finite() {
        rounded
    } else {
        value
    }
}

/// A length or angle as the plan states it.
#[must_use]
pub fn plan(value: f64) -> f64 {
    decimals(value, PLAN_DECIMALS)
}

/// A slope as the plan states it.
#[must_use]
pub fn slope(value: f64) -> f64 {
    decimals(value, SLOPE_DECIMALS)
}

/// A least figure rounded down to a hundredth, mm, so that none is told larger than it is.
#[must_use]
pub fn down_mm(mm: f64) -> f64 {
    // What stands on a hundredth but for its last bit stays there.
    (mm * 100.0 + 1e-9).floor() / 100.0
}

/// To six significant digits, for figures without a scale of their own.
#[must_use]
pub fn significant(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    // Through the decimal text: powers of ten below 1e-22 are not exact.
    format!("{value:.5e}").parse().unwrap_or(value)
}

/// A probability as the plan states it: nine decimals, the accuracy it is computed to.
#[must_use]
pub fn probability(value: f64) -> f64 {
    decimals(value, 9)
}

/// A coordinate as a machine is told it.
#[must_use]
pub fn coordinate(value: f64) -> f64 {
    decimals(value, 3)
}

/// The place on a list's coordinate grid for `at_mm`: the nearest that keeps every limit (`room` >= 0), else the
/// nearest of those that lose least.
///
/// A place solved onto a limit would otherwise be rounded across it half the time.
#[must_use]
pub fn on_grid(at_mm: [f64; 2], units: ListUnits, room: impl Fn([f64; 2]) -> f64) -> [f64; 2] {
    let step = units.step_mm();
    let down = at_mm.map(|v| (v / step).floor() * step);
    let nearest = at_mm.map(|v| units.coordinate(v));
    if room(nearest) >= room(at_mm).min(0.0) - ON_LIMIT_MM {
        return nearest;
    }
    let far = |p: &[f64; 2]| distance_mm(*p, at_mm);
    let mut places: Vec<[f64; 2]> = Vec::new();
    // One step further out than the four corners: an oblique limit can cut all four off.
    for i in [-1.0, 0.0, 1.0, 2.0] {
        for j in [-1.0, 0.0, 1.0, 2.0] {
            places.push([units.coordinate(down[0] + i * step), units.coordinate(down[1] + j * step)]);
        }
    }
    let kept = places.iter().filter(|p| room(**p) >= -ON_LIMIT_MM).min_by(|a, b| far(a).total_cmp(&far(b)));
    let best = || places.iter().max_by(|a, b| room(**a).total_cmp(&room(**b)));
    kept.or_else(best).copied().unwrap_or(nearest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_no_negative_zero_and_halves_go_away_from_zero() {
        assert!(coordinate(-0.000_4).is_sign_positive());
        assert_eq!(decimals(-0.125, 2), -0.13);
        assert_eq!(significant(1.574_138_642_6e-22), 1.57414e-22);
    }

    #[test]
    fn a_place_on_a_limit_is_rounded_to_its_inner_side() {
        // x <= 10.0004: the nearest grid place 10.000 keeps it; x <= 9.9996: 10.000 would not.
        assert_eq!(on_grid([10.000_4, 0.0], ListUnits::Mm, |p| 10.000_4 - p[0])[0], 10.0);
        assert_eq!(on_grid([9.999_6, 0.0], ListUnits::Mm, |p| 9.999_6 - p[0])[0], 9.999);
        // x <= 9.9999 mm, 0.393697 in: the nearest place 0.3937 in, 9.99998 mm, would not keep it; 0.3936 in,
        // 9.99744 mm, does.
        let inch = ListUnits::In(crate::plan::InchesWord::G20);
        assert!((on_grid([9.999_9, 0.0], inch, |p| 9.999_9 - p[0])[0] - 9.997_44).abs() < 1e-12);
    }
}
