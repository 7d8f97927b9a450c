//! Bores and the columns of studs before and behind them: bores that none is told beside, and bores that stand otherwise between
//! theirs than the block's others.

use super::grid::{grid_mm, unit_mm};
use super::studs::{asks, of};
use super::{Asked, Suspicion};
use crate::job::Stud;
use crate::plan::sentence::mm;
use crate::say;

/// A bore has a column of studs within this share of its spacing on either side.
const BESIDE: f64 = 0.75;

/// A column this near to a bore along the bank, as a share of the spacing, stands on both sides of it.
const AT_BORE: f64 = 0.1;

/// Bores stand alike between their columns of studs within this, mm, where both were drawn; where studs were read by hand, with a
/// caliper, within the other, or by how finely they are told. Common practice, no source.
const DRAWN_MM: f64 = 0.06;
const READ_MM: f64 = 0.30;

/// Nearer than this they are told alike, mm.
const EXACT_MM: f64 = 0.02;

/// A bore with the nearest columns of studs before it and behind it, along the bank; `None` where one is missing.
fn between(asked: &Asked<'_>, bank: usize, x_mm: f64) -> Option<[f64; 2]> {
    let sites = &asked.job.bank(bank).sites;
    let gaps = sites.windows(2).map(|pair| (pair[1].x_mm - pair[0].x_mm).abs());
    let spacing = gaps.fold(f64::NEG_INFINITY, f64::max);
    let away = |stud: &&Stud| stud.centre_mm[0] - x_mm;
    let own = of(asked, bank);
    let near = |side: f64| {
        let there = own.iter().map(away).filter(|off| off * side >= -AT_BORE * spacing);
        there.min_by(|a, b| a.abs().total_cmp(&b.abs())).filter(|off| off.abs() <= BESIDE * spacing)
    };
    Some([near(-1.0)?, near(1.0)?])
}

/// A bore that no column of studs stands beside, where studs are limited: what is not told guards nothing.
pub(super) fn bare(asked: &Asked<'_>) -> Option<Suspicion> {
    asked.job.limits.get("stud_wall")?;
    let mut banks = 0..asked.job.block.banks.len();
    banks.find_map(|bank| {
        let sites = &asked.job.bank(bank).sites;
        let own = of(asked, bank);
        if own.is_empty() || sites.len() < 2 {
            return None;
        }
        let bare = sites.iter().find(|site| between(asked, bank, site.x_mm).is_none())?;
        let found = say!("no studs are told on both sides of cylinder {}", bare.cylinder);
        Some(asks(asked, &[bank], found, "studs left out: one that is not told guards nothing", own.len()))
    })
}

/// A bore by its bank and its place in it, and how far it stands from the middle between its columns of studs, mm.
type Off = (usize, usize, f64);

/// A bore that stands otherwise between its columns of studs than the block's other bores: one of the two drawings is wrong.
pub(super) fn off_middle(asked: &Asked<'_>) -> Option<Suspicion> {
    let banks = &asked.job.block.banks;
    let offs: Vec<Off> = banks
        .iter()
        .enumerate()
        .flat_map(|(bank, layout)| layout.sites.iter().enumerate().map(move |(at, site)| (bank, at, site)))
        .filter_map(|(bank, at, site)| {
            let [before, behind] = between(asked, bank, site.x_mm)?;
            Some((bank, at, f64::midpoint(before, behind)))
        })
        .collect();
    let mut sorted: Vec<f64> = offs.iter().map(|own| own.2).collect();
    sorted.sort_by(f64::total_cmp);
    let middle = *sorted.get(sorted.len() / 2)?;
    // Where half of the bores and more stand exactly alike, the two drawings are as exact; else studs are told as finely as they are.
    let exact = sorted.iter().filter(|off| (**off - middle).abs() <= EXACT_MM).count();
    let places: Vec<f64> = asked.job.block.studs.iter().map(|stud| stud.centre_mm[0]).collect();
    let told = grid_mm(&places, unit_mm(asked.job.units)).unwrap_or(0.0);
    let most = if 2 * exact >= sorted.len() { DRAWN_MM } else { READ_MM.max(1.1 * told) };
    // A head may have its end columns elsewhere: so it has in the other bank, or at the other end.
    let so_elsewhere = |(bank, at, off): &Off| {
        let last = banks[*bank].sites.len() - 1;
        offs.iter().any(|(b, a, o)| {
            (b != bank && a == at && (o - off).abs() <= most)
                || (b == bank && last - a == *at && a != at && (o + off).abs() <= most)
        })
    };
    let (bank, at, off) = offs.iter().find(|own| (own.2 - middle).abs() > most && !so_elsewhere(own))?;
    let found = say!(
        "cylinder {} stands {} along from where the block's other bores stand between their studs",
        banks[*bank].sites[*at].cylinder,
        mm((off - middle).abs(), 2)
    );
    let likely =
        "a digit slipped in the place of this bore or of its studs: each is bored where it is described";
    Some(asks(asked, &[*bank], found, likely, of(asked, *bank).len()))
}
