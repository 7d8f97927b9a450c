//! What stands on a card, as markup.

use super::Page;
use crate::OutputError;
use crate::drawings::{self, Figure};
use crate::sheets::cards::flow::Block;

/// A picture wider than this scrolls in its own frame on a small screen, mm.
const BROAD_MM: f64 = 100.0;
/// One narrower than this stands beside its like, mm.
const NARROW_MM: f64 = 64.0;
/// Columns that hold what is dialled or measured.
const DIALLED: [&str; 4] = ["X", "Y", "expected", "window"];

impl Page<'_> {
    /// Writes it.
    ///
    /// # Errors
    /// Where a picture holds a place that is none.
    pub(super) fn block(&mut self, card: usize, block: &Block) -> Result<(), OutputError> {
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
            Block::Line { number, text, small, figures } => {
                self.line(card, *number, text, small, figures);
            }
            Block::Table { caption, heads, rows } => self.table(caption, heads, rows),
            Block::Picture(figure) => self.picture(figure)?,
            Block::Why(figures) => self.accounts(card, figures),
            Block::Stop(words) => self.tagged("p", "stop", words),
        }
        Ok(())
    }

    fn line(
        &mut self,
        card: usize,
        number: u32,
        text: &str,
        small: &str,
        figures: &[(&'static str, String)],
    ) {
        self.raw(&format!(
            "<div class=\"line\">\n<span class=\"place\" id=\"line-{card}-{number}\"></span>\n<input type=\"checkbox\" \
             class=\"done\" id=\"done-{card}-{number}\"/>\n<label class=\"head\" for=\"done-{card}-{number}\">\n<span \
             class=\"number\">{number}</span>\n<span class=\"words\">\n"
        ));
        self.tagged("span", "what", text);
        self.tagged("span", "small", small);
        let mut figures = figures.iter().filter(|(_, figure)| figure != "–").peekable();
        if figures.peek().is_some() {
            self.raw("<span class=\"figures\">\n");
            for (name, figure) in figures {
                self.raw("<span><i>");
                self.text(name);
                self.raw(" </i><b>");
                self.stacked(figure);
                self.raw("</b></span>\n");
            }
            self.raw("</span>\n");
        }
        self.raw("</span>\n</label>\n</div>\n");
    }

    /// A figure; what stands behind a line break stands below and smaller.
    fn stacked(&mut self, figure: &str) {
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

    /// Writes a table with its caption; columns that say nothing are left out.
    fn table(&mut self, caption: &str, heads: &[&'static str], rows: &[Vec<String>]) {
        // A column that has nothing to say is left out.
        let says = |at: usize| rows.iter().any(|row| row.get(at).is_some_and(|cell| !cell.is_empty()));
        let shown: Vec<usize> = (0..heads.len()).filter(|at| *at == 0 || says(*at)).collect();
        self.raw("<div class=\"wide\">\n<table class=\"rows\">\n<caption>");
        self.text(caption);
        self.raw("</caption>\n<thead>\n<tr>");
        for head in shown.iter().filter_map(|at| heads.get(*at)) {
            self.raw("<th scope=\"col\">");
            self.text(head);
            self.raw("</th>");
        }
        self.raw("</tr>\n</thead>\n<tbody>\n");
        for row in rows {
            self.raw("<tr>");
            for at in &shown {
                let (at, Some(cell), Some(head)) = (*at, row.get(*at), heads.get(*at)) else { continue };
                let dial = if DIALLED.contains(head) { " class=\"dial\"" } else { "" };
                if at == 0 {
                    self.raw("<th scope=\"row\">");
                } else {
                    self.raw(&format!("<td{dial} data-head=\"{head}\">"));
                }
                // A second unit stands below where it is the only one.
                if DIALLED.contains(head) && cell.matches(" (").count() == 1 {
                    self.stacked(&cell.replace(" (", "\n("));
                } else {
                    self.stacked(cell);
                }
                self.raw(if at == 0 { "</th>" } else { "</td>" });
            }
            self.raw("</tr>\n");
        }
        self.raw("</tbody>\n</table>\n</div>\n");
    }

    fn picture(&mut self, figure: &Figure) -> Result<(), OutputError> {
        let class = match figure.width_mm {
            wide if wide > BROAD_MM => "broad",
            narrow if narrow < NARROW_MM && narrow > 56.0 => "run",
            _ => "slim",
        };
        self.raw(&format!("<figure class=\"{class}\"><div class=\"scroll\""));
        if class == "broad" {
            // What scrolls must be reached by keys.
            self.raw(" tabindex=\"0\" role=\"group\" aria-label=\"");
            self.text(&figure.title);
            self.raw("\"");
        }
        self.raw(">\n");
        self.raw(&drawings::within(&drawings::typed(figure)?));
        self.raw("</div></figure>\n");
        Ok(())
    }
}
