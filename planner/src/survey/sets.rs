//! Rounds of measuring: how far bores that were read several times differ, and whether that is more than reading.

use std::collections::BTreeMap;

use serde::Serialize;
use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::bore::FoundCircle;
use super::centres::{Key, centres};
use super::repeats::{Repeats, SIGNIFICANT, repeats};
use super::reversal::at_deck;
use super::significance::NO_CHANCE;
use crate::job::rounds::{Handled, Round};
use crate::job::{Job, ReadingFrame, Surface};
use crate::plan::sentence::{Sentence, before_mm, signed_before_mm};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::{count, median};

/// Rounds farther apart than this are looked into, mm: what a block may move while it is clamped. Common practice,
/// no source.
const LEAST_MM: f64 = 0.010;

/// Standard uncertainties for a single bore, which is one of many and held against a median of few: at four, one
/// clean job in some two hundred raised it.
const ODD_SIGMAS: f64 = 5.0;

/// Depths closer than this show no lean, mm.
const LEAST_LEVER_MM: f64 = 1.0;

/// All banks' rounds against the one that the plan uses.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sets {
    /// Banks that were read more than once.
    pub banks: Vec<BankSets>,
    /// What it comes to, a sentence each; with one round only, what a second one would settle.
    pub text: Vec<Sentence>,
}

/// One bank's rounds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BankSets {
    /// The bank.
    pub bank: String,
    /// The round that the plan uses: the first.
    pub planned: RoundName,
    /// The others, each against it.
    pub others: Vec<Compared>,
    /// How well the bank comes back, by what was done between.
    pub repeats: Vec<Repeats>,
}

/// A round by its set-up and set.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoundName {
    /// The set-up.
    pub set_up: String,
    /// The set, where its rows name one.
    pub set: Option<String>,
}

/// A round less the one planned with, over the circles that both read; of a bore without such, over where the planned round's line
/// is at the other's depths.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Compared {
    /// The round.
    #[serde(flatten)]
    pub round: RoundName,
    /// What was done with the block before: `again`, `clamped`, `indexed`, `turned`.
    pub handled: &'static str,
    /// How many circles were compared.
    pub circles: usize,
    /// Mean difference along and across, mm, by the median of the bores.
    pub shift: [f64; 2],
    /// Standard uncertainty of `shift` if nothing moved, along and across, mm.
    pub u: [f64; 2],
    /// Scatter of one reading, from what shift and lean leave of the differences, mm.
    pub scatter: Option<f64>,
    /// How often the stated instruments alone would scatter as much (chi-squared).
    pub scatter_p: Option<f64>,
    /// Whether the rounds disagree beyond measuring; what turning end for end shows is told apart elsewhere.
    pub disagrees: bool,
    /// Bores that differ otherwise than the rest of the bank: cylinder and what it differs by.
    pub odd: Vec<OddBore>,
    /// How the rounds differ, in words.
    pub text: Sentence,
}

/// One bore that differs between two rounds otherwise than its bank.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct OddBore {
    /// The cylinder.
    pub cylinder: u32,
    /// Its difference less the bank's, along and across, mm.
    pub apart: [f64; 2],
}

/// The circles of each round.
pub(super) fn by_round(circles: &[FoundCircle]) -> BTreeMap<usize, Vec<&FoundCircle>> {
    let mut of: BTreeMap<usize, Vec<&FoundCircle>> = BTreeMap::new();
    for circle in circles {
        of.entry(circle.round).or_default().push(circle);
    }
    of
}

/// Each bank that was read in more than one round.
pub(super) fn banks(job: &Job, circles: &[FoundCircle], rounds: &[Round]) -> Vec<BankSets> {
    let mut banks = Vec::new();
    let own = by_round(circles);
    let of_round = |round: usize| centres(own.get(&round).into_iter().flatten().copied());
    for (bank, layout) in job.block.banks.iter().enumerate() {
        let of_bank: Vec<(usize, &Round)> =
            rounds.iter().enumerate().filter(|(_, r)| r.bank == bank).collect();
        let [(first, planned), others @ ..] = of_bank.as_slice() else { continue };
        if others.is_empty() {
            continue;
        }
        let base = of_round(*first);
        let compared = others
            .iter()
            .filter_map(|(i, round)| compare(job, planned, round, &base, &of_round(*i)))
            .collect();
        let repeats =
            [Handled::Again, Handled::Clamped, Handled::Indexed].into_iter().filter_map(|handled| {
                let alike: Vec<_> = others.iter().filter(|(_, r)| r.handled == handled).collect();
                let anew = alike.iter().any(|(_, r)| picked_up_anew(job, planned, r));
                let read: Vec<_> =
                    std::iter::once(base.clone()).chain(alike.iter().map(|(i, _)| of_round(*i))).collect();
                repeats(job, handled, anew, &read)
            });
        banks.push(BankSets {
            bank: layout.name.clone(),
            planned: name(job, planned),
            others: compared,
            repeats: repeats.collect(),
        });
    }
    banks
}

/// The rounds with their sentences.
pub(crate) fn sets(job: &Job, circles: &[FoundCircle], rounds: &[Round], reversed: bool) -> Sets {
    let banks = banks(job, circles, rounds);
    let mut text = Vec::new();
    for bank in &banks {
        text.push(say!(
            "bank {}: planned with {}; the other rounds only say how far it is to be believed",
            bank.bank,
            spoken(&bank.planned)
        ));
        text.extend(bank.others.iter().map(|c| say!("bank {}: {}", bank.bank, c.text)));
        text.extend(bank.repeats.iter().map(|r| say!("bank {}: {}", bank.bank, r.text)));
    }
    if !reversed {
        let said = if banks.is_empty() { "read once only" } else { "read one way round only" };
        text.push(say!(
            "{}: what belongs to the block and what to the set-up cannot be told apart. The same bores read \
             again with the block turned end for end (`set` or `front`) would settle it: what changes its \
             sign in the bank's own frame is the set-up's{}",
            said,
            if job.block.banks.len() > 1 {
                "; all but the included angle, which takes a reading of the index span as well"
            } else {
                ""
            }
        ));
    }
    Sets { banks, text }
}

fn name(job: &Job, round: &Round) -> RoundName {
    RoundName { set_up: job.set_ups[round.set_up].name.clone(), set: round.set.clone() }
}

fn spoken(name: &RoundName) -> String {
    match &name.set {
        Some(set) => format!("set `{}` of {}", plain(set, 30), plain(&name.set_up, 40)),
        None => plain(&name.set_up, 40),
    }
}

/// Whether a round rests on a datum of its own: places from the journal axis do once the block has moved, places
/// off the machine's scales only with a set-up of their own.
fn picked_up_anew(job: &Job, planned: &Round, round: &Round) -> bool {
    let from_axis = matches!(job.set_ups[round.set_up].frame, ReadingFrame::Journal);
    planned.set_up != round.set_up || round.handled != Handled::Again && from_axis
}

/// A later round held against the planned one circle by circle, `base` and `other` being their centres in the bank,
/// mm; `None` where no bore was read in both.
fn compare(
    job: &Job,
    planned: &Round,
    round: &Round,
    base: &BTreeMap<Key, [f64; 2]>,
    other: &BTreeMap<Key, [f64; 2]>,
) -> Option<Compared> {
    let i = &job.instruments;
    let differences = differences(i.centre_mm, base, other);
    if differences.is_empty() {
        return None;
    }
    let anew = picked_up_anew(job, planned, round);
    let probe = u_of_mean(&differences);
    let datum = |u: f64| if anew { u * std::f64::consts::SQRT_2 } else { 0.0 };
    let u = [datum(i.along_mm).hypot(probe), datum(i.axis_mm).hypot(probe)];
    let bores = by_bore(&differences);
    let shift = [0, 1].map(|k| median(bores.iter().map(|(_, mean, _)| mean[k]).collect()));
    let odd = odd(&bores, shift);
    let (scatter, scatter_p) = scatter(i.centre_mm, &differences).unzip();
    let disagrees = round.handled != Handled::Turned
        && [0, 1].into_iter().any(|k| shift[k].abs() > LEAST_MM.max(NO_CHANCE * u[k]));
    let mut compared = Compared {
        round: name(job, round),
        handled: round.handled.word(),
        circles: differences.len(),
        shift,
        u,
        scatter,
        scatter_p,
        disagrees,
        odd,
        text: String::new().into(),
    };
    compared.text = compared_words(round.handled, &compared);
    Some(compared)
}

/// A circle of a later round less the planned round there.
struct Difference {
    key: Key,
    /// Along and across, mm.
    by_mm: [f64; 2],
    /// Standard uncertainty of each if nothing moved, mm.
    u_mm: f64,
    /// Whether both rounds read it at one depth.
    of_one_depth: bool,
}

/// What a bore stands off a line down it between two depths that were read, mm per mm to the nearer of them: one standard
/// uncertainty. Common practice, no source.
const BENT: f64 = 0.000_3;

/// What a bore read at one depth may lean, mm per mm: one standard uncertainty. Common practice, no source.
const LEANS: f64 = 0.001;

/// A later round less the planned one. Depths that both read are compared; a bore of which they read none in common is held
/// against the line through the planned round's depths.
fn differences(
    centre_u_mm: f64,
    base: &BTreeMap<Key, [f64; 2]>,
    other: &BTreeMap<Key, [f64; 2]>,
) -> Vec<Difference> {
    let bore = |key: &Key| (key.0, key.2);
    let in_common: Vec<(u32, Surface)> = other.keys().filter(|k| base.contains_key(k)).map(bore).collect();
    let one = |(key, at): (&Key, &[f64; 2])| -> Option<Difference> {
        if let Some(planned) = base.get(key) {
            let by_mm = [0, 1].map(|k| at[k] - planned[k]);
            let u_mm = centre_u_mm * std::f64::consts::SQRT_2;
            return Some(Difference { key: *key, by_mm, u_mm, of_one_depth: true });
        }
        if in_common.contains(&bore(key)) {
            return None;
        }
        let depth = f64::from_bits(key.1);
        let own: Vec<(f64, [f64; 2])> = base
            .iter()
            .filter(|(planned, _)| bore(planned) == bore(key))
            .map(|(planned, at)| (f64::from_bits(planned.1), *at))
            .collect();
        let nearest = own.iter().map(|(d, _)| (d - depth).abs()).reduce(f64::min)?;
        let lines =
            [0, 1].map(|k| at_deck(&own.iter().map(|(d, at)| (d - depth, at[k])).collect::<Vec<_>>()));
        let astray = nearest * if lines[0].slope().is_some() { BENT } else { LEANS };
        Some(Difference {
            key: *key,
            by_mm: [0, 1].map(|k| at[k] - lines[k].at_deck),
            u_mm: (centre_u_mm * lines[0].u_at_deck.hypot(1.0)).hypot(astray),
            of_one_depth: false,
        })
    };
    other.iter().filter_map(one).collect()
}

/// Standard uncertainty of the mean of some differences, mm.
fn u_of_mean<'d>(of: impl IntoIterator<Item = &'d Difference>) -> f64 {
    let squares: Vec<f64> = of.into_iter().map(|d| d.u_mm.powi(2)).collect();
    squares.iter().sum::<f64>().sqrt() / count(squares.len())
}

/// Cylinder, mean difference and its standard uncertainty, mm.
type BoreDifference = (u32, [f64; 2], f64);

fn by_bore(differences: &[Difference]) -> Vec<BoreDifference> {
    differences
        .chunk_by(|a, b| a.key.0 == b.key.0)
        .map(|own| {
            let n = count(own.len());
            let mean = [0, 1].map(|k| own.iter().map(|d| d.by_mm[k]).sum::<f64>() / n);
            (own[0].key.0, mean, u_of_mean(own))
        })
        .collect()
}

/// Bores that differ between the rounds otherwise than the rest of their bank; none of two, which cannot say which
/// is odd.
fn odd(bores: &[BoreDifference], shift: [f64; 2]) -> Vec<OddBore> {
    if bores.len() < 3 {
        return Vec::new();
    }
    let apart = |mean: &[f64; 2]| [mean[0] - shift[0], mean[1] - shift[1]];
    let far = |(_, mean, u): &&BoreDifference| {
        let least = LEAST_MM.max(ODD_SIGMAS * u);
        apart(mean).iter().any(|d| d.abs() > least)
    };
    bores
        .iter()
        .filter(far)
        .map(|(cylinder, mean, _)| OddBore { cylinder: *cylinder, apart: apart(mean) })
        .collect()
}

/// Scatter of one reading and its chi-squared tail: a mean and, over several depths, a lean are taken out of the
/// differences of each direction, since a set-up that rolled moves the deck more than the lower end.
fn scatter(centre_u_mm: f64, differences: &[Difference]) -> Option<(f64, f64)> {
    let differences: Vec<(f64, [f64; 2])> =
        differences.iter().filter(|d| d.of_one_depth).map(|d| (f64::from_bits(d.key.1), d.by_mm)).collect();
    let n = count(differences.len());
    let middle = differences.iter().map(|d| d.0).sum::<f64>() / n;
    let lever: f64 = differences.iter().map(|d| (d.0 - middle).powi(2)).sum();
    let leans = lever > LEAST_LEVER_MM.powi(2);
    let freedom = 2.0 * (n - 1.0 - f64::from(u8::from(leans)));
    if freedom < 1.0 {
        return None;
    }
    let squares: f64 = [0, 1]
        .into_iter()
        .map(|k| {
            let mean = differences.iter().map(|d| d.1[k]).sum::<f64>() / n;
            let turned: f64 = differences.iter().map(|d| (d.0 - middle) * d.1[k]).sum();
            let slope = if leans { turned / lever } else { 0.0 };
            differences.iter().map(|d| (d.1[k] - mean - slope * (d.0 - middle)).powi(2)).sum::<f64>()
        })
        .sum();
    let p = ChiSquared::new(freedom).ok()?.sf(squares / (2.0 * centre_u_mm.powi(2)));
    Some(((squares / (2.0 * freedom)).sqrt(), p))
}

/// One later round beside the planned one, in words: how far the bank stands elsewhere, how one reading scatters,
/// and which bores differ from the rest.
fn compared_words(handled: Handled, c: &Compared) -> Sentence {
    let done = match handled {
        Handled::Again => "read again as it stood",
        Handled::Clamped => "read again after clamping anew",
        Handled::Indexed => "read again after indexing away and back",
        Handled::Turned => "read again turned end for end",
    };
    let mut text = say!(
        "{}, {}: {} circles stand {} along (u {}) and {} across (u {})",
        spoken(&c.round),
        done,
        c.circles,
        signed_before_mm(c.shift[0], 3),
        before_mm(c.u[0], 3),
        signed_before_mm(c.shift[1], 3),
        before_mm(c.u[1], 3)
    );
    if handled == Handled::Turned {
        text.push(": the set-up's part of it is told below");
    } else if c.disagrees {
        text.push(": more than measuring, something moved");
    } else {
        text.push(": within what can be measured");
    }
    if let (Some(scatter), Some(p)) = (c.scatter, c.scatter_p) {
        let word = if p < SIGNIFICANT { "more than" } else { "as" };
        text.push(say!(
            "; one reading scatters {}, {} the instruments (chi-squared, p {:.2})",
            before_mm(scatter, 4),
            word,
            p
        ));
    }
    for bore in &c.odd {
        text.push(say!(
            "; bore {} differs by {} along, {} across from the rest",
            bore.cylinder,
            signed_before_mm(bore.apart[0], 3),
            signed_before_mm(bore.apart[1], 3)
        ));
    }
    text
}
