//! A face cut down to what sheets usually say. What is made of a face, its cut-down copies and its outlines, is made from this
//! one where it has all that is asked: to open the whole one costs as much as all the rest of it, and its outlines alone fill
//! half a megabyte.

use allsorts::subset::SubsetProfile;
use allsorts::tag;

use super::font_file::cut;
use crate::OutputError;

/// Signs of the sheets beyond Latin-1.
const SIGNS: &str = "−–—‘’“”„…•→←↑↓↔↕↺↻≤≥≈≠√∅Δπστμφ⌀□■▢☐☑✓✗✔✘▲▼◀▶△▽⊕⊗½¼¾′″";

/// What copies of a face are made with: the tables that a sheet and a page take in.
const TABLES: [u32; 11] = [
    tag::CMAP,
    tag::CVT,
    tag::FPGM,
    tag::HEAD,
    tag::HHEA,
    tag::HMTX,
    tag::MAXP,
    tag::NAME,
    tag::OS_2,
    tag::POST,
    tag::PREP,
];

/// What sheets usually say: what ASCII and Latin-1 print, and the signs of the trade.
pub(super) fn characters() -> impl Iterator<Item = char> {
    (' '..='~').chain('\u{a0}'..='\u{ff}').chain(SIGNS.chars())
}

/// The cut-down face.
#[derive(Debug, Default)]
pub(super) struct Usual {
    bytes: Vec<u8>,
    /// The glyphs of the whole face that it has, in order: each is here called by its place.
    ids: Vec<u16>,
}

impl Usual {
    /// Of a face, with these of its glyphs, in order and 0 first.
    ///
    /// # Errors
    /// Where the face cannot be cut.
    pub(super) fn of(face: &[u8], ids: Vec<u16>) -> Result<Self, OutputError> {
        Ok(Self { bytes: cut(face, &ids, &SubsetProfile::Custom(TABLES.to_vec()))?, ids })
    }

    pub(super) fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// What a glyph of the whole face is called here; `None` where it is not here.
    pub(super) fn id_of(&self, glyph: u16) -> Option<u16> {
        self.ids.binary_search(&glyph).ok().and_then(|at| u16::try_from(at).ok())
    }

    /// What all of these are called here; `None` where one is not here.
    pub(super) fn ids_of(&self, glyphs: &[u16]) -> Option<Vec<u16>> {
        glyphs.iter().map(|glyph| self.id_of(*glyph)).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::super::face::Face;
    use super::*;

    fn cut_of(face: &Face, used: &BTreeSet<char>) -> printpdf::ParsedFont {
        face.cut_down(used, "X").unwrap()
    }

    #[test]
    fn what_sheets_usually_say_is_drawn_and_cut_as_from_the_whole_face() {
        for bytes in [dejavu::sans_condensed::regular(), dejavu::sans_condensed::bold()] {
            let (with, mut without) = (Face::read(bytes).unwrap(), Face::read(bytes).unwrap());
            without.forget_usual();
            let used: BTreeSet<char> = characters().filter(|c| with.has(*c)).collect();
            assert!(used.len() > 200, "{}", used.len());
            let text: String = used.iter().collect();
            let glyphs: Vec<u16> = with.line(&text).into_iter().map(|(glyph, _)| glyph).collect();
            assert!(with.usual_has(&glyphs) && !without.usual_has(&glyphs));
            assert_eq!(with.outlines(&glyphs).unwrap(), without.outlines(&glyphs).unwrap());
            // What is asked of a cut-down face: the same characters, as wide.
            let some: BTreeSet<char> = "Ø 86.49 ± 0.01 − ü".chars().collect();
            for others in ["", "Ж"] {
                let some: BTreeSet<char> = some.iter().copied().chain(others.chars()).collect();
                let [one, other] = [cut_of(&with, &some), cut_of(&without, &some)];
                for c in &some {
                    let [a, b] = [&one, &other]
                        .map(|face| face.lookup_glyph_index(u32::from(*c)).map(|g| face.get_glyph_width(g)));
                    assert!(a.is_some() && a == b, "{c}: {a:?} {b:?}");
                }
            }
        }
    }
}
