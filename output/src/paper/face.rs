//! One font face: which characters it has, how wide they are, and the cut-down copy that goes into a sheet.
//!
//! The faces are DejaVu Sans Condensed and its bold, which carry every sign of the trade; their licence is
//! kept at `output/fonts/LICENSE-dejavu.txt`. printpdf cannot cut a font down without a large feature, so
//! the cutting is done here first: whole faces would make every sheet a megabyte and ten times slower. Each copy is cut from a
//! smaller one ([`super::usual`]) wherever that has all that is asked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::SubsetProfile;
use allsorts::tables::cmap::Cmap;
use allsorts::tables::{FontTableProvider, HheaTable, HmtxTable};
use allsorts::tag;
use printpdf::ParsedFont;

use super::font_file::{cut, fault, head_and_count};
use super::glyph::Drawn;
use super::usual::{self, Usual};
use crate::OutputError;

/// A character's glyph and its advance in font units.
#[derive(Debug, Clone, Copy)]
struct Glyph {
    character: u32,
    glyph: u16,
    advance: u16,
}

/// A face as it ships.
#[derive(Debug)]
pub(crate) struct Face {
    bytes: &'static [u8],
    units_per_em: f64,
    /// By character.
    glyphs: Vec<Glyph>,
    /// The first of them again, each at its character's place: nearly all that a sheet asks for.
    common: Vec<Option<Glyph>>,
    usual: Usual,
    drawn: Drawn,
}

/// Characters that are looked up by place: ASCII and Latin-1, the degree and the plus-minus sign among them.
const COMMON: u32 = 0x100;

/// What a reader of sheets needs of a face beside its outlines (ISO 32000-1, 9.9), and a list of characters to read it back by.
/// Not its names and licence text, which were two thirds of what is left: they are kept with the program.
const IN_A_SHEET: [u32; 9] =
    [tag::CMAP, tag::CVT, tag::FPGM, tag::HEAD, tag::HHEA, tag::HMTX, tag::MAXP, tag::POST, tag::PREP];

impl Face {
    /// Reads the characters and widths of a face.
    ///
    /// # Errors
    /// Where the bytes are no usable font.
    pub(crate) fn read(bytes: &'static [u8]) -> Result<Self, OutputError> {
        let file = ReadScope::new(bytes).read::<FontData<'_>>().map_err(fault)?;
        let tables = file.table_provider(0).map_err(fault)?;
        let table = |tag| tables.read_table_data(tag).map_err(fault);
        let (head, count) = head_and_count(&tables)?;
        let hhea_bytes = table(tag::HHEA)?;
        let hhea = ReadScope::new(&hhea_bytes).read::<HheaTable>().map_err(fault)?;
        let widths_bytes = table(tag::HMTX)?;
        let sizes = (usize::from(count.num_glyphs), usize::from(hhea.num_h_metrics));
        let widths = ReadScope::new(&widths_bytes).read_dep::<HmtxTable<'_>>(sizes).map_err(fault)?;
        let cmap_bytes = table(tag::CMAP)?;
        let cmap = ReadScope::new(&cmap_bytes).read::<Cmap<'_>>().map_err(fault)?;
        let (_, characters) = allsorts::font::read_cmap_subtable(&cmap)
            .map_err(fault)?
            .ok_or_else(|| fault("no characters"))?;
        let mut glyphs = Vec::with_capacity(6000);
        characters
            .mappings_fn(|character, glyph| {
                if glyph != 0 {
                    let advance = widths.horizontal_advance(glyph).unwrap_or(0);
                    glyphs.push(Glyph { character, glyph, advance });
                }
            })
            .map_err(fault)?;
        glyphs.sort_unstable_by_key(|g| g.character);
        glyphs.dedup_by_key(|g| g.character);
        let common = (0..COMMON)
            .map(|code| glyphs.binary_search_by_key(&code, |g| g.character).ok().map(|at| glyphs[at]))
            .collect();
        let mut face = Self {
            bytes,
            units_per_em: f64::from(head.units_per_em.max(1)),
            glyphs,
            common,
            usual: Usual::default(),
            drawn: Drawn::default(),
        };
        face.usual = Usual::of(bytes, face.ids(usual::characters()))?;
        Ok(face)
    }

    fn glyph(&self, character: char) -> Option<Glyph> {
        let code = u32::from(character);
        if let Some(common) = usize::try_from(code).ok().and_then(|at| self.common.get(at)) {
            return *common;
        }
        self.glyphs.binary_search_by_key(&code, |g| g.character).ok().map(|at| self.glyphs[at])
    }

    /// Whether the character draws as itself.
    pub(crate) fn has(&self, character: char) -> bool {
        self.glyph(character).is_some()
    }

    /// Width of a text at a size, pt. No kerning is applied in a sheet, so advances simply add up.
    pub(crate) fn width(&self, text: &str, size: f64) -> f64 {
        self.wide(self.units(text), size)
    }

    /// Width of a text in font units, a whole number.
    pub(super) fn units(&self, text: &str) -> f64 {
        text.chars().map(|c| self.glyph(c).map_or(0.0, |g| f64::from(g.advance))).sum()
    }

    /// Font units at a size, pt.
    pub(super) fn wide(&self, units: f64, size: f64) -> f64 {
        units * size / self.units_per_em
    }

    /// Font units of an em.
    pub(crate) fn units_per_em(&self) -> f64 {
        self.units_per_em
    }

    /// The glyph of each character of a text with where it starts, font units; what the face has not, draws nothing.
    pub(crate) fn line(&self, text: &str) -> Vec<(u16, u32)> {
        let mut at = 0;
        let mut placed = Vec::with_capacity(text.len());
        for glyph in text.chars().filter_map(|c| self.glyph(c)) {
            placed.push((glyph.glyph, at));
            at += u32::from(glyph.advance);
        }
        placed
    }

    /// The outlines of glyphs as path data, font units with Y up; empty for a space.
    ///
    /// # Errors
    /// Where the face cannot be read.
    pub(crate) fn outlines(&self, glyphs: &[u16]) -> Result<BTreeMap<u16, Arc<str>>, OutputError> {
        let ascii = self.common.iter().take(0x7F).flatten().map(|g| g.glyph);
        self.drawn.outlines((self.bytes, &self.usual), glyphs, ascii)
    }

    /// The glyphs of some characters, and the one for what is missing, in order.
    fn ids(&self, characters: impl Iterator<Item = char>) -> Vec<u16> {
        let own = characters.filter_map(|c| self.glyph(c)).map(|g| g.glyph);
        let mut ids: Vec<u16> = std::iter::once(0).chain(own).collect();
        ids.sort_unstable();
        ids.dedup();
        ids
    }

    /// The face with only these characters, as a sheet or a page takes it in.
    ///
    /// # Errors
    /// Where the face cannot be cut.
    pub(crate) fn cut(&self, used: &BTreeSet<char>, profile: &SubsetProfile) -> Result<Vec<u8>, OutputError> {
        let ids = self.ids(used.iter().copied());
        match self.usual.ids_of(&ids) {
            Some(ids) => cut(self.usual.bytes(), &ids, profile),
            None => cut(self.bytes, &ids, profile),
        }
    }

    #[cfg(test)]
    pub(super) fn forget_usual(&mut self) {
        self.usual = Usual::default();
    }

    #[cfg(test)]
    pub(super) fn usual_has(&self, glyphs: &[u16]) -> bool {
        self.usual.ids_of(glyphs).is_some()
    }

    /// The face with only these characters, under a name that says it is cut down.
    ///
    /// # Errors
    /// Where the face cannot be cut.
    pub(crate) fn cut_down(&self, used: &BTreeSet<char>, name: &str) -> Result<ParsedFont, OutputError> {
        let bytes = self.cut(used, &SubsetProfile::Custom(IN_A_SHEET.to_vec()))?;
        let mut warnings = Vec::new();
        let mut font = ParsedFont::from_bytes(&bytes, 0, &mut warnings)
            .ok_or_else(|| fault("the cut-down face does not read back"))?;
        font.font_name = Some(name.to_owned());
        Ok(font)
    }
}
