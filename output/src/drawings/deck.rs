//! A bank's deck to scale, seen from outside it, the bores as they were found.
//!
//! X runs to the right, Y up the page: the front is at the left whichever way the block stood when it was read.

use borewright_planner::job::{Bank, Stud};
use borewright_planner::survey::{OwnShift, RobustBank};
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

/// The lie of the view.
struct View<'a> {
    layout: &'a Bank,
    robust: &'a RobustBank,
    studs: Vec<&'a Stud>,
    /// The part of the deck that is seen, mm of the block.
    extent: Rect,
    /// Paper mm per mm, and in words.
    shrunk: f64,
    shrunk_words: &'static str,
    /// Paper mm per mm of an offset, and the longest that is believed, mm.
    enlarged: f64,
    longest_mm: f64,
    /// The widest bore, mm.
    widest_mm: f64,
    /// Blocks that figures stand on in turn.
    blocks: u8,
    wide_mm: f64,
}

/// A bank's view; `None` of a bank that was not read.
///
/// The picture is `wide_mm` wide, in which two of them may stand beside each other.
pub(super) fn figure(of: &Subject<'_>, bank: usize, wide_mm: f64) -> Result<Option<Figure>, OutputError> {
    let Some(view) = View::of(of, bank, wide_mm) else { return Ok(None) };
    let title = format!("Deck of bank {}, job {}", view.layout.name, of.job.number);
    // As high as its key ends, below.
    let mut pen = Pen::new(of.fonts, &title, wide_mm, 0.0);
    let frame = view.block(&mut pen);
    view.bores(&mut pen, of, frame)?;
    words(&mut pen, frame, &Sides::of(&of.job.block, bank));
    let top = view.scales(&mut pen, of, frame.y1 + 24.5 + BLOCK_MM * f64::from(view.blocks - 1));
    let key = view.key(of);
    let below = pen.lines(Point::new(0.0, top + 4.0), wide_mm, (Weight::Plain, 10.0), KEY_LINES, &key);
    pen.figure.height_mm = below + 1.0;
    let heading = format!("{}: the bores as found", bank_first(&view.layout.name));
    Ok(Some(pen.figure.headed(of.fonts, &heading)))
}

fn diameter(of: &Subject<'_>, cylinder: u32) -> Option<f64> {
    of.report.bores.iter().find(|b| b.cylinder == cylinder).map(|b| b.diameter)
}

impl<'a> View<'a> {
    fn of(of: &Subject<'a>, bank: usize, wide_mm: f64) -> Option<Self> {
        let layout = of.job.bank(bank);
        let robust = of.report.as_bored.robust.iter().find(|b| b.bank == layout.name)?;
        let widest_mm = robust.bores.iter().filter_map(|b| diameter(of, b.cylinder)).fold(0.0, f64::max);
        if widest_mm <= 0.0 {
            return None;
        }
        let studs: Vec<&Stud> = of.job.block.studs.iter().filter(|s| s.bank == bank).collect();
        let square = |x: f64, y: f64, wide: f64| Rect::from_center_size((x, y), (wide, wide));
        let bores = layout.sites.iter().map(|s| square(s.x_mm, layout.axis_offset_mm, widest_mm));
        let holes = studs.iter().map(|s| square(s.centre_mm[0], s.centre_mm[1], s.diameter_mm));
        let extent = bores.chain(holes).reduce(|all, one| all.union(one))?.inflate(MARGIN_MM, MARGIN_MM);
        let (by_width, by_height) =
            (scale::reduced(extent.width(), wide_mm - 4.0), scale::reduced(extent.height(), 110.0));
        let (shrunk, shrunk_words) = if by_width.0 < by_height.0 { by_width } else { by_height };
        let places: Vec<f64> = layout.sites.iter().map(|s| s.x_mm * shrunk).collect();
        let closest = places.windows(2).map(|w| (w[1] - w[0]).abs()).fold(f64::INFINITY, f64::min);
        let blocks = (1..MOST_BLOCKS).find(|n| f64::from(*n) * closest >= NARROW_MM).unwrap_or(MOST_BLOCKS);
        // A bore in the wrong unit or place must not shrink the arrows of all others.
        let sizes = robust.bores.iter().map(|b| b.shift[0].hypot(b.shift[1]));
        let longest_mm = sizes.filter(|size| *size <= BELIEVED_MM).fold(0.0, f64::max);
        let enlarged = scale::round(longest_mm, 0.8 * (widest_mm / 2.0 * shrunk), scale::MOST_ENLARGED);
        Some(Self {
            layout,
            robust,
            studs,
            extent,
            shrunk,
            shrunk_words,
            enlarged,
            longest_mm,
            widest_mm,
            blocks,
            wide_mm,
        })
    }

    fn to_paper(&self) -> Affine {
        let height = self.extent.height() * self.shrunk;
        let middle = Point::new(self.wide_mm / 2.0, HEAD_MM + height / 2.0);
        Affine::translate(middle.to_vec2())
            * Affine::scale_non_uniform(self.shrunk, -self.shrunk)
            * Affine::translate(-self.extent.center().to_vec2())
    }

    /// How far an arrow may reach, on paper.
    fn radius(&self) -> f64 {
        self.widest_mm / 2.0 * self.shrunk
    }

    /// The deck's edge, its front heavy, the journal axis and the studs; the frame on paper.
    fn block(&self, pen: &mut Pen<'_>) -> Rect {
        let to_paper = self.to_paper();
        let frame = to_paper.transform_rect_bbox(self.extent);
        pen.stroke(frame.to_path(CURVE_MM), 0.25, Dash::Solid);
        pen.line(Point::new(frame.x0, frame.y0), Point::new(frame.x0, frame.y1), 1.4, Dash::Solid);
        if (self.extent.y0..self.extent.y1).contains(&0.0) {
            let axis = [self.extent.x0, self.extent.x1].map(|x| to_paper * Point::new(x, 0.0));
            pen.line(axis[0], axis[1], 0.2, Dash::Axis);
        }
        for stud in &self.studs {
            let centre = to_paper * Point::new(stud.centre_mm[0], stud.centre_mm[1]);
            pen.circle(centre, stud.diameter_mm / 2.0 * self.shrunk, 0.25, Dash::Solid);
            pen.cross(centre, stud.diameter_mm * 0.3 * self.shrunk, 0.15);
        }
        frame
    }

    /// The bores with their arrows, and their figures below the frame.
    fn bores(&self, pen: &mut Pen<'_>, of: &Subject<'_>, frame: Rect) -> Result<(), OutputError> {
        let to_paper = self.to_paper();
        let mut block = 0;
        for site in &self.layout.sites {
            let true_at = to_paper * Point::new(site.x_mm, self.layout.axis_offset_mm);
            let found = self.robust.bores.iter().find(|b| b.cylinder == site.cylinder);
            let size = diameter(of, site.cylinder).unwrap_or(self.widest_mm) / 2.0 * self.shrunk;
            bore(pen, site.cylinder, true_at, size, found.map(|b| (b, self.enlarged)));
            let at = Point::new(true_at.x, frame.y1 + 10.0 + BLOCK_MM * f64::from(block));
            block = (block + 1) % self.blocks;
            figures(pen, of, at, found, cut(found, self.enlarged, self.radius()))?;
        }
        Ok(())
    }

    /// The bars, of the deck and of the arrows where any is drawn; the line that the last stands on.
    fn scales(&self, pen: &mut Pen<'_>, of: &Subject<'_>, mut top: f64) -> f64 {
        let bold = (Weight::Bold, 10.5);
        scale::bar(pen, Point::new(2.0, top), self.shrunk, 40.0, of.units());
        pen.text(Point::new(62.0, top + 1.3), Align::Left, bold, &format!("deck {}", self.shrunk_words));
        if self.longest_mm >= NO_SHIFT_MM {
            // Beside the first where there is room, else below it.
            let narrow = self.wide_mm < WIDE_MM;
            let (bar, words) = if narrow { (2.0, 62.0) } else { (98.0, 145.0) };
            top += if narrow { 6.0 } else { 0.0 };
            scale::bar(pen, Point::new(bar, top), self.enlarged, 25.0, of.units());
            let arrows = format!("arrows {}", scale::words(self.enlarged));
            pen.text(Point::new(words, top + 1.3), Align::Left, bold, &arrows);
        }
        top
    }

    /// What the marks mean.
    fn key(&self, of: &Subject<'_>) -> String {
        let mut more = String::new();
        if self.robust.bores.iter().any(|b| b.odd) {
            more.push_str(" Heavy circle: stands apart from its bank.");
        }
        if self.robust.bores.iter().any(|b| cut(Some(b), self.enlarged, self.radius())) {
            more.push_str(" Cut: too far off to be drawn.");
        }
        format!(
            "Seen from outside the deck. Arrows run from the true position to the bore as found, half way down its \
             readings; x and y are that offset, {}. Dash-dot: journal axis, y 0. Small circles: studs.{more}",
            of.units().name()
        )
    }
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
