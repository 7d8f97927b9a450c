//! The journal axis of one set-up along its length: every main off the fitted line, across and along the bores.

use borewright_planner::survey::AxisLine;
use kurbo::{Point, Rect, Shape as _, Vec2};

use super::figure::{CURVE_MM, Figure, Filling, PT_PER_MM, Pen, path_of};
use super::scale;
use super::subject::{Subject, WIDE_MM};
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::shorten;

/// Left of the plot, for the names of the rows.
const LEFT_MM: f64 = 18.0;
/// Height of one panel where a picture has its own room.
pub(super) const PANEL_MM: f64 = 33.0;
/// Mains closer on paper than this have their figures on several lines in turn.
const NARROW_MM: f64 = 14.0;
/// On no more lines than these.
const MOST_LINES: u8 = 6;
/// Line to line of figures.
const ROW_MM: f64 = 4.4;
/// No main is drawn farther off than this against what it is.
const MOST_ENLARGED: f64 = 2000.0;
/// Figures and the key.
const PLAIN: (Weight, f64) = (Weight::Plain, 10.0);

/// The lie of the plot.
struct Plot<'a> {
    line: &'a AxisLine,
    first_mm: f64,
    /// Paper mm per mm along the axis, and in words.
    along: f64,
    along_words: &'static str,
    /// Paper mm per mm off it.
    across: f64,
    straightness_mm: f64,
    /// The two mains that stand closest, on paper.
    closest_mm: f64,
    /// Lines that figures stand on in turn.
    lines: u8,
    panel_mm: f64,
    wide_mm: f64,
}

impl<'a> Plot<'a> {
    /// `None` of less than two mains.
    fn of(of: &Subject<'_>, line: &'a AxisLine, (wide_mm, panel_mm): (f64, f64)) -> Option<Self> {
        let (first, last) = (line.mains.first()?, line.mains.last()?);
        if last.x_mm <= first.x_mm {
            return None;
        }
        let straightness_mm = of.job.block.journal_axis.straightness_mm;
        let (along, along_words) = scale::reduced(last.x_mm - first.x_mm, wide_mm - LEFT_MM - 18.0);
        let farthest = |k: usize| {
            let mains = line.mains.iter().map(|m| m.off_mm[k].abs());
            let half = straightness_mm.max(line.straightness_mm) / 2.0;
            mains.chain(line.zone_mm.iter().map(|z| z[k].abs() + half)).fold(0.0, f64::max)
        };
        let across = scale::round(farthest(0).max(farthest(1)), panel_mm / 2.0 - 1.0, MOST_ENLARGED);
        let apart = line.mains.windows(2).map(|w| (w[1].x_mm - w[0].x_mm) * along);
        let closest_mm = apart.fold(f64::INFINITY, f64::min);
        let lines = (1..MOST_LINES).find(|n| f64::from(*n) * closest_mm >= NARROW_MM).unwrap_or(MOST_LINES);
        let first_mm = first.x_mm;
        Some(Self {
            line,
            first_mm,
            along,
            along_words,
            across,
            straightness_mm,
            closest_mm,
            lines,
            panel_mm,
            wide_mm,
        })
    }

    fn x(&self, x_mm: f64) -> f64 {
        LEFT_MM + 8.0 + (x_mm - self.first_mm) * self.along
    }

    /// Which of the lines a main's figure stands on.
    fn row(&self, index: usize) -> f64 {
        let on = (0..self.lines).cycle().nth(index).unwrap_or(0);
        f64::from(on) * ROW_MM
    }

    /// What the lines take beyond their first.
    fn rows_mm(&self) -> f64 {
        (f64::from(self.lines) - 1.0) * ROW_MM
    }

    fn right(&self) -> f64 {
        self.line.mains.last().map_or(self.wide_mm, |m| self.x(m.x_mm) + 8.0)
    }
}

/// The picture, so wide and each of its panels so high; `None` of less than two mains.
pub(super) fn figure(
    of: &Subject<'_>,
    line: &AxisLine,
    (wide_mm, panel_mm): (f64, f64),
) -> Result<Option<Figure>, OutputError> {
    let Some(plot) = Plot::of(of, line, (wide_mm, panel_mm)) else { return Ok(None) };
    let title = format!("Journal axis, set-up {}, job {}", line.set_up, of.job.number);
    // As high as its key ends, below.
    let mut pen = Pen::new(of.fonts, &title, wide_mm, 0.0);
    let mut y = names(&mut pen, of, &plot);
    for (k, name, words) in [(0, "y", "across"), (1, "z", "along bores")] {
        let middle = y + panel_mm / 2.0;
        panel(&mut pen, &plot, k, middle);
        pen.text(Point::new(0.0, middle - 1.0), Align::Left, (Weight::Bold, 13.0), name);
        pen.text(Point::new(0.0, middle + 4.0), Align::Left, (Weight::Plain, 9.0), words);
        y += panel_mm + 2.0 + ROW_MM - 1.0;
        pen.text(Point::new(0.0, y), Align::Left, PLAIN, name);
        for (i, main) in line.mains.iter().enumerate() {
            let at = Point::new(plot.x(main.x_mm), y + plot.row(i));
            pen.text(at, Align::Middle, PLAIN, &of.signed(main.off_mm[k])?);
        }
        y += plot.rows_mm() + 3.0;
    }
    y += ROW_MM;
    steps(&mut pen, of, &plot, y)?;
    y += plot.rows_mm() + 6.0;
    y = scales(&mut pen, of, &plot, y);
    let key = key(of, line)?;
    pen.figure.height_mm = pen.lines(Point::new(0.0, y + 3.5), wide_mm, PLAIN, 8, &key) + 1.0;
    let heading = format!("Journal axis, set-up {}", shorten(&line.set_up));
    Ok(Some(pen.figure.headed(of.fonts, &heading)))
}

/// Names of the mains on top, each within what its line leaves it; where the panels begin.
fn names(pen: &mut Pen<'_>, of: &Subject<'_>, plot: &Plot<'_>) -> f64 {
    let y = 4.0;
    let room = (plot.closest_mm * f64::from(plot.lines) - 2.0).min(24.0) * PT_PER_MM;
    pen.text(Point::new(0.0, y), Align::Left, (Weight::Bold, 10.5), "main");
    for (i, main) in plot.line.mains.iter().enumerate() {
        let at = Point::new(plot.x(main.x_mm), y + plot.row(i));
        let name = of.fonts.fit(&main.name, Weight::Bold, 10.5, room);
        pen.text(at, Align::Middle, (Weight::Bold, 10.5), &name);
    }
    y + (2.0 + plot.rows_mm())
}

/// The step from each main to the next, one beyond what is allowed marked.
fn steps(pen: &mut Pen<'_>, of: &Subject<'_>, plot: &Plot<'_>, y: f64) -> Result<(), OutputError> {
    pen.text(Point::new(0.0, y), Align::Left, PLAIN, "step");
    for (i, pair) in plot.line.mains.windows(2).enumerate() {
        let Some(step) = pair[0].step_mm else { continue };
        let at = Point::new((plot.x(pair[0].x_mm) + plot.x(pair[1].x_mm)) / 2.0, y + plot.row(i));
        let beyond = step > of.job.block.journal_axis.neighbour_mm;
        let text = if beyond { format!("{} !", of.length(step)?) } else { of.length(step)? };
        pen.text(at, Align::Middle, (if beyond { Weight::Bold } else { Weight::Plain }, 10.0), &text);
    }
    Ok(())
}

/// The bar, both scales in words, and where the front is; the line that the words stand on.
fn scales(pen: &mut Pen<'_>, of: &Subject<'_>, plot: &Plot<'_>, mut y: f64) -> f64 {
    scale::bar(pen, Point::new(0.5, y), plot.across, 25.0, of.units());
    let words = format!("across {}, along {}", scale::words(plot.across), plot.along_words);
    // Beside the bar where there is room, else below it.
    let narrow = plot.wide_mm < WIDE_MM;
    if narrow {
        y += 5.0;
    }
    let at = Point::new(if narrow { 0.0 } else { 50.0 }, y + 1.3);
    pen.text(at, Align::Left, (Weight::Bold, 10.5), &words);
    pen.text(Point::new(plot.wide_mm, y + 1.3), Align::Right, PLAIN, "front at the left");
    y
}

/// What the marks mean, and whether the axis is as straight as it must be.
fn key(of: &Subject<'_>, line: &AxisLine) -> Result<String, OutputError> {
    let allowed = &of.job.block.journal_axis;
    let verdict = |value: f64, most: f64| if value > most { "beyond" } else { "within" };
    let step_mm = line.mains.iter().filter_map(|m| m.step_mm).fold(0.0, f64::max);
    Ok(format!(
        "Off the fitted line (dash-dot), {}. Hatched: the thinnest cylinder that holds all mains, {} across. Dashed: \
         the widest allowed, {}: {}. Largest step {}, allowed {}: {}; a step beyond is marked !",
        of.units().name(),
        of.spoken(line.straightness_mm)?,
        of.spoken(allowed.straightness_mm)?,
        verdict(line.straightness_mm, allowed.straightness_mm),
        of.spoken(step_mm)?,
        of.spoken(allowed.neighbour_mm)?,
        verdict(step_mm, allowed.neighbour_mm),
    ))
}

/// One coordinate against the length.
fn panel(pen: &mut Pen<'_>, plot: &Plot<'_>, k: usize, middle: f64) {
    let (left, right) = (LEFT_MM, plot.right());
    let at = |x: f64, off: f64| Point::new(x, middle - off * plot.across);
    let frame = Rect::new(left, middle - plot.panel_mm / 2.0, right, middle + plot.panel_mm / 2.0);
    // The zone runs from the first main to the last; its ends are where its figures are known.
    let ends = [plot.x(plot.first_mm), plot.line.mains.last().map_or(right, |m| plot.x(m.x_mm))];
    let [from, to] = [0, 1].map(|i| plot.line.zone_mm[i][k]);
    let half = plot.line.straightness_mm / 2.0;
    let band =
        [at(ends[0], from + half), at(ends[1], to + half), at(ends[1], to - half), at(ends[0], from - half)];
    pen.area(path_of(&band, true), Filling::Hatched { slope_deg: 45.0, apart_mm: 1.6, width_mm: 0.1 });
    for side in [-0.5, 0.5] {
        let by = side * plot.straightness_mm;
        pen.line(at(ends[0], from + by), at(ends[1], to + by), 0.35, Dash::Dashed);
    }
    pen.stroke(frame.to_path(CURVE_MM), 0.2, Dash::Solid);
    pen.line(at(left, 0.0), at(right, 0.0), 0.2, Dash::Axis);
    let points: Vec<Point> = plot.line.mains.iter().map(|m| at(plot.x(m.x_mm), m.off_mm[k])).collect();
    pen.polyline(&points, false, 0.5, Dash::Solid);
    for (point, main) in points.iter().zip(&plot.line.mains) {
        pen.dot(*point, 1.1, Filling::Black);
        let x = plot.x(main.x_mm);
        for edge in [frame.y0, frame.y1] {
            let inwards = if edge < middle { 1.5 } else { -1.5 };
            pen.line(Point::new(x, edge), Point::new(x, edge) + Vec2::new(0.0, inwards), 0.2, Dash::Solid);
        }
    }
}
