//! Rings of walls, those at one depth: one that every bore of a bank has and no bore of the other.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::custom::Custom;
use crate::survey::suspect::Code;

/// Walls this near in depth are of one ring, mm: nobody reads on a rib or a pit. Common practice, no source.
const ONE_RING_MM: f64 = 12.0;

/// Two banks of as many rings may have each of them this far from the other's, mm. Common practice, no source.
const ELSEWHERE_MM: f64 = 25.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks: Vec<Read> = (0..asked.job.block.banks.len()).map(|bank| Read::of(asked, bank)).collect();
    let mut found: Vec<Suspicion> = banks.iter().filter_map(|own| missing(asked, own, &banks)).collect();
    let pairs =
        banks.iter().enumerate().flat_map(|(i, own)| banks[i + 1..].iter().map(move |other| (own, other)));
    found.extend(pairs.filter_map(|(own, other)| elsewhere(asked, own, other)));
    found
}

/// The depths at which the bores of a bank were looked at, mm.
struct Read {
    bank: usize,
    /// Of bores with walls: where there is one.
    walls: Vec<Vec<f64>>,
    /// Of all bores: where there is one, or it was said that none can be read.
    looked: Vec<Vec<f64>>,
}

impl Read {
    fn of(asked: &Asked<'_>, bank: usize) -> Self {
        let rows = || asked.job.set_ups.iter().filter(|s| s.bank == bank).flat_map(|s| &s.walls);
        let of = |any: bool| -> Vec<Vec<f64>> {
            let depths = |cylinder: u32| -> Vec<f64> {
                let own = rows().filter(|w| w.cylinder == cylinder && (any || w.wall_mm.is_some()));
                own.map(|w| w.depth_mm).collect()
            };
            let sites = asked.job.bank(bank).sites.iter();
            sites.map(|site| depths(site.cylinder)).filter(|depths| !depths.is_empty()).collect()
        };
        Self { bank, walls: of(false), looked: of(true) }
    }

    /// The depth that all its bores have walls at, and that none of these depths of another bank's bores comes within so many mm of.
    fn alone(&self, others: &[Vec<f64>], within_mm: f64) -> Option<f64> {
        if others.is_empty() {
            return None;
        }
        let has =
            |depths: &[f64], at: f64, within: f64| depths.iter().any(|depth| (depth - at).abs() <= within);
        let customary = |at: f64| {
            let read = self.walls.iter().filter(|depths| has(depths, at, ONE_RING_MM)).count();
            Custom::Every.is_made(read, self.walls.len())
        };
        let there = |at: f64| others.iter().any(|depths| has(depths, at, within_mm));
        self.walls.first()?.iter().copied().find(|at| customary(*at) && !there(*at))
    }

    /// The depths of its rings, mm, each where it begins, of the bore that has most.
    fn rings(&self) -> Vec<f64> {
        let of = |depths: &Vec<f64>| -> Vec<f64> {
            let mut sorted = depths.clone();
            sorted.sort_by(f64::total_cmp);
            sorted.chunk_by(|a, b| b - a <= ONE_RING_MM).filter_map(|ring| ring.first().copied()).collect()
        };
        self.walls.iter().map(of).max_by_key(Vec::len).unwrap_or_default()
    }
}

/// The question about a bank that has fewer rings than another, and none where that one has one.
fn missing(asked: &Asked<'_>, own: &Read, banks: &[Read]) -> Option<Suspicion> {
    let more = banks.iter().filter(|other| other.bank != own.bank && other.rings().len() > own.rings().len());
    let (other, at) = more.filter_map(|other| Some((other, other.alone(&own.walls, ONE_RING_MM)?))).next()?;
    let bank = asked.job.bank(own.bank);
    Some(Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.name),
        found: say!(
            "no wall was read about {} deep, where every bore of bank {} was",
            mm(at, 1),
            plain(&asked.job.bank(other.bank).name, 40)
        ),
        likely: "a ring of readings left out, or its depth mistyped".into(),
        ask: say!("read the walls of bank {} there too", plain(&bank.name, 40)),
        evidence: figures([("depth", at)]),
        cylinders: bank.sites.iter().map(|s| s.cylinder).collect(),
    })
}

/// The question about two banks of as many rings, several, one of which lies far from all of the other bank's: it may be typed where
/// nothing is judged by it.
fn elsewhere(asked: &Asked<'_>, own: &Read, other: &Read) -> Option<Suspicion> {
    let rings = [own.rings(), other.rings()];
    if rings[0].len() != rings[1].len() || rings[0].len() < 2 {
        return None;
    }
    // A ring mistyped is missing where it belongs, and stands where none is.
    let at = own.alone(&other.looked, ELSEWHERE_MM)?;
    other.alone(&own.looked, ELSEWHERE_MM)?;
    let both = [own, other];
    let told = both.iter().zip(&rings).map(|(read, rings)| {
        let depths: Vec<Sentence> = rings.iter().map(|depth| say!("{}", mm(*depth, 0))).collect();
        say!("of bank {} at {}", plain(&asked.job.bank(read.bank).name, 40), Sentence::join(depths, ", "))
    });
    let cylinders = both.iter().flat_map(|read| &asked.job.bank(read.bank).sites).map(|site| site.cylinder);
    Some(Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::whole("walls"),
        found: say!("the walls of the banks were read at other depths, {}", Sentence::join(told, ", ")),
        likely: "the depth of a ring mistyped: nothing is judged by a wall that lies beside no register"
            .into(),
        ask: "at which depths were the walls of each bank read?".into(),
        evidence: figures([("depth", at)]),
        cylinders: cylinders.collect(),
    })
}
