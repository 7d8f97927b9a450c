//! A bank's deck to scale, seen from outside it, the bores as they were found.
//!
//! X runs to the right, Y up the page: the front is at the left whichever way the block stood when it was read.

use borewright_planner::survey::OwnShift;
use kurbo::{Affine, Point, Rect, Shape as _, Vec2};

use super::figure::{CURVE_MM, Figure, Pen, path_of};
use super::subject::{Subject, WIDE_MM};
use super::{figure::Filling, scale};
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::bank_first;
use crate::said::sides::Sides;

/// Round the outermost circle, mm of the block.
const MARGIN_MM: f64 = 8.0;
/// Above the view: the side's name and FRONT.
const HEAD_MM: f64 = 8.0;
/// Lines of the key at the most.
const KEY_LINES: usize = 8;
/// A bore's figures: two rows and a word.
const BLOCK_MM: f64 = 13.6;
/// Bores closer on paper than this have their figures on several blocks in turn.
const NARROW_MM: f64 = 19.0;
/// On no more blocks than these.
const MOST_BLOCKS: u8 = 3;
/// An offset larger than this is no bore's but a reading's, mm: its arrow is cut.
const BELIEVED_MM: f64 = 5.0;

/// A bank's view; `None` of a bank that was not read.
///
/// The picture is `wide_mm` wide, in which two of them may stand beside each other.
pub(super) fn figure(of: &Subject<'_>, bank: usize, wide_mm: f64) -> Result<Option<Figure>, OutputError> {
    let (job, report) = (of.job, of.report);
    let layout = job.bank(bank);
    let Some(robust) = report.as_bored.robust.iter().find(|b| b.bank == layout.name) else { return Ok(None) };
    let diameter = |cylinder: u32| report.bores.iter().find(|b| b.cylinder == cylinder).map(|b| b.diameter);
    let widest = robust.bores.iter().filter_map(|b| diameter(b.cylinder)).fold(0.0, f64::max);
    if widest <= 0.0 {
        return Ok(None);
    }
    let y = layout.axis_offset_mm;
    let studs: Vec<_> = job.block.studs.iter().filter(|s| s.bank == bank).collect();
    let bores = layout.sites.iter().map(|s| Rect::from_center_size((s.x_mm, y), (widest, widest)));
    let holes = studs
        .iter()
        .map(|s| Rect::from_center_size((s.centre_mm[0], s.centre_mm[1]), (s.diameter_mm, s.diameter_mm)));
    let Some(extent) = bores.chain(holes).reduce(|all, one| all.union(one)) else { return Ok(None) };
    let extent = extent.inflate(MARGIN_MM, MARGIN_MM);
    let (by_width, by_height) =
        (scale::reduced(extent.width(), wide_mm - 4.0), scale::reduced(extent.height(), 110.0));
    let (shrunk, shrunk_words) = if by_width.0 < by_height.0 { by_width } else { by_height };
    let height = extent.height() * shrunk;
    let title = format!("Deck of bank {}, job {}", layout.name, job.number);
    let places: Vec<f64> = layout.sites.iter().map(|s| s.x_mm * shrunk).collect();
    let closest = places.windows(2).map(|w| (w[1] - w[0]).abs()).fold(f64::INFINITY, f64::min);
    let blocks = (1..MOST_BLOCKS).find(|n| f64::from(*n) * closest >= NARROW_MM).unwrap_or(MOST_BLOCKS);
    // As high as its key ends, below.
    let mut pen = Pen::new(of.fonts, &title, wide_mm, 0.0);
    let middle = Point::new(wide_mm / 2.0, HEAD_MM + height / 2.0);
    let to_paper = Affine::translate(middle.to_vec2())
        * Affine::scale_non_uniform(shrunk, -shrunk)
        * Affine::translate(-extent.center().to_vec2());
    let frame = to_paper.transform_rect_bbox(extent);
    pen.stroke(frame.to_path(CURVE_MM), 0.25, Dash::Solid);
    pen.line(Point::new(frame.x0, frame.y0), Point::new(frame.x0, frame.y1), 1.4, Dash::Solid);
    if (extent.y0..extent.y1).contains(&0.0) {
        let axis = [extent.x0, extent.x1].map(|x| to_paper * Point::new(x, 0.0));
        pen.line(axis[0], axis[1], 0.2, Dash::Axis);
    }
    for stud in studs {
        let centre = to_paper * Point::new(stud.centre_mm[0], stud.centre_mm[1]);
        pen.circle(centre, stud.diameter_mm / 2.0 * shrunk, 0.25, Dash::Solid);
        pen.cross(centre, stud.diameter_mm * 0.3 * shrunk, 0.15);
    }
    let radius = widest / 2.0 * shrunk;
    // A bore in the wrong unit or place must not shrink the arrows of all others.
    let sizes = || robust.bores.iter().map(|b| b.shift[0].hypot(b.shift[1]));
    let longest = sizes().filter(|size| *size <= BELIEVED_MM).fold(0.0, f64::max);
    let enlarged = scale::round(longest, 0.8 * radius, scale::MOST_ENLARGED);
    let mut block = 0;
    for site in &layout.sites {
        let true_at = to_paper * Point::new(site.x_mm, y);
        let found = robust.bores.iter().find(|b| b.cylinder == site.cylinder);
        let size = diameter(site.cylinder).unwrap_or(widest) / 2.0 * shrunk;
        bore(&mut pen, site.cylinder, true_at, size, found.map(|b| (b, enlarged)));
        let at = Point::new(true_at.x, frame.y1 + 10.0 + BLOCK_MM * f64::from(block));
        block = (block + 1) % blocks;
        figures(&mut pen, of, at, found, cut(found, enlarged, radius))?;
    }
    words(&mut pen, frame, &Sides::of(&job.block, bank));
    let mut top = frame.y1 + 24.5 + BLOCK_MM * f64::from(blocks - 1);
    let bold = (Weight::Bold, 10.5);
    scale::bar(&mut pen, Point::new(2.0, top), shrunk, 40.0, of.units());
    pen.text(Point::new(62.0, top + 1.3), Align::Left, bold, &format!("deck {shrunk_words}"));
    if let Some(enlarged) = Some(enlarged).filter(|_| longest >= NO_SHIFT_MM) {
        // Beside the first where there is room, else below it.
        let (bar, words) = if wide_mm < WIDE_MM { (2.0, 62.0) } else { (98.0, 145.0) };
        top += if wide_mm < WIDE_MM { 6.0 } else { 0.0 };
        scale::bar(&mut pen, Point::new(bar, top), enlarged, 25.0, of.units());
        pen.text(
            Point::new(words, top + 1.3),
            Align::Left,
            bold,
            &format!("arrows {}", scale::words(enlarged)),
        );
    }
    let mut more = String::new();
    if robust.bores.iter().any(|b| b.odd) {
        more.push_str(" Heavy circle: stands apart from its bank.");
    }
    if robust.bores.iter().any(|b| cut(Some(b), enlarged, radius)) {
        more.push_str(" Cut: too far off to be drawn.");
    }
    let key = format!(
        "Seen from outside the deck. Arrows run from the true position to the bore as found, half way down its \
         readings; x and y are that offset, {}. Dash-dot: journal axis, y 0. Small circles: studs.{more}",
        of.units().name()
    );
    let below = pen.lines(Point::new(0.0, top + 4.0), wide_mm, (Weight::Plain, 10.0), KEY_LINES, &key);
    pen.figure.height_mm = below + 1.0;
    let heading = format!("{}: the bores as found", bank_first(&layout.name));
    Ok(Some(pen.figure.headed(of.fonts, &heading)))
}

/// An offset that prints as nothing gets no arrow, mm.
const NO_SHIFT_MM: f64 = 0.0005;

/// Whether a bore stands too far off for its arrow.
fn cut(found: Option<&OwnShift>, enlarged: f64, radius: f64) -> bool {
    found.is_some_and(|b| b.shift[0].hypot(b.shift[1]) * enlarged > radius)
}

/// A bore's offset in figures, from the middle of their first line.
fn figures(
    pen: &mut Pen<'_>,
    of: &Subject<'_>,
    at: Point,
    found: Option<&OwnShift>,
    cut: bool,
) -> Result<(), OutputError> {
    let mut row = |line: f64, weight: Weight, text: &str| {
        let style = (weight, 10.0);
        // Under the outermost bores of a long bank the page may end before the text would.
        let half = pen.text_box(at, Align::Middle, style, text).width() / 2.0;
        let place = Point::new(at.x.max(half).min(pen.figure.width_mm - half), at.y + 4.4 * line);
        pen.text(place, Align::Middle, style, text);
    };
    let Some(b) = found else {
        row(0.0, Weight::Bold, "not read");
        return Ok(());
    };
    row(0.0, Weight::Plain, &format!("x {}", of.signed(b.shift[0])?));
    row(1.0, Weight::Plain, &format!("y {}", of.signed(b.shift[1])?));
    match (b.odd, cut) {
        (true, true) => row(2.0, Weight::Bold, "apart, cut"),
        (true, false) => row(2.0, Weight::Bold, "apart"),
        (false, true) => row(2.0, Weight::Bold, "cut"),
        (false, false) => {}
    }
    Ok(())
}

fn bore(pen: &mut Pen<'_>, cylinder: u32, at: Point, radius: f64, found: Option<(&OwnShift, f64)>) {
    let number = cylinder.to_string();
    let (width, dash) = match found {
        Some((b, _)) if b.odd => (1.1, Dash::Solid),
        Some(_) => (0.5, Dash::Solid),
        None => (0.35, Dash::Dashed),
    };
    pen.circle(at, radius, width, dash);
    pen.cross(at, 2.0, 0.2);
    let arrow = found.map_or(Vec2::ZERO, |(b, enlarged)| {
        let arrow = Vec2::new(b.shift[0], -b.shift[1]) * enlarged;
        if cut(Some(b), enlarged, radius) { arrow.normalize() * radius } else { arrow }
    });
    let moves = found.is_some_and(|(b, _)| b.shift[0].hypot(b.shift[1]) >= NO_SHIFT_MM);
    // The number stands on the side that the arrow leaves free.
    let away = if moves { -arrow.normalize() } else { Vec2::new(0.0, -1.0) };
    let small = radius < 9.0;
    let place =
        at + away * (radius * if small { 0.5 } else { 0.6 }) + Vec2::new(0.0, if small { 1.5 } else { 2.0 });
    pen.label(place, Align::Middle, (Weight::Bold, if small { 12.0 } else { 16.0 }), &number);
    if moves {
        pen.arrow(at, at + arrow, 0.6);
    }
}

/// FRONT, rear, and the sides' names round the view.
fn words(pen: &mut Pen<'_>, frame: Rect, sides: &Sides) {
    let middle = frame.center().x;
    let bold = (Weight::Bold, 11.5);
    pen.text(Point::new(middle, frame.y0 - 2.0), Align::Middle, bold, sides.plus_side);
    pen.text(Point::new(middle, frame.y1 + 5.0), Align::Middle, bold, sides.minus_side);
    let tip = Point::new(0.5, frame.y0 - 3.4);
    let head = [tip, tip + Vec2::new(3.6, -1.8), tip + Vec2::new(3.6, 1.8)];
    pen.area(path_of(&head, true), Filling::Black);
    pen.text(tip + Vec2::new(5.2, 1.6), Align::Left, (Weight::Bold, 13.0), "FRONT");
    pen.text(
        Point::new(pen.figure.width_mm - 0.5, frame.y0 - 2.0),
        Align::Right,
        (Weight::Plain, 11.5),
        "rear",
    );
}
