//! The table of depths: from the deck as it is, from the final deck, and above the journal axis.

use kurbo::{Point, Vec2};

use super::{HalfSection, WIDE_MM, depth, fine};
use crate::OutputError;
use crate::drawings::figure::{Figure, PT_PER_MM, Pen};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::shorten;

/// Highest that one piece of the table may be.
const HIGH_MM: f64 = 200.0;
/// A table of more rows than this is of no sleeve; the rest is counted.
const MOST_ROWS: usize = 80;
/// More deck heights than this are not set side by side.
const MOST_HEIGHTS: usize = 3;
/// Its depths are dialled from it.
const SIZE_PT: f64 = 13.0;
const LINE_MM: f64 = 5.8;
const HEAD_PT: f64 = 10.5;
const HEAD_MM: f64 = 11.0;
const FIRST_MM: f64 = 70.0;

/// One row: what, its depth below the deck as it is, and whether it is made to a thousandth.
struct Place {
    what: String,
    deep: f64,
    exact: bool,
}

impl HalfSection<'_> {
    /// Banks with deck heights of their own; one entry where all share one.
    pub(super) fn heights(&self) -> Vec<(String, f64)> {
        let mut heights: Vec<(String, f64)> = Vec::new();
        for (index, bank) in self.job.block.banks.iter().enumerate() {
            let own = self.job.deck_as_it_is_mm(index, &self.plan.journal_axis);
            match heights.iter_mut().find(|(_, height)| (*height - own).abs() < 5e-4) {
                Some((names, _)) => *names = format!("{names}, {}", shorten(&bank.name)),
                None => heights.push((shorten(&bank.name), own)),
            }
        }
        heights
    }

    fn places(&self) -> Vec<Place> {
        let cut = self.job.engine.deck.cut_mm;
        let place = |what: String, deep: f64, exact: bool| Place { what, deep, exact };
        let mut places = vec![place("deck as it is".to_owned(), 0.0, true)];
        if cut > 0.0 {
            places.push(place("final deck".to_owned(), cut, true));
        }
        places.extend(self.pocket.flange.iter().map(|f| place("ledge".to_owned(), f.cut.depths.to_mm, true)));
        places.extend(self.pocket.foot.iter().map(|f| place("step".to_owned(), f.depths.from_mm, true)));
        for (step, feature) in self.sleeve.body.iter().zip(&self.pocket.steps) {
            let name = shorten(&step.name);
            for ring in &step.o_rings {
                places.push(place(format!("O-ring, {name}"), ring.depth_mm + cut, false));
            }
            places.push(place(format!("{name} ends"), feature.depths.to_mm, false));
        }
        if let Some(jacket) = self.job.block.parent.jacket {
            places.push(place("coolant jacket, roof".to_owned(), jacket.from_mm, false));
            places.push(place("coolant jacket, floor".to_owned(), jacket.to_mm, false));
        }
        places.push(place("parent bore ends".to_owned(), self.job.block.parent.bore_length_mm, false));
        places.sort_by(|a, b| a.deep.total_cmp(&b.deep));
        places
    }

    /// In pieces that each fit a page.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn depths(&self) -> Result<Vec<Figure>, OutputError> {
        let mut places = self.places();
        let more = places.len().saturating_sub(MOST_ROWS);
        places.truncate(MOST_ROWS);
        let lines = self.units().len();
        let row = if lines > 1 { 2.0 * LINE_MM + 1.4 } else { LINE_MM + 1.4 };
        let fit = ((HIGH_MM - HEAD_MM) / row).floor().max(1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some tens of rows")]
        let chunks: Vec<&[Place]> = places.chunks(fit as usize).collect();
        let last = chunks.len().saturating_sub(1);
        let mut figures = Vec::new();
        for (index, chunk) in chunks.into_iter().enumerate() {
            let notes = if index == last { self.notes(more)? } else { Vec::new() };
            figures.push(self.table(chunk, row, &notes)?);
        }
        Ok(figures)
    }

    /// What was read of the decks, beside what the block's description says.
    fn notes(&self, more: usize) -> Result<Vec<String>, OutputError> {
        let mut notes = Vec::new();
        if more > 0 {
            notes.push(format!("And {more} more, not shown."));
        }
        let heights = self.heights();
        if heights.len() > MOST_HEIGHTS {
            notes.push("Banks beyond these have other deck heights: see the block's description.".to_owned());
        }
        let words = "Above the journal axis: the deck as it was read, else as described, less the depth. It stays as it \
                     is when the deck is cut; every depth then loses what is cut.";
        notes.push(words.to_owned());
        let read = self.plan.journal_axis.iter().filter_map(|a| Some((&a.set_up, a.deck_height?)));
        for (set_up, height) in read.take(6) {
            let each: Vec<String> =
                self.units().into_iter().map(|u| fine(u, height)).collect::<Result<_, _>>()?;
            let height = each.join(" / ");
            notes.push(format!(
                "Deck as found in set-up {}: {height} above the journal axis.",
                shorten(set_up)
            ));
        }
        Ok(notes)
    }

    /// The depths of some places as a table with notes below; `row` is a row's height, mm.
    fn table(&self, places: &[Place], row: f64, notes: &[String]) -> Result<Figure, OutputError> {
        let cut = self.job.engine.deck.cut_mm;
        let heights: Vec<(String, f64)> = self.heights().into_iter().take(MOST_HEIGHTS).collect();
        let mut heads = vec!["below the deck\nas it is".to_owned()];
        if cut > 0.0 {
            heads.push("below the\nfinal deck".to_owned());
        }
        let several = self.heights().len() > 1;
        heads.extend(heights.iter().map(|(bank, _)| {
            if several { format!("above the axis,\n{bank}") } else { "above the\njournal axis".to_owned() }
        }));
        let count = f64::from(u32::try_from(heads.len()).unwrap_or(1));
        let wide = (WIDE_MM - FIRST_MM) / count;
        let high = HEAD_MM + row * f64::from(u32::try_from(places.len()).unwrap_or(0));
        let mut pen = Pen::new(self.fonts, "Depths", WIDE_MM, high + 2.0);
        let unit = match self.units().as_slice() {
            [one] => one.name(),
            _ => "mm (in)",
        };
        let (bold, head) = ((Weight::Bold, SIZE_PT), (Weight::Bold, HEAD_PT));
        pen.text(Point::new(1.0, 9.0), Align::Left, head, &format!("depth of, {unit}"));
        let right =
            |column: usize| FIRST_MM + wide * (f64::from(u32::try_from(column).unwrap_or(0)) + 1.0) - 1.5;
        for (column, words) in heads.iter().enumerate() {
            for (line, text) in words.lines().enumerate() {
                let y = if line == 0 { 4.4 } else { 9.0 };
                let text = self.fonts.fit(text, Weight::Bold, HEAD_PT, (wide - 3.0) * PT_PER_MM);
                pen.text(Point::new(right(column), y), Align::Right, head, &text);
            }
        }
        let rule = |pen: &mut Pen<'_>, y: f64, width: f64| {
            pen.line(Point::new(0.0, y), Point::new(WIDE_MM, y), width, Dash::Solid);
        };
        rule(&mut pen, HEAD_MM, 0.6);
        let mut y = HEAD_MM;
        for place in places {
            let what = self.fonts.fit(&place.what, Weight::Bold, SIZE_PT, (FIRST_MM - 3.0) * PT_PER_MM);
            pen.text(Point::new(1.0, y + LINE_MM - 0.6), Align::Left, bold, &what);
            let mut values = vec![place.deep];
            if cut > 0.0 {
                values.push(place.deep - cut);
            }
            values.extend(heights.iter().map(|(_, height)| height - place.deep));
            for (column, value) in values.iter().enumerate() {
                for (line, units) in self.units().into_iter().enumerate() {
                    let text = if place.exact { fine(units, *value)? } else { depth(units, *value)? };
                    let text = if line > 0 { format!("({text})") } else { text };
                    let down = f64::from(u32::try_from(line).unwrap_or(0)) * LINE_MM;
                    let at = Point::new(right(column), y + LINE_MM - 0.6) + Vec2::new(0.0, down);
                    pen.text(at, Align::Right, (Weight::Plain, SIZE_PT), &text);
                }
            }
            y += row;
            rule(&mut pen, y, 0.15);
        }
        for note in notes {
            y = pen.lines(Point::new(0.0, y + 1.0), WIDE_MM, (Weight::Plain, 10.0), 4, note);
        }
        pen.figure.height_mm = y + 2.0;
        Ok(pen.figure)
    }
}
