//! The fit of a candidate sleeve in plain figures, as the plan states them.

mod assigned;
mod flat_pair;
mod going_in;
mod holding;
mod limit;
mod o_ring;
mod protrusion;
mod register;
mod ring_seat;
mod rounded;
mod seat;
mod stack;
mod unjudged;
mod wall;

use serde::Serialize;

use crate::plan::sentence::Sentence;

pub use assigned::{Assigned, OwnPocket};
pub use flat_pair::FlatPair;
pub use going_in::{Gap, GoingIn};
pub use holding::Holding;
pub use limit::SleeveLimit;
pub use o_ring::{ORingFit, Squeeze};
pub use protrusion::{DeckTilt, Protrusion};
pub use register::{Hoop, Interference, Register, Running};
pub use ring_seat::RingSeat;
pub use seat::Seat;
pub use stack::{Clearance, Stack};
pub use unjudged::Unjudged;
pub use wall::{WallFrom, WallLeft};

/// How a candidate sleeve fits, at the places planned with it. mm, degrees Celsius, N, MPa.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct SleeveFit {
    /// Its dry steps, each in its pocket.
    pub registers: Vec<Register>,
    /// How it goes in.
    pub going_in: GoingIn,
    /// Its ledge.
    pub seat: Seat,
    /// Its O-rings.
    pub o_rings: Vec<ORingFit>,
    /// Flange above the deck; `None` of a plain sleeve.
    pub protrusion: Option<Protrusion>,
    /// What holds a plain sleeve along its bore; `None` of one with a flange.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub holding: Option<Holding>,
    /// The fire ring on its flange, where the block has one.
    pub fire_ring: Vec<RingSeat>,
    /// Flats of neighbouring flanges, where it has them.
    pub flats: Vec<FlatPair>,
    /// Which measured sleeve goes where, where enough were measured.
    pub assigned: Vec<Assigned>,
    /// Piston against its length, where the job describes one.
    pub stack: Option<Stack>,
    /// What the job limits.
    pub sleeve_limits: Vec<SleeveLimit>,
    /// What it was not judged for; its notes tell it too.
    #[serde(skip)]
    pub unjudged: Vec<Unjudged>,
    /// What it rests on that nobody has verified, and what a reader should know.
    pub notes: Vec<Sentence>,
    /// How many of the notes, from the first, only say where figures come from.
    #[serde(skip)]
    pub of_figures: usize,
}
