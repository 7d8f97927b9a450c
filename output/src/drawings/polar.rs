//! A bore round the clock, depth by depth: its radius against a round circle, much enlarged.

use std::f64::consts::TAU;

use borewright_planner::survey::{Profile, Trace};
use kurbo::{Point, Vec2};

use super::figure::{Figure, Filling, HEADING_PT, Pen};
use super::scale;
use super::subject::{Subject, WIDE_MM};
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::sides::Sides;

/// Depths on one picture: two rows of three.
pub(super) const MOST: usize = 6;
/// Depths in a row.
const ACROSS: usize = 3;
/// Width and height of one plot with its words.
const CELL_MM: [f64; 2] = [WIDE_MM / 3.0, 69.0];
/// Radius of the round circle on paper.
const ROUND_MM: f64 = 16.0;
/// How far a trace may leave it, inwards or outwards.
const DEVIATION_MM: f64 = 6.5;
/// More readings than this are drawn as a line without dots.
const MOST_DOTS: usize = 72;

/// The picture of one cylinder's depths, all to one scale; `None` of none.
pub(super) fn figure(of: &Subject<'_>, profiles: &[Profile]) -> Result<Option<Figure>, OutputError> {
    let Some(first) = profiles.first() else { return Ok(None) };
    let traces = || profiles.iter().flat_map(|p| &p.traces);
    let farthest = traces().flat_map(|t| &t.readings).map(|r| r[1].abs()).fold(0.0, f64::max);
    let enlarged = scale::round(farthest, DEVIATION_MM, 2000.0);
    let rows = if profiles.len() > ACROSS { 2.0 } else { 1.0 };
    let title = format!("Roundness of cylinder {}, job {}", first.cylinder, of.job.number);
    let mut pen = Pen::new(of.fonts, &title, WIDE_MM, 7.0 + rows * CELL_MM[1] + 15.0);
    pen.text(
        Point::new(0.0, 5.0),
        Align::Left,
        (Weight::Bold, HEADING_PT),
        &format!("Cylinder {}: round the bore", first.cylinder),
    );
    let words = format!("deviation {}", scale::words(enlarged));
    pen.text(Point::new(WIDE_MM - 52.0, 5.0), Align::Right, (Weight::Bold, 10.5), &words);
    scale::bar(&mut pen, Point::new(WIDE_MM - 46.0, 3.8), enlarged, 22.0, of.units());
    let sides = Sides::of(&of.job.block, first.bank);
    let mut left = CELL_MM[0] / 2.0;
    let mut top = 7.0;
    for (i, profile) in profiles.iter().enumerate() {
        if i == ACROSS {
            (left, top) = (CELL_MM[0] / 2.0, top + CELL_MM[1]);
        }
        plot(&mut pen, of, profile, enlarged, &sides, Point::new(left, top))?;
        left += CELL_MM[0];
    }
    let plate = traces().any(|t| t.plate_on.is_some());
    let studs = profiles.iter().any(|p| !p.studs_deg.is_empty());
    let key = format!(
        "Seen from outside the deck. Thin: the round circle of least squares, not to scale; size and place taken \
         out.{}{} Figures: highest less lowest, {}.",
        if plate { " Solid: torque plate off. Dashed, heavy: plate on." } else { "" },
        if studs { " Small circles: studs." } else { "" },
        of.units().name()
    );
    pen.lines(Point::new(0.0, 7.0 + rows * CELL_MM[1]), WIDE_MM, (Weight::Plain, 10.0), 3, &key);
    Ok(Some(pen.figure))
}

/// One depth, below the middle of its top edge.
fn plot(
    pen: &mut Pen<'_>,
    of: &Subject<'_>,
    profile: &Profile,
    enlarged: f64,
    sides: &Sides,
    top: Point,
) -> Result<(), OutputError> {
    let centre = top + Vec2::new(0.0, 29.0);
    pen.circle(centre, ROUND_MM, 0.15, Dash::Solid);
    let words = (Weight::Plain, 9.5);
    let out = ROUND_MM + DEVIATION_MM + 1.0;
    for (clock, name) in [(90.0, sides.side_word(true)), (270.0, sides.side_word(false))] {
        let at = on_circle(centre, out, clock) + Vec2::new(0.0, if clock < 180.0 { -0.5 } else { 3.2 });
        pen.text(at, Align::Middle, words, name);
    }
    for (clock, name) in [(0.0, "rear"), (180.0, "front")] {
        let at = on_circle(centre, ROUND_MM - DEVIATION_MM - 0.5, clock) + Vec2::new(0.0, 1.2);
        let align = if clock < 90.0 { Align::Right } else { Align::Left };
        pen.text(at, align, words, name);
    }
    for clock in 0..8_u8 {
        let clock = f64::from(clock) * 45.0;
        let [from, to] = [ROUND_MM - 1.2, ROUND_MM + 1.2].map(|r| on_circle(centre, r, clock));
        pen.line(from, to, 0.15, Dash::Solid);
    }
    for stud in &profile.studs_deg {
        let at = on_circle(centre, out + 0.5, *stud);
        pen.circle(at, 1.4, 0.3, Dash::Solid);
        pen.cross(at, 0.9, 0.15);
    }
    for trace in &profile.traces {
        draw(pen, trace, enlarged, centre);
    }
    let mut name = format!("depth {}", of.depth(profile.depth_mm)?);
    let what = profile.surface.map(|s| s.word().to_owned());
    let said: Vec<String> = what.into_iter().chain(profile.set.clone()).collect();
    if !said.is_empty() {
        name = format!("{name}, {}", said.join(", "));
    }
    let room = (CELL_MM[0] - 3.0) * super::figure::PT_PER_MM;
    let name = of.fonts.fit(&name, Weight::Bold, 10.5, room);
    pen.text(top + Vec2::new(0.0, 62.5), Align::Middle, (Weight::Bold, 10.5), &name);
    let mut figures = Vec::new();
    for trace in &profile.traces {
        let length = of.length(trace.peak_to_valley_mm)?;
        figures.push(match trace.plate_on {
            None => format!("round {length}"),
            Some(false) => format!("off {length}"),
            Some(true) => format!("on {length}"),
        });
    }
    let shape = of.report.torque_plate.iter().flat_map(|p| &p.bores);
    let same = |s: &&borewright_planner::survey::PlateShape| {
        s.cylinder == profile.cylinder && s.depth.total_cmp(&profile.depth_mm).is_eq()
    };
    if let Some(shape) = shape.clone().find(same).filter(|_| profile.surface.is_none()) {
        figures.push(format!("change {}", of.length(shape.distortion)?));
    }
    pen.text(top + Vec2::new(0.0, 67.0), Align::Middle, (Weight::Plain, 10.0), &figures.join(", "));
    Ok(())
}

/// A trace, closed where it has no gap wider than a third of the way round.
fn draw(pen: &mut Pen<'_>, trace: &Trace, enlarged: f64, centre: Point) {
    let at = |r: &[f64; 2]| on_circle(centre, (ROUND_MM + r[1] * enlarged).max(0.0), r[0]);
    let points: Vec<Point> = trace.readings.iter().map(at).collect();
    let (width, dash) = match trace.plate_on {
        Some(true) => (0.75, Dash::Dashed),
        _ => (0.45, Dash::Solid),
    };
    let gap = |a: &[f64; 2], b: &[f64; 2]| (b[0] - a[0]).rem_euclid(360.0);
    let ends = trace.readings.last().zip(trace.readings.first());
    let closed = ends.is_some_and(|(last, first)| gap(last, first) <= 120.0);
    let mut run: Vec<Point> = Vec::new();
    let mut whole = true;
    for (i, point) in points.iter().enumerate() {
        if i > 0 && gap(&trace.readings[i - 1], &trace.readings[i]) > 120.0 {
            whole = false;
            pen.polyline(&run, false, width, dash);
            run.clear();
        }
        run.push(*point);
    }
    if closed && !whole {
        run.extend(points.first());
    }
    pen.polyline(&run, closed && whole, width, dash);
    if points.len() <= MOST_DOTS {
        for point in points {
            let filling = if trace.plate_on == Some(true) { Filling::White } else { Filling::Black };
            pen.dot(point, 0.7, filling);
            pen.circle(point, 0.7, 0.2, Dash::Solid);
        }
    }
}

/// A place round the clock: 0 to the right, counted upwards, as seen from outside the deck with the front at the
/// left.
fn on_circle(centre: Point, radius: f64, clock_deg: f64) -> Point {
    let (sin, cos) = (clock_deg / 360.0 * TAU).sin_cos();
    centre + Vec2::new(radius * cos, -radius * sin)
}
