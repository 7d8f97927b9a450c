//! Studs that stand otherwise in one bank than in the other, whose heads are alike, and a row of studs beside its row of bores.

use super::studs::{asks, of};
use super::{Asked, Suspicion};
use crate::job::{Bank, Stud};
use crate::plan::sentence::mm;
use crate::say;

/// A figure of a stud: what it is called, by how much it may differ, mm, and how it is taken.
type Compared = (&'static str, f64, fn(&Stud, &Bank) -> f64);

/// What is compared of a stud with the other bank's, and by how much it may differ, mm: along from the first bore, aside of the
/// bank's middle, wide, from, to. Common practice, no source.
const COMPARED: [Compared; 5] = [
    ("along from the first bore", 0.5, |s, bank| {
        s.centre_mm[0] - bank.sites.first().map_or(0.0, |site| site.x_mm)
    }),
    ("aside of the bank's middle", 0.5, |s, _| s.centre_mm[1].abs()),
    ("in diameter", 0.3, |s, _| s.diameter_mm),
    ("in where they begin", 1.0, |s, _| s.depths.from_mm),
    ("in where they end", 1.0, |s, _| s.depths.to_mm),
];

/// A whole row of studs stands about the middle of its bores within this, mm. Common practice, no source.
const MIDDLE_MM: f64 = 1.5;

/// Columns of studs that stand alike are one within this, mm.
const COLUMN_MM: f64 = 0.5;

/// The pitch of a row of studs is that of the bores within this share. Common practice, no source.
const PITCH: f64 = 0.004;

pub(super) fn suspicions(asked: &Asked<'_>) -> Option<Suspicion> {
    unlike(asked).or_else(|| (0..asked.job.block.banks.len()).find_map(|bank| beside(asked, bank)))
}

/// Banks with as many studs each, which stand otherwise.
fn unlike(asked: &Asked<'_>) -> Option<Suspicion> {
    let [first, second] = asked.job.block.banks.as_slice() else { return None };
    let (own, its) = (of(asked, 0), of(asked, 1));
    if own.is_empty() || own.len() != its.len() {
        return None;
    }
    let sorted = |studs: &[&Stud], bank: &Bank, figure: fn(&Stud, &Bank) -> f64| {
        let mut all: Vec<f64> = studs.iter().map(|s| figure(s, bank)).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let (what, by, _) = COMPARED
        .iter()
        .map(|(what, most, figure)| {
            let (a, b) = (sorted(&own, first, *figure), sorted(&its, second, *figure));
            let by = a.iter().zip(&b).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            (*what, by, *most)
        })
        .find(|(_, by, most)| *by > most + 1e-9)?;
    let found =
        say!("the studs of one bank stand otherwise than those of the other: {what} by {}", mm(by, 2));
    let likely = "a digit, a sign or a datum slipped in one of the two: the heads of both are alike";
    Some(asks(asked, &[0, 1], found, likely, own.len() + its.len()))
}

/// A whole row of studs that stands beside its bores, or at another pitch.
fn beside(asked: &Asked<'_>, bank: usize) -> Option<Suspicion> {
    let sites = &asked.job.bank(bank).sites;
    let own = of(asked, bank);
    let mut columns: Vec<f64> = own.iter().map(|s| s.centre_mm[0]).collect();
    columns.sort_by(f64::total_cmp);
    columns.dedup_by(|a, b| (*a - *b).abs() < COLUMN_MM);
    // Fewer columns than round every bore are a part of the studs.
    if columns.len() <= sites.len() || sites.len() < 2 {
        return None;
    }
    let middle = |first: f64, last: f64| f64::midpoint(first, last);
    let off = middle(*columns.first()?, *columns.last()?) - middle(sites.first()?.x_mm, sites.last()?.x_mm);
    if off.abs() > MIDDLE_MM + 1e-9 {
        let found = say!("its row of studs stands {} along from the middle of its bores", mm(off.abs(), 1));
        return Some(asks(
            asked,
            &[bank],
            found,
            "studs counted from another datum than the bores",
            own.len(),
        ));
    }
    let steps: Vec<f64> = columns.windows(2).map(|w| w[1] - w[0]).collect();
    let spacing = (sites.last()?.x_mm - sites.first()?.x_mm).abs()
        / borewright_geometry::sample::count(sites.len() - 1);
    let [least, most] = borewright_geometry::sample::ends(&steps)?;
    let pitch = f64::midpoint(least, most);
    let of_bores = |times: f64| (pitch * times / spacing - 1.0).abs() <= PITCH;
    (columns.len() == sites.len() + 1
        && most - least < COLUMN_MM
        && ![1.0, 2.0, 3.0].into_iter().any(of_bores))
    .then(|| {
        let found =
            say!("its columns of studs stand {} apart, and its bores {}", mm(pitch, 2), mm(spacing, 2));
        asks(asked, &[bank], found, "a digit slipped, or another unit", own.len())
    })
}
