//! Boxes: to write in, with a line of the work where no check asks; to ring one of two words in; to tick.

use kurbo::{Point, Rect};

use super::area::{BODY, INDENT, RIGHT};
use super::deal::Deal;
use super::flow::Block;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;

/// Six figures of a pencil in a glove, 21 by 8.5 mm.
pub(super) const WIDE: f64 = 60.0;
pub(super) const HIGH: f64 = 24.0;
/// Between two boxes.
const GAP: f64 = 6.0;
/// Size of a caption, which is what each of its lines takes.
pub(super) const CAPTION: f64 = 8.5;
/// Below boxes that stand below their line.
const BELOW: f64 = 5.0;
/// Size of a line's words.
const SIZE: f64 = BODY + 0.5;

/// A line of the work with boxes.
pub(super) struct Asking<'t> {
    /// Its words.
    text: &'t str,
    /// Their weight.
    weight: Weight,
    /// From the lines' left edge, pt.
    width: f64,
    /// What stands above each box; a line break parts it.
    boxes: Vec<String>,
    /// Width of a box, pt.
    wide: f64,
}

impl<'t> Asking<'t> {
    /// Over the whole width, with boxes of the usual one.
    pub(super) fn of(text: &'t str, weight: Weight, boxes: Vec<String>) -> Self {
        Self { text, weight, width: RIGHT - INDENT, boxes, wide: WIDE }
    }

    /// What its boxes take beside its words, where they stand there.
    fn beside(&self) -> Option<f64> {
        let wide: f64 = self.boxes.iter().map(|_| self.wide + GAP).sum();
        (self.boxes.len() <= 2 && wide <= 0.35 * self.width).then_some(wide + 4.0)
    }

    /// Room of its words.
    fn words_wide(&self) -> f64 {
        self.width - self.beside().unwrap_or_default()
    }

    /// Its boxes in rows.
    fn rows(&self) -> Vec<&[String]> {
        let mut across = 1;
        let mut taken = 2.0 * self.wide + GAP;
        while taken <= self.width {
            across += 1;
            taken += self.wide + GAP;
        }
        self.boxes.chunks(across).collect()
    }

    /// What it takes, pt.
    pub(super) fn height(&self, deal: &Deal<'_>) -> f64 {
        let words = deal.height(self.text, self.weight, SIZE, self.words_wide()) + 4.0;
        if self.beside().is_some() {
            return words.max(captions(&self.boxes) + HIGH + 4.0);
        }
        words + self.rows().into_iter().map(|row| captions(row) + HIGH + BELOW).sum::<f64>()
    }

    /// Deals it.
    pub(super) fn draw(self, deal: &mut Deal<'_>) {
        deal.need(self.height(deal) + 2.0);
        let number = deal.mark();
        let text = self.text.to_owned();
        deal.note(Block::Line { number, text, small: String::new(), figures: Vec::new() });
        let top = deal.y;
        deal.words(self.text, INDENT, self.weight, SIZE, self.words_wide());
        deal.y += 4.0;
        if let Some(wide) = self.beside() {
            row(deal, (INDENT + self.width - wide + 4.0 + GAP, top), &self.boxes, self.wide);
            deal.y = deal.y.max(top + captions(&self.boxes) + HIGH + 4.0);
            return;
        }
        for own in self.rows() {
            let top = deal.y;
            row(deal, (INDENT, top), own, self.wide);
            deal.y = top + captions(own) + HIGH + BELOW;
        }
    }
}

/// What boxes beside a line take, pt.
pub(super) fn strip_high(boxes: &[String]) -> f64 {
    captions(boxes) + HIGH + BELOW
}

/// Boxes at the right edge, from a height on.
pub(super) fn beside(deal: &mut Deal<'_>, top: f64, boxes: &[String]) {
    let wide: f64 = boxes.iter().map(|_| WIDE + GAP).sum();
    row(deal, (RIGHT - wide + GAP, top), boxes, WIDE);
}

/// Boxes below the words of lines before them, with their captions.
pub(super) fn strip(deal: &mut Deal<'_>, boxes: &[String], wide: f64) {
    let high = strip_high(boxes);
    deal.need(high);
    let top = deal.y;
    row(deal, (INDENT, top), boxes, wide);
    deal.y = top + high;
}

/// What the captions of a row take, pt.
fn captions(row: &[String]) -> f64 {
    let lines = row.iter().map(|caption| caption.lines().map(|_| CAPTION).sum::<f64>());
    lines.fold(0.0, f64::max) + 1.0
}

/// Boxes beside each other, each with its caption on it.
fn row(deal: &mut Deal<'_>, (mut left, top): (f64, f64), boxes: &[String], wide: f64) {
    let high = captions(boxes);
    for caption in boxes {
        let frame = Rect::new(left, top + high, left + wide, top + high + HIGH);
        deal.canvas.frame(frame, 1.0);
        let mut y = frame.y0 - 2.0 - caption.lines().skip(1).map(|_| CAPTION).sum::<f64>();
        for line in caption.lines() {
            deal.squeeze(Point::new(left, y), Align::Left, (Weight::Plain, CAPTION), wide + GAP - 3.0, line);
            y += CAPTION;
        }
        left += wide + GAP;
    }
}

/// What a look is answered with.
pub(super) const LOOK: [&str; 2] = ["yes", "no"];

/// Parts a box in two, one for each answer.
pub(super) fn either(deal: &mut Deal<'_>, frame: Rect, words: [&str; 2]) {
    let middle = frame.center().x;
    deal.canvas.line(Point::new(middle, frame.y0), Point::new(middle, frame.y1), 0.75, Dash::Solid);
    for (x, word) in [frame.x0 + 3.0, middle + 3.0].into_iter().zip(words) {
        deal.put(Point::new(x, frame.y0 + 9.0), Align::Left, Weight::Plain, 8.5, word);
    }
}

/// A small square to tick.
pub(super) fn tick(deal: &mut Deal<'_>, at: Point) {
    deal.canvas.frame(Rect::new(at.x, at.y - 9.0, at.x + 11.0, at.y + 2.0), 0.8);
}
