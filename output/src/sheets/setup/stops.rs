//! Stops to measure: numbered as in the pass tables, with room to write what was found.

use borewright_planner::plan::sentence::Sentence;
use borewright_planner::plan::{Pass, Plan, Stage};
use kurbo::{Point, Rect};

use super::{Sheet, numbers};
use crate::paper::canvas::{Align, Dash};
use crate::paper::pages::{BODY, LEADING, LEFT, Pages, RIGHT};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::said::units::Units;

/// 30 mm wide and 9.5 mm high: what a pencil in a glove needs.
const BOX: (f64, f64) = (86.0, 27.0);
const ROW: f64 = 33.0;
/// From one box to the next: room for a cylinder's number before each.
const PITCH: f64 = 109.0;

/// One thing to measure, for all cylinders of a bank that share it.
#[derive(Debug, Clone)]
pub(crate) struct Stop<'a> {
    number: u32,
    stage: Stage,
    bank: &'a str,
    feature: &'a str,
    /// Two cuts of one feature can end in the same words; their diameters tell them apart.
    diameter: f64,
    text: &'a Sentence,
    cylinders: Vec<u32>,
}

/// The plan's stops in order, numbered as in the plan and its lists.
pub(crate) fn stops(plan: &Plan) -> Vec<Stop<'_>> {
    let mut stops: Vec<Stop> = Vec::new();
    for pass in &plan.passes {
        let Some(text) = pass.stop.as_ref() else { continue };
        match stops.iter_mut().find(|stop| stop.is_of(pass)) {
            Some(stop) if !stop.cylinders.contains(&pass.cylinder) => stop.cylinders.push(pass.cylinder),
            Some(_) => {}
            None => stops.push(Stop {
                // A plan without numbers is one of a test; they count on.
                number: pass.stop_number.unwrap_or_else(|| stops.last().map_or(0, |s| s.number) + 1),
                stage: pass.stage,
                bank: &pass.bank,
                feature: &pass.feature,
                diameter: pass.diameter,
                text,
                cylinders: vec![pass.cylinder],
            }),
        }
    }
    stops
}

impl Stop<'_> {
    /// Its number.
    pub(crate) fn number(&self) -> u32 {
        self.number
    }

    /// What to measure or mind.
    pub(crate) fn text(&self) -> &Sentence {
        self.text
    }

    /// The cylinders that share it.
    pub(crate) fn cylinders(&self) -> &[u32] {
        &self.cylinders
    }

    /// Whether a pass ends in this stop.
    pub(crate) fn is_of(&self, pass: &Pass) -> bool {
        pass.stop_number.is_none_or(|number| number == self.number)
            && self.stage == pass.stage
            && self.bank == pass.bank
            && self.feature == pass.feature
            && (self.diameter - pass.diameter).abs() < 0.0005
            && Some(self.text) == pass.stop.as_ref()
    }
}

impl Sheet<'_> {
    /// Draws them.
    pub(super) fn stops(&self, pages: &mut Pages) {
        let stops = stops(self.plan);
        if stops.is_empty() {
            return;
        }
        pages.heading("Stops: measure, write, then go on", 90.0);
        let words = "Write what was found, one box for each cylinder. A value outside what is asked goes to the shop lead.";
        pages.paragraph(words, Weight::Plain, BODY);
        for stop in &stops {
            stop.draw(pages, self.units);
        }
    }
}

impl Stop<'_> {
    fn draw(&self, pages: &mut Pages, units: Units) {
        let title = format!(
            "{}. {}, bank {}, {}",
            self.number,
            self.stage.word(),
            shorten(self.bank),
            shorten(self.feature)
        );
        let across = match self.cylinders.len() {
            few @ 1..=3 => few,
            4 => 2,
            _ => 3,
        };
        let first_box = RIGHT - (0..across).map(|_| PITCH).sum::<f64>();
        let width = first_box - LEFT;
        let titles = pages.fonts.wrap(&title, Weight::Bold, BODY, width, 4);
        let lines = pages.fonts.wrap(&units.say(self.text), Weight::Plain, BODY, width, 8);
        let words: f64 = titles.iter().chain(&lines).map(|_| BODY * LEADING).sum();
        let rows = self.cylinders.chunks(across);
        let boxes: f64 = rows.clone().map(|_| ROW).sum();
        let height = words.max(boxes) + 8.0;
        pages.need(height);
        let top = pages.y;
        pages.canvas.line(Point::new(LEFT, top), Point::new(RIGHT, top), 0.75, Dash::Solid);
        pages.y += 3.0;
        pages.lines(&titles, LEFT, Weight::Bold, BODY);
        pages.lines(&lines, LEFT, Weight::Plain, BODY);
        let mut y = top + 6.0;
        for row in rows {
            let mut right = first_box;
            for cylinder in row {
                right += PITCH;
                let frame = Rect::new(right - BOX.0, y, right, y + BOX.1);
                pages.canvas.frame(frame, 1.0);
                let at = Point::new(frame.x0 - 4.0, frame.center().y + 4.5);
                let style = (Weight::Bold, 12.0);
                pages.canvas.text(pages.fonts, at, Align::Right, style, &numbers(&[*cylinder]));
            }
            y += ROW;
        }
        pages.y = top + height;
    }
}
