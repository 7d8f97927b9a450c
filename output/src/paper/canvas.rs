//! What is drawn on one page, before it becomes a page.
//!
//! Points count in pt (1/72 inch) from the top left corner, downwards, the way a sheet is filled; the
//! one turn to the page's own upward axis is made in [`super::paper`]. Only black and white exist here:
//! a sheet is copied and read under a lamp, so weight, dashes and hatching carry every meaning.

use kurbo::{Affine, BezPath, Circle, Line, Point, Rect, Shape, Vec2};

use super::text::{Fonts, Weight};

/// Accuracy of curves turned into cubics, pt: far below a printer's dot.
pub(crate) const CURVE_TOLERANCE: f64 = 0.02;

/// Black or white.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Ordinary.
    Black,
    /// To clear what is underneath.
    White,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Dash {
    /// Unbroken.
    Solid,
    /// What is no longer there, or not yet.
    Dashed,
    /// An axis.
    Axis,
}

impl Dash {
    /// Lengths of line and gap in turn, pt; none where the line is unbroken.
    pub(crate) fn pattern(self) -> &'static [f32] {
        match self {
            Self::Solid => &[],
            Self::Dashed => &[4.0, 3.0],
            Self::Axis => &[12.0, 3.0, 2.0, 3.0],
        }
    }
}

/// One thing drawn.
#[derive(Debug, Clone)]
pub(crate) enum Mark {
    /// A text from the left end of its baseline.
    Text {
        /// Left end of the baseline.
        at: Point,
        /// Size, pt.
        size: f64,
        /// Face.
        weight: Weight,
        /// Cleaned text.
        text: String,
    },
    /// A line.
    Stroke {
        /// Its path.
        path: BezPath,
        /// Its width, pt.
        width: f64,
        /// Its breaks.
        dash: Dash,
    },
    /// A filled area.
    Fill {
        /// Its outline.
        path: BezPath,
        /// Black or white.
        ink: Ink,
    },
}

impl Mark {
    /// The mark made larger by a factor about a point; lines keep their width.
    pub(crate) fn enlarged(self, about: Point, by: f64) -> Self {
        let from = about.to_vec2();
        let to = Affine::translate(from) * Affine::scale(by) * Affine::translate(-from);
        match self {
            Self::Text { at, size, weight, text } => {
                Self::Text { at: to * at, size: size * by, weight, text }
            }
            Self::Stroke { path, width, dash } => Self::Stroke { path: to * path, width, dash },
            Self::Fill { path, ink } => Self::Fill { path: to * path, ink },
        }
    }

    /// The mark moved on its page, pt.
    pub(crate) fn moved(self, by: Vec2) -> Self {
        match self {
            Self::Text { at, size, weight, text } => Self::Text { at: at + by, size, weight, text },
            Self::Stroke { path, width, dash } => {
                Self::Stroke { path: Affine::translate(by) * path, width, dash }
            }
            Self::Fill { path, ink } => Self::Fill { path: Affine::translate(by) * path, ink },
        }
    }
}

/// Where a text stands against its anchor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Align {
    /// Anchor at its left end.
    Left,
    /// Anchor at its middle.
    Middle,
    /// Anchor at its right end.
    Right,
}

/// One page's marks, in drawing order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Canvas {
    /// The marks.
    pub(crate) marks: Vec<Mark>,
}

impl Canvas {
    /// A text with its baseline at the anchor's height; cleaned here again, so that no text escapes it.
    pub(crate) fn text(
        &mut self,
        fonts: &Fonts,
        anchor: Point,
        align: Align,
        style: (Weight, f64),
        text: &str,
    ) {
        let text = fonts.clean(text);
        if text.is_empty() {
            return;
        }
        let (weight, size) = style;
        let width = fonts.width(&text, weight, size);
        let left = match align {
            Align::Left => anchor.x,
            Align::Middle => anchor.x - width / 2.0,
            Align::Right => anchor.x - width,
        };
        self.marks.push(Mark::Text { at: Point::new(left, anchor.y), size, weight, text });
    }

    /// A straight line.
    pub(crate) fn line(&mut self, from: Point, to: Point, width: f64, dash: Dash) {
        self.stroke(Line::new(from, to).to_path(CURVE_TOLERANCE), width, dash);
    }

    /// A rectangle's outline.
    pub(crate) fn frame(&mut self, rect: Rect, width: f64) {
        self.stroke(rect.to_path(CURVE_TOLERANCE), width, Dash::Solid);
    }

    /// A circle's outline.
    pub(crate) fn circle(&mut self, circle: Circle, width: f64, dash: Dash) {
        self.stroke(circle.to_path(CURVE_TOLERANCE), width, dash);
    }

    /// Any outline.
    pub(crate) fn stroke(&mut self, path: BezPath, width: f64, dash: Dash) {
        self.marks.push(Mark::Stroke { path, width, dash });
    }

    /// Any filled area.
    pub(crate) fn fill(&mut self, path: BezPath, ink: Ink) {
        self.marks.push(Mark::Fill { path, ink });
    }
}
