//! A bank before and after: for each bore where it belongs, where it was found, where it was planned, where it was cut.

use borewright_planner::as_left::{AsLeft, BoreLeft};
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::plan::Xy;
use kurbo::{Point, Rect, Shape as _, Vec2};

use super::Picture;
use super::figure::{CURVE_MM, Figure, Filling, Pen};
use super::names::Names;
use super::scale;
use super::subject::WIDE_MM;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::{Fonts, Weight};
use crate::said::short::bank_first;
use crate::said::units::{Digits, Units};

/// Bores in a row.
const ACROSS: usize = 4;
/// Height of a row with its figures, mm.
const ROW_MM: f64 = 60.0;
/// Largest offset, mm on paper.
const MOST_MM: f64 = 15.0;
const HEAD_MM: f64 = 3.0;
const FOOT_MM: f64 = 26.0;
/// A centre on paper, mm.
const MARK_MM: f64 = 1.4;

/// One picture a bank that has a measured bore.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn all(job: &Job, left: &AsLeft, fonts: &Fonts) -> Result<Vec<Picture>, OutputError> {
    let mut names = Names::default();
    let mut pictures = Vec::new();
    let units = Units::of(if job.sheet_units == SheetUnits::In { SheetUnits::In } else { SheetUnits::Mm });
    // One scale for all, so that banks can be held beside each other.
    let farthest = left.cylinders.iter().flat_map(offs).flatten().map(Vec2::hypot).fold(0.0, f64::max);
    let enlarged = scale::round(farthest, MOST_MM, 1000.0);
    for bank in &job.block.banks {
        let bores: Vec<&BoreLeft> = left.cylinders.iter().filter(|c| c.bank == bank.name).collect();
        if bores.iter().any(|b| b.found.is_some()) {
            let figure = figure(units, &bank.name, &bores, (fonts, enlarged))?;
            pictures.push(Picture { name: names.of("before-and-after", Some(&bank.name)), figure });
        }
    }
    Ok(pictures)
}

/// Found, planned, cut: each off the true position.
fn offs(bore: &BoreLeft) -> [Option<Vec2>; 3] {
    let off = |x: f64, y: f64| Vec2::new(x - bore.true_position.x, y - bore.true_position.y);
    let planned = bore.planned.map(|Xy { x, y }| off(x, y));
    [bore.found.map(|f| off(f.x, f.y)), planned, bore.cut.map(|c| off(c.x, c.y))]
}

/// The measured bores of a bank, some in a row: each as it was found, planned and cut, `enlarged` times off its true
/// position.
fn figure(
    units: Units,
    bank: &str,
    bores: &[&BoreLeft],
    (fonts, enlarged): (&Fonts, f64),
) -> Result<Figure, OutputError> {
    let rows = u32::try_from(bores.len().div_ceil(ACROSS)).unwrap_or(1);
    let height = HEAD_MM + ROW_MM * f64::from(rows);
    let title = format!("{}: bores as found, planned and cut", bank_first(bank));
    let mut pen = Pen::new(fonts, &title, WIDE_MM, height + FOOT_MM);
    let columns = u32::try_from(bores.len().clamp(1, ACROSS)).unwrap_or(1);
    let cell = WIDE_MM / f64::from(columns);
    for (row, bores) in (0_u32..).zip(bores.chunks(ACROSS)) {
        for (column, bore) in (0_u32..).zip(bores) {
            let centre = Point::new(
                (f64::from(column) + 0.5) * cell,
                HEAD_MM + f64::from(row) * ROW_MM + MOST_MM + 3.0,
            );
            one(&mut pen, units, centre, bore, enlarged)?;
        }
    }
    scale::bar(&mut pen, Point::new(2.0, height + 3.0), enlarged, 40.0, units);
    let bold = (Weight::Bold, 10.5);
    pen.text(
        Point::new(66.0, height + 4.3),
        Align::Left,
        bold,
        &format!("offsets {}", scale::words(enlarged)),
    );
    pen.text(Point::new(WIDE_MM, height + 4.3), Align::Right, bold, "front left, +Y up");
    let key = format!(
        "Cross: where the bore belongs, seen from outside the deck. Ring: where it was found. Square: where it was planned. \
         Black: where it was cut, as read; dashed ring: cut, and nobody read where, so that the list's place stands for it. \
         Arrow: from found to cut. Figures: off the cross along and across, {}.",
        units.name()
    );
    pen.lines(Point::new(0.0, height + 8.0), WIDE_MM, (Weight::Plain, 10.0), 4, &key);
    let heading = format!("{}: before and after", bank_first(bank));
    Ok(pen.figure.headed(fonts, &heading))
}

/// Draws a bore about the place of its true position on the picture: a mark for each of found, planned and cut, an
/// arrow between, and its figures.
fn one(
    pen: &mut Pen<'_>,
    units: Units,
    centre: Point,
    bore: &BoreLeft,
    enlarged: f64,
) -> Result<(), OutputError> {
    let at = |off: Vec2| centre + Vec2::new(off.x, -off.y) * enlarged;
    let [found, planned, cut] = offs(bore);
    pen.cross(centre, 4.0, 0.2);
    if let (Some(found), Some(cut)) = (found, cut) {
        pen.arrow(at(found), at(cut), 0.35);
    }
    if let Some(off) = found {
        pen.dot(at(off), MARK_MM, Filling::White);
        pen.circle(at(off), MARK_MM, 0.45, Dash::Solid);
    }
    if let Some(off) = planned {
        let square = Rect::from_center_size(at(off), (2.6 * MARK_MM, 2.6 * MARK_MM));
        pen.stroke(square.to_path(CURVE_MM), 0.3, Dash::Solid);
    }
    match (cut, bore.cut.map(|c| c.read)) {
        (Some(off), Some(1..)) => pen.dot(at(off), 0.7 * MARK_MM, Filling::Black),
        (Some(off), _) => pen.circle(at(off), 2.2 * MARK_MM, 0.3, Dash::Dashed),
        (None, _) => {}
    }
    let below = centre + Vec2::new(0.0, MOST_MM + 8.0);
    pen.text(below, Align::Middle, (Weight::Bold, 12.0), &format!("cylinder {}", bore.cylinder));
    let read = if bore.cut.is_some_and(|c| c.read > 0) { "cut" } else { "cut, not read" };
    for (line, name, off) in [(1.0, "found", found), (2.0, "planned", planned), (3.0, read, cut)] {
        let figures = match off {
            Some(off) => {
                let [x, y] = [off.x, off.y].map(|v| units.length(v, Digits::Fine));
                format!("{name} {} {}", x?.stacked_signed(), y?.stacked_signed())
            }
            None if line > 2.0 => "nothing cut is recorded".to_owned(),
            None => format!("not {name}"),
        };
        pen.text(below + Vec2::new(0.0, 4.4 * line), Align::Middle, (Weight::Plain, 9.5), &figures);
    }
    Ok(())
}
