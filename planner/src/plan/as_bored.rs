//! The pattern in which the bores as they came stand against their true positions.

use serde::Serialize;

use super::Xy;

/// One rigid motion of the whole pattern.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AsBored {
    /// Shift in the block frame, mm.
    pub shift: Xyz,
    /// Turn in the block frame, degrees.
    pub turn: Turn,
    /// Directions that the readings cannot tell.
    pub undetermined: Vec<&'static str>,
    /// What the motion leaves, root of the mean square, mm.
    pub residual_rms: f64,
    /// Fisher's F; `None` where nothing is left over to compare with.
    pub f: Option<f64>,
    /// Its tail probability.
    pub p: Option<f64>,
    /// What the displacements look like.
    pub pattern: Pattern,
}

/// Three components.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Xyz {
    /// Along the journal axis, mm.
    pub x: f64,
    /// To the engine's right, mm.
    pub y: f64,
    /// Up, mm.
    pub z: f64,
}

/// A small turn about X, Y, Z, degrees.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Turn {
    /// About X.
    pub roll: f64,
    /// About Y.
    pub pitch: f64,
    /// About Z.
    pub yaw: f64,
}

/// What the displacements of the bores look like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pattern {
    /// Not told apart from measuring scatter.
    WithinMeasuring,
    /// One motion of all: the way a fixture error looks.
    Together,
    /// No one motion explains them.
    EachItsOwn,
}

/// The pattern in one bank's plane.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BankPattern {
    /// The bank's name.
    pub bank: String,
    /// Its angle, degrees.
    pub angle: f64,
    /// Mean displacement, mm.
    pub shift: Xy,
    /// Turn in the bank's plane, degrees.
    pub rotation: f64,
    /// What shift and turn leave, root of the mean square, mm.
    pub residual_rms: f64,
}
