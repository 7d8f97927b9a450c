//! What keeps hands and blocks whole, and who answers for the sheet.

use kurbo::{Point, Rect};

use super::Sheet;
use crate::paper::canvas::Align;
use crate::paper::pages::{INNER, LEFT, Pages};
use crate::paper::text::Weight;

/// One action each; no line that cannot be followed by a look or a hand.
const CAUTIONS: [(&str, &str); 6] = [
    (
        "Spindle and bar.",
        "Guards shut, sleeves and gloves off before it turns. A turning bar looks still: spindle off before a hand or a \
         gauge goes into the bore.",
    ),
    (
        "Lifting.",
        "Block on the hoist by rated points only; nobody under it. Clamps tight before the sling comes off.",
    ),
    (
        "Hot block.",
        "Heat-proof gloves and face shield at the oven. Mark it HOT. Carry the block once, to a place cleared beforehand.",
    ),
    (
        "Chilled sleeves.",
        "Dry cold-proof gloves, open doors: the gas drives out air. A sleeve that frosts over is dried before it goes in.",
    ),
    (
        "Dust and oil.",
        "Iron dust from the liner and the hone: extraction or a mask. Wipe oil off the floor and chips off the ledge at once.",
    ),
    (
        "Program.",
        "Prove the program above the work first, the tool clear of the deck, one row at a time; then with one hand on the stop.",
    ),
];

const NO_LICENCE: &str =
    "A limit here is no licence: the maker's data, local codes and a qualified machinist decide.";

impl Sheet<'_> {
    /// Draws it, on one page.
    pub(super) fn closing(&self, pages: &mut Pages) {
        pages.heading("Mind", 330.0);
        for (title, text) in CAUTIONS {
            let lines = pages.fonts.wrap(text, Weight::Plain, 10.5, INNER - 104.0, 4);
            let top = pages.y;
            pages.lines(&[title.to_owned()], LEFT, Weight::Bold, 10.5);
            pages.y = top;
            pages.lines(&lines, LEFT + 104.0, Weight::Plain, 10.5);
            pages.y += 4.0;
        }
        pages.boxed(NO_LICENCE, "", 2.0, 12.0);
        pages.heading("Signed", 50.0);
        sign_off(pages);
    }
}

/// Three boxes, tall enough for a signature.
fn sign_off(pages: &mut Pages) {
    let top = pages.y;
    let bottom = top + 46.0;
    let mut left = LEFT;
    for (label, share) in [("machinist", 0.38), ("shop lead", 0.38), ("date", 0.24)] {
        let right = left + share * INNER;
        pages.canvas.frame(Rect::new(left, top, right, bottom), 1.0);
        let at = Point::new(left + 4.0, top + 12.0);
        pages.canvas.text(pages.fonts, at, Align::Left, (Weight::Plain, 10.0), label);
        left = right;
    }
    pages.y = bottom + 4.0;
}
