//! The words of a picture: drawn as the outlines of their glyphs, or typed for a document that has the faces.

use std::fmt::Write;
use std::sync::Arc;

use kurbo::Point;

use super::{escaped, number};
use crate::OutputError;
use crate::drawings::figure::{Figure, Shape};
use crate::paper::canvas::Align;
use crate::paper::text::{Fonts, Weight};

/// What glyphs are named by: one letter while there are any, then two; a bold one's name begins with a capital. A picture has
/// thousands of uses of some eighty glyphs.
const LETTERS: [&[u8; 26]; 2] = [b"abcdefghijklmnopqrstuvwxyz", b"ABCDEFGHIJKLMNOPQRSTUVWXYZ"];

/// How the words of a picture are written.
pub(super) enum Words<'a> {
    /// As outlines: each glyph once, by its name, and used where it stands.
    Drawn { fonts: &'a Fonts, glyphs: [Glyphs; 2] },
    /// As text.
    Typed,
}

/// The glyphs of one face that a picture uses.
#[derive(Default)]
pub(super) struct Glyphs {
    /// Name and outline of each that draws anything.
    outlines: Vec<(String, Arc<str>)>,
    /// Where each stands among those, from 1, by its number in the face; 0 of what draws nothing.
    places: Vec<usize>,
}

impl Glyphs {
    /// Those of the words in one face.
    ///
    /// # Errors
    /// Where the face cannot be read.
    fn of(figure: &Figure, fonts: &Fonts, face: Weight) -> Result<Self, OutputError> {
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
        let mut own = Self::default();
        for (glyph, outline) in fonts.face(face).outlines(&used)? {
            // A space draws nothing.
            if outline.is_empty() {
                continue;
            }
            let glyph = usize::from(glyph);
            own.places.resize(own.places.len().max(glyph + 1), 0);
            own.outlines.push((name(face, own.outlines.len()), outline));
            own.places[glyph] = own.outlines.len();
        }
        Ok(own)
    }

    /// The name of a glyph; `None` of one that draws nothing.
    fn name(&self, glyph: u16) -> Option<&str> {
        let place = self.places.get(usize::from(glyph))?.checked_sub(1)?;
        self.outlines.get(place).map(|(name, _)| name.as_str())
    }
}

/// The name of the glyph of a face that comes at this place.
fn name(face: Weight, place: usize) -> String {
    let letters = LETTERS[usize::from(face == Weight::Bold)];
    let letter = |at: usize| char::from(letters[at % letters.len()]);
    match place.checked_sub(letters.len()) {
        None => letter(place).to_string(),
        Some(beyond) => format!("{}{}", letter(beyond / letters.len()), letter(beyond)),
    }
}

impl<'a> Words<'a> {
    /// The outlines that the words of a figure need.
    ///
    /// # Errors
    /// Where a face cannot be read.
    pub(super) fn drawn(figure: &Figure, fonts: &'a Fonts) -> Result<Self, OutputError> {
        let [plain, bold] = [Weight::Plain, Weight::Bold].map(|face| Glyphs::of(figure, fonts, face));
        Ok(Self::Drawn { fonts, glyphs: [plain?, bold?] })
    }

    /// About how much text a figure comes to, bytes: a use a letter where they are drawn, and a line a shape.
    pub(super) fn reckoned(&self, figure: &Figure) -> usize {
        const LINE: usize = 160;
        const USE: usize = 27;
        let letters: usize = figure
            .shapes
            .iter()
            .map(|shape| if let Shape::Text { text, .. } = shape { text.len() } else { 0 })
            .sum();
        let lines = figure.shapes.len() * LINE;
        match self {
            Self::Typed => lines + letters,
            Self::Drawn { glyphs, .. } => {
                let outlines = glyphs.iter().flat_map(|face| &face.outlines);
                lines + letters * USE + outlines.map(|(_, data)| data.len() + 32).sum::<usize>()
            }
        }
    }

    /// Names each outline, in font units.
    pub(super) fn define(&self, made: &mut String) {
        let Self::Drawn { glyphs, .. } = self else { return };
        if glyphs.iter().all(|face| face.outlines.is_empty()) {
            return;
        }
        made.push_str("<defs>\n");
        for (name, data) in glyphs.iter().flat_map(|face| &face.outlines) {
            let _ = writeln!(made, "<path id=\"{name}\" d=\"{data}\"/>");
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
        let Self::Drawn { fonts, glyphs } = self else {
            let anchor = match align {
                Align::Left => "",
                Align::Middle => " text-anchor=\"middle\"",
                Align::Right => " text-anchor=\"end\"",
            };
            let bold = if weight == Weight::Bold { " font-weight=\"bold\"" } else { "" };
            let (x, y, size) = (number(at.x)?, number(at.y)?, number(size_mm)?);
            let text = escaped(text);
            let _ =
                writeln!(made, "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{anchor}{bold}>{text}</text>");
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
            "<g transform=\"translate({x} {y})scale({scale:.7} -{scale:.7})\" aria-label=\"{}\">",
            escaped(text)
        );
        let glyphs = &glyphs[usize::from(weight == Weight::Bold)];
        for (glyph, from) in face.line(text) {
            let Some(name) = glyphs.name(glyph) else { continue };
            made.push_str("<use href=\"#");
            made.push_str(name);
            if from > 0 {
                made.push_str("\" x=\"");
                made.push_str(itoa::Buffer::new().format(from));
            }
            made.push_str("\"/>");
        }
        made.push_str("</g>\n");
        Ok(())
    }
}
