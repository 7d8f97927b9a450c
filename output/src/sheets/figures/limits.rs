//! Limits as a matrix: cylinders across, limits down, the worst of each row boxed.

use borewright_planner::job::words;
use borewright_planner::limits::{Better, stated};
use borewright_planner::plan::judge::FACTOR;
use borewright_planner::plan::{Cylinder, LimitResult, Verdict};
use kurbo::{Point, Rect};

use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::pages::{BODY, INNER, LEFT, Pages, RIGHT};
use crate::paper::polished::polished;
use crate::paper::text::Weight;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// Most cylinders in one matrix.
const ACROSS: usize = 8;
/// The limits' names.
const NAMES: f64 = 118.0;
/// The least metal of a row.
const METAL: f64 = 54.0;
/// A column is no wider.
const WIDEST: f64 = 66.0;

/// A row's limits, one a cylinder.
struct Line<'a> {
    limit: &'static str,
    /// By cylinder, as in the matrix.
    cells: Vec<Option<&'a LimitResult>>,
}

impl Line<'_> {
    /// The cell that stands worst, by verdict, then by how surely it is kept, then by margin.
    fn worst(&self) -> Option<usize> {
        let some = self.cells.iter().enumerate().filter_map(|(at, cell)| cell.map(|c| (at, c)));
        let order = |a: &LimitResult, b: &LimitResult| {
            b.verdict.cmp(&a.verdict).then(a.p.total_cmp(&b.p)).then(a.margin.total_cmp(&b.margin))
        };
        some.filter(|(_, c)| !c.told_only).min_by(|a, b| order(a.1, b.1)).map(|(at, _)| at)
    }
}

impl Sheet<'_> {
    /// Draws the matrix of limits.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn limits(&self, pages: &mut Pages) -> Result<(), OutputError> {
        if self.plan.cylinders.iter().all(|c| c.limits.is_empty()) {
            return Ok(());
        }
        let cylinders = self.by_bank();
        let mut names: Vec<&'static str> = Vec::new();
        for limit in cylinders.iter().flat_map(|(_, c)| &c.limits) {
            if !names.contains(&limit.limit) {
                names.push(limit.limit);
            }
        }
        pages.heading(&format!("Limits: margin of each, {}", self.units.name()), 120.0);
        // Even shares: nine cylinders are five and four, never eight and one.
        let parts = cylinders.len().div_ceil(ACROSS).max(1);
        let share = cylinders.len().div_ceil(parts).max(1);
        for some in cylinders.chunks(share) {
            self.matrix(pages, &names, some)?;
            pages.gap(8.0);
        }
        pages.paragraph(
            &format!(
                "Large: the margin, what there is beyond the limit. Below it: how often the limit is not kept, by the measuring \
                 alone; under a half, p is the probability that it is kept. Errors of a set-up are shared by the bores of its \
                 bank, so these are not to be multiplied. Boxed: the worst of its row. Go needs a margin of at least {FACTOR} u, \
                 and inside a small circle more."
            ),
            Weight::Plain,
            9.5,
        );
        pages.heading("Where each limit stands worst", 40.0);
        for name in names {
            let all = cylinders.iter().map(|(_, c)| of(c, name)).collect();
            let line = Line { limit: name, cells: all };
            let Some((bank, cylinder)) = line.worst().and_then(|at| cylinders.get(at)) else { continue };
            let Some(limit) = of(cylinder, name) else { continue };
            let u = self.units.uncertain(limit.u, limit.u)?.spoken();
            let margin = self.units.uncertain(limit.margin, limit.u)?;
            let side = if margin.is_negative() { "short" } else { "to spare" };
            let text = format!(
                "{}: cylinder {}, {}: {} {side}, u {u}",
                spoken(name),
                cylinder.cylinder,
                self.place(*bank, limit)?,
                margin.size().spoken()
            );
            let weight =
                if limit.verdict == Verdict::Go || limit.told_only { Weight::Plain } else { Weight::Bold };
            pages.paragraph(&text, weight, BODY);
        }
        Ok(())
    }

    fn matrix(
        &self,
        pages: &mut Pages,
        names: &[&'static str],
        cylinders: &[(usize, &Cylinder)],
    ) -> Result<(), OutputError> {
        let count: f64 = cylinders.iter().map(|_| 1.0).sum();
        let wide = ((INNER - NAMES - METAL) / count).min(WIDEST);
        let high = if self.units.length(1.0, Digits::Fine)?.stacked().contains('\n') { 40.0 } else { 30.0 };
        let lines: Vec<Line<'_>> = names
            .iter()
            .map(|name| Line { limit: name, cells: cylinders.iter().map(|(_, c)| of(c, name)).collect() })
            .filter(|line| line.cells.iter().any(Option::is_some))
            .collect();
        pages.need(26.0 + high * lines.iter().take(4).map(|_| 1.0).sum::<f64>());
        head(pages, cylinders, wide);
        for line in &lines {
            if pages.need(high) {
                head(pages, cylinders, wide);
            }
            self.row(pages, line, wide, high)?;
        }
        Ok(())
    }

    /// Draws a limit's row, its worst cell boxed: cells `wide`, the row `high`, pt.
    fn row(&self, pages: &mut Pages, line: &Line<'_>, wide: f64, high: f64) -> Result<(), OutputError> {
        let top = pages.y;
        let fonts = pages.fonts;
        let canvas = &mut pages.canvas;
        let right = LEFT + NAMES + line.cells.iter().map(|_| wide).sum::<f64>() + METAL;
        canvas.line(Point::new(LEFT, top + high), Point::new(right, top + high), 0.4, Dash::Solid);
        let name = spoken(line.limit);
        let size = fitting(fonts, &name, Weight::Bold, BODY, NAMES - 4.0);
        canvas.text(fonts, Point::new(LEFT, top + 12.5), Align::Left, (Weight::Bold, size), &name);
        if let Some(stated) = line.cells.iter().flatten().next() {
            let mut words = format!("limit {}", self.one(stated.least)?);
            if let Some(prefer) = stated.prefer {
                words.push_str(&format!(", prefer {}", self.one(prefer)?));
            }
            if stated.told_only {
                words.push_str(", told only");
            }
            let words = polished(&words);
            let size = fitting(fonts, &words, Weight::Plain, 9.0, NAMES - 3.0);
            canvas.text(fonts, Point::new(LEFT, top + 24.0), Align::Left, (Weight::Plain, size), &words);
        }
        let worst = line.worst();
        let mut left = LEFT + NAMES;
        for (at, cell) in line.cells.iter().enumerate() {
            let centre = left + wide / 2.0;
            let Some(limit) = cell else {
                canvas.text(fonts, Point::new(centre, top + 13.0), Align::Middle, (Weight::Plain, 10.0), "–");
                left += wide;
                continue;
            };
            let boxed = worst == Some(at);
            let graver = limit.verdict != Verdict::Go && !limit.told_only;
            let weight = if boxed || graver { Weight::Bold } else { Weight::Plain };
            let told = self.units.uncertain(limit.margin, limit.u)?.stacked_signed();
            let text = polished(&told);
            let mut y = top + 13.0;
            for (row, part) in text.split('\n').enumerate() {
                let size = fitting(fonts, part, weight, if row == 0 { 12.0 } else { 9.0 }, wide - 5.0);
                canvas.text(fonts, Point::new(centre, y), Align::Middle, (weight, size), part);
                y += if row == 0 { 10.0 } else { 0.0 };
            }
            let mut odds = words::odds(limit.p);
            if graver {
                odds = format!("{} {odds}", limit.verdict.word().to_uppercase());
            }
            let size = fitting(fonts, &odds, weight, 9.0, wide - 4.0);
            canvas.text(fonts, Point::new(centre, top + high - 5.5), Align::Middle, (weight, size), &odds);
            if boxed {
                canvas.frame(Rect::new(left + 1.0, top + 1.5, left + wide - 1.0, top + high - 1.5), 1.6);
            }
            left += wide;
        }
        if let Some(least) = least_metal(line) {
            let told = self.units.length(least, Digits::Depth)?.stacked();
            let text = polished(&told);
            for (row, part) in text.split('\n').enumerate() {
                let y = top + 15.0 + if row == 0 { 0.0 } else { 10.0 };
                let size = if row == 0 { 11.0 } else { 9.0 };
                canvas.text(fonts, Point::new(right, y), Align::Right, (Weight::Bold, size), part);
            }
        }
        pages.y = top + high;
        Ok(())
    }

    fn one(&self, mm: f64) -> Result<String, OutputError> {
        Ok(self.units.length(mm, Digits::Depth)?.stacked().replace('\n', " "))
    }

    /// On which feature, how deep, towards which side.
    fn place(&self, bank: usize, limit: &LimitResult) -> Result<String, OutputError> {
        // A feature can name its neighbour as well; anything longer is no name.
        let mut words = one_line(&limit.feature, 80);
        if let Some(depth) = limit.depth {
            words.push_str(&format!(", {} deep", self.units.length(depth, Digits::Depth)?.spoken()));
        }
        if let Some(clock) = limit.clock {
            words.push_str(&format!(", {} side", self.sides(bank).clock(clock)));
        }
        Ok(words)
    }
}

fn head(pages: &mut Pages, cylinders: &[(usize, &Cylinder)], wide: f64) {
    let top = pages.y;
    let fonts = pages.fonts;
    let canvas = &mut pages.canvas;
    let mut left = LEFT + NAMES;
    for (_, cylinder) in cylinders {
        let centre = left + wide / 2.0;
        let number = cylinder.cylinder.to_string();
        canvas.text(fonts, Point::new(centre, top + 13.0), Align::Middle, (Weight::Bold, 14.0), &number);
        let word = cylinder.verdict.word().to_uppercase();
        canvas.text(fonts, Point::new(centre, top + 22.0), Align::Middle, (Weight::Bold, 8.5), &word);
        left += wide;
    }
    let right = (left + METAL).min(RIGHT);
    canvas.text(fonts, Point::new(LEFT, top + 20.0), Align::Left, (Weight::Plain, 9.5), "cylinder");
    for (y, word) in [(12.0, "least metal"), (22.0, "there is")] {
        canvas.text(fonts, Point::new(right, top + y), Align::Right, (Weight::Plain, 9.0), word);
    }
    pages.y = top + 26.0;
    pages.canvas.line(Point::new(LEFT, pages.y), Point::new(right, pages.y), 1.5, Dash::Solid);
}

/// The size at which a text fits, never above the one asked for.
fn fitting(fonts: &crate::paper::text::Fonts, text: &str, weight: Weight, size: f64, width: f64) -> f64 {
    let wide = fonts.width(text, weight, size);
    if wide > width { (size * width / wide).max(6.5) } else { size }
}

fn of<'a>(cylinder: &'a Cylinder, name: &str) -> Option<&'a LimitResult> {
    cylinder.limits.iter().find(|l| l.limit == name)
}

/// What there is at the least, of a limit on metal: the limit and what is beyond it, mm.
fn least_metal(line: &Line<'_>) -> Option<f64> {
    stated(line.limit).filter(|s| s.of_metal && s.better == Better::Larger)?;
    line.cells.iter().flatten().map(|l| l.least + l.margin).reduce(f64::min)
}

/// A limit's name as it is spoken.
fn spoken(limit: &str) -> String {
    stated(limit).map_or_else(|| shorten(&limit.replace('_', " ")), |stated| stated.words.to_owned())
}
