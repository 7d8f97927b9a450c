//! Moves as data: what a coordinate list says, before it is written in any words.
//!
//! X and Y run along the machine's own axes, zero at the foot of the along datum on the journal axis;
//! Z is up from the deck. Numbers here are in mm, already rounded to what is printed, once, so that sums,
//! words and CSV agree; in a list in inches each is a whole number of 0.0001 in.

use super::sentence::Sentence;
use super::stage::Took;
use super::worked::Figure;
use super::{ByHand, ListUnits, Release, Stage, Verdict};

/// What kind of row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MoveKind {
    /// Rapid (G0).
    Rapid,
    /// Straight at feed (G1).
    Feed,
    /// Circle clockwise (G2).
    Clockwise,
    /// Circle anticlockwise (G3).
    Anticlockwise,
    /// Spindle on (M3, S).
    SpindleOn,
    /// Spindle off (M5).
    SpindleOff,
    /// Stop and wait (M0).
    Stop,
    /// End of the list (M30).
    End,
}

impl MoveKind {
    /// The kind of move as the CSV's `move` column has it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rapid => "rapid",
            Self::Feed => "feed",
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
            Self::SpindleOn => "spindle on",
            Self::SpindleOff => "spindle off",
            Self::Stop => "stop",
            Self::End => "end",
        }
    }
}

/// One row of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// The cylinder it belongs to; `None` where it belongs to none.
    pub cylinder: Option<u32>,
    /// The pass (its step number); `None` outside a pass.
    pub pass: Option<u32>,
    /// What it does.
    pub kind: MoveKind,
    /// Target, mm; a coordinate left out does not move.
    pub x_mm: Option<f64>,
    /// Target, mm.
    pub y_mm: Option<f64>,
    /// Target, mm.
    pub z_mm: Option<f64>,
    /// Circle centre from the start, mm.
    pub i_mm: Option<f64>,
    /// Circle centre from the start, mm.
    pub j_mm: Option<f64>,
    /// Feed, mm/min.
    pub feed_mm_per_min: Option<f64>,
    /// Spindle speed, 1/min.
    pub rpm: Option<f64>,
    /// What to know at this row.
    pub note: Sentence,
}

impl Move {
    /// A row of a kind that tells nothing else yet.
    #[must_use]
    pub fn of(kind: MoveKind) -> Self {
        Self {
            cylinder: None,
            pass: None,
            kind,
            x_mm: None,
            y_mm: None,
            z_mm: None,
            i_mm: None,
            j_mm: None,
            feed_mm_per_min: None,
            rpm: None,
            note: Sentence::new(),
        }
    }
}

/// One of the three places that must read right before the first chip.
#[derive(Debug, Clone, PartialEq)]
pub struct Touch {
    /// What to touch or pick up, in words.
    pub what: Sentence,
    /// The cylinder, where it is one's.
    pub cylinder: Option<u32>,
    /// Expected X, mm.
    pub x_mm: Option<f64>,
    /// Expected Y, mm.
    pub y_mm: Option<f64>,
    /// Expected Z, mm.
    pub z_mm: Option<f64>,
    /// How far off it may be, mm.
    pub within_mm: f64,
    /// What X, Y and Z are worked from, those that are told.
    pub worked: Vec<Figure>,
}

/// The head of a list that stays as it was issued.
#[derive(Debug, Clone, PartialEq)]
pub struct Issued {
    /// The fingerprint of that plan.
    pub fingerprint: String,
    /// Its verdict.
    pub verdict: Verdict,
    /// Its release.
    pub release: Option<Release>,
}

/// A list before it is written: one bank, one stage.
#[derive(Debug, Clone, PartialEq)]
pub struct MoveList {
    /// What its passes take in feed.
    pub minutes: Vec<Took>,
    /// Number in the order of work (10, 20, ...).
    pub number: u32,
    /// The stage.
    pub stage: Stage,
    /// The bank's name.
    pub bank: String,
    /// The cylinders it cuts.
    pub cylinders: Vec<u32>,
    /// The plan that it was issued with first, where nothing of it has changed since.
    pub issued: Option<Issued>,
    /// Header lines: datum, where zero stands in the machine, sign map, tools.
    pub header: Vec<Sentence>,
    /// What a hand measures on the block first; the header has it too.
    pub by_hand: Vec<ByHand>,
    /// Number of the touch check among what is measured, as the record has it.
    pub check: Option<u32>,
    /// The three-number touch check.
    pub touch: Vec<Touch>,
    /// What it is in; its figures here are in mm, whole steps of what is printed.
    pub units: ListUnits,
    /// The rows.
    pub moves: Vec<Move>,
}

/// A cut that goes on by more than this below a stop was stopped on its way, mm.
const DEEPER_MM: f64 = 1.0;

impl MoveList {
    /// Sums of every X and every Y printed, mm, for checking a typed copy.
    #[must_use]
    pub fn sums_mm(&self) -> [f64; 2] {
        let sum = |get: fn(&Move) -> Option<f64>| self.moves.iter().filter_map(get).sum();
        [sum(|m| m.x_mm), sum(|m| m.y_mm)]
    }

    /// Whether the list stops for a look at a bore of a step before that goes to depth.
    #[must_use]
    pub fn is_tried_first(&self, step: u32, cylinder: u32) -> bool {
        let own = self.moves.iter().filter(|m| m.pass == Some(step) && m.cylinder == Some(cylinder));
        let (mut lowest, mut stopped_at) = (f64::INFINITY, None);
        for row in own {
            if row.kind == MoveKind::Stop && lowest.is_finite() {
                stopped_at.get_or_insert(lowest);
            }
            lowest = lowest.min(row.z_mm.filter(|_| row.kind == MoveKind::Feed).unwrap_or(lowest));
        }
        stopped_at.is_some_and(|at| lowest < at - DEEPER_MM)
    }
}
