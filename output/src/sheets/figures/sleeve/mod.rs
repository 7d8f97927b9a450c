//! The chosen sleeve: how it grips, goes in, seats and seals, and what that rests on.

mod fits;
mod going_in;
mod own;
mod rest;
mod seals;
mod seat;

use borewright_planner::job::Sleeve;
use borewright_planner::plan::SleeveFit;
use borewright_planner::plan::{SleeveChoice, Verdict};

use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{one_line, shorten};
use crate::said::units::{Digits, Units};
use crate::sheets::sheet::Sheet;

/// The chosen sleeve as described and as it fits.
#[derive(Clone, Copy)]
struct Chosen<'a> {
    sleeve: &'a Sleeve,
    choice: &'a SleeveChoice,
}

impl Sheet<'_> {
    /// The chosen sleeve; `None` where the plan says nothing of how it fits.
    fn chosen(&self) -> Option<Chosen<'_>> {
        let choice = self.plan.sleeves.iter().find(|s| s.chosen && s.fit != SleeveFit::default())?;
        let sleeve = self.planning.job.sleeves.iter().find(|s| s.name == choice.sleeve)?;
        Some(Chosen { sleeve, choice })
    }

    /// Draws the pages of the sleeve.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn sleeve_pages(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let Some(chosen) = self.chosen() else { return Ok(()) };
        pages.bookmark("Sleeve");
        pages.heading(&format!("Sleeve {}", shorten(&chosen.sleeve.name)), 120.0);
        let kind = match chosen.sleeve.kind {
            borewright_planner::job::SleeveKind::Wet => "wet",
            borewright_planner::job::SleeveKind::Dry => "dry",
        };
        let words = format!(
            "{}: {kind}, {}; {}.",
            chosen.choice.verdict.word().to_uppercase(),
            one_line(&chosen.sleeve.material.name, 40),
            one_line(&self.units.say(&chosen.choice.why), 400)
        );
        let weight = if chosen.choice.verdict == Verdict::Go { Weight::Plain } else { Weight::Bold };
        pages.paragraph(&words, weight, BODY + 0.5);
        self.sleeve_limits(pages, chosen)?;
        self.fits(pages, chosen)?;
        self.going_in(pages, chosen)?;
        self.assigned(pages, chosen)?;
        self.protrusion(pages, chosen)?;
        self.flats(pages, chosen)?;
        self.seat(pages, chosen)?;
        self.fire_ring(pages, chosen)?;
        self.o_rings(pages, chosen)?;
        self.stack(pages, chosen)?;
        sleeve_notes(pages, self.units, chosen);
        Ok(())
    }

    /// A size in a cell: 0.001 mm.
    fn fine(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Fine)?.stacked())
    }

    /// A difference in a cell: 0.001 mm, always with its sign.
    fn signed(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Fine)?.stacked_signed())
    }

    /// A size in a sentence.
    fn spoken(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Fine)?.spoken())
    }
}

/// Whole newtons, MPa to a tenth, shares as they are: plain decimals.
fn decimal(value: f64, decimals: usize) -> Result<String, OutputError> {
    Ok(Fixed::new(value, decimals)?.to_string())
}

/// A share as a percentage.
fn percent(share: f64) -> Result<String, OutputError> {
    decimal(share * 100.0, 0)
}

/// A value where there is one, a dash otherwise.
fn maybe<T>(
    value: Option<T>,
    text: impl FnOnce(T) -> Result<String, OutputError>,
) -> Result<String, OutputError> {
    value.map_or_else(|| Ok("–".to_owned()), text)
}

/// What the figures rest on.
fn sleeve_notes(pages: &mut Pages, units: Units, chosen: Chosen<'_>) {
    if chosen.choice.fit.notes.is_empty() {
        return;
    }
    pages.heading("What these figures rest on", 40.0);
    for note in &chosen.choice.fit.notes {
        pages.paragraph(&format!("– {}", units.say(note)), Weight::Plain, BODY - 1.0);
    }
}

#[cfg(test)]
mod tests;
