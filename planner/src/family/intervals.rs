//! Intervals for what comes next, from a sample of a normal quantity: prediction of one more, and tolerance for most of
//! all that will come. Factors k of mean ± k·s.

use std::collections::BTreeMap;
use std::sync::{Mutex, OnceLock, PoisonError};

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};
use statrs::function::gamma::ln_gamma;

/// How surely, and for how many: 95 % throughout, common practice.
pub const SURELY: f64 = 0.95;

/// Blocks are too few where the interval is wider than so many times the one that endlessly many would give.
///
/// Common practice, no source: at twice the width a shop would decide otherwise.
const MOST_WIDENING: f64 = 2.0;

/// Steps of the integrals below; doubling them moves no factor by 1e-6 (tested against published figures to 3 digits).
const STEPS: u32 = 400;

/// Two-sided prediction of one more of n + 1: t((1 + γ)/2, n − 1)·√(1 + 1/n). `None` under two.
///
/// Source: Hahn and Meeker, Statistical Intervals, 1991, section 4.7 (from memory).
#[must_use]
pub fn prediction(n: u32, surely: f64) -> Option<f64> {
    student(n, f64::midpoint(1.0, surely)).map(|t| t * (1.0 + 1.0 / f64::from(n)).sqrt())
}

/// One-sided prediction of one more. `None` under two.
#[must_use]
pub fn prediction_one_sided(n: u32, surely: f64) -> Option<f64> {
    student(n, surely).map(|t| t * (1.0 + 1.0 / f64::from(n)).sqrt())
}

/// Two-sided confidence of the mean: t((1 + γ)/2, n − 1)/√n. `None` under two.
#[must_use]
pub fn mean(n: u32, surely: f64) -> Option<f64> {
    student(n, f64::midpoint(1.0, surely)).map(|t| t / f64::from(n).sqrt())
}

fn student(n: u32, p: f64) -> Option<f64> {
    let freedom = f64::from(n.checked_sub(1).filter(|f| *f > 0)?);
    Some(StudentsT::new(0.0, 1.0, freedom).ok()?.inverse_cdf(p))
}

/// One-sided tolerance: with confidence γ a share p of all lies above mean − k·s (or below mean + k·s).
///
/// k solves E[Φ(k·√n·S − z_p·√n)] = γ over S = √(χ²_ν/ν), ν = n − 1, which is the noncentral t of ISO 16269-6:2014,
/// annex, written as an integral. `None` under two.
#[must_use]
pub fn tolerance_one_sided(n: u32, share: f64, surely: f64) -> Option<f64> {
    let normal = Normal::standard();
    let (root, z) = (f64::from(n).sqrt(), normal.inverse_cdf(share));
    let freedom = f64::from(n.checked_sub(1).filter(|f| *f > 0)?);
    solve(surely, |k| over_s(freedom, |s| normal.cdf(k * root * s - z * root)))
}

/// Two-sided tolerance: with confidence γ a share p of all lies within mean ± k·s, exactly.
///
/// k solves E[P(χ²_ν ≥ ν·r(Z)²/k²)] = γ over Z normal of variance 1/n, r(z) the root of Φ(z + r) − Φ(z − r) = p
/// (ISO 16269-6:2014, annex; Krishnamoorthy and Mathew, 2009, section 2.3). `None` under two.
#[must_use]
pub fn tolerance(n: u32, share: f64, surely: f64) -> Option<f64> {
    let freedom = f64::from(n.checked_sub(1).filter(|f| *f > 0)?);
    let (normal, chi) = (Normal::standard(), ChiSquared::new(freedom).ok()?);
    let root = f64::from(n).sqrt();
    // Even in z: half of it, eight standard deviations far.
    let step = 8.0 / f64::from(STEPS);
    let rows: Vec<[f64; 2]> = (0..=STEPS)
        .map(|i| {
            let u = f64::from(i) * step;
            let density = 2.0 * (-u * u / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
            [simpson(i) * density * step / 3.0, half_width(&normal, u / root, share)]
        })
        .collect();
    solve(surely, |k| rows.iter().map(|[w, r]| w * chi.sf(freedom * r * r / (k * k))).sum())
}

/// r with Φ(z + r) − Φ(z − r) = p.
fn half_width(normal: &Normal, z: f64, share: f64) -> f64 {
    let (mut low, mut high) = (0.0, z.abs() + 10.0);
    for _ in 0..60 {
        let r = f64::midpoint(low, high);
        if normal.cdf(z + r) - normal.cdf(z - r) < share {
            low = r;
        } else {
            high = r;
        }
    }
    f64::midpoint(low, high)
}

/// The mean of a function of S = √(χ²_ν/ν), by Simpson's rule over ten standard deviations of S about one.
fn over_s(freedom: f64, f: impl Fn(f64) -> f64) -> f64 {
    let half = freedom / 2.0;
    // Density of S: 2 (ν/2)^(ν/2) s^(ν−1) e^(−ν s²/2) / Γ(ν/2).
    let log_front = std::f64::consts::LN_2 + half * half.ln() - ln_gamma(half);
    let density = |s: f64| {
        if s <= 0.0 {
            return if freedom == 1.0 { log_front.exp() } else { 0.0 };
        }
        (log_front + (freedom - 1.0) * s.ln() - half * s * s).exp()
    };
    let spread = 10.0 / (2.0 * freedom).sqrt();
    let from = (1.0 - spread).max(0.0);
    let step = (1.0 + spread - from) / f64::from(4 * STEPS);
    (0..=4 * STEPS)
        .map(|i| {
            let s = from + f64::from(i) * step;
            let weight = if i == 0 || i == 4 * STEPS {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            };
            weight * density(s) * f(s) * step / 3.0
        })
        .sum()
}

fn simpson(i: u32) -> f64 {
    if i == 0 || i == STEPS {
        1.0
    } else if i % 2 == 1 {
        4.0
    } else {
        2.0
    }
}

/// k at which a growing function reaches a value; `None` where it does not below a thousand.
fn solve(value: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = (0.0, 1000.0);
    if f(high) < value {
        return None;
    }
    for _ in 0..60 {
        let k = f64::midpoint(low, high);
        if f(k) < value {
            low = k;
        } else {
            high = k;
        }
    }
    Some(f64::midpoint(low, high))
}

/// k of a one-sided tolerance of 95 % with 95 % confidence, worked out once for each number of blocks.
#[must_use]
pub(super) fn usual_tolerance(n: u32) -> Option<f64> {
    static KNOWN: Mutex<BTreeMap<u32, Option<f64>>> = Mutex::new(BTreeMap::new());
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    *known.entry(n).or_insert_with(|| tolerance_one_sided(n, SURELY, SURELY))
}

/// The least number of blocks that a prediction can be made from: at fewer it is more than twice as wide as from
/// endless many.
#[must_use]
pub fn least_for_prediction() -> u32 {
    let endless = Normal::standard().inverse_cdf(f64::midpoint(1.0, SURELY));
    (2..).find(|n| prediction(*n, SURELY).is_some_and(|k| k <= MOST_WIDENING * endless)).unwrap_or(u32::MAX)
}

/// The least number of blocks that a one-sided tolerance may be told from.
#[must_use]
pub fn least_for_tolerance() -> u32 {
    static LEAST: OnceLock<u32> = OnceLock::new();
    let endless = Normal::standard().inverse_cdf(SURELY);
    let narrow = |n: &u32| usual_tolerance(*n).is_some_and(|k| k <= MOST_WIDENING * endless);
    *LEAST.get_or_init(|| (2..200).find(narrow).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_sided_tolerance_factors_are_the_published_ones() {
        // Source: Berthouex and Brown, Statistics for Environmental Engineers, 2nd edition, table 21.1: 95 %
        // confidence, shares 0.90, 0.95, 0.99; three figures.
        for (n, table) in [
            (4, [5.37, 6.34, 8.22]),
            (5, [4.29, 5.08, 6.60]),
            (6, [3.73, 4.42, 5.76]),
            (8, [3.16, 3.75, 4.89]),
            (10, [2.86, 3.39, 4.44]),
            (15, [2.49, 2.96, 3.89]),
            (20, [2.32, 2.76, 3.62]),
            (30, [2.15, 2.55, 3.35]),
            (60, [1.96, 2.34, 3.07]),
        ] {
            for (share, published) in [0.90, 0.95, 0.99].into_iter().zip(table) {
                let k = tolerance(n, share, 0.95).unwrap();
                assert!((k - published).abs() <= 0.0101, "n {n}, share {share}: {k}, published {published}");
            }
        }
    }

    #[test]
    fn one_sided_tolerance_factors_are_the_published_ones() {
        // Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3, by the noncentral t: n 43, share 0.90,
        // confidence 0.99 (from memory).
        let k = tolerance_one_sided(43, 0.90, 0.99).unwrap();
        assert!((k - 1.8740).abs() < 6e-5, "{k}");
        // Source: Real Statistics, "Tolerance interval example", by the noncentral t: n 40, share 0.90, confidence
        // 0.99.
        assert!((tolerance_one_sided(40, 0.90, 0.99).unwrap() - 1.9017).abs() < 6e-5);
        // Source: Owen's tables as every handbook has them, share and confidence 0.95 (from memory).
        for (n, published) in [(3, 7.656), (5, 4.203), (10, 2.911), (20, 2.396), (50, 2.065), (100, 1.927)] {
            let k = tolerance_one_sided(n, 0.95, 0.95).unwrap();
            assert!((k - published).abs() < 1.1e-3, "n {n}: {k}, published {published}");
        }
    }

    #[test]
    fn prediction_factors_follow_students_table() {
        // Source: any table of Student's t: 12.706 at 1, 2.776 at 4, 2.262 at 9 degrees of freedom, 0.975.
        for (n, t) in [(2_u32, 12.706), (5, 2.776), (10, 2.262)] {
            let expected = t * (1.0 + 1.0 / f64::from(n)).sqrt();
            assert!((prediction(n, 0.95).unwrap() - expected).abs() < 1e-3);
        }
        assert_eq!((prediction(1, 0.95), prediction(0, 0.95), tolerance(1, 0.95, 0.95)), (None, None, None));
    }

    #[test]
    fn factors_widen_with_few_and_come_to_the_normal_with_many() {
        let one_sided: Vec<f64> = (2..60).map(|n| tolerance_one_sided(n, 0.95, 0.95).unwrap()).collect();
        assert!(one_sided.is_sorted_by(|a, b| a > b));
        assert!((tolerance_one_sided(1_000_000, 0.95, 0.95).unwrap() - 1.645).abs() < 0.01);
        assert!((tolerance(1_000_000, 0.95, 0.95).unwrap() - 1.960).abs() < 0.01);
    }

    #[test]
    fn too_few_is_the_number_that_the_interval_gives() {
        // t(0.975, 3)·√1.25 = 3.182·1.118 = 3.56 ≤ 2·1.960; t(0.975, 2)·√(4/3) = 4.303·1.155 = 4.97 is more.
        assert_eq!(least_for_prediction(), 4);
        // Owen: 3.187 at 8, 3.399 at 7; twice 1.645 is 3.290 (tables from memory).
        assert_eq!(least_for_tolerance(), 8);
    }
}
