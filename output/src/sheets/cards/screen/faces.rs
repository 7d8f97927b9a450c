//! The faces that the document brings along: cut down to what its pictures say, within its own style.

use allsorts::subset::SubsetProfile;
use base64::prelude::{BASE64_STANDARD, Engine as _};

use super::super::flow::{Block, Card};
use crate::OutputError;
use crate::drawings::{Figure, Shape};
use crate::paper::text::{Fonts, Weight, characters};

/// What the style calls them.
const FAMILY: &str = "sheet";

/// The style with the faces in front of it.
///
/// # Errors
/// Where a face cannot be cut down.
pub(super) fn style(
    style: &str,
    fonts: &Fonts,
    (cards, pages): (&[Card], &[Figure]),
) -> Result<String, OutputError> {
    let in_cards = cards.iter().flat_map(|card| &card.blocks).filter_map(|block| match block {
        Block::Picture(figure) => Some(figure),
        _ => None,
    });
    let shapes: Vec<&Shape> = in_cards.chain(pages).flat_map(|figure| &figure.shapes).collect();
    let used = [(Weight::Plain, "normal"), (Weight::Bold, "bold")].map(|(face, word)| {
        let texts = shapes.iter().filter_map(|shape| match shape {
            Shape::Text { weight, text, .. } if *weight == face => Some(text.as_str()),
            _ => None,
        });
        (face, word, characters(texts))
    });
    let mut made = String::new();
    for (weight, word, own) in &used {
        let face = BASE64_STANDARD.encode(fonts.face(*weight).cut(own, &SubsetProfile::Minimal)?);
        made.push_str(&format!(
            "@font-face {{ font-family: {FAMILY}; font-weight: {word}; src: url(data:font/ttf;base64,{face}); }}\n"
        ));
    }
    Ok(made + style)
}
