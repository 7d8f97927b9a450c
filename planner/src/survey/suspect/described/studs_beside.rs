//! Bores and the columns of studs before and behind them: bores that none is told beside, and bores that stand otherwise between
//! theirs than the block's others.

use super::grid::{grid_mm, unit_mm};
use super::studs::{asks, of};
use super::{Asked, Suspicion};
use crate::job::limits::STUD_WALL;
use crate::job::{Bank, Job, ReadingFrame, Site, Stud};
use crate::plan::sentence::mm;
use crate::say;
use borewright_geometry::sample::count;

/// A bore has a column of studs within this share of its spacing on either side.
const BESIDE: f64 = 0.75;

/// A column this near to a bore along the bank, as a share of the spacing, stands on both sides of it.
const AT_BORE: f64 = 0.1;

/// Bores stand alike between their columns of studs within this, mm, where both were drawn; where studs were read by hand, with a
/// caliper, within the other, or by how finely they are told. Common practice, no source.
const DRAWN_MM: f64 = 0.06;
const READ_MM: f64 = 0.30;

/// Places of studs that were measured and told to a tenth of a millimetre, or to 0.005 in, carry no more than so many of these steps
/// in the middle between two. Common practice, no source.
const TENTH_MM: [f64; 2] = [0.09, 0.13];
const STEPS: f64 = 2.5;

/// What was drawn, and not measured, stands on steps so many times as coarse.
const DRAWN_STEPS: f64 = 5.0;

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
    asked.job.limits.get(STUD_WALL)?;
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
    let drawn_mm = if is_measured(&places, told) && banks.iter().all(is_evenly_spaced) {
        DRAWN_MM.max(STEPS * told)
    } else {
        DRAWN_MM
    };
    let most = if 2 * exact >= sorted.len() { drawn_mm } else { READ_MM.max(1.1 * told) };
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

/// Whether places were measured and told to a tenth: half of them stand on no coarser steps.
fn is_measured(places_mm: &[f64], told_mm: f64) -> bool {
    let step = DRAWN_STEPS * told_mm;
    let between = |mm: &&f64| (**mm / step - (**mm / step).round()).abs() > 1e-6;
    (TENTH_MM[0]..=TENTH_MM[1]).contains(&told_mm)
        && 2 * places_mm.iter().filter(between).count() >= places_mm.len()
}

/// Whether a bank's bores stand in even steps, as a spacing puts them: then no digit slipped in the place of one alone.
fn is_evenly_spaced(bank: &Bank) -> bool {
    let mut gaps = bank.sites.windows(2).map(|pair| pair[1].x_mm - pair[0].x_mm);
    let first = gaps.next();
    first.is_none_or(|first| gaps.all(|gap| (gap - first).abs() < 1e-6))
}

/// Bores that stand so far from the middle between their columns of studs, all alike or the last against the first, mm, and were read
/// as far from where they are described: the studs tell where they stand. Common practice, no source.
const MOVED_MM: f64 = 0.12;

/// Bores and studs that were both drawn stand so to [`EXACT_MM`], and then this far at the most from each other's middles and over each
/// other's lengths, mm, unless readings that know nothing of the description bear it out. Common practice, no source.
const DRAWN_APART_MM: f64 = 0.20;

/// What the readings leave of that, as a share of it.
const LEFT: f64 = 1.0 / 3.0;

/// A bank of which all bores are described elsewhere along than its studs and its readings have them: each is bored where it is described.
pub(super) fn moved(asked: &Asked<'_>) -> Option<Suspicion> {
    (0..asked.job.block.banks.len()).find_map(|bank| {
        let sites = &asked.job.bank(bank).sites;
        let of_studs = |site: &Site| {
            let [before, behind] = between(asked, bank, site.x_mm)?;
            Some(f64::midpoint(before, behind))
        };
        let studs: Option<Vec<f64>> = sites.iter().map(of_studs).collect();
        let read: Option<Vec<f64>> =
            sites.iter().map(|site| Some(read_along(asked, site.cylinder)? - site.x_mm)).collect();
        let (studs, read) = (Drift::of(&studs?)?, read.as_deref().and_then(Drift::of));
        let agree = |studs: f64, read: Option<f64>| {
            studs.abs() > MOVED_MM && read.is_some_and(|read| (read - studs).abs() <= LEFT * studs.abs())
        };
        // Readings in the machine's own numbers know nothing of the description; those in the journal frame may have been made up from it.
        let mut own = asked.job.set_ups.iter().filter(|s| s.bank == bank);
        let by_description =
            own.all(|s| matches!(s.frame, ReadingFrame::Journal)) && !mains_bear_out(asked.job);
        let drawn = |most: f64, read: Option<f64>| {
            sites.len() > 2
                && studs.left <= EXACT_MM
                && most.abs() > DRAWN_APART_MM
                && (by_description || read.is_none_or(|read| (read - most).abs() < read.abs()))
        };
        let (over_all, mean) = (read.as_ref().map(|r| r.over_all), read.as_ref().map(|r| r.mean));
        let (most, key, said) = if agree(studs.over_all, over_all) {
            (studs.over_all, "bore_spacing", ", and were read where the studs have them")
        } else if agree(studs.mean, mean) {
            (studs.mean, "first_bore", ", and were read where the studs have them")
        } else if drawn(studs.over_all, over_all) {
            (studs.over_all, "bore_spacing", ", more by every bore")
        } else if drawn(studs.mean, mean) {
            (studs.mean, "first_bore", ", every one alike")
        } else {
            return None;
        };
        let found = say!(
            "its bores are described {} along from the middle between their studs{said}",
            mm(most.abs(), 2)
        );
        let likely = format!("a digit slipped in `{key}`: each is bored where it is described");
        Some(asks(asked, &[bank], found, &likely, of(asked, bank).len()))
    })
}

/// Whether every bore, of a V the middle of its pair, stands in the middle between two mains as described: where the bores are is then
/// told twice, and the studs stand aside by design.
fn mains_bear_out(job: &Job) -> bool {
    let banks = &job.block.banks;
    let mains: Vec<f64> = job.block.journal_axis.mains.iter().map(|main| main.x_mm).collect();
    let count_of = banks.first().map_or(0, |bank| bank.sites.len());
    if count_of == 0 || banks.iter().any(|bank| bank.sites.len() != count_of) {
        return false;
    }
    (0..count_of).all(|at| {
        let x = banks.iter().map(|bank| bank.sites[at].x_mm).sum::<f64>() / count(banks.len());
        let before = mains.iter().copied().filter(|main| *main < x).fold(f64::NEG_INFINITY, f64::max);
        let behind = mains.iter().copied().filter(|main| *main > x).fold(f64::INFINITY, f64::min);
        (f64::midpoint(before, behind) - x).abs() <= DRAWN_MM
    })
}

/// How the bores of a bank stand off along it, mm: in the mean, and the last against the first by a line through all.
struct Drift {
    mean: f64,
    over_all: f64,
    /// The most that the line leaves.
    left: f64,
}

impl Drift {
    /// `None` of a single bore.
    fn of(off: &[f64]) -> Option<Self> {
        let n = count(off.len());
        if off.len() < 2 {
            return None;
        }
        let mean = off.iter().sum::<f64>() / n;
        let middle = (n - 1.0) / 2.0;
        let at = |i: usize| count(i) - middle;
        let slope = off.iter().enumerate().map(|(i, off)| at(i) * (off - mean)).sum::<f64>()
            / (0..off.len()).map(|i| at(i).powi(2)).sum::<f64>();
        let left =
            off.iter().enumerate().map(|(i, off)| (off - mean - slope * at(i)).abs()).fold(0.0, f64::max);
        Some(Self { mean, over_all: slope * (n - 1.0), left })
    }
}

/// Where a bore was read along the journal axis, the mean of its planned circles, mm.
fn read_along(asked: &Asked<'_>, cylinder: u32) -> Option<f64> {
    let own = asked.circles.iter().filter(|c| c.cylinder == cylinder && c.planned);
    let along: Vec<f64> = own.map(|c| c.centre_mm[0]).collect();
    (!along.is_empty()).then(|| along.iter().sum::<f64>() / count(along.len()))
}
