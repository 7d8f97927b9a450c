//! Errors by which a checked job gives neither survey nor plan.

use borewright_geometry::{CircleError, ZoneError};

use super::SurveyError;

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
