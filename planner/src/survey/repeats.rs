//! The repeatability of a bank after being handled: rounds against bores.

use std::collections::BTreeMap;

use serde::Serialize;
use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor};

use super::centres::Key;
use crate::job::Job;
use crate::job::rounds::Handled;
use crate::plan::sentence::{Sentence, before_mm};
use crate::say;
use borewright_geometry::sample::count;

/// A scatter counts as more than the instruments' where chance makes it in fewer cases than this.
pub(super) const SIGNIFICANT: f64 = 0.01;

/// How well a bank comes back after being handled, over all rounds that were handled alike and the first.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Repeats {
    /// What was done between.
    pub handled: &'static str,
    /// How many rounds, the first included.
    pub rounds: usize,
    /// Circles that all of them read.
    pub circles: usize,
    /// Along the bank.
    pub along: Spread,
    /// Across it.
    pub across: Spread,
    /// How the rounds repeat, in words.
    pub text: Sentence,
}

/// The spread of the rounds' means in one direction.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Spread {
    /// Standard deviation of a round's mean beyond what the readings' own scatter gives it, mm.
    pub s: f64,
    /// From the least to the most, mm.
    pub range: f64,
    /// Mean square between rounds over what bores and rounds leave (F), where anything is left.
    pub f: Option<f64>,
    /// How often chance gives so large an F.
    pub p: Option<f64>,
    /// How often the stated instruments alone would spread the rounds as far (chi-squared).
    pub instruments_p: Option<f64>,
}

/// Two-way analysis of variance without interaction: bores by rounds, one mean a cell.
pub(super) fn repeats(
    job: &Job,
    handled: Handled,
    anew: bool,
    read: &[BTreeMap<Key, [f64; 2]>],
) -> Option<Repeats> {
    let (first, rest) = read.split_first()?;
    let common: Vec<Key> =
        first.keys().filter(|k| rest.iter().all(|r| r.contains_key(*k))).copied().collect();
    if rest.is_empty() || common.len() < 2 {
        return None;
    }
    let i = &job.instruments;
    let of = |k: usize, datum: f64| {
        let rows: Vec<Vec<f64>> = read.iter().map(|r| common.iter().map(|key| r[key][k]).collect()).collect();
        spread(&rows, i.centre_mm, if anew { datum } else { 0.0 })
    };
    let (along, across) = (of(0, i.along_mm), of(1, i.axis_mm));
    let more = |s: &Spread| s.instruments_p.is_some_and(|p| p < SIGNIFICANT);
    let figure = |s: &Spread| {
        let p = s.p.map_or_else(Sentence::new, |p| say!(", F {:.1}, p {:.3}", s.f.unwrap_or(0.0), p));
        say!("s {} (range {}{})", before_mm(s.s, 4), before_mm(s.range, 3), p)
    };
    let what = match handled {
        Handled::Again => "read again",
        Handled::Clamped => "clamped",
        Handled::Indexed => "indexed",
        Handled::Turned => "turned",
    };
    let verdict = if more(&along) || more(&across) {
        "more than the instruments alone"
    } else {
        "no more than the instruments alone"
    };
    let text = say!(
        "{} rounds {} come back within {} along and {} across: {}",
        read.len(),
        what,
        figure(&along),
        figure(&across),
        verdict
    );
    Some(Repeats { handled: handled.word(), rounds: read.len(), circles: common.len(), along, across, text })
}

fn spread(rows: &[Vec<f64>], centre_u_mm: f64, datum_u_mm: f64) -> Spread {
    let (r, n) = (count(rows.len()), count(rows[0].len()));
    let means: Vec<f64> = rows.iter().map(|row| row.iter().sum::<f64>() / n).collect();
    let whole = means.iter().sum::<f64>() / r;
    let bore = |j: usize| rows.iter().map(|row| row[j]).sum::<f64>() / r;
    let between: f64 = n * means.iter().map(|m| (m - whole).powi(2)).sum::<f64>();
    let left: f64 = (0..rows[0].len())
        .map(|j| {
            let b = bore(j);
            rows.iter().zip(&means).map(|(row, m)| (row[j] - b - m + whole).powi(2)).sum::<f64>()
        })
        .sum();
    let (rounds_freedom, left_freedom) = (r - 1.0, (r - 1.0) * (n - 1.0));
    let (between_square, left_square) = (between / rounds_freedom, left / left_freedom);
    // Rounding alone is no scatter.
    let f = (left_square > 1e-16).then(|| between_square / left_square);
    let p = f.and_then(|f| Some(FisherSnedecor::new(rounds_freedom, left_freedom).ok()?.sf(f)));
    let variance = centre_u_mm.powi(2) + n * datum_u_mm.powi(2);
    let instruments_p = ChiSquared::new(rounds_freedom).ok().map(|chi| chi.sf(between / variance));
    let range = means.iter().copied().fold(f64::NEG_INFINITY, f64::max)
        - means.iter().copied().fold(f64::INFINITY, f64::min);
    Spread { s: ((between_square - left_square) / n).max(0.0).sqrt(), range, f, p, instruments_p }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_spread_of_rounds_is_the_two_way_analysis_of_variance() {
        // Three rounds of two bores: means 1, 2, 6 about 3 and bores 2 and 4 about it, one cell 0.3 off.
        let rows = [vec![0.0, 2.0], vec![1.0, 3.0], vec![5.3, 7.0]];
        let found = spread(&rows, 1.0, 0.0);
        // Round means 1, 2, 6.15: between 2·((−2.05)² + (−1.05)² + 3.1²) = 29.83, over 2 freedoms 14.915.
        // Bores 2.1, 4.0, whole 3.05; left: each cell ±0.05 or ±0.1: 4·0.05² + 2·0.1² = 0.03, over 2: 0.015.
        assert!((found.f.unwrap() - 14.915 / 0.015).abs() < 1e-6, "{found:?}");
        assert!((found.s - ((14.915_f64 - 0.015) / 2.0).sqrt()).abs() < 1e-9);
        assert!((found.range - 5.15).abs() < 1e-12);
        // Chi-squared of 29.83 with 2 freedoms: e^(−14.915).
        assert!((found.instruments_p.unwrap() - (-14.915_f64).exp()).abs() < 1e-12);
    }
}
