//! Tables: ruled for bad printers, heads repeated on every page, rows never cut in two.

use kurbo::Point;

use super::canvas::{Align, Dash};
use super::pages::{INNER, LEADING, LEFT, Pages};
use super::polished::polished;
use super::text::Weight;

const PAD: f64 = 3.0;
const HEAD_SIZE: f64 = 10.0;
/// A figure too wide for its column is set smaller down to this before it is broken.
const SMALLEST: f64 = 8.0;

/// One column.
#[derive(Debug, Clone)]
pub(crate) struct Column {
    /// Its head; `\n` breaks it.
    title: &'static str,
    /// Its share of the width.
    share: f64,
    /// How its cells stand.
    align: Align,
    /// Size of its cells, pt.
    size: f64,
    /// Weight of its cells.
    weight: Weight,
}

impl Column {
    /// Words, from the left.
    pub(crate) fn words(title: &'static str, share: f64) -> Self {
        Self { title, share, align: Align::Left, size: 10.0, weight: Weight::Plain }
    }

    /// Figures, to the right.
    pub(crate) fn figures(title: &'static str, share: f64) -> Self {
        Self { align: Align::Right, ..Self::words(title, share) }
    }

    /// In another size.
    pub(crate) fn size(self, size: f64) -> Self {
        Self { size, ..self }
    }

    /// In bold.
    pub(crate) fn bold(self) -> Self {
        Self { weight: Weight::Bold, ..self }
    }
}

/// One row.
#[derive(Debug, Clone)]
pub(crate) enum Row {
    /// A cell for each column; `\n` starts a new line in a cell.
    Cells(Vec<String>),
    /// The same of a row that stays with the row below it.
    Kept(Vec<String>),
    /// One text across all columns that stays with the row below it.
    Band(String),
    /// One text across all columns that stays with the row above it, between heavier lines.
    Order(String),
}

/// Draws the rows below their head.
pub(crate) fn draw(pages: &mut Pages, columns: &[Column], rows: &[Row]) {
    let shares: f64 = columns.iter().map(|c| c.share).sum();
    let widths: Vec<f64> = columns.iter().map(|c| c.share / shares * INNER).collect();
    let laid: Vec<Laid> = rows.iter().map(|row| lay(pages, columns, &widths, row)).collect();
    let head = lay_head(pages, columns, &widths);
    let mut fresh = true;
    for (index, row) in laid.iter().enumerate() {
        // A row comes with the ones that must not part from it: orders below, and what a band heads.
        let mut height = row.height;
        let mut ahead = index;
        while let Some(next) = laid.get(ahead + 1)
            && (next.joins_above || laid[ahead].joins_below)
            && height + next.height < Pages::full_height() / 2.0
        {
            height += next.height;
            ahead += 1;
        }
        let joined = row.joins_above && !fresh && row.height <= pages.room();
        if fresh || (!joined && pages.need(height)) {
            pages.need(head.height + height);
            head.draw(pages, columns, &widths);
        }
        row.draw(pages, columns, &widths);
        fresh = false;
    }
    pages.y += 4.0;
}

/// A row with its lines broken.
#[derive(Debug)]
struct Laid {
    cells: Vec<(Vec<String>, f64, Weight)>,
    height: f64,
    spans: bool,
    heavy: bool,
    joins_above: bool,
    joins_below: bool,
}

fn lay_head(pages: &Pages, columns: &[Column], widths: &[f64]) -> Laid {
    let cells: Vec<_> = columns
        .iter()
        .zip(widths)
        .map(|(column, width)| {
            let lines = broken(pages, column.title, Weight::Bold, HEAD_SIZE, *width);
            (lines, HEAD_SIZE, Weight::Bold)
        })
        .collect();
    let height = height_of(&cells);
    Laid { cells, height, spans: false, heavy: true, joins_above: false, joins_below: true }
}

/// A row's cells broken into lines for the widths of their columns, pt, and how high the row becomes.
fn lay(pages: &Pages, columns: &[Column], widths: &[f64], row: &Row) -> Laid {
    let texts = match row {
        Row::Cells(texts) | Row::Kept(texts) => texts,
        Row::Band(text) | Row::Order(text) => {
            let size = if matches!(row, Row::Band(_)) { 11.0 } else { 10.5 };
            let lines = pages.fonts.wrap(&polished(text), Weight::Bold, size, INNER - 2.0 * PAD - 5.0, 8);
            let cells = vec![(lines, size, Weight::Bold)];
            let height = height_of(&cells) + 2.0;
            let joins_above = matches!(row, Row::Order(_));
            return Laid { cells, height, spans: true, heavy: true, joins_above, joins_below: !joins_above };
        }
    };
    let cells: Vec<_> = columns
        .iter()
        .zip(widths)
        .zip(texts)
        .map(|((column, width), text)| {
            let text = polished(text);
            let weight = column.weight;
            let mut size = column.size;
            let word = |size: f64| {
                let widest = |line: &str| {
                    let line = pages.fonts.clean(line);
                    let words = line.split(' ').map(|w| pages.fonts.width(w, weight, size));
                    words.fold(0.0, f64::max)
                };
                text.lines().map(widest).fold(0.0, f64::max)
            };
            while size > SMALLEST && word(size) > width - 2.0 * PAD {
                size -= 0.5;
            }
            (broken(pages, &text, weight, size, *width), size, weight)
        })
        .collect();
    let height = height_of(&cells);
    let joins_below = matches!(row, Row::Kept(_));
    Laid { cells, height, spans: false, heavy: false, joins_above: false, joins_below }
}

fn broken(pages: &Pages, text: &str, weight: Weight, size: f64, width: f64) -> Vec<String> {
    // Control characters of a job's own words come as spaces from `clean`; only our own cells hold `\n`.
    text.split('\n')
        .flat_map(|line| pages.fonts.wrap(line, weight, size, width - 2.0 * PAD, 5))
        .take(8)
        .collect()
}

fn height_of(cells: &[(Vec<String>, f64, Weight)]) -> f64 {
    let cell = |(lines, size, _): &(Vec<String>, f64, Weight)| {
        lines.iter().map(|_| size * LEADING).sum::<f64>() + 2.0 * PAD
    };
    cells.iter().map(cell).fold(0.0, f64::max)
}

impl Laid {
    /// Draws the row at the page's place, its rules with it; widths in pt.
    fn draw(&self, pages: &mut Pages, columns: &[Column], widths: &[f64]) {
        let top = pages.y;
        let bottom = top + self.height;
        let line = if self.heavy { 1.5 } else { 0.5 };
        for x in [LEFT, LEFT + INNER] {
            pages.canvas.line(Point::new(x, top), Point::new(x, bottom), 0.5, Dash::Solid);
        }
        // Above only where it is heavy: otherwise the row above has drawn it, and no row starts a page bare.
        let above = self.heavy.then_some(top);
        for y in above.into_iter().chain([bottom]) {
            pages.canvas.line(Point::new(LEFT, y), Point::new(LEFT + INNER, y), line, Dash::Solid);
        }
        if self.spans {
            if let Some((lines, size, weight)) = self.cells.first() {
                pages.y = top + PAD;
                let indent = if self.joins_above { 5.0 } else { 0.0 };
                pages.lines(lines, LEFT + PAD + indent, *weight, *size);
            }
            if self.joins_above {
                // A bar down the side: an order to stop is found by running a finger down the edge.
                pages.canvas.line(Point::new(LEFT, top), Point::new(LEFT, bottom), 5.0, Dash::Solid);
            }
            pages.y = bottom;
            return;
        }
        let mut left = LEFT;
        for (((lines, size, weight), column), width) in self.cells.iter().zip(columns).zip(widths) {
            if left > LEFT {
                pages.canvas.line(Point::new(left, top), Point::new(left, bottom), 0.5, Dash::Solid);
            }
            let mut y = top + PAD;
            for text in lines {
                y += size * LEADING;
                let x = match column.align {
                    Align::Left => left + PAD,
                    Align::Middle => left + width / 2.0,
                    Align::Right => left + width - PAD,
                };
                let at = Point::new(x, y - size * (LEADING - 1.0));
                pages.canvas.text(pages.fonts, at, column.align, (*weight, *size), text);
            }
            left += width;
        }
        pages.y = bottom;
    }
}
