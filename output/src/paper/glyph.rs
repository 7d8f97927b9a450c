//! The outlines of glyphs, as the path data of an SVG, in font units with Y up.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::sync::{Arc, Mutex, PoisonError};

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::outline::{OutlineBuilder, OutlineSink};
use allsorts::pathfinder_geometry::line_segment::LineSegment2F;
use allsorts::pathfinder_geometry::vector::Vector2F;
use allsorts::tables::FontTableProvider;
use allsorts::tables::glyf::{GlyfVisitorContext, LocaGlyf};
use allsorts::tables::loca::{LocaTable, owned};
use allsorts::tag;

use super::font_file::{fault, head_and_count};
use super::usual::Usual;
use crate::OutputError;

/// Glyphs that were drawn once: every picture of a plan asks for nearly the same.
#[derive(Debug, Default)]
pub(super) struct Drawn(Mutex<BTreeMap<u16, Arc<str>>>);

impl Drawn {
    /// The outline of each glyph of a face; `likely` ones are drawn along the first time, since to open a face costs as much as
    /// to draw a hundred.
    ///
    /// # Errors
    /// Where the face has none for it.
    pub(super) fn outlines(
        &self,
        (whole, usual): (&'static [u8], &Usual),
        glyphs: &[u16],
        likely: impl Iterator<Item = u16>,
    ) -> Result<BTreeMap<u16, Arc<str>>, OutputError> {
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let mut missing: BTreeSet<u16> = glyphs.iter().filter(|g| !known.contains_key(g)).copied().collect();
        if known.is_empty() {
            missing.extend(likely);
        }
        let named = |glyph: u16| Some((glyph, usual.id_of(glyph)?));
        let in_usual: Vec<(u16, u16)> = missing.iter().filter_map(|glyph| named(*glyph)).collect();
        let others: Vec<(u16, u16)> =
            missing.iter().filter(|glyph| named(**glyph).is_none()).map(|glyph| (*glyph, *glyph)).collect();
        for (face, glyphs) in [(usual.bytes(), in_usual), (whole, others)] {
            if !glyphs.is_empty() {
                known.extend(drawn(face, &glyphs)?);
            }
        }
        Ok(glyphs.iter().filter_map(|g| Some((*g, Arc::clone(known.get(g)?)))).collect())
    }
}

/// The outlines of some glyphs of a face, each under the name it is asked for by.
fn drawn(face: &[u8], glyphs: &[(u16, u16)]) -> Result<Vec<(u16, Arc<str>)>, OutputError> {
    let file = ReadScope::new(face).read::<FontData<'_>>().map_err(fault)?;
    let tables = file.table_provider(0).map_err(fault)?;
    let table = |tag| tables.read_table_data(tag).map_err(fault);
    let (head, count) = head_and_count(&tables)?;
    let places_bytes = table(tag::LOCA)?;
    let places = ReadScope::new(&places_bytes)
        .read_dep::<LocaTable<'_>>((count.num_glyphs, head.index_to_loc_format))
        .map_err(fault)?;
    let mut outlines = LocaGlyf::loaded(owned::LocaTable::from(&places), table(tag::GLYF)?.into());
    let mut reader = GlyfVisitorContext::new(&mut outlines, None);
    let one = |(name, glyph): &(u16, u16)| {
        let mut pen = Pen::default();
        reader.visit(*glyph, None, &mut pen).map_err(fault)?;
        Ok((*name, pen.made.into()))
    };
    glyphs.iter().map(one).collect()
}

/// Writes what it is told as path data, each place from the one before: shorter, and as exact in halves.
#[derive(Default)]
struct Pen {
    made: String,
    /// Where it is.
    at: Vector2F,
    /// Where the outline that it draws began.
    start: Vector2F,
}

impl Pen {
    /// Half units are the finest between the points of a quadratic outline.
    fn unit(&mut self, value: f32) {
        let halves = f64::from(value) * 2.0;
        let whole = halves.fract() == 0.0 && halves.abs() < 1e9;
        if !whole {
            let _ = write!(self.made, "{value}");
            return;
        }
        #[expect(clippy::cast_possible_truncation, reason = "a whole number below a thousand millions")]
        let halves = halves as i32;
        if halves < 0 {
            self.made.push('-');
        }
        self.made.push_str(itoa::Buffer::new().format(halves.unsigned_abs() / 2));
        if halves % 2 != 0 {
            self.made.push_str(".5");
        }
    }

    fn told(&mut self, letter: char, points: &[Vector2F]) {
        self.made.push(letter);
        let mut first = true;
        for point in points {
            let by = *point - self.at;
            for value in [by.x(), by.y()] {
                // A minus parts two numbers as well as a blank.
                if !first && value >= 0.0 {
                    self.made.push(' ');
                }
                self.unit(value);
                first = false;
            }
        }
        self.at = points.last().copied().unwrap_or(self.at);
    }
}

impl OutlineSink for Pen {
    fn move_to(&mut self, to: Vector2F) {
        self.told('m', &[to]);
        self.start = to;
    }

    fn line_to(&mut self, to: Vector2F) {
        self.told('l', &[to]);
    }

    fn quadratic_curve_to(&mut self, control: Vector2F, to: Vector2F) {
        self.told('q', &[control, to]);
    }

    fn cubic_curve_to(&mut self, control: LineSegment2F, to: Vector2F) {
        self.told('c', &[control.from(), control.to(), to]);
    }

    fn close(&mut self) {
        self.made.push('z');
        self.at = self.start;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_written_as_the_language_writes_them() {
        for value in [0.0_f32, 0.5, -0.5, 12.5, -3.0, 1493.0, -1e6, 100.25, 3e12] {
            let mut pen = Pen::default();
            pen.unit(value);
            assert_eq!(pen.made, value.to_string());
        }
    }

    #[test]
    fn places_told_from_one_another_are_where_they_were() {
        let at = Vector2F::new;
        let mut pen = Pen::default();
        pen.move_to(at(10.0, 20.0));
        pen.line_to(at(4.0, 20.5));
        pen.quadratic_curve_to(at(0.0, 0.0), at(-3.5, 7.0));
        pen.close();
        pen.move_to(at(1.0, 1.0));
        pen.cubic_curve_to(LineSegment2F::new(at(2.0, 2.0), at(3.0, 2.0)), at(4.0, 1.0));
        pen.close();
        assert_eq!(pen.made, "m10 20l-6 0.5q-4-20.5-7.5-13.5zm-9-19c1 1 2 1 3 0z");
        let mut expected = kurbo::BezPath::new();
        expected.move_to((10.0, 20.0));
        expected.line_to((4.0, 20.5));
        expected.quad_to((0.0, 0.0), (-3.5, 7.0));
        expected.close_path();
        expected.move_to((1.0, 1.0));
        expected.curve_to((2.0, 2.0), (3.0, 2.0), (4.0, 1.0));
        expected.close_path();
        assert_eq!(kurbo::BezPath::from_svg(&pen.made).unwrap(), expected);
    }
}
