//! One bore's centre, or one cell of it, in the wrong unit.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::{EXPLAINED_MM, FACTORS, NEARER, Neighbours, Others, figures, unit_cause, unit_words};
use super::readings::{Reading, Stand};
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{signed_before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::sample::count;

/// A cell this far from the bore's true place can be held against that place alone, mm. Common practice.
pub(super) const FAR_MM: f64 = 5.0;

const COLUMNS: [&str; 2] = ["x", "y"];

/// A component of a centre, typed in another unit.
pub(super) fn scaled(raw: [f64; 2], component: usize, factor: f64) -> [f64; 2] {
    let mut other = raw;
    other[component] *= factor;
    other
}

/// Whether a component lies far off as typed and right in the other unit.
pub(super) fn far_off(asked: &Asked<'_>, reading: &Reading, component: usize, factor: f64) -> bool {
    let off = asked.readings.off_if_mm(reading, reading.raw_mm)[component].abs();
    let other = asked.readings.off_if_mm(reading, scaled(reading.raw_mm, component, factor))[component].abs();
    off > FAR_MM && other < EXPLAINED_MM && off > NEARER * other
}

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found: Vec<Suspicion> = Vec::new();
    for set_up in 0..asked.job.set_ups.len() {
        for cylinder in asked.readings.cylinders(set_up) {
            for component in [0, 1] {
                for factor in FACTORS {
                    let told = of_bank(asked, set_up, cylinder, component, factor)
                        .or_else(|| of_depths(asked, set_up, cylinder, component, factor));
                    found.extend(told);
                }
            }
        }
    }
    found
}

/// Against the other bores of the bank, all circles of the bore together.
fn of_bank(asked: &Asked<'_>, set_up: usize, cylinder: u32, k: usize, factor: f64) -> Option<Suspicion> {
    let typed = asked.readings.as_typed(set_up);
    let other = asked.readings.stands(set_up, |r| scaled(r.raw_mm, k, factor));
    let of = |stands: &[Stand]| stands.iter().find(|s| s.cylinder == cylinder).map(|s| s.off_mm[k]);
    let (own, other) = (of(&typed)?, of(&other)?);
    let circles = typed.iter().find(|s| s.cylinder == cylinder)?.circles;
    let rest = typed.iter().filter(|s| s.cylinder != cylinder).map(|s| s.off_mm[k]).collect();
    let rest = Neighbours::of(rest, 3)?;
    let u = asked.job.instruments.centre_mm / count(circles).sqrt();
    let told = Told { off: own, other, reference: rest.median, against: Some("the other bores of the bank") };
    let raw = asked.readings.mean_raw(set_up, cylinder, k) - (own - rest.median);
    rest.tell(own, other, raw, u).then(|| name(cylinder, k, factor, &told, ""))
}

/// Against the same bore's other circles, or far off its true place.
fn of_depths(asked: &Asked<'_>, set_up: usize, cylinder: u32, k: usize, factor: f64) -> Option<Suspicion> {
    let of_set_up = asked.readings.of_set_up(set_up);
    let own: Vec<&Reading> = of_set_up.into_iter().filter(|r| r.cylinder == cylinder).collect();
    let mut by_surface: BTreeMap<Surface, Vec<f64>> = BTreeMap::new();
    for reading in &own {
        let off = asked.readings.off_if_mm(reading, reading.raw_mm)[k];
        by_surface.entry(reading.surface).or_default().push(off);
    }
    let by_surface: BTreeMap<Surface, Others> =
        by_surface.into_iter().map(|(surface, offs)| (surface, Others::of(offs))).collect();
    for reading in &own {
        let off = asked.readings.off_if_mm(reading, reading.raw_mm)[k];
        let other = asked.readings.off_if_mm(reading, scaled(reading.raw_mm, k, factor))[k];
        let at = format!(" at depth {:.1}", reading.depth_mm);
        if far_off(asked, reading, k, factor) {
            let told = Told { off, other, reference: 0.0, against: None };
            return Some(name(cylinder, k, factor, &told, &at));
        }
        let rest = by_surface.get(&reading.surface).and_then(|others| others.without(off, 2));
        let u = asked.job.instruments.centre_mm;
        let raw = |rest: &Neighbours| reading.raw_mm[k] - (off - rest.median);
        if let Some(rest) = rest.filter(|rest| rest.tell(off, other, raw(rest), u)) {
            let told = Told { off, other, reference: rest.median, against: Some("its other depths") };
            return Some(name(cylinder, k, factor, &told, &at));
        }
    }
    None
}

/// A figure as typed and in the other unit, and what it is held against, mm off true; alone, its true place.
struct Told {
    off: f64,
    other: f64,
    reference: f64,
    against: Option<&'static str>,
}

fn name(cylinder: u32, component: usize, factor: f64, told: &Told, at: &str) -> Suspicion {
    let column = COLUMNS[component];
    let Told { off, other, reference, against } = told;
    let neighbours = against.map_or_else(String::new, |who| format!(", where {who} stand {reference:+.3}"));
    Suspicion {
        code: Code::WrongUnit,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!(
            "{column}{at} stands {} off true{neighbours}; {} it stands {}",
            signed_mm(*off, 3),
            unit_words(factor),
            signed_before_mm(*other, 3)
        ),
        likely: say!("{column} {}", unit_cause(factor)),
        ask: say!(
            "in which unit was {column} of cylinder {cylinder} read? Type it with its unit, such as `0.011 in`, or read it again"
        ),
        evidence: figures([
            ("off_as_typed", *off),
            ("off_in_the_other_unit", *other),
            ("reference", *reference),
            ("factor", factor),
        ]),
        cylinders: vec![cylinder].into(),
    }
}
