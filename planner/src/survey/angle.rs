//! The included angle: the block's own error and the index's, told apart by a reading of the span.
//!
//! With the banks' described angle A, the block's own A + c, and an index that turns S from one bank up to the
//! other, each bank stands H (c + A - S) / 2 outwards at the deck height H, whatever the set-up's roll and whichever
//! way round: how the bores stand tells c + A - S only, and S must be read.

use serde::Serialize;

use super::bore::FoundCircle;
use super::reversal::{Reversal, at_deck, mean_height_mm};
use super::significance::MEASURABLE;
use crate::job::rounds::Round;
use crate::job::{Job, ReadingFrame, Surface};
use crate::plan::sentence::{Sentence, before_mm};
use crate::say;
use borewright_geometry::sample::count;

/// What the two banks say of the angle between them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct IncludedAngle {
    /// The angle that the block describes, degrees.
    pub described: f64,
    /// How far each bank stands outwards at the deck, half the difference of both, mm.
    pub outwards: f64,
    /// Standard uncertainty of it, mm.
    pub outwards_u: f64,
    /// The block's error less the index's, degrees: positive where the bores stand open.
    pub as_read: Degrees,
    /// The index's error, degrees, where the span was read: positive where it turns too far.
    pub index: Option<Degrees>,
    /// The block's own error, degrees, where the span was read or the index does not enter.
    pub block: Option<Degrees>,
    /// The included angle in words.
    pub text: Sentence,
}

/// An angle with its standard uncertainty, degrees.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Degrees {
    /// The angle.
    pub degrees: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

impl Degrees {
    fn measurable(self) -> bool {
        self.degrees.abs() >= MEASURABLE * self.u
    }
}

/// The included angle of a block with two banks, both read.
pub(crate) fn included_angle(
    job: &Job,
    circles: &[FoundCircle],
    rounds: &[Round],
    reversal: Option<&Reversal>,
) -> Option<IncludedAngle> {
    let [one, other] = job.block.banks.as_slice() else { return None };
    let described = (one.angle_deg - other.angle_deg).abs();
    let across: Vec<(f64, f64)> = match reversal.filter(|r| r.closes) {
        // Both ways round are better than one, and the set-up's roll is out of them.
        Some(r) => r.banks.iter().map(|b| (b.block, r.u)).collect(),
        None => (0..2).map(|bank| across(job, circles, bank)).collect::<Option<_>>()?,
    };
    let [(first, first_u), (second, second_u)] = across.as_slice() else { return None };
    // +Y of the bank that leans to the right is outwards, of the other towards the valley.
    let right_less_left = if one.angle_deg < other.angle_deg { second - first } else { first - second };
    let outwards = right_less_left / 2.0;
    let outwards_u = first_u.hypot(*second_u) / 2.0;
    let height = mean_height_mm(job);
    let as_read = Degrees {
        degrees: 2.0 * (outwards / height).atan().to_degrees(),
        u: 2.0 * (outwards_u / height).to_degrees(),
    };
    let index = job.index_span.map(|span| Degrees { degrees: span.angle_deg - described, u: span.u_deg });
    let block = if square_to_decks(job, rounds) {
        Some(as_read)
    } else {
        index.map(|index| Degrees { degrees: as_read.degrees + index.degrees, u: as_read.u.hypot(index.u) })
    };
    let mut angle =
        IncludedAngle { described, outwards, outwards_u, as_read, index, block, text: String::new().into() };
    angle.text = words(&angle, square_to_decks(job, rounds));
    Some(angle)
}

/// Mean off true across at the deck of a bank's bores as they came, and its uncertainty.
fn across(job: &Job, circles: &[FoundCircle], bank: usize) -> Option<(f64, f64)> {
    let layout = job.bank(bank);
    let came_on = |c: &FoundCircle| {
        let liner =
            circles.iter().any(|o| o.planned && o.cylinder == c.cylinder && o.surface == Surface::Liner);
        c.planned && (c.surface == Surface::Liner || !liner)
    };
    let of_bank = circles.iter().filter(|c| c.bank == bank && came_on(c));
    let rows: Vec<(f64, f64)> =
        of_bank.map(|c| (c.depth_mm, c.centre_mm[1] - layout.axis_offset_mm)).collect();
    if rows.is_empty() {
        return None;
    }
    // Bores scatter by themselves: what the straight line leaves counts where it is more than the probe's.
    let line = at_deck(&rows);
    let n = count(rows.len());
    let mean = rows.iter().map(|r| r.1).sum::<f64>() / n;
    let own = (rows.iter().map(|r| (r.1 - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0)).sqrt();
    Some((line.at_deck, job.instruments.axis_mm.hypot(job.instruments.centre_mm.max(own) * line.u_at_deck)))
}

/// Whether the planned rounds were read square to decks of their own: no index enters then.
fn square_to_decks(job: &Job, rounds: &[Round]) -> bool {
    (0..job.block.banks.len()).all(|bank| {
        rounds.iter().find(|r| r.bank == bank).is_some_and(
            |r| matches!(&job.set_ups[r.set_up].frame, ReadingFrame::Machine(m) if !m.deck_mm.is_empty()),
        )
    })
}

/// The included angle in words: split into block and index where the span was read, else what of the two together
/// the bores tell.
fn words(a: &IncludedAngle, square_to_decks: bool) -> Sentence {
    let open = |d: f64| if d > 0.0 { "open" } else { "closed" };
    let figure = |d: Degrees| say!("{:.4} degrees {} (u {:.4})", d.degrees.abs(), open(d.degrees), d.u);
    if square_to_decks {
        let leave = if a.as_read.measurable() { "" } else { ": inside what can be measured" };
        return say!(
            "read square to the decks, the bores stand {} against them{}; the index does not enter, and the \
             angle between the decks themselves is not read here",
            figure(a.as_read),
            leave
        );
    }
    let (Some(index), Some(block)) = (a.index, a.block) else {
        if !a.as_read.measurable() {
            return say!(
                "the included angle and the index span agree within what can be measured ({}); an error of both \
             alike is not seen",
                figure(a.as_read)
            );
        }
        return say!(
            "each bank stands {} {} at the deck: an included angle {}, or an index that turns so much too \
             {}; a reading of the index span (`index_span`) settles which",
            before_mm(a.outwards.abs(), 3),
            if a.outwards > 0.0 { "outwards" } else { "inwards" },
            figure(a.as_read),
            if a.as_read.degrees > 0.0 { "short" } else { "far" }
        );
    };
    let turns = if index.measurable() {
        say!(
            "turns {:.4} degrees too {} (u {:.4})",
            index.degrees.abs(),
            if index.degrees > 0.0 { "far" } else { "short" },
            index.u
        )
    } else {
        say!("is true within what can be measured ({:+.4}, u {:.4})", index.degrees, index.u)
    };
    let own = if block.measurable() {
        say!("the block's included angle is {}", figure(block))
    } else {
        say!(
            "the block's included angle is true within what can be measured ({:+.4}, u {:.4})",
            block.degrees,
            block.u
        )
    };
    say!("by the span read the index {}; {}", turns, own)
}
