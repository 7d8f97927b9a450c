//! Estimators of a normal quantity: bias with Student's t, spread with chi-squared, capability with both.

use serde::Serialize;
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};

use crate::family::intervals::{SURELY, mean};

/// Fewer bores tell no capability. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 (from memory):
/// the limits below are good from 25 on, and a capability study should rest on 100.
pub const LEAST_CAPABILITY: u32 = 25;

/// A spread whose upper limit is more than so many times itself is not told. Common practice, no source.
const MOST_WIDENING: f64 = 2.0;

/// Some figures of one kind, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Spread {
    /// How many.
    pub n: u32,
    /// Their mean: the bias.
    pub mean: f64,
    /// How sure that is, either side, 95 %; `None` of one.
    pub mean_within: Option<f64>,
    /// Their standard deviation; `None` of one.
    pub sd: Option<f64>,
    /// Between which it lies, 95 %; `None` of one.
    pub sd_within: Option<[f64; 2]>,
}

impl Spread {
    /// The spread of some figures, mm; `None` of no figure.
    #[must_use]
    pub fn of(figures: &[f64]) -> Option<Self> {
        let n = u32::try_from(figures.len()).ok().filter(|n| *n > 0)?;
        let middle = figures.iter().sum::<f64>() / f64::from(n);
        let square: f64 = figures.iter().map(|f| (f - middle).powi(2)).sum();
        let sd = (n > 1).then(|| (square / f64::from(n - 1)).sqrt());
        Some(Self {
            n,
            mean: middle,
            mean_within: sd.zip(mean(n, SURELY)).map(|(sd, k)| k * sd),
            sd,
            sd_within: sd.zip(sd_factors(n, SURELY)).map(|(sd, [low, high])| [low * sd, high * sd]),
        })
    }

    /// Whether there are enough for the spread to be told.
    #[must_use]
    pub fn is_enough(&self) -> bool {
        self.n >= least_for_spread()
    }
}

/// What a standard deviation of n is multiplied by for its two-sided limits: √(ν/χ²) at (1 + γ)/2 and (1 − γ)/2, ν
/// = n − 1.
///
/// Source: NIST/SEMATECH e-Handbook, 1.3.5.8 (from memory). `None` under two.
#[must_use]
pub fn sd_factors(n: u32, surely: f64) -> Option<[f64; 2]> {
    let freedom = f64::from(n.checked_sub(1).filter(|f| *f > 0)?);
    let chi = ChiSquared::new(freedom).ok()?;
    let tail = (1.0 - surely) / 2.0;
    Some([1.0 - tail, tail].map(|p| (freedom / chi.inverse_cdf(p)).sqrt()))
}

/// The least number of bores whose spread is told.
#[must_use]
pub fn least_for_spread() -> u32 {
    let narrow = |n: &u32| sd_factors(*n, SURELY).is_some_and(|[_, high]| high <= MOST_WIDENING);
    (2..1000).find(narrow).unwrap_or(u32::MAX)
}

/// How a process lies in its window.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Capability {
    /// Width of the window over six standard deviations.
    pub cp: f64,
    /// Between which it lies, 95 %.
    pub cp_within: [f64; 2],
    /// The nearer limit from the mean over three standard deviations.
    pub cpk: f64,
    /// Between which it lies, 95 %, as near as a normal approximation comes.
    pub cpk_within: [f64; 2],
}

/// Cp = (U − L)/6s, with Cp·√(χ²/ν); Cpk = min(U − m, m − L)/3s, with ± z·√(1/9n + Cpk²/2(n − 1)).
///
/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6, after Bissell 1990 (from memory). In the words of
/// ISO 22514-2 these are Pp and Ppk until the process is shown to be stable. `None` without a spread or a window.
#[must_use]
pub fn capability(spread: &Spread, [low, high]: [f64; 2]) -> Option<Capability> {
    let sd = spread.sd.filter(|sd| *sd > 0.0)?;
    let (n, freedom) = (f64::from(spread.n), f64::from(spread.n.checked_sub(1)?));
    let chi = ChiSquared::new(freedom).ok()?;
    let tail = (1.0 - SURELY) / 2.0;
    let cp = (high - low) / (6.0 * sd);
    let cpk = (high - spread.mean).min(spread.mean - low) / (3.0 * sd);
    let half =
        Normal::standard().inverse_cdf(1.0 - tail) * (1.0 / (9.0 * n) + cpk * cpk / (2.0 * freedom)).sqrt();
    Some(Capability {
        cp,
        cp_within: [tail, 1.0 - tail].map(|p| cp * (chi.inverse_cdf(p) / freedom).sqrt()),
        cpk,
        cpk_within: [cpk - half, cpk + half],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spread(n: u32, mean: f64, sd: f64) -> Spread {
        Spread { n, mean, mean_within: None, sd: Some(sd), sd_within: None }
    }

    #[test]
    fn capability_is_that_of_the_published_example() {
        // Source: NIST/SEMATECH e-Handbook, 6.1.6 (from memory): limits 8 and 20, mean 16, s 2: Cp 1.0, Cpl 1.3333,
        // Cpu and so Cpk 0.6667.
        let c = capability(&spread(50, 16.0, 2.0), [8.0, 20.0]).unwrap();
        assert!((c.cp - 1.0).abs() < 1e-12 && (c.cpk - 2.0 / 3.0).abs() < 1e-12);
        // n 50, by hand: 1.96·√(1/450 + 0.4444/98) = 1.96·√0.0067574 = 0.16112.
        assert!((c.cpk_within[0] - (0.666_67 - 0.161_12)).abs() < 1e-4, "{c:?}");
        // χ²(0.025, 49) 31.555 and χ²(0.975, 49) 70.222 (tables, from memory): √(31.555/49) = 0.80248, √(70.222/49)
        // = 1.19712.
        assert!(
            (c.cp_within[0] - 0.802_48).abs() < 1e-4 && (c.cp_within[1] - 1.197_12).abs() < 1e-4,
            "{c:?}"
        );
    }

    #[test]
    fn limits_of_a_spread_follow_the_chi_squared_tables() {
        // Source: any table of chi-squared (NIST/SEMATECH e-Handbook, 1.3.6.7.4; from memory): 0.025 and 0.975 at
        // 1, 4, 10, 24 degrees of freedom.
        for (n, low, high) in
            [(2, 0.000_982, 5.024), (5, 0.484, 11.143), (11, 3.247, 20.483), (25, 12.401, 39.364)]
        {
            let freedom = f64::from(n - 1);
            let [a, b] = sd_factors(n, 0.95).unwrap();
            assert!((freedom / (a * a) - high).abs() < 6e-4 * high, "{n}: {}", freedom / (a * a));
            assert!((freedom / (b * b) - low).abs() < 2e-3 * low, "{n}: {}", freedom / (b * b));
        }
        assert_eq!(sd_factors(1, 0.95), None);
    }

    #[test]
    fn nine_bores_are_the_least_whose_spread_is_told() {
        // √(8/2.180) = 1.916 is within two; √(7/1.690) = 2.035 is not (chi-squared 0.025 at 8 and 7, tables from
        // memory).
        assert_eq!(least_for_spread(), 9);
    }

    #[test]
    fn bias_and_spread_of_five_are_worked_by_hand() {
        // Mean 3, squares 10, s √2.5 = 1.58114; t(0.975, 4) 2.776: 2.776·1.58114/√5 = 1.96293.
        let s = Spread::of(&[1.0, 2.0, 3.0, 4.0, 5.0]).unwrap();
        assert!((s.mean - 3.0).abs() < 1e-12 && (s.mean_within.unwrap() - 1.962_93).abs() < 1e-3);
        let one = Spread::of(&[1.0]).unwrap();
        assert_eq!((one.sd, one.mean_within, Spread::of(&[])), (None, None, None));
        assert_eq!(capability(&one, [0.0, 1.0]), None);
    }
}
