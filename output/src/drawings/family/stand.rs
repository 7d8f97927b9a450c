//! A bank over its blocks: for each bore the mean of where it stood, how it spread, where the next will stand.

use borewright_planner::family::{BankStand, Spread};
use borewright_planner::job::SheetUnits;
use kurbo::{Ellipse, Point, Rect, Shape as _, Vec2};

use super::super::figure::{CURVE_MM, Figure, Pen};
use super::super::scale;
use super::super::subject::WIDE_MM;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::{Fonts, Weight};
use crate::said::short::{bank as called, shorten};
use crate::said::units::Units;

/// Bores in a row.
const ACROSS: usize = 6;
/// Height of a row with its figures, mm.
const ROW_MM: f64 = 50.0;
/// Largest circle, mm on paper.
const MOST_RADIUS_MM: f64 = 14.0;
/// Above the rows and below them, mm.
const HEAD_MM: f64 = 6.0;
const FOOT_MM: f64 = 24.0;

/// The picture; `None` of a bank without bores.
pub(super) fn figure(family: &str, bank: &BankStand, fonts: &Fonts) -> Option<Figure> {
    let rows = u32::try_from(bank.bores.len().div_ceil(ACROSS)).ok().filter(|rows| *rows > 0)?;
    let title = format!("Family {}, {}", shorten(family), called(&bank.bank));
    let height = HEAD_MM + ROW_MM * f64::from(rows);
    let mut pen = Pen::new(fonts, &title, WIDE_MM, height + FOOT_MM);
    let farthest = bank.bores.iter().flat_map(|(_, x, y)| [far(x), far(y)]).fold(0.0, f64::max);
    let enlarged = scale::round(farthest, MOST_RADIUS_MM, 1000.0);
    let columns = u32::try_from(bank.bores.len().clamp(1, ACROSS)).unwrap_or(1);
    let cell = WIDE_MM / f64::from(columns);
    for (row, bores) in (0_u32..).zip(bank.bores.chunks(ACROSS)) {
        for (column, (cylinder, along, across)) in (0_u32..).zip(bores) {
            let centre = Point::new(
                (f64::from(column) + 0.5) * cell,
                HEAD_MM + f64::from(row) * ROW_MM + MOST_RADIUS_MM + 3.0,
            );
            bore(&mut pen, centre, *cylinder, [along, across], enlarged);
        }
    }
    let bold = (Weight::Bold, 10.5);
    scale::bar(&mut pen, Point::new(2.0, height + 3.0), enlarged, 40.0, Units::of(SheetUnits::Mm));
    let words = format!("offsets {}", scale::words(enlarged));
    pen.text(Point::new(66.0, height + 4.3), Align::Left, bold, &words);
    pen.text(Point::new(WIDE_MM, height + 4.3), Align::Right, bold, "front left, +Y up");
    let key = format!(
        "Each cross is a bore's true position, seen from outside the deck. Arrow: to the mean of {} blocks. Ellipse: \
         one standard deviation. Dashed: where the next block's bore will stand, 95 %, along and across each for \
         itself; left out where the blocks are too few to say. Figures: mean and spread, mm.",
        bank.along.blocks
    );
    pen.lines(Point::new(0.0, height + 7.5), WIDE_MM, (Weight::Plain, 10.0), 3, &key);
    let heading = format!("Family {}, {}: where the bores stood", shorten(family), called(&bank.bank));
    Some(pen.figure.headed(fonts, &heading))
}

fn far(spread: &Spread) -> f64 {
    let [a, b] = spread.next.unwrap_or(spread.found);
    a.abs().max(b.abs()).max(spread.mean.abs() + spread.sd.unwrap_or_default())
}

fn bore(pen: &mut Pen<'_>, centre: Point, cylinder: u32, [along, across]: [&Spread; 2], enlarged: f64) {
    // Across runs up the page.
    let at = |x: f64, y: f64| centre + Vec2::new(x, -y) * enlarged;
    pen.cross(centre, 2.5, 0.2);
    if let (Some(x), Some(y)) = (along.next, across.next) {
        let frame = Rect::from_points(at(x[0], y[0]), at(x[1], y[1]));
        pen.stroke(frame.to_path(CURVE_MM), 0.25, Dash::Dashed);
    }
    let mean = at(along.mean, across.mean);
    if let (Some(sx), Some(sy)) = (along.sd, across.sd) {
        let ellipse = Ellipse::new(mean, Vec2::new(sx, sy) * enlarged, 0.0);
        pen.stroke(ellipse.to_path(CURVE_MM), 0.35, Dash::Solid);
    }
    pen.arrow(centre, mean, 0.6);
    let below = centre + Vec2::new(0.0, MOST_RADIUS_MM + 6.0);
    pen.text(below, Align::Middle, (Weight::Bold, 12.0), &format!("cylinder {cylinder}"));
    for (line, name, spread) in [(1.0, "x", along), (2.0, "y", across)] {
        let sd = spread.sd.map_or_else(String::new, |sd| format!(" ± {sd:.3}"));
        let text = format!("{name} {:+.3}{sd}", spread.mean + 0.0);
        pen.text(below + Vec2::new(0.0, 4.4 * line), Align::Middle, (Weight::Plain, 9.5), &text);
    }
}
