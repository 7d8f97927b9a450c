//! The area of a card: what prints alike on A4 and Letter, and where its lines start.

pub(super) use crate::paper::pages::{BODY, INNER, LEFT, LOWER as BOTTOM, RIGHT, UPPER as TOP};

/// Where lines start: numbers of the order of work stand left of it.
pub(super) const INDENT: f64 = LEFT + 30.0;
/// Figures that are dialled, pt.
pub(super) const DIALLED: f64 = 14.0;
