//! A figure: shapes in mm from its top left corner, downwards, the way it lies on paper.

use borewright_planner::read::inch::MM_PER_INCH;

use kurbo::{Affine, BezPath, Circle, Line, Point, Rect, Shape as _, Vec2};

use crate::paper::canvas::{Align, Dash};
use crate::paper::polished::polished;
use crate::paper::text::{Fonts, Weight};

/// Printer's points in a millimetre.
pub(crate) const PT_PER_MM: f64 = 72.0 / MM_PER_INCH;
/// Curves become cubics this near, mm: a tenth of the finest line.
pub(crate) const CURVE_MM: f64 = 0.01;
/// Line height against size.
const LEADING: f64 = 1.25;

/// A drawing of a given size.
#[derive(Debug, Clone)]
pub(crate) struct Figure {
    /// What it shows, for a reader who cannot see it.
    pub(crate) title: String,
    /// More of it in words: what it was made from.
    pub(crate) about: String,
    /// Its width on paper, mm.
    pub(crate) width_mm: f64,
    /// Its height on paper, mm.
    pub(crate) height_mm: f64,
    /// Its shapes, in drawing order.
    pub(crate) shapes: Vec<Shape>,
}

impl Figure {
    /// The figure set below a heading, and as much higher.
    pub(crate) fn headed(self, fonts: &Fonts, heading: &str) -> Self {
        const HEADING_MM: f64 = 8.0;
        let down = Vec2::new(0.0, HEADING_MM);
        let moved = self.shapes.into_iter().map(|shape| shape.moved(down));
        let mut pen = Pen::new(fonts, &self.title, self.width_mm, self.height_mm + HEADING_MM);
        let heading = fonts.fit(heading, Weight::Bold, HEADING_PT, self.width_mm * PT_PER_MM);
        pen.text(Point::new(0.0, 5.0), Align::Left, (Weight::Bold, HEADING_PT), &heading);
        pen.figure.shapes.extend(moved);
        pen.figure
    }
}

/// What is true of every one.
const DRAWN: &str = "Drawn to scale in mm, black on white.";

/// Size of a picture's heading.
pub(crate) const HEADING_PT: f64 = 14.0;

/// One shape.
#[derive(Debug, Clone)]
pub(crate) enum Shape {
    /// A line along a path.
    Line {
        /// Its path.
        path: BezPath,
        /// Its weight, mm.
        width_mm: f64,
        /// Its breaks.
        dash: Dash,
    },
    /// An area; what a path winds round is inside it, so a hole runs the other way.
    Area {
        /// Its outline.
        path: BezPath,
        /// What fills it.
        filling: Filling,
    },
    /// A text on a baseline.
    Text {
        /// Where its anchor stands.
        at: Point,
        /// Which end of it the anchor is.
        align: Align,
        /// Its face.
        weight: Weight,
        /// Its size, pt.
        size_pt: f64,
        /// Cleaned text.
        text: String,
    },
}

impl Shape {
    /// The shape moved, mm.
    pub(crate) fn moved(self, by: Vec2) -> Self {
        match self {
            Self::Line { path, width_mm, dash } => {
                Self::Line { path: Affine::translate(by) * path, width_mm, dash }
            }
            Self::Area { path, filling } => Self::Area { path: Affine::translate(by) * path, filling },
            Self::Text { at, align, weight, size_pt, text } => {
                Self::Text { at: at + by, align, weight, size_pt, text }
            }
        }
    }
}

/// What fills an area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Filling {
    /// Solid.
    Black,
    /// Clears what is underneath.
    White,
    /// Parallel lines.
    Hatched {
        /// Their direction, degrees up from the right.
        slope_deg: f64,
        /// From one to the next, mm.
        apart_mm: f64,
        /// Their weight, mm.
        width_mm: f64,
    },
}

/// A figure being put together: the faces tell how wide a text is.
#[derive(Debug)]
pub(crate) struct Pen<'f> {
    pub(crate) fonts: &'f Fonts,
    pub(crate) figure: Figure,
}

/// A weight and a size in pt.
pub(crate) type Style = (Weight, f64);

impl<'f> Pen<'f> {
    /// An empty figure.
    pub(crate) fn new(fonts: &'f Fonts, title: &str, width_mm: f64, height_mm: f64) -> Self {
        let title = fonts.clean(title);
        Self {
            fonts,
            figure: Figure { title, about: DRAWN.to_owned(), width_mm, height_mm, shapes: Vec::new() },
        }
    }

    /// A straight line.
    pub(crate) fn line(&mut self, from: Point, to: Point, width_mm: f64, dash: Dash) {
        self.stroke(Line::new(from, to).to_path(CURVE_MM), width_mm, dash);
    }

    /// A line through points, closed or open.
    pub(crate) fn polyline(&mut self, points: &[Point], closed: bool, width_mm: f64, dash: Dash) {
        self.stroke(path_of(points, closed), width_mm, dash);
    }

    /// A circle's outline.
    pub(crate) fn circle(&mut self, centre: Point, radius_mm: f64, width_mm: f64, dash: Dash) {
        self.stroke(Circle::new(centre, radius_mm).to_path(CURVE_MM), width_mm, dash);
    }

    /// A filled circle.
    pub(crate) fn dot(&mut self, centre: Point, radius_mm: f64, filling: Filling) {
        self.area(Circle::new(centre, radius_mm).to_path(CURVE_MM), filling);
    }

    /// A line along any path.
    pub(crate) fn stroke(&mut self, path: BezPath, width_mm: f64, dash: Dash) {
        if !path.is_empty() {
            self.figure.shapes.push(Shape::Line { path, width_mm, dash });
        }
    }

    /// Any area.
    pub(crate) fn area(&mut self, path: BezPath, filling: Filling) {
        if !path.is_empty() {
            self.figure.shapes.push(Shape::Area { path, filling });
        }
    }

    /// A cross of two lines, its arms so long.
    pub(crate) fn cross(&mut self, centre: Point, arm_mm: f64, width_mm: f64) {
        self.line(centre - Vec2::new(arm_mm, 0.0), centre + Vec2::new(arm_mm, 0.0), width_mm, Dash::Solid);
        self.line(centre - Vec2::new(0.0, arm_mm), centre + Vec2::new(0.0, arm_mm), width_mm, Dash::Solid);
    }

    /// An arrow with a filled head; a short one has a short head, none at all draws nothing.
    pub(crate) fn arrow(&mut self, from: Point, to: Point, width_mm: f64) {
        let length = (to - from).hypot();
        if length < 0.05 {
            return;
        }
        let along = (to - from) / length;
        let across = Vec2::new(-along.y, along.x);
        let head = length.min(3.0);
        self.line(from, to - along * (head * 0.8), width_mm, Dash::Solid);
        let tip =
            [to, to - along * head + across * (head * 0.42), to - along * head - across * (head * 0.42)];
        self.area(path_of(&tip, true), Filling::Black);
    }

    /// A text.
    pub(crate) fn text(&mut self, at: Point, align: Align, (weight, size_pt): Style, text: &str) {
        let text = self.fonts.clean(&polished(text));
        if text.is_empty() {
            return;
        }
        self.figure.shapes.push(Shape::Text { at, align, weight, size_pt, text });
    }

    /// What a text takes up, its anchor where it would be drawn.
    pub(crate) fn text_box(&self, at: Point, align: Align, (weight, size_pt): Style, text: &str) -> Rect {
        let width = self.fonts.width(&self.fonts.clean(&polished(text)), weight, size_pt) / PT_PER_MM;
        let size = size_pt / PT_PER_MM;
        let left = match align {
            Align::Left => at.x,
            Align::Middle => at.x - width / 2.0,
            Align::Right => at.x - width,
        };
        Rect::new(left, at.y - 0.76 * size, left + width, at.y + 0.24 * size)
    }

    /// A text on a white ground, so that no line runs through it.
    pub(crate) fn label(&mut self, at: Point, align: Align, style: Style, text: &str) {
        let ground = self.text_box(at, align, style, text).inflate(0.5, 0.3);
        self.area(ground.to_path(CURVE_MM), Filling::White);
        self.text(at, align, style, text);
    }

    /// A text in lines no wider than this, from its top left; gives back where the next may start.
    pub(crate) fn lines(&mut self, at: Point, width_mm: f64, style: Style, most: usize, text: &str) -> f64 {
        let (weight, size_pt) = style;
        let size = size_pt / PT_PER_MM;
        let mut y = at.y;
        for line in self.fonts.wrap(&polished(text), weight, size_pt, width_mm * PT_PER_MM, most) {
            y += size * LEADING;
            self.text(Point::new(at.x, y - 0.3 * size), Align::Left, style, &line);
        }
        y
    }
}

/// Points joined by straight lines.
pub(crate) fn path_of(points: &[Point], closed: bool) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.iter().enumerate() {
        if i == 0 { path.move_to(*point) } else { path.line_to(*point) }
    }
    if closed && points.len() > 1 {
        path.close_path();
    }
    path
}
