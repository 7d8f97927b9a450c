//! The survey and the positions that a plan was decided from, kept for its drawings.

use super::Planning;
use crate::place::Positions;
use crate::report::{self, SurveyReport};
use crate::survey::Survey;

/// The readings as surveyed, and the bores in their planned places.
#[derive(Debug, Clone)]
pub struct Seen {
    pub(crate) survey: Survey,
    pub(crate) positions: Positions,
}

impl Planning {
    /// What the readings say, with the free zones about the centres as they are planned; `None` of a planning made
    /// by hand.
    #[must_use]
    pub fn surveyed(&self) -> Option<SurveyReport> {
        self.seen.as_ref().map(|seen| report::of(&self.job, &seen.survey, Some(&seen.positions)))
    }
}
