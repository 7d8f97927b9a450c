//! What stands on a card, as markup.

use super::Page;
use super::parts::Part;
use super::why::Answered;
use crate::OutputError;
use crate::drawings::{self, Figure, PT_PER_MM, Shape};
use crate::sheets::cards::flow::{Block, Told};
use crate::sheets::cards::lines::NOTHING;

/// A picture wider than this takes the whole width, mm.
const BROAD_MM: f64 = 100.0;
/// One narrower than this stands beside its like, mm.
const NARROW_MM: f64 = 64.0;
/// The smallest print of a picture on a phone, px: it scrolls sideways before it is smaller.
const LEGIBLE_PX: f64 = 12.0;
/// Widths that the style has a class for, px: each this much more than the one before, from the first to the last.
const WIDTHS_PX: [u32; 3] = [400, 80, 1040];

impl Page<'_> {
    /// Writes what is read together; `at` is its place on the card.
    ///
    /// # Errors
    /// Where a picture holds a place that is none.
    pub(super) fn part(&mut self, card: usize, at: usize, part: &Part<'_>) -> Result<(), OutputError> {
        let fold = format!("why-{card}-{at}");
        let known: Vec<Answered<'_>> = part.why.iter().filter_map(|asked| self.why.answered(asked)).collect();
        if let Some(Block::Line { number, text, small, figures }) = part.head {
            self.line((card, &fold), (*number, text, small, figures), (&part.tables, known));
            return Ok(());
        }
        if let Some(block) = part.head {
            self.block(block)?;
        }
        self.told((card, &fold), &part.tables, &known);
        Ok(())
    }

    /// Writes one that is no line, no table and no account.
    fn block(&mut self, block: &Block) -> Result<(), OutputError> {
        match block {
            Block::Heading(text) => {
                self.raw("<h3>");
                self.text(text);
                self.raw("</h3>\n");
            }
            Block::Boxed { title, text, strong } => {
                let strong = if *strong { " strong" } else { "" };
                self.raw(&format!("<div class=\"boxed{strong}\">\n"));
                self.tagged("p", "title", title);
                self.tagged("p", "more", text);
                self.raw("</div>\n");
            }
            Block::Say { text, bold } => self.tagged("p", if *bold { "what" } else { "said" }, text),
            Block::Picture(figure) => self.picture(figure)?,
            Block::Stop(words) => self.tagged("p", "stop", words),
            Block::Line { .. } | Block::Table { .. } | Block::Why(_) => {}
        }
        Ok(())
    }

    /// Writes a line: a box to tick, its words, its figures, its tables and what is asked of them. Only the box ticks: a figure that
    /// is tapped opens its account.
    fn line(
        &mut self,
        (card, fold): (usize, &str),
        (number, text, small, figures): (u32, &str, &str, &[Told]),
        (tables, why): (&[&Block], Vec<Answered<'_>>),
    ) {
        // In a row of its own, so that what is pinned while the card scrolls on is never more than one row.
        self.raw(&format!(
            "<div class=\"line\">\n<a class=\"pin\" href=\"#line-{card}-{number}\"><b>now {number}</b> <span>"
        ));
        self.text(text);
        self.raw(&format!(
            "</span></a>\n<div class=\"block\" id=\"line-{card}-{number}\">\n<input type=\"checkbox\" class=\"done\" \
             id=\"done-{card}-{number}\" aria-labelledby=\"number-{card}-{number} words-{card}-{number}\"/>\n<label class=\"number\" \
             id=\"number-{card}-{number}\" for=\"done-{card}-{number}\">{number}</label>\n<div class=\"words\">\n<p \
             class=\"what\" id=\"words-{card}-{number}\">"
        ));
        self.text(text);
        self.raw("</p>\n");
        self.tagged("p", "small", small);
        self.raw("</div>\n");
        let mut left = why;
        let figures: Vec<_> = figures.iter().filter(|told| told.figure != NOTHING).collect();
        if figures.is_empty() {
            self.told((card, fold), tables, &left);
        } else {
            self.raw("<div class=\"figures\">\n");
            for Told { head, about, figure } in figures {
                // Each bore's own stock has a question of its own.
                let is_of = |asked: &Answered<'_>| asked.question.about() == Some(*about);
                let (own, rest): (Vec<_>, Vec<_>) = left.into_iter().partition(is_of);
                left = rest;
                self.figure(card, (head, figure), &own);
            }
            self.fold((card, fold), true, &left);
            self.raw("</div>\n");
            self.told((card, fold), tables, &[]);
        }
        self.raw("</div>\n</div>\n");
    }

    /// A figure with its name; where it has an account, that is what a tap opens.
    fn figure(&mut self, card: usize, (name, figure): (&str, &str), why: &[Answered<'_>]) {
        let tags = if why.is_empty() {
            ["<div class=\"figure\">", "</div>\n"]
        } else {
            ["<summary>", "</summary>\n"]
        };
        if !why.is_empty() {
            self.raw(&format!("<details class=\"figure\" name=\"why-{card}\">\n"));
        }
        self.raw(tags[0]);
        self.raw("<i>");
        self.text(name);
        self.raw(" </i><b>");
        self.stacked(figure);
        self.raw("</b>");
        self.raw(tags[1]);
        if !why.is_empty() {
            why.iter().for_each(|asked| self.accounts(asked, None));
            self.raw("</details>\n");
        }
    }

    /// Tables, and beside them the one fold of what is asked of their figures.
    fn told(&mut self, (card, fold): (usize, &str), tables: &[&Block], why: &[Answered<'_>]) {
        if tables.is_empty() && why.is_empty() {
            return;
        }
        self.raw("<div class=\"told\">\n");
        for table in tables {
            if let Block::Table { caption, heads, rows } = table {
                self.table((caption, heads, rows), (fold, why));
            }
        }
        self.fold((card, fold), !tables.is_empty(), why);
        self.raw("</div>\n");
    }

    /// A figure; what stands behind a line break stands below and smaller.
    pub(super) fn stacked(&mut self, figure: &str) {
        for (row, part) in figure.split('\n').enumerate() {
            if row > 0 {
                self.raw(" <span class=\"second\">");
            }
            self.text(part);
            if row > 0 {
                self.raw("</span>");
            }
        }
    }

    fn picture(&mut self, figure: &Figure) -> Result<(), OutputError> {
        let class = match figure.width_mm {
            wide if wide > BROAD_MM => "broad",
            narrow if narrow < NARROW_MM && narrow > 56.0 => "run",
            _ => "slim",
        };
        let wide = legible(figure);
        let least = wide.map(|px| format!(" least-{px}")).unwrap_or_default();
        self.raw(&format!("<figure class=\"{class}{least}\"><div class=\"scroll\""));
        if wide.is_some() {
            // What scrolls must be reached by keys.
            self.raw(" tabindex=\"0\" role=\"group\" aria-label=\"");
            self.text(&figure.title);
            self.raw("\"");
        }
        self.raw(">\n");
        self.raw(&drawings::within(figure)?);
        self.raw("</div></figure>\n");
        Ok(())
    }
}

/// How wide a picture must be for its smallest print to be read on a phone, px of the style's classes; `None` where it is as wide as
/// that anyway.
fn legible(figure: &Figure) -> Option<u32> {
    let sizes = figure.shapes.iter().filter_map(|shape| match shape {
        Shape::Text { size_pt, .. } => Some(*size_pt),
        _ => None,
    });
    let smallest = sizes.reduce(f64::min)?;
    let needed = LEGIBLE_PX * figure.width_mm * PT_PER_MM / smallest;
    let [first, step, last] = WIDTHS_PX;
    let narrowest = f64::from(first) - f64::from(step);
    let mut widths = (first..=last).step_by(usize::try_from(step).ok()?);
    (needed > narrowest).then(|| widths.find(|px| f64::from(*px) >= needed).unwrap_or(last))
}

#[cfg(test)]
mod tests {
    use super::{WIDTHS_PX, legible};
    use crate::drawings::Figure;
    use crate::paper::canvas::Align;
    use crate::paper::text::Weight;

    #[test]
    fn a_picture_is_as_wide_as_its_smallest_print_asks_and_the_style_has_that_width() {
        let text = super::Shape::Text {
            at: kurbo::Point::ORIGIN,
            align: Align::Left,
            weight: Weight::Plain,
            size_pt: 8.0,
            text: "8".into(),
        };
        let figure = |width_mm| Figure {
            title: String::new(),
            about: String::new(),
            width_mm,
            height_mm: 50.0,
            shapes: vec![text.clone()],
        };
        // 12 px · 190 mm · 2.8346 pt/mm / 8 pt = 808 px.
        assert_eq!(legible(&figure(190.0)), Some(880));
        assert_eq!(legible(&figure(60.0)), None);
        let [first, step, last] = WIDTHS_PX;
        for px in (first..=last).step_by(step as usize) {
            assert!(
                super::super::STYLE.contains(&format!(".least-{px} svg {{ min-width: {px}px; }}")),
                "{px}"
            );
        }
    }
}
