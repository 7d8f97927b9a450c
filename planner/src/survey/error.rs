//! Why a checked job gives neither survey nor plan.

use super::SurveyError;

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
