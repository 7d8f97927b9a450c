//! Block or set-up: the same bores read twice, the block turned end for end between.
//!
//! Turned end for end each bank stands at the other's station. Across the machine what belongs to the block changes
//! its sign and what belongs to the set-up stays: m_R = b_R + f1, m_R' = -b_R + f2, m_L = b_L + f2, m_L' = -b_L +
//! f1 (common practice of reversal). Half the sum of a bank's two means is the set-up's part, half the difference
//! the block's, the two stations taken as alike.

use serde::Serialize;

use super::bore::FoundCircle;
use super::centres::centres;
use super::significance::{MEASURABLE, NO_CHANCE};
use crate::job::rounds::Round;
use crate::job::{Front, Job, ReadingFrame};
use crate::plan::sentence::{Sentence, mm, signed_mm};
use crate::say;
use borewright_geometry::sample::count;

/// The two banks' sums must agree within this, mm. Common practice, no source.
const CLOSES_MM: f64 = 0.02;

/// A set-up off by less than this is not worth loosening a clamp, mm. Common practice, no source.
const LEAST_MM: f64 = 0.010;

/// Thicknesses of ground shims a shop has, mm. Common practice, no source.
pub(super) const SHIMS_MM: f64 = 0.01;

/// A rail this far apart is shimmed, mm, where the job says nothing else. Common practice, no source.
pub(super) const RAIL_MM: f64 = 200.0;

/// Depths closer than this show no lean, mm.
const LEAST_LEVER_MM: f64 = 1.0;

/// What two readings of the same bores say.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reversal {
    /// Each bank's means in both ways round.
    pub banks: Vec<Reversed>,
    /// The difference of the two sums, mm, which a right pair of readings closes to nothing; `None` with one bank.
    pub closure: Option<f64>,
    /// What `closure` may be, mm.
    pub closes_within: f64,
    /// Whether it closes.
    pub closes: bool,
    /// The set-up's own part, across at the deck, mm.
    pub set_up: f64,
    /// Standard uncertainty of `set_up`, mm.
    pub set_up_u: f64,
    /// Standard uncertainty of each bank's part, mm.
    pub u: f64,
    /// What the depths say it is.
    pub kind: Lean,
    /// Turn of the set-up about the journal axis, degrees, where it is taken for a roll.
    pub roll: f64,
    /// Shim that takes a roll out, mm, rounded to what a shop has; 0 where none is asked for.
    pub shim: f64,
    /// The rail width that the shim is for, mm.
    pub rail: f64,
    /// Left across at the deck after the shim, mm.
    pub left: f64,
    /// Whose part is more than can be told from nothing.
    pub answer: Whose,
    /// What it comes to, a sentence each.
    pub text: Vec<Sentence>,
}

/// What a set-up's part across is, by how it goes with depth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Lean {
    /// A turn about the journal axis.
    Roll,
    /// The pick-up stands aside.
    Shift,
    /// The depths do not tell.
    Untold,
}

/// Whose part of what stands across is told from nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Whose {
    /// The set-up's.
    SetUp,
    /// The block's.
    Block,
    /// Of both.
    Both,
    /// Of neither.
    Neither,
    /// The rounds do not close: nobody's.
    NotClosed,
}

/// One bank's means across the machine at the deck, front at the left and front at the right.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reversed {
    /// The bank.
    pub bank: String,
    /// How many circles were read both ways round.
    pub circles: usize,
    /// Off true along the machine's Y at the deck, front at the operator's left, mm.
    pub front_left: f64,
    /// Off true along the machine's Y at the deck, front at the operator's right, mm.
    pub front_right: f64,
    /// What belongs to the block, along the bank's Y at the deck, mm, the index span taken as good.
    pub block: f64,
}

/// Values against depth: what a straight line makes of them.
pub(super) struct AtDeck {
    /// At the deck.
    pub(super) at_deck: f64,
    /// Per mm of depth; `None` with one depth.
    slope: Option<f64>,
    /// Standard uncertainties of both for values of uncertainty 1.
    pub(super) u_at_deck: f64,
    u_slope: f64,
}

impl AtDeck {
    /// The slope and its standard uncertainty for values of uncertainty 1; `None` with one depth.
    pub(super) fn slope(&self) -> Option<(f64, f64)> {
        self.slope.map(|slope| (slope, self.u_slope))
    }
}

/// The straight line through (depth, value), each value with uncertainty 1 (JCGM 100:2008, H.3).
pub(super) fn at_deck(rows: &[(f64, f64)]) -> AtDeck {
    let n = count(rows.len());
    let mean = |get: fn(&(f64, f64)) -> f64| rows.iter().map(get).sum::<f64>() / n;
    let (depth, value) = (mean(|r| r.0), mean(|r| r.1));
    let lever: f64 = rows.iter().map(|r| (r.0 - depth).powi(2)).sum();
    if lever < LEAST_LEVER_MM.powi(2) {
        return AtDeck { at_deck: value, slope: None, u_at_deck: n.sqrt().recip(), u_slope: 0.0 };
    }
    let slope = rows.iter().map(|r| (r.0 - depth) * r.1).sum::<f64>() / lever;
    AtDeck {
        at_deck: value - slope * depth,
        slope: Some(slope),
        u_at_deck: (1.0 / n + depth * depth / lever).sqrt(),
        u_slope: lever.sqrt().recip(),
    }
}

/// The set-up's part of one bank, and the block's.
struct Parts {
    reversed: Reversed,
    set_up: AtDeck,
}

/// The reversal, where every bank was read both ways round with circles in common.
pub(crate) fn reversal(job: &Job, circles: &[FoundCircle], rounds: &[Round]) -> Option<Reversal> {
    let banks = job.block.banks.len();
    let parts: Vec<Parts> =
        (0..banks).map(|bank| parts(job, circles, rounds, bank)).collect::<Option<_>>()?;
    let i = &job.instruments;
    // Each mean rests on its own pick-up of the axis; two of them are halved.
    let halved = std::f64::consts::FRAC_1_SQRT_2;
    let probe = parts.iter().map(|p| p.set_up.u_at_deck).fold(0.0, f64::max) * i.centre_mm;
    let u = i.axis_mm.hypot(probe) * halved;
    let n = count(banks);
    let set_up = parts.iter().map(|p| p.set_up.at_deck).sum::<f64>() / n;
    let set_up_u = u / n.sqrt();
    let closure = match parts.as_slice() {
        [one, other] => Some(2.0 * (one.set_up.at_deck - other.set_up.at_deck)),
        _ => None,
    };
    // The sums differ by twice the difference of the banks' parts; three of its u are allowed, so that a coarse
    // instrument raises no false alarm.
    let closes_within = CLOSES_MM.max(NO_CHANCE * 2.0 * std::f64::consts::SQRT_2 * u);
    let closes = closure.is_none_or(|c| c.abs() <= closes_within);
    let height = mean_height_mm(job);
    let kind = kind(&parts, i.centre_mm * halved, set_up, set_up_u, height);
    let measurable = set_up.abs() >= MEASURABLE * set_up_u;
    let shims = closes && measurable && kind != Lean::Shift;
    let shim = if shims { (set_up.abs() / height * RAIL_MM / SHIMS_MM).round() * SHIMS_MM } else { 0.0 };
    let block = parts.iter().any(|p| p.reversed.block.abs() >= MEASURABLE * u);
    let mut reversal = Reversal {
        banks: parts.into_iter().map(|p| p.reversed).collect(),
        closure,
        closes_within,
        closes,
        set_up,
        set_up_u,
        u,
        kind,
        roll: if kind == Lean::Shift { 0.0 } else { -(set_up / height).atan().to_degrees() },
        shim,
        rail: RAIL_MM,
        left: (set_up.abs() - shim / RAIL_MM * height).abs(),
        answer: match (closes, measurable, block) {
            (false, _, _) => Whose::NotClosed,
            (true, true, false) => Whose::SetUp,
            (true, false, true) => Whose::Block,
            (true, true, true) => Whose::Both,
            (true, false, false) => Whose::Neither,
        },
        text: Vec::new(),
    };
    reversal.text = sentences(job, &reversal, square_to_deck(job, rounds));
    Some(reversal)
}

/// Mean deck height of the banks, mm.
pub(super) fn mean_height_mm(job: &Job) -> f64 {
    job.block.banks.iter().map(|b| b.deck_height_mm).sum::<f64>() / count(job.block.banks.len())
}

/// Whether a set-up's own part is beyond measuring and worth loosening a clamp.
pub(super) fn set_up_is_off(r: &Reversal) -> bool {
    r.closes && r.set_up.abs() > LEAST_MM.max(NO_CHANCE * r.set_up_u)
}

/// A bank's displacement across, split at the deck into what stays with the machine and what turns with the block;
/// `None` where no circle was read both ways round.
fn parts(job: &Job, circles: &[FoundCircle], rounds: &[Round], bank: usize) -> Option<Parts> {
    let layout = job.bank(bank);
    let way = |way: Front| {
        let of_way =
            circles.iter().filter(|c| c.bank == bank && rounds.get(c.round).is_some_and(|r| r.way == way));
        centres(of_way)
    };
    let (left, right) = (way(Front::Left), way(Front::Right));
    let (mut ours, mut blocks) = (Vec::new(), Vec::new());
    for (key, at) in &left {
        let Some(turned) = right.get(key) else { continue };
        let [one, other] = [at[1], turned[1]].map(|y| y - layout.axis_offset_mm);
        let depth = f64::from_bits(key.1);
        // The bank's Y runs along the machine's with the front at the left, against it at the right.
        ours.push((depth, (one - other) / 2.0));
        blocks.push((depth, (one + other) / 2.0));
    }
    if ours.is_empty() {
        return None;
    }
    let (set_up, block) = (at_deck(&ours), at_deck(&blocks).at_deck);
    let reversed = Reversed {
        bank: layout.name.clone(),
        circles: ours.len(),
        front_left: block + set_up.at_deck,
        front_right: set_up.at_deck - block,
        block,
    };
    Some(Parts { reversed, set_up })
}

/// A roll about the journal axis grows with the height above it; a shift of the pick-up is the same at all depths.
fn kind(parts: &[Parts], value_u_mm: f64, set_up: f64, set_up_u: f64, height: f64) -> Lean {
    let slopes: Vec<f64> = parts.iter().filter_map(|p| p.set_up.slope).collect();
    if slopes.len() < parts.len() {
        return Lean::Untold;
    }
    let n = count(parts.len());
    let slope = slopes.iter().sum::<f64>() / n;
    let u = parts.iter().map(|p| (p.set_up.u_slope * value_u_mm).powi(2)).sum::<f64>().sqrt() / n;
    let shift = slope.abs() <= NO_CHANCE * u;
    let roll = (slope + set_up / height).abs() <= NO_CHANCE * u.hypot(set_up_u / height);
    match (roll, shift) {
        (true, false) => Lean::Roll,
        (false, true) => Lean::Shift,
        _ => Lean::Untold,
    }
}

/// Whether every round that was read is square to a deck that was read with it.
fn square_to_deck(job: &Job, rounds: &[Round]) -> bool {
    rounds
        .iter()
        .all(|r| matches!(&job.set_ups[r.set_up].frame, ReadingFrame::Machine(m) if !m.deck_mm.is_empty()))
}

/// The reversal in words: whether the two banks' sums close, then the set-up's part and each bank's own; nothing
/// after the first where they do not close.
fn sentences(job: &Job, r: &Reversal, square_to_deck: bool) -> Vec<Sentence> {
    let mut text = Vec::new();
    if !r.closes {
        text.push(say!(
            "the two banks' sums differ by {}, more than {}: a reading or a seat is wrong; read again before \
             believing either part",
            mm(r.closure.unwrap_or(0.0).abs(), 3),
            mm(r.closes_within, 3)
        ));
        return text;
    }
    match r.closure {
        Some(closure) => text.push(say!(
            "the two banks' sums close within {} ({} is allowed)",
            mm(closure.abs(), 3),
            mm(r.closes_within, 3)
        )),
        None => text.push("one bank: there is no second sum to close against".into()),
    }
    text.push(set_up_words(r));
    for bank in &r.banks {
        let measurable = bank.block.abs() >= MEASURABLE * r.u;
        text.push(say!(
            "bank {}: the block's own part is {} across at the deck (u {}){}",
            bank.bank,
            signed_mm(bank.block, 3),
            mm(r.u, 3),
            if measurable { "" } else { ", inside what can be measured: leave it" }
        ));
    }
    if square_to_deck {
        text.push(
            "all of it was read square to the decks: a roll of the set-up is in the squareness, not here"
                .into(),
        );
    }
    if job.block.banks.len() > 1 && job.index_span.is_none() {
        let warn = match r.banks.as_slice() {
            [one, other] if (one.block - other.block).abs() / 2.0 >= MEASURABLE * r.u => {
                "the banks' parts differ: "
            }
            _ => "",
        };
        text.push(say!(
            "{}turned end for end cannot tell the block's included angle from the index span of the fixture: \
             read the span (sine bar, or close the circle) before correcting an angle, and give it as \
             `index_span`",
            warn
        ));
    }
    text
}

/// The set-up's own part in words: true within measuring, a shift of the pick-up, or a roll with the shim that
/// mends it.
fn set_up_words(r: &Reversal) -> Sentence {
    if r.set_up.abs() < MEASURABLE * r.set_up_u {
        return say!(
            "the set-up is true within what can be measured ({}, u {})",
            signed_mm(r.set_up, 3),
            mm(r.set_up_u, 3)
        );
    }
    if r.kind == Lean::Shift {
        return say!(
            "the set-up is off {} across (u {}), the same at all depths: not the block and no roll, but the \
             pick-up of the journal axis; turn the mandrel half round and the spindle half round and sweep \
             again; a shim mends nothing here",
            signed_mm(r.set_up, 3),
            mm(r.set_up_u, 3)
        );
    }
    let side = if r.set_up > 0.0 { "+Y" } else { "-Y" };
    let sure = if r.kind == Lean::Roll { "" } else { " taken for a roll, which these depths cannot prove;" };
    say!(
        "the set-up is off {} across at the deck ({:.4} degrees about the journal axis, u {}): not the \
             block;{} shim {} under the rail on the {} side, {} apart; do not cut this as a correction; \
             {} is left after the shim",
        signed_mm(r.set_up, 3),
        r.roll.abs(),
        mm(r.set_up_u, 3),
        sure,
        mm(r.shim, 2),
        side,
        mm(r.rail, 0),
        mm(r.left, 3)
    )
}
