//! The words of a picture: drawn as the outlines of their glyphs, or typed for a document that has the faces.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::Arc;

use kurbo::Point;

use super::{escaped, number};
use crate::OutputError;
use crate::drawings::figure::{Figure, Shape};
use crate::paper::canvas::Align;
use crate::paper::text::{Fonts, Weight};

/// The faces with the letter that their glyphs' names begin with.
const FACES: [(Weight, char); 2] = [(Weight::Plain, 'p'), (Weight::Bold, 'b')];

/// How the words of a picture are written.
pub(super) enum Words<'a> {
    /// As outlines: each glyph once, by its name, and used where it stands.
    Drawn { fonts: &'a Fonts, outlines: [BTreeMap<u16, Arc<str>>; 2] },
    /// As text.
    Typed,
}

impl<'a> Words<'a> {
    /// The outlines that the words of a figure need.
    ///
    /// # Errors
    /// Where a face cannot be read.
    pub(super) fn drawn(figure: &Figure, fonts: &'a Fonts) -> Result<Self, OutputError> {
        let mut outlines: [BTreeMap<u16, Arc<str>>; 2] = Default::default();
        for ((face, _), outlines) in FACES.into_iter().zip(&mut outlines) {
            let mut used = Vec::new();
            for shape in &figure.shapes {
                if let Shape::Text { weight, text, .. } = shape
                    && *weight == face
                {
                    used.extend(fonts.face(face).line(text).into_iter().map(|(glyph, _)| glyph));
                }
            }
            used.sort_unstable();
            used.dedup();
            *outlines = fonts.face(face).outlines(&used)?;
            // A space draws nothing.
            outlines.retain(|_, data| !data.is_empty());
        }
        Ok(Self::Drawn { fonts, outlines })
    }

    /// Names each outline, in font units.
    pub(super) fn define(&self, made: &mut String) {
        let Self::Drawn { outlines, .. } = self else { return };
        if outlines.iter().all(BTreeMap::is_empty) {
            return;
        }
        made.push_str("<defs>\n");
        for ((_, letter), outlines) in FACES.into_iter().zip(outlines) {
            for (glyph, data) in outlines {
                let _ = writeln!(made, "<path id=\"{letter}{glyph}\" d=\"{data}\"/>");
            }
        }
        made.push_str("</defs>\n");
    }

    /// Writes a text on its baseline, its size in mm.
    ///
    /// # Errors
    /// Where its place is none.
    pub(super) fn write(
        &self,
        made: &mut String,
        at: Point,
        align: Align,
        (weight, size_mm): (Weight, f64),
        text: &str,
    ) -> Result<(), OutputError> {
        let Self::Drawn { fonts, outlines } = self else {
            let anchor = match align {
                Align::Left => "",
                Align::Middle => " text-anchor=\"middle\"",
                Align::Right => " text-anchor=\"end\"",
            };
            let bold = if weight == Weight::Bold { " font-weight=\"bold\"" } else { "" };
            let (x, y, size) = (number(at.x)?, number(at.y)?, number(size_mm)?);
            let text = escaped(text);
            let _ = writeln!(
                made,
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{anchor}{bold} fill=\"#000\">{text}</text>"
            );
            return Ok(());
        };
        let width = fonts.width(text, weight, size_mm);
        let left = match align {
            Align::Left => at.x,
            Align::Middle => at.x - width / 2.0,
            Align::Right => at.x - width,
        };
        let (x, y) = (number(left)?, number(at.y)?);
        let face = fonts.face(weight);
        // Seven places: a line of 5000 units ends within a thousandth of a mm.
        let scale = size_mm / face.units_per_em();
        let _ = write!(
            made,
            "<g fill=\"#000\" transform=\"translate({x} {y})scale({scale:.7} -{scale:.7})\" aria-label=\"{}\">",
            escaped(text)
        );
        let named = FACES.into_iter().zip(outlines).find(|((face, _), _)| *face == weight);
        let Some(((_, letter), outlines)) = named else { return Err(OutputError::Drawing) };
        for (glyph, from) in face.line(text) {
            if outlines.contains_key(&glyph) {
                made.push_str("<use href=\"#");
                made.push(letter);
                made.push_str(itoa::Buffer::new().format(glyph));
                if from > 0 {
                    made.push_str("\" x=\"");
                    made.push_str(itoa::Buffer::new().format(from));
                }
                made.push_str("\"/>");
            }
        }
        made.push_str("</g>\n");
        Ok(())
    }
}
