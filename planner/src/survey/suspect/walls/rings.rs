//! Rings of walls, those at one depth: one that every bore of a bank has and no bore of the other, and one that is thicker than the others
//! by what the liner is.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::count;

/// Walls this near in depth are of one ring, mm: nobody reads on a rib or a pit. Common practice, no source.
const ONE_RING_MM: f64 = 12.0;

/// Bores that make a custom of a bank.
const BORES: usize = 2;

/// A ring is thicker by about the liner where it is within this of its wall, mm, and by so many times the others. Common practice, no
/// source.
const LINER_MM: f64 = 0.3;
const THICKER: f64 = 1.2;

/// Fewer walls make no ring that is told from others.
const FEWEST: usize = 4;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks: Vec<Read> = (0..asked.job.block.banks.len()).map(|bank| Read::of(asked, bank)).collect();
    let mut found: Vec<Suspicion> = banks.iter().filter_map(|own| missing(asked, own, &banks)).collect();
    found.extend(through_liner(asked));
    found
}

/// One ring of all bores that is thicker than every other by the wall of the liner: it may have been read through it.
fn through_liner(asked: &Asked<'_>) -> Option<Suspicion> {
    let liner = asked.job.block.parent.liner.as_ref()?;
    let wall_mm = (liner.outside_mm - liner.bore_mm) / 2.0;
    let walls = asked.job.set_ups.iter().flat_map(|s| &s.walls).filter(|w| w.surface == Surface::Parent);
    let mut read: Vec<(f64, f64, u32)> =
        walls.filter_map(|w| Some((w.depth_mm, w.wall_mm?, w.cylinder))).collect();
    read.sort_by(|a, b| a.0.total_cmp(&b.0));
    let several = |ring: &&[(f64, f64, u32)]| {
        ring.len() >= FEWEST && ring.iter().any(|wall| Some(wall.2) != ring.first().map(|first| first.2))
    };
    let rings: Vec<(f64, f64)> = read
        .chunk_by(|a, b| b.0 - a.0 <= ONE_RING_MM)
        .filter(several)
        .map(|ring| {
            let mean = |of: fn(&(f64, f64, u32)) -> f64| ring.iter().map(of).sum::<f64>() / count(ring.len());
            (mean(|w| w.0), mean(|w| w.1))
        })
        .collect();
    let others = |at: usize| rings.iter().enumerate().filter(move |(i, _)| *i != at).map(|(_, ring)| ring.1);
    let is_liner = |(at, ring): &(usize, &(f64, f64))| {
        let [least, most] = [others(*at).reduce(f64::min), others(*at).reduce(f64::max)];
        most.zip(least).is_some_and(|(most, least)| {
            ring.1 > THICKER * most
                && (ring.1 - most - wall_mm).abs().min((ring.1 - least - wall_mm).abs()) <= LINER_MM
        })
    };
    let (at, (depth, thick)) = rings.iter().enumerate().find(is_liner)?;
    let other = others(at).reduce(f64::max)?;
    Some(Suspicion {
        code: "wall_odd",
        verdict: Verdict::Hold,
        subject: Subject::whole("walls"),
        found: say!(
            "about {} deep they read {} in the mean, elsewhere {} at the most, and the liner's own wall is {}",
            mm(*depth, 1),
            mm(*thick, 2),
            mm(other, 2),
            mm(wall_mm, 2)
        ),
        likely: "that ring was read through the liner: the metal behind it would be thinner by as much"
            .into(),
        ask: "from which surface were the walls read there? Read one of them again with the liner out".into(),
        evidence: figures([("depth", *depth), ("mean", *thick), ("elsewhere", other), ("liner", wall_mm)]),
        cylinders: asked.job.block.cylinders(),
    })
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

    fn has(depths: &[f64], at: f64) -> bool {
        depths.iter().any(|depth| (depth - at).abs() <= ONE_RING_MM)
    }

    /// The depth that all its bores have walls at, and no bore of another; one of as many rings may have them elsewhere.
    fn alone(&self, other: &Self) -> Option<f64> {
        let first = self.by_bore.first().filter(|_| self.by_bore.len() >= BORES)?;
        let customary = |at: f64| self.by_bore.iter().all(|depths| Self::has(depths, at));
        let there = |at: f64| other.by_bore.iter().any(|depths| Self::has(depths, at));
        (other.rings() < self.rings())
            .then(|| first.iter().copied().find(|at| customary(*at) && !there(*at)))?
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
        code: "row_missing",
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
