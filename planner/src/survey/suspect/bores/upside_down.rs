//! Bores in the block's own metal that are worn at the wrong end: their circles were written down from the lower end up.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bore::FoundCircle;
use crate::survey::suspect::Code;

/// A bore wider by this in one circle than in another is worn, mm. Common practice, no source.
const WORN_MM: f64 = 0.10;

/// Rings wear a bore most within this share of its length from the deck, below the lip that they leave. Common practice, no source.
const RINGS: [f64; 2] = [0.05, 0.35];

/// Where a bore was read there, and shows no more than this share of its wear, its wear is not the rings'. Common practice, no source.
const LITTLE: f64 = 0.25;

/// A lowest circle wider than all others by more than this is a bore stepped or relieved at its end, mm. Common practice, no source.
const STEPPED_MM: f64 = 0.30;

/// Bores that wear alike; two may be scored. Common practice, no source.
const BORES: usize = 3;

/// All worn bores, where every one of them is worn below.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // Of a liner the lower end may be thin, and taper.
    if asked.job.block.parent.liner.is_some() {
        return Vec::new();
    }
    let worn: Vec<(u32, Worn)> =
        asked.job.block.cylinders().into_iter().filter_map(|n| Some((n, Worn::of(asked, n)?))).collect();
    let Some((_, first)) =
        worn.first().filter(|_| worn.len() >= BORES && worn.iter().all(|(_, w)| w.is_below))
    else {
        return Vec::new();
    };
    let cylinders: Vec<u32> = worn.iter().map(|(n, _)| *n).collect();
    vec![Suspicion {
        code: Code::DiameterOdd,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(cylinders.clone()),
        found: say!(
            "they are over {} wider {} deep than elsewhere, and not where the rings turn",
            mm(WORN_MM, 2),
            mm(first.widest_mm, 0)
        ),
        likely: "depths counted from the lower end, or diameters written down from there: a bore wears near the deck".into(),
        ask: "from which end were these bores read? Measure one of them again, near the deck and far down".into(),
        evidence: figures([("depth", first.widest_mm), ("length", asked.job.block.parent.bore_length_mm)]),
        cylinders: cylinders.into(),
    }]
}

/// A worn bore.
struct Worn {
    /// How deep it is widest, mm.
    widest_mm: f64,
    /// Whether that is where no rings turn, and it was read where they do.
    is_below: bool,
}

impl Worn {
    /// `None` of a bore that is as wide everywhere.
    fn of(asked: &Asked<'_>, cylinder: u32) -> Option<Self> {
        let length = asked.job.block.parent.bore_length_mm;
        let planned = |c: &&FoundCircle| c.cylinder == cylinder && c.planned;
        let circles = || asked.circles.iter().filter(planned);
        let widest = circles().max_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm))?;
        let least = circles().map(|c| c.diameter_mm).fold(widest.diameter_mm, f64::min);
        let worn = widest.diameter_mm - least;
        if worn <= WORN_MM + 1e-9 {
            return None;
        }
        let [from, to] = RINGS.map(|share| share * length);
        let mut rings = circles().filter(|c| (from..=to).contains(&c.depth_mm)).peekable();
        let unworn = rings.peek().is_some() && rings.all(|c| c.diameter_mm - least <= LITTLE * worn);
        let lowest = circles().all(|c| c.depth_mm <= widest.depth_mm);
        let is_below = widest.depth_mm > to && unworn && !(lowest && worn > STEPPED_MM);
        Some(Self { widest_mm: widest.depth_mm, is_below })
    }
}
