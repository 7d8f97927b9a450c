//! Rings of walls, those at one depth: one that every bore of a bank has and no bore of the other.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;

/// Walls this near in depth are of one ring, mm: nobody reads on a rib or a pit. Common practice, no source.
const ONE_RING_MM: f64 = 12.0;

/// A bank of as many rings may have each of them this far from the other's, mm. Common practice, no source.
const ELSEWHERE_MM: f64 = 25.0;

/// Bores that make a custom of a bank.
const BORES: usize = 2;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks: Vec<Read> = (0..asked.job.block.banks.len()).map(|bank| Read::of(asked, bank)).collect();
    banks.iter().filter_map(|own| missing(asked, own, &banks)).collect()
}

/// The depths at which the bores of a bank have walls, mm.
struct Read {
    bank: usize,
    by_bore: Vec<Vec<f64>>,
}

impl Read {
    fn of(asked: &Asked<'_>, bank: usize) -> Self {
        let walls = || asked.job.set_ups.iter().filter(|s| s.bank == bank).flat_map(|s| &s.walls);
        let of = |cylinder: u32| -> Vec<f64> {
            let own = walls().filter(|w| w.cylinder == cylinder && w.wall_mm.is_some());
            own.map(|w| w.depth_mm).collect()
        };
        let by_bore = asked.job.bank(bank).sites.iter().map(|site| of(site.cylinder));
        Self { bank, by_bore: by_bore.filter(|depths| !depths.is_empty()).collect() }
    }

    fn has(depths: &[f64], at: f64, within_mm: f64) -> bool {
        depths.iter().any(|depth| (depth - at).abs() <= within_mm)
    }

    /// The depth that all its bores have walls at, and no bore of another; one of as many rings may have them a little elsewhere.
    fn alone(&self, other: &Self) -> Option<f64> {
        if self.by_bore.len() < BORES {
            return None;
        }
        let within_mm = if other.rings() >= self.rings() { ELSEWHERE_MM } else { ONE_RING_MM };
        let customary = |at: f64| self.by_bore.iter().all(|depths| Self::has(depths, at, ONE_RING_MM));
        let there = |at: f64| other.by_bore.iter().any(|depths| Self::has(depths, at, within_mm));
        self.by_bore.first()?.iter().copied().find(|at| customary(*at) && !there(*at))
    }

    /// How many rings its bores have at the most.
    fn rings(&self) -> usize {
        let of = |depths: &Vec<f64>| {
            let mut sorted = depths.clone();
            sorted.sort_by(f64::total_cmp);
            sorted.chunk_by(|a, b| b - a <= ONE_RING_MM).count()
        };
        self.by_bore.iter().map(of).max().unwrap_or(0)
    }
}

/// The question about a bank that has walls, and none where another has them; `None` where there is nothing to ask.
fn missing(asked: &Asked<'_>, own: &Read, banks: &[Read]) -> Option<Suspicion> {
    if own.by_bore.is_empty() {
        return None;
    }
    let others = banks.iter().filter(|other| other.bank != own.bank);
    let (other, at) = others.filter_map(|other| Some((other, other.alone(own)?))).next()?;
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
