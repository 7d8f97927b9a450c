//! Figures by machine, tool and person, and what the machine's own figure should be.

use std::collections::BTreeMap;

use serde::Serialize;

use super::estimate::{Capability, LEAST_CAPABILITY, Spread, capability};
use super::sample::{Kind, Sample};

/// Windows this near are one, mm.
const SAME_MM: f64 = 1e-6;

/// Figures that have something in common.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Group {
    /// `machine`, `tool` or `person`.
    pub by: &'static str,
    /// Its name.
    pub name: String,
    /// What the figures are of.
    pub kind: Kind,
    /// Bias and spread.
    pub spread: Spread,
    /// Standard uncertainty of measuring that is in them, root of the mean square, mm.
    pub u_measuring: f64,
    /// How they lie in the windows that were asked, each window for itself.
    pub windows: Vec<Window>,
}

/// Figures of one window.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Window {
    /// How far under and over what is asked, mm.
    pub window: [f64; 2],
    /// Bias and spread.
    pub spread: Spread,
    /// How capable that is; `None` where there are too few to say.
    pub capability: Option<Capability>,
    /// How many bores more it takes to say.
    pub more_needed: u32,
}

/// What a job file claims of its machine, against what was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Claim {
    /// The machine.
    pub machine: String,
    /// Least and most that the jobs claim, `instruments.machine`.
    pub claimed: [f64; 2],
    /// Bores that were read.
    pub n: u32,
    /// What to write there, mm; `None` where there are too few to say.
    pub figure: Option<f64>,
    /// Between which it lies, 95 %, mm.
    pub within: Option<[f64; 2]>,
    /// `too_few`, `agrees`, `claims_too_little`, `claims_more_than_needed`.
    pub says: &'static str,
}

/// Bias and spread by machine, by machine and tool, by person.
pub(super) fn groups(all: &[Sample]) -> Vec<Group> {
    let mut groups = Vec::new();
    let person = |s: &Sample| if s.by.is_empty() { "nobody named".to_owned() } else { s.by.clone() };
    type Name<'a> = &'a dyn Fn(&Sample) -> Option<String>;
    let by: [(&'static str, Name<'_>); 3] = [
        ("machine", &|s: &Sample| Some(s.machine.clone())),
        ("tool", &|s: &Sample| s.tool.as_ref().map(|t| format!("{}, {t}", s.machine))),
        ("person", &|s: &Sample| Some(person(s))),
    ];
    for (by, name) in by {
        let mut own: BTreeMap<(String, Kind), Vec<&Sample>> = BTreeMap::new();
        for sample in all {
            if let Some(name) = name(sample) {
                own.entry((name, sample.kind)).or_default().push(sample);
            }
        }
        for ((name, kind), samples) in own {
            groups.extend(group(by, name, kind, &samples));
        }
    }
    groups
}

fn group(by: &'static str, name: String, kind: Kind, samples: &[&Sample]) -> Option<Group> {
    let spread = Spread::of(&samples.iter().map(|s| s.off_mm).collect::<Vec<f64>>())?;
    let mut windows: Vec<([f64; 2], Vec<f64>)> = Vec::new();
    for sample in samples {
        let Some(window) = sample.window_mm else { continue };
        let same = |w: &[f64; 2]| w.iter().zip(window).all(|(a, b)| (a - b).abs() < SAME_MM);
        match windows.iter_mut().find(|(w, _)| same(w)) {
            Some((_, offs)) => offs.push(sample.off_mm),
            None => windows.push((window, vec![sample.off_mm])),
        }
    }
    windows.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let told = windows.into_iter().filter_map(|(window, offs)| {
        let spread = Spread::of(&offs)?;
        let more_needed = LEAST_CAPABILITY.saturating_sub(spread.n);
        let capability = capability(&spread, window).filter(|_| more_needed == 0);
        Some(Window { window, spread, capability, more_needed })
    });
    let squares: f64 = samples.iter().map(|s| s.u_mm * s.u_mm).sum();
    let u_measuring = (squares / f64::from(spread.n)).sqrt();
    Some(Group { by, name, kind, spread, u_measuring, windows: told.collect() })
}

/// What each machine's own figure should be.
pub(super) fn claims(all: &[Sample]) -> Vec<Claim> {
    let mut machines: BTreeMap<&str, Vec<&Sample>> = BTreeMap::new();
    for sample in all {
        machines.entry(&sample.machine).or_default().push(sample);
    }
    machines.into_iter().map(|(machine, own)| claim(machine, &own)).collect()
}

/// √(b² + s² − u²) of the worse of X and Y: bias b is not taken out when a list is made, and what measuring adds is
/// no part of the machine. Between the same with b and s at the ends of their own 95 % intervals.
fn claim(machine: &str, own: &[&Sample]) -> Claim {
    let claimed = own
        .iter()
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], s| [a.min(s.claimed_mm), b.max(s.claimed_mm)]);
    let of = |kind: Kind| -> Option<(Spread, f64)> {
        let own: Vec<&&Sample> = own.iter().filter(|s| s.kind == kind).collect();
        let spread = Spread::of(&own.iter().map(|s| s.off_mm).collect::<Vec<f64>>())?;
        let square = own.iter().map(|s| s.u_mm * s.u_mm).sum::<f64>() / f64::from(spread.n);
        Some((spread, square))
    };
    let axes = [of(Kind::PlaceX), of(Kind::PlaceY)];
    let n = axes.iter().flatten().map(|(s, _)| s.n).min().unwrap_or(0);
    let told = |(spread, square): (Spread, f64)| -> Option<(f64, [f64; 2])> {
        let (sd, [low, high], within) = (spread.sd?, spread.sd_within?, spread.mean_within?);
        let whole = |b: f64, s: f64| (b * b + (s * s - square).max(0.0)).sqrt();
        let bias = spread.mean.abs();
        let ends = [whole((bias - within).max(0.0), low), whole(bias + within, high)];
        spread.is_enough().then_some((whole(bias, sd), ends))
    };
    let worst = axes.into_iter().flatten().filter_map(told).max_by(|a, b| a.0.total_cmp(&b.0));
    let says = match worst {
        None => "too_few",
        Some((_, [low, _])) if claimed[0] < low => "claims_too_little",
        Some((_, [_, high])) if claimed[1] > high => "claims_more_than_needed",
        Some(_) => "agrees",
    };
    Claim {
        machine: machine.to_owned(),
        claimed,
        n,
        figure: worst.map(|(figure, _)| figure),
        within: worst.map(|(_, within)| within),
        says,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn samples(kind: Kind, offs: &[f64]) -> Vec<Sample> {
        let one = |off: &f64| Sample {
            machine: "column mill".into(),
            tool: Some("finish head".into()),
            by: "KP".into(),
            kind,
            off_mm: *off,
            u_mm: 0.003,
            claimed_mm: 0.004,
            window_mm: Some([-0.01, 0.01]),
        };
        offs.iter().map(one).collect()
    }

    /// Eleven of mean 0.002 and standard deviation 0.005: squares 10 · 0.005² = 0.00025 in five pairs of ± 0.005
    /// and a nought.
    fn eleven() -> Vec<f64> {
        (0..11).map(|i| 0.002 + [0.005, -0.005][i % 2] * f64::from(u8::from(i < 10))).collect()
    }

    #[test]
    fn what_to_write_for_the_machine_is_worked_by_hand() {
        let mut all = samples(Kind::PlaceX, &eleven());
        all.extend(samples(Kind::PlaceY, &[0.0; 11]));
        let [claim] = claims(&all).try_into().unwrap();
        // √(0.002² + 0.005² − 0.003²) = √(4 + 25 − 9) thousandths = 0.004472.
        assert!((claim.figure.unwrap() - 0.004_472).abs() < 1e-6, "{claim:?}");
        // χ² at 10: 3.247 and 20.483; s 0.003494 to 0.008775; b 0.002 ± 2.228·0.005/√11 = 0.003359.
        let [low, high] = claim.within.unwrap();
        assert!((low - (0.003_494_f64.powi(2) - 9e-6).sqrt()).abs() < 2e-6, "{low}");
        assert!(
            (high - (0.005_359_f64.powi(2) + 0.008_775_f64.powi(2) - 9e-6).sqrt()).abs() < 2e-6,
            "{high}"
        );
        assert_eq!((claim.says, claim.n), ("agrees", 11));
    }

    #[test]
    fn a_machine_that_stands_off_by_more_than_it_claims_is_told_and_eight_bores_tell_nothing() {
        let far: Vec<f64> = eleven().iter().map(|off| off + 0.010).collect();
        let mut all = samples(Kind::PlaceX, &far);
        all.extend(samples(Kind::PlaceY, &eleven()));
        assert_eq!(claims(&all)[0].says, "claims_too_little");
        let few = samples(Kind::PlaceX, &eleven()[..8]);
        assert_eq!((claims(&few)[0].says, claims(&few)[0].figure), ("too_few", None));
    }

    #[test]
    fn capability_is_told_from_enough_bores_of_one_window_alone() {
        let mut all = samples(Kind::Size, &[eleven(), eleven()].concat());
        assert_eq!(groups(&all).iter().filter(|g| g.by == "machine").count(), 1);
        let window = |all: &[Sample]| groups(all)[0].windows.clone();
        assert_eq!((window(&all)[0].capability, window(&all)[0].more_needed), (None, 3));
        all.extend(samples(Kind::Size, &[0.002; 3]));
        assert!(window(&all)[0].capability.is_some());
        // Another window is another question.
        for sample in all.iter_mut().take(1) {
            sample.window_mm = Some([-0.006, 0.006]);
        }
        let windows = window(&all);
        assert_eq!((windows.len(), windows[0].more_needed, windows[1].more_needed), (2, 1, 24));
    }
}
