//! Walls of a family round the clock, a rose a cylinder: the thinnest place of each sector over all depths.

use std::collections::BTreeMap;

use borewright_planner::family::WallCell;
use borewright_planner::job::SheetUnits;
use kurbo::{Point, Vec2};

use super::super::figure::{Figure, Filling, Pen, path_of};
use super::super::scale;
use super::super::subject::WIDE_MM;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::{Fonts, Weight};
use crate::said::short::shorten;
use crate::said::units::Units;

/// Roses in a row, and on a picture.
const ACROSS: usize = 3;
const MOST: usize = 6;
/// Height of a row, mm.
const ROW_MM: f64 = 66.0;
/// The bore's circle, and the longest bar outside it, mm on paper.
const ROUND_MM: f64 = 8.0;
const LONGEST_MM: f64 = 14.0;
/// Half the width of a bar, degrees.
const HALF_DEG: f64 = 7.0;

/// The pictures, six cylinders each.
pub(super) fn figures(family: &str, cells: &[WallCell], fonts: &Fonts) -> Vec<Figure> {
    let mut by_cylinder: BTreeMap<u32, Vec<&WallCell>> = BTreeMap::new();
    for cell in cells {
        let own = by_cylinder.entry(cell.cylinder).or_default();
        // The cells come with the thinnest first.
        if !own.iter().any(|c| (c.clock - cell.clock).abs() < 1.0) {
            own.push(cell);
        }
    }
    let thickest =
        by_cylinder.values().flatten().map(|c| c.wall.mean.max(c.wall.found[0])).fold(0.0, f64::max);
    let enlarged = scale::round(thickest, LONGEST_MM, 100.0);
    let all: Vec<(u32, Vec<&WallCell>)> = by_cylinder.into_iter().collect();
    all.chunks(MOST).map(|some| figure(family, some, enlarged, fonts)).collect()
}

fn figure(family: &str, some: &[(u32, Vec<&WallCell>)], enlarged: f64, fonts: &Fonts) -> Figure {
    let rows = if some.len() > ACROSS { 2.0 } else { 1.0 };
    let title = format!("Walls of family {}", shorten(family));
    let mut pen = Pen::new(fonts, &title, WIDE_MM, rows * ROW_MM + 22.0);
    let cell = WIDE_MM / 3.0;
    for (row, roses) in (0_u32..).zip(some.chunks(ACROSS)) {
        for (column, (cylinder, walls)) in (0_u32..).zip(roses) {
            let centre = Point::new((f64::from(column) + 0.5) * cell, f64::from(row) * ROW_MM + 32.0);
            rose(&mut pen, centre, *cylinder, walls, enlarged);
        }
    }
    let top = rows * ROW_MM + 2.0;
    scale::bar(&mut pen, Point::new(2.0, top), enlarged, 30.0, Units::of(SheetUnits::Mm));
    pen.text(
        Point::new(56.0, top + 1.3),
        Align::Left,
        (Weight::Bold, 10.5),
        &format!("walls {}", scale::words(enlarged)),
    );
    let key = "Seen from outside the deck, the rear to the right, +Y up. Bars: mean wall of the thinnest depth, from the \
               bore outwards. Figures, and the line across a bar: what the next block is no less than, 95 % sure, mm; in \
               brackets the least found, where the blocks are too few to say.";
    pen.lines(Point::new(0.0, top + 4.0), WIDE_MM, (Weight::Plain, 10.0), 3, key);
    pen.figure.headed(fonts, &format!("Family {}: where the walls are thin", shorten(family)))
}

fn rose(pen: &mut Pen<'_>, centre: Point, cylinder: u32, walls: &[&WallCell], enlarged: f64) {
    pen.circle(centre, ROUND_MM, 0.4, Dash::Solid);
    pen.text(centre + Vec2::new(0.0, 2.0), Align::Middle, (Weight::Bold, 14.0), &cylinder.to_string());
    for cell in walls {
        let to = |wall: f64| ROUND_MM + wall.max(0.0) * enlarged;
        let at = |r: f64, clock: f64| on_circle(centre, r, clock);
        let (inner, outer) = (to(0.0), to(cell.wall.mean));
        let (a, b) = (cell.clock - HALF_DEG, cell.clock + HALF_DEG);
        let bar = [at(inner, a), at(outer, a), at(outer, b), at(inner, b)];
        let hatched = Filling::Hatched { slope_deg: 45.0, apart_mm: 1.0, width_mm: 0.15 };
        pen.area(path_of(&bar, true), hatched);
        pen.polyline(&bar, true, 0.25, Dash::Solid);
        let text = match cell.wall.next_least {
            Some(least) => {
                pen.line(at(to(least), a - 2.0), at(to(least), b + 2.0), 0.8, Dash::Solid);
                format!("{least:.2}")
            }
            None => format!("({:.2})", cell.wall.found[0]),
        };
        let place = at(outer + 4.5, cell.clock) + Vec2::new(0.0, 1.2);
        pen.text(place, Align::Middle, (Weight::Plain, 9.5), &text);
    }
}

/// A place round the clock: 0 to the right, counted upwards.
fn on_circle(centre: Point, radius: f64, clock_deg: f64) -> Point {
    let (sin, cos) = clock_deg.to_radians().sin_cos();
    centre + Vec2::new(radius * cos, -radius * sin)
}
