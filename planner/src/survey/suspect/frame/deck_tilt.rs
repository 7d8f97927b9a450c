//! A bank whose bores all lean and stand off as if turned about the journal axis, where the frame was levelled on
//! the deck: the deck's tilt, or the bores' own.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::reversal::at_deck;
use crate::survey::significance::NO_CHANCE;
use borewright_geometry::sample::count;

/// A bank off by less than this is not asked about, mm. Common practice, no source.
const LEAST_MM: f64 = 0.02;

/// A tilt is told over this length, mm: what a shop says a deck's cross slope over.
const TOLD_OVER_MM: f64 = 150.0;

/// The question to a set-up whose bores lean and stand off as one turn about the journal axis makes them; `None`
/// where it was not levelled on the deck, or the turn is within what can be measured.
pub(super) fn tilt(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> Option<Suspicion> {
    // Only a frame that was levelled on the deck is turned by the deck.
    if !matches!(&set_up.frame, ReadingFrame::Machine(m) if !m.deck_mm.is_empty()) {
        return None;
    }
    let layout = asked.job.bank(set_up.bank);
    let own: Vec<_> = asked.circles.iter().filter(|c| c.set_up == index && c.planned).collect();
    let off: Vec<(f64, f64)> =
        own.iter().map(|c| (c.depth_mm, c.centre_mm[1] - layout.axis_offset_mm)).collect();
    let cylinders = asked.readings.cylinders(index);
    if cylinders.len() < 2 || off.is_empty() {
        return None;
    }
    let line = at_deck(&off);
    let (slope, u_slope) = line.slope()?;
    let left: Vec<f64> = off.iter().map(|(depth, y)| y - line.at_deck - slope * depth).collect();
    // The scatter of single bores about the common line counts for the place, that of their own leans for the lean.
    // All circles of a bore share one such error, however many there are.
    let mut of_bore: BTreeMap<u32, (f64, usize)> = BTreeMap::new();
    for (c, l) in own.iter().zip(&left) {
        let (sum, circles) = of_bore.entry(c.cylinder).or_default();
        (*sum, *circles) = (*sum + l, *circles + 1);
    }
    let mean_of = |cylinder: u32| of_bore.get(&cylinder).map_or(0.0, |(sum, circles)| sum / count(*circles));
    let within = own.iter().zip(&left).map(|(c, l)| (l - mean_of(c.cylinder)).powi(2)).sum::<f64>();
    let (n, bores) = (count(off.len()), count(cylinders.len()));
    let centre = asked.job.instruments.centre_mm;
    let scatter = |squares: f64, freedom: f64| (squares / freedom.max(1.0)).sqrt().max(centre);
    let shared = (n / bores).sqrt();
    let one = scatter(left.iter().map(|l| l * l).sum(), n - 2.0) * shared;
    let u_across = asked.job.instruments.axis_mm.hypot(one * line.u_at_deck);
    let u_slope = scatter(within, n - bores - 1.0) * shared * u_slope;
    let height = layout.deck_height_mm;
    let turned = (slope + line.at_deck / height).abs() <= NO_CHANCE * u_slope.hypot(u_across / height);
    let told = line.at_deck.abs() > LEAST_MM.max(NO_CHANCE * u_across) && slope.abs() > NO_CHANCE * u_slope;
    if !(turned && told) {
        return None;
    }
    let over = slope.abs() * TOLD_OVER_MM;
    Some(Suspicion {
            code: Code::DeckTilted,
            // A note only: a maker's fixture that was turned leaves the same picture, and that is what the shop is
            // there to correct.
            verdict: Verdict::Go,
            subject: Subject::set_up(&set_up.name),
            found: say!(
                "all bores of bank {} lean {} over {} against the deck and stand {} off across at it, as one turn about \
                 the journal axis makes them",
                layout.name,
                mm(over, 3),
                mm(TOLD_OVER_MM, 0),
                mm(line.at_deck.abs(), 3)
            ),
            likely: "a deck cut out of square across, on which the whole bank was levelled, or bores that were bored so".into(),
            ask: "which of the two? Level the block on its pan rail, or read the deck's height over the journal axis at both edges: set up on a \
                  tilted deck the whole bank is bored off by as much"
                .into(),
            evidence: figures([("across_at_deck", line.at_deck), ("lean_over_150", slope * TOLD_OVER_MM), ("u", u_across)]),
            cylinders: cylinders.into(),
        })
}
