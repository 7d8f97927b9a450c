//! Bores of a set-up that all read alike at every depth, to a digit finer than they are known: the first depth written at the
//! others, or the worn top taken from the unworn foot.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use crate::job::{BoreReading, Instruments};
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

/// A cylinder, its surface and the round it was read in.
type Bore<'j> = (u32, &'static str, Option<&'j str>);

/// What of a circle is compared: its words, its figures, mm, and the uncertainty of each.
struct Compared {
    name: &'static str,
    figures: fn(&BoreReading) -> Vec<f64>,
    u_mm: fn(&Instruments) -> f64,
}

/// A column each, then both of the centre: what one column leaves to chance, two do not.
const COMPARED: [Compared; 4] = [
    Compared { name: "x", figures: |b| vec![b.centre_mm[0]], u_mm: |i| i.centre_mm },
    Compared { name: "y", figures: |b| vec![b.centre_mm[1]], u_mm: |i| i.centre_mm },
    Compared { name: "diameter", figures: |b| vec![b.diameter_mm], u_mm: |i| i.diameter_mm },
    Compared { name: "the centre", figures: |b| b.centre_mm.to_vec(), u_mm: |i| i.centre_mm },
];

/// Asks about each set-up by itself; where none tells enough, about all of them together.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups: Vec<usize> = (0..asked.job.set_ups.len()).collect();
    let each: Vec<Suspicion> = set_ups.iter().filter_map(|index| of(asked, &[*index])).collect();
    if each.is_empty() { of(asked, &set_ups).into_iter().collect() } else { each }
}

/// The suspicion of some set-ups.
fn of(asked: &Asked<'_>, set_ups: &[usize]) -> Option<Suspicion> {
    let (name, bores) = COMPARED.iter().find_map(|of| Some((of.name, alike(asked, set_ups, of)?)))?;
    let (subject, place) = match set_ups {
        [one] => {
            let set_up = &asked.job.set_ups[*one];
            (Subject::set_up(&set_up.name), format!("set-up {}", plain(&set_up.name, 40)))
        }
        _ => (Subject::whole("bores"), "all set-ups".to_owned()),
    };
    Some(Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject,
        found: say!("{name} is one figure to the last digit at all depths, in {bores} bores of {place}"),
        likely: "one depth's reading written at the others: neither a lean nor the worn top would show"
            .into(),
        ask: "read these bores again at each depth: what do they say?".into(),
        evidence: figures([("bores", count(bores))]),
        cylinders: set_ups.iter().flat_map(|index| asked.readings.cylinders(*index)).collect(),
    })
}

/// How many bores read alike at all their depths, where that is no chance.
fn alike(asked: &Asked<'_>, set_ups: &[usize], of: &Compared) -> Option<usize> {
    let (mut number, mut by_chance) = (0, 1.0);
    for set_up in set_ups.iter().map(|index| &asked.job.set_ups[*index]) {
        // Each by what it was read with itself: one bank by a dial, the other by a probe.
        let all: Vec<f64> = set_up.bores.iter().flat_map(of.figures).collect();
        let Some(grid) = grid_mm(&all, read_unit_mm(asked.job)) else { continue };
        let one = ALIKE * grid;
        let mut bores: BTreeMap<Bore<'_>, Vec<Vec<u64>>> = BTreeMap::new();
        for bore in &set_up.bores {
            let figures = (of.figures)(bore).into_iter().map(f64::to_bits).collect();
            let place = (bore.cylinder, bore.surface.word(), bore.set.as_deref());
            bores.entry(place).or_default().push(figures);
        }
        for own in bores.values().filter(|own| own.len() > 1 && own.iter().all(|row| *row == own[0])) {
            number += 1;
            let repeats = (own.len() - 1) * own[0].len();
            by_chance *= chance(one, (of.u_mm)(&asked.job.instruments), repeats);
        }
    }
    (number >= BORES && by_chance < NEVER).then_some(number)
}
