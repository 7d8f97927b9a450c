//! Every picture of a survey, in the order of its sheet.

use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::report::SurveyReport;

use super::names::Names;
use super::{Figure, axis, budget, deck, polar, zone};
use crate::OutputError;
use crate::sheets::text::Fonts;
use crate::sheets::units::{Digits, Units};

/// A picture with the name of its file, without its ending.
#[derive(Debug, Clone)]
pub(crate) struct Picture {
    /// Its name.
    pub(crate) name: String,
    /// Itself.
    pub(crate) figure: Figure,
}

/// What pictures are made from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pictures<'a> {
    /// The job.
    pub(crate) job: &'a Job,
    /// Its survey.
    pub(crate) report: &'a SurveyReport,
    /// The faces.
    pub(crate) fonts: &'a Fonts,
}

/// Width of a picture that fills a page, mm.
pub(super) const WIDE_MM: f64 = 180.0;

impl Pictures<'_> {
    /// All of them; one that has nothing to show is left out.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(crate) fn all(&self) -> Result<Vec<Picture>, OutputError> {
        let mut names = Names::default();
        let mut pictures = Vec::new();
        let mut add = |name: &str, word: Option<&str>, figure: Option<Figure>| {
            if let Some(figure) = figure {
                pictures.push(Picture { name: names.of(name, word), figure });
            }
        };
        for (bank, layout) in self.job.block.banks.iter().enumerate() {
            add("deck", Some(&layout.name), deck::figure(self, bank)?);
            for line in self.report.axis_lines.iter().filter(|line| line.bank == bank) {
                add("journal-axis", Some(&line.set_up), axis::figure(self, line)?);
            }
        }
        for bore in self.report.profiles.chunk_by(|a, b| a.cylinder == b.cylinder) {
            for some in bore.chunks(polar::MOST) {
                let cylinder = some.first().map(|p| p.cylinder.to_string());
                add("roundness", cylinder.as_deref(), polar::figure(self, some)?);
            }
        }
        for one in &self.report.free_zone {
            add("free-zone", Some(&one.cylinder.to_string()), zone::figure(self, one)?);
        }
        add("fixture", None, budget::figure(self)?);
        Ok(pictures)
    }

    /// One unit on a picture: inches where the sheets are in inches, else millimetres.
    pub(super) fn units(&self) -> Units {
        Units(if self.job.sheet_units == SheetUnits::In { SheetUnits::In } else { SheetUnits::Mm })
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
