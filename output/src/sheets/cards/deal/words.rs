//! What is said on a card: paragraphs, headings, frames, numbered lines, and where the machine stops.

use kurbo::{Point, Rect};

use super::Deal;
use super::leading::USUAL;
use crate::paper::canvas::{Align, Dash};
use crate::paper::polished::polished;
use crate::paper::text::Weight;
use crate::sheets::cards::area::{BODY, INDENT, INNER, LEFT, RIGHT};
use crate::sheets::cards::flow::Block;

/// Width of the words where the machine stops, pt.
const STOP_WIDTH: f64 = RIGHT - LEFT - 140.0;

impl Deal<'_> {
    /// The number of the next line in the order of work.
    pub(in crate::sheets::cards) fn number(&mut self) -> u32 {
        self.line += 1;
        self.line
    }

    /// One text where it is put.
    pub(in crate::sheets::cards) fn put(
        &mut self,
        at: Point,
        align: Align,
        weight: Weight,
        size: f64,
        text: &str,
    ) {
        self.canvas.text(self.fonts, at, align, (weight, size), &polished(text));
    }

    /// A text made smaller until it fits a width; in the end it is broken, never cut.
    pub(in crate::sheets::cards) fn squeeze(
        &mut self,
        at: Point,
        align: Align,
        (weight, size): (Weight, f64),
        width: f64,
        text: &str,
    ) {
        let text = self.fonts.clean(&polished(text));
        let wide = self.fonts.width(&text, weight, size);
        let size = if wide > width { (size * width / wide).max(6.5) } else { size };
        let text = self.fonts.fit(&text, weight, size, width);
        self.canvas.text(self.fonts, at, align, (weight, size), &text);
    }

    /// Height of a text in a width.
    pub(in crate::sheets::cards) fn height(&self, text: &str, weight: Weight, size: f64, width: f64) -> f64 {
        let lines = self.fonts.wrap(&polished(text), weight, size, width, 14);
        lines.iter().map(|_| size * self.leading.of_size).sum()
    }

    /// A text in lines from a left edge, at the present height.
    pub(in crate::sheets::cards) fn words(
        &mut self,
        text: &str,
        left: f64,
        weight: Weight,
        size: f64,
        width: f64,
    ) {
        for line in self.fonts.wrap(&polished(text), weight, size, width, 14) {
            self.y += size * self.leading.of_size;
            let at = Point::new(left, self.y - size * (self.leading.of_size - 1.0));
            self.canvas.text(self.fonts, at, Align::Left, (weight, size), &line);
        }
    }

    /// A paragraph over the whole width.
    pub(in crate::sheets::cards) fn say(&mut self, text: &str, weight: Weight, size: f64) {
        self.say_on_paper(text, weight, size);
        self.note(Block::Say { text: text.to_owned(), bold: weight == Weight::Bold });
    }

    /// One that a screen has no need of.
    pub(in crate::sheets::cards) fn say_on_paper(&mut self, text: &str, weight: Weight, size: f64) {
        let height = self.height(text, weight, size, INNER);
        self.need(height);
        self.words(text, LEFT, weight, size, INNER);
        self.y += self.leading.say;
    }

    /// A heading that stays with at least so much of what follows.
    pub(in crate::sheets::cards) fn heading(&mut self, text: &str, following: f64) {
        self.need(24.0 + following);
        self.note(Block::Heading(text.to_owned()));
        let [above, below] = self.leading.heading;
        self.y += above;
        self.words(text, LEFT, Weight::Bold, 13.0, INNER);
        // Clear of what hangs below the line.
        self.y += 13.0 * (USUAL.of_size - self.leading.of_size);
        self.canvas.line(Point::new(LEFT, self.y), Point::new(RIGHT, self.y), 0.75, Dash::Solid);
        self.y += below;
    }

    /// What a heading of one line takes, pt.
    pub(in crate::sheets::cards) fn heading_height(&self) -> f64 {
        self.leading.heading.iter().sum::<f64>() + 13.0 * USUAL.of_size
    }

    /// A caution or the state, in a frame.
    pub(in crate::sheets::cards) fn boxed(&mut self, title: &str, text: &str, weight: f64, size: f64) {
        let inner = INNER - 20.0;
        let titles = self.height(title, Weight::Bold, size, inner);
        let body = if text.is_empty() { 0.0 } else { self.height(text, Weight::Plain, BODY, inner) };
        let [around, below] = self.leading.boxed;
        let height = titles + body + around;
        self.need(height + 5.0);
        let (named, more) = (title.to_owned(), text.to_owned());
        self.note(Block::Boxed { title: named, text: more, strong: weight >= 3.0 });
        let top = self.y;
        self.y += around / 2.0 - 1.0;
        self.words(title, LEFT + 10.0, Weight::Bold, size, inner);
        if !text.is_empty() {
            self.words(text, LEFT + 10.0, Weight::Plain, BODY, inner);
        }
        self.y = top + height;
        self.canvas.frame(Rect::new(LEFT + 1.0, top, RIGHT - 1.0, self.y), weight);
        self.y += below;
    }

    /// A line of the order of work with its number at the left edge.
    pub(in crate::sheets::cards) fn step(&mut self, text: &str, weight: Weight) {
        self.step_in(text, weight, RIGHT - INDENT);
    }

    /// What such a line takes, pt.
    pub(in crate::sheets::cards) fn step_height(&self, text: &str, weight: Weight) -> f64 {
        self.height(text, weight, BODY + 0.5, RIGHT - INDENT) + self.leading.step
    }

    /// Deals a step with its mark in a column of a width, pt.
    pub(in crate::sheets::cards) fn step_in(&mut self, text: &str, weight: Weight, width: f64) {
        self.step_as(text, text, weight, width);
    }

    /// The same, with other words on a screen.
    pub(in crate::sheets::cards) fn step_as(&mut self, text: &str, screen: &str, weight: Weight, width: f64) {
        let height = self.height(text, weight, BODY + 0.5, width);
        self.need(height + 6.0);
        let number = self.mark();
        self.note(Block::Line { number, text: screen.to_owned(), small: String::new(), figures: Vec::new() });
        self.words(text, INDENT, weight, BODY + 0.5, width);
        self.y += self.leading.step;
    }

    /// The number of the next line at the left edge, at the present height.
    pub(in crate::sheets::cards) fn mark(&mut self) -> u32 {
        let number = self.number();
        self.block = self.part.or(Some((self.canvas.marks.len(), self.y)));
        let at = Point::new(LEFT + 18.0, self.y + 12.0);
        self.squeeze(at, Align::Right, (Weight::Bold, 13.0), 18.0, &number.to_string());
        number
    }

    /// Ends the card where the machine stops.
    pub(in crate::sheets::cards) fn stop(&mut self, words: &str) {
        self.note(Block::Stop(words.to_owned()));
        let high = self.stop_height(words);
        self.need_with_last(high + 4.0);
        let top = self.y + 2.0;
        self.canvas.frame(Rect::new(LEFT + 1.0, top, RIGHT - 1.0, top + high), 2.0);
        self.y = top + 3.0;
        self.words(words, LEFT + 8.0, Weight::Bold, BODY, STOP_WIDTH);
        let signed = Point::new(RIGHT - 122.0, top + high - 8.0);
        self.put(signed, Align::Left, Weight::Plain, 9.0, "done by ______________");
        self.y = top + high + 3.0;
    }

    /// What the frame of such words takes, pt.
    pub(in crate::sheets::cards) fn stop_height(&self, words: &str) -> f64 {
        self.height(words, Weight::Bold, BODY, STOP_WIDTH).max(24.0) + 10.0
    }
}
