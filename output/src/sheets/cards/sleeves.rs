//! Sleeves that nobody measured before the plan: a row for each bore, with a box for the sleeve's number and for each size that
//! the table of measured sleeves asks for.

use borewright_planner::job::Sleeve;
use borewright_planner::plan::{Cylinder, Stage};
use kurbo::{Point, Rect};

use super::area::{BODY, INDENT, RIGHT};
use super::boxes::{CAPTION, HIGH, WIDE};
use super::deal::Deal;
use super::flow::{Block, ColumnHead};
use super::told::goes_on;
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// Before the boxes of a row: its cylinder.
const NUMBER: f64 = 28.0;
/// From a box to the next, and where a caption in both units is longer.
const PITCH: [f64; 2] = [WIDE + 8.0, WIDE + 26.0];
/// Below a row.
const BELOW: f64 = 4.0;
const TITLE: &str = "Sleeves, numbered and measured before the first pocket: which goes where";

impl Sheet<'_> {
    /// Whether the job has no table of the sleeves that go in.
    pub(super) fn is_unmeasured(&self) -> bool {
        self.planning.job.measured.is_empty()
    }

    /// Number and sizes of the sleeve of each bore.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn sleeves_measured(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let fitted = |n: u32| self.plan.passes.iter().any(|p| p.stage == Stage::Fit && p.cylinder == n);
        let own: Vec<(&Cylinder, &Sleeve)> = self
            .by_bank()
            .into_iter()
            .filter(|(_, cylinder)| fitted(cylinder.cylinder))
            .filter_map(|(_, cylinder)| Some((cylinder, self.sleeve(cylinder)?)))
            .collect();
        let Some((first, _)) = own.first() else { return Ok(()) };
        let words = format!(
            "One sleeve a row, each size the mean of its readings (sleeves_measured: thickness of the flange, outside of each step). Read \
             its number again before it goes in. Record: sleeve NUMBER for {}.",
            first.cylinder
        );
        let width = RIGHT - INDENT;
        let rows: Vec<(String, Vec<[String; 2]>)> = own
            .iter()
            .map(|(cylinder, sleeve)| Ok((cylinder.cylinder.to_string(), self.sizes(sleeve)?)))
            .collect::<Result<_, OutputError>>()?;
        let captions = rows.iter().flat_map(|(_, sizes)| sizes).flatten();
        let long = captions.map(|c| deal.fonts.width(c, Weight::Plain, CAPTION)).any(|w| w > WIDE + 2.0);
        let [usual, wider] = PITCH;
        let pitch = if long { wider } else { usual };
        let high =
            |row: &(String, Vec<[String; 2]>)| -> f64 { lines(&row.1, pitch).into_iter().map(|_| ROW).sum() };
        let above = deal.height(words.as_str(), Weight::Plain, BODY, width) + 20.0;
        deal.need(above + rows.iter().take(2).map(high).sum::<f64>());
        let number = deal.mark();
        deal.note(Block::Line { number, text: TITLE.to_owned(), small: words.clone(), figures: Vec::new() });
        deal.note(Block::Table {
            caption: TITLE.to_owned(),
            heads: vec![ColumnHead::plain("cyl"), ColumnHead::plain("sizes")],
            rows: rows
                .iter()
                .map(|(cylinder, sizes)| {
                    let told = sizes.iter().map(|parts| parts.join(" ").trim().to_owned());
                    vec![cylinder.clone(), told.collect::<Vec<_>>().join(" · ")]
                })
                .collect(),
        });
        deal.words(TITLE, INDENT, Weight::Bold, BODY + 1.0, width);
        deal.words(&words, INDENT, Weight::Plain, BODY, width);
        deal.y += 3.0;
        for (at, own) in rows.iter().enumerate() {
            // The last of several never goes over alone.
            let next = rows.get(at + 1).filter(|_| at > 0 && at + 2 == rows.len());
            deal.need(high(own) + next.map_or(0.0, high));
            if deal.is_fresh() {
                goes_on(deal, TITLE);
            }
            draw(deal, own, pitch);
        }
        deal.y += 3.0;
        Ok(())
    }

    /// What is measured of a sleeve, and what its drawing says.
    fn sizes(&self, sleeve: &Sleeve) -> Result<Vec<[String; 2]>, OutputError> {
        let fine = |mm: f64| -> Result<String, OutputError> {
            Ok(self.units.length(mm, Digits::Fine)?.stacked().replace('\n', " "))
        };
        let mut sizes = vec![["number".to_owned(), String::new()]];
        if let Some(flange) = sleeve.flange() {
            sizes.push(["thickness".to_owned(), fine(flange.thickness_mm)?]);
        }
        for step in &sleeve.body {
            sizes.push([shorten(&step.name), format!("Ø {}", fine(step.diameter_mm)?)]);
        }
        Ok(sizes)
    }
}

/// What a line of boxes takes, pt.
const ROW: f64 = 2.0 * CAPTION + 1.0 + HIGH + BELOW;

/// A bore's boxes in as many lines as they take.
fn lines(sizes: &[[String; 2]], pitch: f64) -> Vec<&[[String; 2]]> {
    let mut across = 1;
    let mut taken = NUMBER + 2.0 * pitch;
    while taken <= RIGHT - INDENT {
        across += 1;
        taken += pitch;
    }
    sizes.chunks(across).collect()
}

fn draw(deal: &mut Deal<'_>, (cylinder, sizes): &(String, Vec<[String; 2]>), pitch: f64) {
    for (at, own) in lines(sizes, pitch).into_iter().enumerate() {
        let top = deal.y + 2.0 * CAPTION + 1.0;
        if at == 0 {
            let base = Point::new(INDENT + NUMBER - 7.0, top + HIGH - 6.0);
            deal.put(base, Align::Right, Weight::Bold, 16.0, cylinder);
            deal.put(Point::new(base.x, base.y - 13.5), Align::Right, Weight::Plain, 7.5, "cyl");
        }
        let mut left = INDENT + NUMBER;
        for [name, drawing] in own {
            deal.canvas.frame(Rect::new(left, top, left + WIDE, top + HIGH), 1.0);
            let up = if drawing.is_empty() { 0.0 } else { CAPTION };
            for (words, up) in [(name, up), (drawing, 0.0)] {
                let at = Point::new(left, top - 2.0 - up);
                deal.squeeze(at, Align::Left, (Weight::Plain, CAPTION), pitch - 3.0, words);
            }
            left += pitch;
        }
        deal.y = top + HIGH + BELOW;
    }
}
