//! Bores of a set-up that all read alike at every depth, to a digit finer than they are known: the first depth written at the
//! others, or the worn top taken from the unworn foot.

use std::collections::BTreeMap;

use crate::job::{BoreReading, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{NEVER, chance, grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer bores may be so by chance, or have a question of their own.
const BORES: usize = 3;

/// Neighbouring figures on a grid are alike by this share of it over their uncertainty: two normal errors, each rounded.
const ALIKE: f64 = 0.6;

/// A column of the table: its name, and its figure, mm.
type Column = (&'static str, fn(&BoreReading) -> f64);

const COLUMNS: [Column; 3] =
    [("x", |b| b.centre_mm[0]), ("y", |b| b.centre_mm[1]), ("diameter", |b| b.diameter_mm)];

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked
        .job
        .set_ups
        .iter()
        .enumerate()
        .filter_map(|(index, set_up)| of_set_up(asked, index, set_up))
        .collect()
}

fn of_set_up(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> Option<Suspicion> {
    let u = &asked.job.instruments;
    let (name, bores) = COLUMNS.iter().find_map(|(name, figure)| {
        let u_mm = if *name == "diameter" { u.diameter_mm } else { u.centre_mm };
        Some((*name, alike(asked, set_up, *figure, u_mm)?))
    })?;
    Some(Suspicion {
        code: "copied",
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "{name} is one figure to the last digit at all depths, in {bores} bores of set-up {}",
            plain(&set_up.name, 40)
        ),
        likely: "one depth's reading written at the others: neither a lean nor the worn top would show"
            .into(),
        ask: "read these bores again at each depth: what do they say?".into(),
        evidence: figures([("bores", count(bores))]),
        cylinders: asked.readings.cylinders(index),
    })
}

/// How many bores read alike at all their depths, where that is no chance.
fn alike(asked: &Asked<'_>, set_up: &SetUp, figure: fn(&BoreReading) -> f64, u_mm: f64) -> Option<usize> {
    let all: Vec<f64> = set_up.bores.iter().map(figure).collect();
    let grid = grid_mm(&all, read_unit_mm(asked.job))?;
    let mut bores: BTreeMap<(u32, &'static str, Option<&str>), Vec<f64>> = BTreeMap::new();
    for bore in &set_up.bores {
        bores
            .entry((bore.cylinder, bore.surface.word(), bore.set.as_deref()))
            .or_default()
            .push(figure(bore));
    }
    let same =
        bores.values().filter(|own| own.len() > 1 && own.iter().all(|mm| mm.to_bits() == own[0].to_bits()));
    let (number, by_chance) =
        same.fold((0, 1.0), |(n, p), own| (n + 1, p * chance(ALIKE * grid, u_mm, own.len() - 1)));
    (number >= BORES && by_chance < NEVER).then_some(number)
}
