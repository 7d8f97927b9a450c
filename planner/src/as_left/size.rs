//! Sizes, depths and heights of a bore, each check for itself: mean, ends, roundness, taper.

use borewright_geometry::sample::{ends, mean};

use serde::Serialize;

use super::{Bench, Lay, Place};
use crate::plan::Stage;
use crate::plan::check::{Of, What};

/// A figure with its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Uncertain {
    /// The figure, mm.
    pub figure: f64,
    /// Its standard uncertainty, mm.
    pub u: f64,
}

/// What a check found at a bore, mm unless it says otherwise.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sizes {
    /// Number of the check.
    pub check: u32,
    /// What it is for.
    pub what: What,
    /// Its stage.
    pub stage: Stage,
    /// Its bank.
    pub bank: String,
    /// Its cylinder; `None` of a whole bank.
    pub cylinder: Option<u32>,
    /// The part of the pocket, or what was done.
    pub feature: String,
    /// What it is of.
    pub of: Of,
    /// What was asked.
    pub asked: Option<f64>,
    /// The least and the most that is as asked.
    pub window: [Option<f64>; 2],
    /// Mean of the places.
    pub mean: f64,
    /// The smallest and the largest place.
    pub ends: [f64; 2],
    /// Mean less asked.
    pub off: Option<f64>,
    /// Standard uncertainty of one place.
    pub u: f64,
    /// Places that were read, of so many.
    pub places: [u32; 2],
    /// Of a diameter: largest difference of the ways at one depth. An odd number of lobes does not show in it.
    pub round: Option<Uncertain>,
    /// Of a diameter: the deepest depth less the uppermost, means of the ways there.
    pub taper: Option<Uncertain>,
    /// How its places lie: within, open where nobody said what they should be, else not as asked.
    pub lies: Lay,
}

/// Every size that the plan asks for, in the order of work, from the readings in `places`.
pub(super) fn sizes(bench: &Bench<'_>, places: &[Place]) -> Vec<Sizes> {
    let mut sizes = Vec::new();
    for check in &bench.paper.checks {
        for at in &check.cylinders {
            for of in [Of::Diameter, Of::Depth, Of::Height, Of::Flatness, Of::Roughness] {
                let own: Vec<&Place> = places
                    .iter()
                    .filter(|p| p.check == check.check && p.cylinder == at.cylinder && p.of == of)
                    .collect();
                sizes.extend(of_places(&own));
            }
        }
    }
    sizes
}

/// What some places of one kind, check and bore come to; `None` where none of them was read.
pub(super) fn of_places(places: &[&Place]) -> Option<Sizes> {
    let first = places.first()?;
    let read: Vec<(&Place, f64)> = places.iter().filter_map(|p| Some((*p, p.found?))).collect();
    let u = read.iter().filter_map(|(p, _)| p.u).reduce(f64::max)?;
    let values: Vec<f64> = read.iter().map(|(_, v)| *v).collect();
    let mean = mean(&values)?;
    // All places of a part ask the same size; where a later plan asked another, the last one counts.
    let asked = read.last().and_then(|(p, _)| p.expected);
    let window = read.last().map_or([None, None], |(p, _)| [p.least, p.most]);
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let lies = if read.iter().any(|(p, _)| p.is_wrong()) {
        Lay::NotAsAsked
    } else if read.iter().all(|(p, _)| p.lies == Lay::Open) {
        Lay::Open
    } else {
        Lay::Within
    };
    let diameter = first.of == Of::Diameter;
    Some(Sizes {
        check: first.check,
        what: first.what,
        stage: first.stage,
        bank: first.bank.clone(),
        cylinder: first.cylinder,
        feature: first.feature.clone(),
        of: first.of,
        asked,
        window,
        mean,
        ends: ends(&values)?,
        off: asked.map(|asked| mean - asked),
        u,
        places: [count(read.len()), count(places.len())],
        round: diameter.then(|| round(&read, u)).flatten(),
        taper: diameter.then(|| taper(&read, u)).flatten(),
        lies,
    })
}

/// Depths that were read two ways or more, from above, each with its figures.
fn levels(read: &[(&Place, f64)]) -> Vec<(f64, Vec<f64>)> {
    let mut levels: Vec<(f64, Vec<f64>)> = Vec::new();
    for (place, value) in read {
        let Some(depth) = place.depth.filter(|_| place.clock.is_some()) else { continue };
        match levels.iter_mut().find(|(d, _)| (*d - depth).abs() < 1e-6) {
            Some((_, own)) => own.push(*value),
            None => levels.push((depth, vec![*value])),
        }
    }
    levels.retain(|(_, own)| own.len() > 1);
    levels.sort_by(|a, b| a.0.total_cmp(&b.0));
    levels
}

/// Largest difference of two ways at one depth, mm. What the gauge is set off by cancels in it, so that u is √2 of
/// one reading's.
fn round(read: &[(&Place, f64)], u: f64) -> Option<Uncertain> {
    let widest = levels(read).into_iter().filter_map(|(_, own)| ends(&own)).map(|[low, high]| high - low);
    widest.reduce(f64::max).map(|figure| Uncertain { figure, u: u * std::f64::consts::SQRT_2 })
}

/// Mean at the deepest depth less the mean at the uppermost, mm, as the survey counts taper; with k and l ways read
/// there u is √(1/k + 1/l) of one reading's.
fn taper(read: &[(&Place, f64)], u: f64) -> Option<Uncertain> {
    let levels = levels(read);
    let ((_, top), (_, bottom)) = levels.first().zip(levels.last()).filter(|_| levels.len() > 1)?;
    let share = |own: &[f64]| u32::try_from(own.len()).map_or(1.0, |n| 1.0 / f64::from(n));
    Some(Uncertain { figure: mean(bottom)? - mean(top)?, u: u * (share(top) + share(bottom)).sqrt() })
}
