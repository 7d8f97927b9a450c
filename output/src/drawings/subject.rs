//! What the pictures of a survey are made from.

use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::report::SurveyReport;

use crate::OutputError;
use crate::paper::text::Fonts;
use crate::said::units::{Digits, Units};

/// What pictures are made from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Subject<'a> {
    /// The job.
    pub(crate) job: &'a Job,
    /// Its survey.
    pub(crate) report: &'a SurveyReport,
    /// The faces.
    pub(crate) fonts: &'a Fonts,
}

/// Width of a picture that fills a page, mm.
pub(super) const WIDE_MM: f64 = 180.0;

impl Subject<'_> {
    /// One unit on a picture: inches where the sheets are in inches, else millimetres.
    pub(super) fn units(&self) -> Units {
        Units::of(if self.job.sheet_units == SheetUnits::In { SheetUnits::In } else { SheetUnits::Mm })
    }

    /// A length without its unit.
    pub(super) fn length(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units().length(mm, Digits::Fine)?.stacked())
    }

    /// A length with its sign.
    pub(super) fn signed(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units().length(mm, Digits::Fine)?.stacked_signed())
    }

    /// A length with its unit.
    pub(super) fn spoken(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units().length(mm, Digits::Fine)?.spoken())
    }

    /// A depth with its unit.
    pub(super) fn depth(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units().length(mm, Digits::Depth)?.spoken())
    }
}
