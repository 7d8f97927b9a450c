//! The probability that a point with normal error stays inside a circle, and how far off the middle it may stand
//! for that.
//!
//! Lengths mm. The error is normal in two dimensions with independent parts along x and y.

use std::f64::consts::PI;

use statrs::distribution::{ContinuousCDF, Normal};
use statrs::function::erf::{erf, erfc};

/// Half widths of the error beyond which nothing is left to count: 1e-12 of the normal distribution.
const FAR: f64 = 7.0;

/// Pieces that the width of the error is cut into at least, each with five Gauss points; and at most.
const PIECES: [f64; 2] = [14.0, 100.0];

/// Abscissas and weights of five-point Gauss-Legendre quadrature on [-1, 1].
///
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 25.4, n = 5.
const GAUSS: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// The share of the standard normal distribution below `z`.
#[must_use]
pub fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}

/// The z below which the share `p` of the standard normal distribution lies; infinite at 0 and 1.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    Normal::standard().inverse_cdf(p.clamp(0.0, 1.0))
}

/// The share of the normal distribution within `half` of a middle that stands `off` away, with standard
/// uncertainty `u`: Phi((half - off)/u) - Phi((-half - off)/u). 0 or 1 where `u` is 0.
#[must_use]
pub fn probability_between(off: f64, half: f64, u: f64) -> f64 {
    if u <= 0.0 {
        return f64::from(u8::from(off.abs() <= half));
    }
    if half <= 0.0 {
        return 0.0;
    }
    (normal_below((half - off.abs()) / u) - normal_below((-half - off.abs()) / u)).max(0.0)
}

/// The probability that a point at `off` from the middle of a circle of `radius`, with normal error of standard
/// uncertainties `sigma` along x and y, lies inside it.
///
/// The integral over the circle of the density of two independent normal errors; for equal sigmas the distribution
/// of the distance is Rice's (S. O. Rice, Bell System Technical Journal 24 (1945), section 3.10), and at the middle
/// p = 1 - exp(-R²/2σ²). Integrated over one axis in closed form and over the other by Gauss-Legendre pieces.
/// Accuracy 1e-9. A sigma of 0 makes the question one of a chord, two of them one of yes or no.
///
/// ```
/// use borewright_geometry::probability_inside;
/// // At the middle, equal sigmas: 1 - exp(-0.04²/(2 · 0.0155²)).
/// let p = probability_inside([0.0, 0.0], 0.04, [0.0155, 0.0155]);
/// assert!((p - (1.0 - (-0.04_f64.powi(2) / (2.0 * 0.0155_f64.powi(2))).exp())).abs() < 1e-9);
/// ```
#[must_use]
pub fn probability_inside(off: [f64; 2], radius: f64, sigma: [f64; 2]) -> f64 {
    let [dx, dy] = off.map(f64::abs);
    let [sx, sy] = sigma.map(f64::abs);
    if !radius.is_finite() || radius <= 0.0 || !dx.is_finite() || !dy.is_finite() {
        // No figure, or no circle: nothing is inside it.
        return 0.0;
    }
    match (sx > 0.0, sy > 0.0) {
        (false, false) => f64::from(u8::from(dx.hypot(dy) <= radius)),
        (false, true) => probability_between(dy, (radius * radius - dx * dx).max(0.0).sqrt(), sy),
        (true, false) => probability_between(dx, (radius * radius - dy * dy).max(0.0).sqrt(), sx),
        // Over the axis with the smaller offset: there the chord across changes slowly.
        (true, true) if dx > dy => over_circle([dy, dx], radius, [sy, sx]),
        (true, true) => over_circle([dx, dy], radius, [sx, sy]),
    }
}

/// The integral itself, over x = R sin t, so that the ends of the chord do no harm.
fn over_circle([dx, dy]: [f64; 2], radius: f64, [sx, sy]: [f64; 2]) -> f64 {
    let clip = |x: f64| (x / radius).clamp(-1.0, 1.0).asin();
    let (from, to) = (clip(dx - FAR * sx), clip(dx + FAR * sx));
    if to <= from {
        return 0.0;
    }
    let root = std::f64::consts::SQRT_2;
    let density = |t: f64| {
        let (sin, cos) = t.sin_cos();
        let (x, half) = (radius * sin, radius * cos);
        let z = (x - dx) / sx;
        let across = 0.5 * (erf((half - dy) / (sy * root)) + erf((half + dy) / (sy * root)));
        half * across * (-0.5 * z * z).exp()
    };
    // No piece may be wider than the stretch over which the sloping end of the chord crosses the error of the other
    // axis.
    let slope = if dy > 0.0 { (dx / dy).min(1.0) } else { 0.0 };
    let [least, most] = PIECES;
    let pieces = (least * (sx * slope / sy).max(1.0)).min(most).ceil();
    let width = (to - from) / pieces;
    let mut sum = 0.0;
    let mut middle = from + width / 2.0;
    while middle < to {
        sum += GAUSS.iter().map(|(at, weight)| weight * density(middle + at * width / 2.0)).sum::<f64>();
        middle += width;
    }
    (sum * width / 2.0 / (sx * (2.0 * PI).sqrt())).clamp(0.0, 1.0)
}

/// How far from the middle of a circle, in direction (cos t, sin t), a point may stand so that it lies inside with
/// probability Phi(z); negative where not even the middle does: by how much the radius is then too small.
#[must_use]
pub fn radius_within(radius: f64, sigma: [f64; 2], t: f64, z: f64) -> f64 {
    if probability_inside([0.0, 0.0], radius, sigma) < normal_below(z) {
        return radius - least_radius(sigma, z);
    }
    radius_of_sure(radius, sigma, t, z)
}

/// The same, where it is known that the middle keeps it.
pub(crate) fn radius_of_sure(radius: f64, sigma: [f64; 2], t: f64, z: f64) -> f64 {
    let (sin, cos) = t.sin_cos();
    // The farthest end: a half plane would keep it no better. From there z falls almost in a straight line, by one for each
    // standard uncertainty in that direction.
    let u = (sigma[0] * cos).hypot(sigma[1] * sin);
    let most = (radius - z * u).max(0.0) + 1e-12;
    let sure = |far: f64| probability_inside([far * cos, far * sin], radius, sigma);
    let short_of = |far: f64| normal_quantile(sure(far)).clamp(-38.0, 38.0) - z;
    let at_most = short_of(most);
    if at_most >= 0.0 {
        return most;
    }
    chord_root(short_of, 0.0, ((most, at_most), most + u * at_most))
}

/// The radius of the circle in whose middle a point is with probability Phi(z).
pub(crate) fn least_radius(sigma: [f64; 2], z: f64) -> f64 {
    let most = sigma[0].abs().max(sigma[1].abs());
    if most <= 0.0 {
        return 0.0;
    }
    let short =
        |radius: f64| normal_quantile(probability_inside([0.0, 0.0], radius, sigma)).clamp(-38.0, 38.0) - z;
    root(|radius| -short(radius), 0.0, (z.abs() + 3.0) * most)
}

/// The root of a nearly straight falling function below a place, where its value is known and negative, and above `low`, where it
/// is not negative: by chords from there and from a guess, to 1e-9 of the value; a chord that leaves what is left is halved.
fn chord_root(
    falling: impl Fn(f64) -> f64,
    mut low: f64,
    ((mut last, mut at_last), mut next): ((f64, f64), f64),
) -> f64 {
    const MOST_STEPS: u8 = 60;
    let mut high = last;
    for _ in 0..MOST_STEPS {
        if !(next > low && next < high) {
            next = f64::midpoint(low, high);
        }
        let value = falling(next);
        if value.abs() < 1e-9 || high - low < 1e-10 {
            return next;
        }
        if value > 0.0 {
            low = next
        } else {
            high = next
        }
        let chord = next - value * (next - last) / (value - at_last);
        (last, at_last, next) = (next, value, chord);
    }
    f64::midpoint(low, high)
}

/// The root of a falling function between two places, to 1e-10 mm.
///
/// By false position, a stale end's value halved (the Illinois way).
pub(crate) fn root(falling: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    const MOST_STEPS: u8 = 60;
    let mut at_low = falling(low);
    if at_low <= 0.0 {
        return low;
    }
    let mut at_high = falling(high);
    if at_high >= 0.0 {
        return high;
    }
    let mut side = 0_i8;
    for _ in 0..MOST_STEPS {
        let next = (low * at_high - high * at_low) / (at_high - at_low);
        let value = falling(next);
        if value.abs() < 1e-9 || high - low < 1e-10 {
            return next;
        }
        if value > 0.0 {
            (low, at_low) = (next, value);
            if side == 1 {
                at_high /= 2.0;
            }
            side = 1;
        } else {
            (high, at_high) = (next, value);
            if side == -1 {
                at_low /= 2.0;
            }
            side = -1;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_the_middle_equal_errors_give_rayleighs_distribution() {
        for ratio in [0.5, 1.0, 2.0, 3.0, 5.0] {
            let p = probability_inside([0.0, 0.0], ratio * 0.02, [0.02, 0.02]);
            assert!((p - (1.0 - (-ratio * ratio / 2.0).exp())).abs() < 1e-9, "{ratio}: {p}");
        }
    }

    #[test]
    fn circular_coverage_agrees_with_a_published_table() {
        // The square of the distance over sigma squared has the noncentral chi-squared distribution with two degrees of
        // freedom: a Poisson mixture of central ones (Abramowitz and Stegun, Handbook of Mathematical Functions (1964),
        // 26.4.25), summed to 200 terms in double precision by a script of its own and recorded.
        for (off, radius, expected) in TABLE {
            for [dx, dy] in [[off, 0.0], [0.0, off], [off * 0.6, off * 0.8]] {
                let p = probability_inside([dx, dy], radius, [1.0, 1.0]);
                assert!((p - expected).abs() < 1e-8, "{off} {radius}: {p} {expected}");
            }
        }
    }

    /// off / sigma, radius / sigma, probability.
    const TABLE: [(f64, f64, f64); 6] = [
        (1.0, 1.0, 0.267_120_196_203_180),
        (1.0, 2.0, 0.730_987_939_964_090),
        (1.0, 3.0, 0.956_284_028_421_364),
        (2.0, 3.0, 0.785_637_911_837_351),
        (3.0, 5.0, 0.969_322_397_915_978),
        (0.5, 2.5, 0.938_318_936_696_669),
    ];

    #[test]
    fn unequal_errors_agree_with_a_sum_over_a_fine_grid() {
        let (off, radius, sigma) = ([0.011, -0.02], 0.04, [0.0155, 0.0057]);
        let (n, mut sum) = (2000_i32, 0.0);
        let h = 2.0 * radius / f64::from(n);
        for i in 0..n {
            let x: f64 = -radius + h * (f64::from(i) + 0.5);
            let half = (radius * radius - x * x).sqrt();
            let z = (x - off[0]) / sigma[0];
            sum += h / (sigma[0] * (2.0 * PI).sqrt())
                * (-0.5 * z * z).exp()
                * probability_between(off[1], half, sigma[1]);
        }
        let p = probability_inside(off, radius, sigma);
        assert!((p - sum).abs() < 1e-5, "{p} {sum}");
    }
}
