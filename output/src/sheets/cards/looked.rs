//! The look at each bore after the last stone: what the eye goes over, one thing after the other, with a square to tick for each bore.

use kurbo::Point;

use super::area::{BODY, INDENT, RIGHT};
use super::boxes::tick;
use super::deal::Deal;
use super::flow::Block;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;

/// What is looked at, in the order of it. Common practice, no source.
const LOOKED_AT: [&str; 5] = [
    "crosshatch even, all over and both ways",
    "nowhere glazed",
    "nothing torn, scored or smeared",
    "chamfers of the bore's ends and ports whole, no burr",
    "washed and wiped until a white cloth stays white",
];
/// A row, its size, and from a bore's square to the next, pt.
const ROW: f64 = 16.0;
const PITCH: f64 = 34.0;
const TITLE: &str = "Look at each bore after the last stone, under a good light; tick what is right.";

/// What the look takes, pt.
pub(super) fn height(deal: &Deal<'_>) -> f64 {
    deal.step_height(TITLE, Weight::Bold) + LOOKED_AT.iter().map(|_| ROW).sum::<f64>() + ROW
}

/// Draws it for some bores.
pub(super) fn draw(deal: &mut Deal<'_>, cylinders: &[u32]) {
    let number = deal.mark();
    let small = LOOKED_AT.join("; ");
    deal.note(Block::Line { number, text: TITLE.to_owned(), small, figures: Vec::new() });
    deal.words(TITLE, INDENT, Weight::Bold, BODY + 0.5, RIGHT - INDENT);
    let wide: f64 = cylinders.iter().map(|_| PITCH).sum();
    let squares = RIGHT - wide;
    let mut left = squares;
    for cylinder in cylinders {
        let at = Point::new(left + 5.5, deal.y + 12.0);
        deal.put(at, Align::Middle, Weight::Bold, 12.0, &cylinder.to_string());
        left += PITCH;
    }
    deal.put(Point::new(squares - 12.0, deal.y + 12.0), Align::Right, Weight::Plain, 8.5, "cyl");
    deal.y += ROW;
    for words in LOOKED_AT {
        let base = deal.y + 10.5;
        let room = squares - INDENT - 8.0;
        deal.squeeze(Point::new(INDENT, base), Align::Left, (Weight::Plain, BODY), room, words);
        // Leads the eye to the squares.
        let wide = deal.fonts.width(words, Weight::Plain, BODY);
        let from = Point::new(INDENT + wide + 6.0, base - 2.5);
        deal.canvas.line(from, Point::new(squares - 6.0, base - 2.5), 0.4, Dash::Dashed);
        let mut left = squares;
        for _ in cylinders {
            tick(deal, Point::new(left, base));
            left += PITCH;
        }
        deal.y += ROW;
    }
}
