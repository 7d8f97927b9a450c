//! Errors by which a checked job gives neither survey nor plan.

use borewright_geometry::{CircleError, ZoneError};

/// Why readings of the mains tell no journal axis.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(super) enum AxisError {
    /// Points of a housing that make no circle.
    #[error("main `{main}`: {why}")]
    Housing {
        /// The main, as a message has it.
        main: String,
        /// What is wrong with them.
        why: CircleError,
    },
    /// Centres that no line lies among.
    #[error(transparent)]
    Line(#[from] ZoneError),
}

/// Why readings cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SurveyError {
    /// Readings of one set-up that make no axis, plane or frame.
    #[error("{file}set-up `{set_up}`: {what}: found {found}, expected {expected}")]
    SetUp {
        /// The table's file followed by a colon and a space; empty where it is not known.
        file: String,
        /// The set-up's name.
        set_up: String,
        /// Which readings.
        what: &'static str,
        /// What was found.
        found: String,
        /// What is expected.
        expected: String,
    },
    /// Points that make no circle.
    #[error(
        "{at}cylinder {cylinder}, depth {depth_mm} mm: found {found}, expected three points or more on a circle"
    )]
    Circle {
        /// File and line of its first point followed by a colon and a space; empty where they are not known.
        at: String,
        /// The cylinder.
        cylinder: u32,
        /// The depth, mm.
        depth_mm: f64,
        /// What was found.
        found: String,
    },
    /// A wall measured from a surface of which nothing else is known.
    #[error(
        "{at}cylinder {cylinder}: found a wall measured from the {surface}, expected a circle read on that surface too"
    )]
    Wall {
        /// File and line of the first such wall followed by a colon and a space; empty where they are not known.
        at: String,
        /// The cylinder.
        cylinder: u32,
        /// The surface.
        surface: &'static str,
    },
    /// The motion of the pattern could not be fitted.
    #[error("the pattern of the bores: {0}")]
    Pattern(String),
}

/// Why a checked job gives no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// Readings that cannot be used.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Readings(Vec<SurveyError>),
    /// No bore was measured, or no sleeve named.
    #[error(
        "found no bore measured, expected at least one: a plan made from nothing measured would only repeat the drawing"
    )]
    NothingMeasured,
}
