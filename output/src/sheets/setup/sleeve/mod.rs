//! The chosen sleeve: how it grips, goes in, seats and seals, and what that rests on.

mod fits;
mod going_in;
mod own;
mod rest;
mod seals;
mod seat;

use borewright_planner::job::{SheetUnits, Sleeve};
use borewright_planner::plan::SleeveFit;
use borewright_planner::plan::{SleeveChoice, Verdict};
use kurbo::Point;

use super::Sheet;
use crate::OutputError;
use crate::drawings::{self, HalfSection};
use crate::paper::pages::{BODY, INNER, LEFT, Pages};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;

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
        pages.turn();
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
        self.protrusion(pages, chosen)?;
        self.flats(pages, chosen)?;
        self.seat(pages, chosen)?;
        self.fire_ring(pages, chosen)?;
        self.o_rings(pages, chosen)?;
        self.stack(pages, chosen)?;
        sleeve_notes(pages, chosen);
        Ok(())
    }

    /// Draws the pocket as a half section, and its depths.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn half_section(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let Some(section) = HalfSection::of(&self.planning.job, self.plan, pages.fonts) else {
            return Ok(());
        };
        for (figure, first) in
            section.figures()?.iter().zip(std::iter::once(true).chain(std::iter::repeat(false)))
        {
            let height = drawings::height_pt(figure);
            if first {
                pages.turn();
                let name = self.plan.sleeves.iter().find(|s| s.chosen).map_or("", |s| s.sleeve.as_str());
                pages.heading(&format!("Pocket for sleeve {}, {}", shorten(name), self.units.name()), height);
            }
            pages.gap(8.0);
            pages.need(height);
            let left = LEFT + (INNER - drawings::width_pt(figure)) / 2.0;
            drawings::draw(&mut pages.canvas, pages.fonts, figure, Point::new(left, pages.y));
            pages.y += height;
        }
        Ok(())
    }

    /// The sizes that each bore gets where sleeves were measured one by one: wanted before the pockets are cut.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn own_pockets(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let Some(chosen) = self.chosen() else { return Ok(()) };
        self.assigned(pages, chosen)
    }

    /// A size in a cell: 0.001 mm.
    fn fine(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Fine)?.stacked())
    }

    /// The same with its sign.
    fn signed(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Fine)?.stacked_signed())
    }

    /// A size in a sentence.
    fn spoken(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Fine)?.spoken())
    }

    /// A temperature; an oven of an inch shop counts in Fahrenheit.
    pub(in crate::sheets) fn celsius(&self, celsius: f64) -> Result<String, OutputError> {
        let c = Fixed::new(celsius, 0)?;
        match self.units.0 {
            SheetUnits::Mm => Ok(format!("{c} °C")),
            SheetUnits::In | SheetUnits::Both => {
                Ok(format!("{c} °C ({} °F)", Fixed::new(celsius * 1.8 + 32.0, 0)?))
            }
        }
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
fn sleeve_notes(pages: &mut Pages, chosen: Chosen<'_>) {
    if chosen.choice.fit.notes.is_empty() {
        return;
    }
    pages.heading("What these figures rest on", 40.0);
    for note in &chosen.choice.fit.notes {
        pages.paragraph(&format!("– {note}"), Weight::Plain, BODY);
    }
}

#[cfg(test)]
mod tests;
