//! A card as a picture of its own: the area that prints, in mm.

use kurbo::{Affine, Point, Rect};

use super::area::{BOTTOM, LEFT, RIGHT, TOP};
use crate::OutputError;
use crate::drawings::{Figure, Filling, PT_PER_MM, Shape};
use crate::paper::canvas::{Align, Canvas, Ink, Mark};
use crate::paper::text::Fonts;

/// The whole card.
///
/// # Errors
/// Where its area is none.
pub(super) fn card(canvas: &Canvas, fonts: &Fonts, title: &str, about: &str) -> Result<Figure, OutputError> {
    let card = Rect::new(LEFT, TOP, RIGHT, BOTTOM);
    figure(&canvas.marks, fonts, card, title, about)
}

/// What lies in an area of a card, pt, as a figure in mm.
///
/// # Errors
/// Where the area is none.
pub(super) fn figure(
    marks: &[Mark],
    fonts: &Fonts,
    area: Rect,
    title: &str,
    about: &str,
) -> Result<Figure, OutputError> {
    if !area.is_finite() {
        return Err(OutputError::Drawing);
    }
    let to_mm = Affine::scale(1.0 / PT_PER_MM) * Affine::translate((-area.x0, -area.y0));
    let shapes = marks.iter().map(|mark| match mark {
        Mark::Text { at, size, weight, text } => Shape::Text {
            at: coarse(to_mm * *at),
            align: Align::Left,
            weight: *weight,
            size_pt: *size,
            text: text.clone(),
        },
        Mark::Stroke { path, width, dash } => Shape::Line {
            path: coarse_path(to_mm * path),
            width_mm: hundredths(width / PT_PER_MM),
            dash: *dash,
        },
        Mark::Fill { path, ink } => {
            let filling = if *ink == Ink::White { Filling::White } else { Filling::Black };
            Shape::Area { path: coarse_path(to_mm * path), filling }
        }
    });
    Ok(Figure {
        title: fonts.clean(title),
        about: fonts.clean(about),
        width_mm: hundredths(area.width() / PT_PER_MM),
        height_mm: hundredths(area.height() / PT_PER_MM),
        shapes: shapes.collect(),
    })
}

/// To 0.01 mm: below any printer's dot, and no figure of the work is told by a coordinate.
fn hundredths(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}

fn coarse(at: Point) -> Point {
    Point::new(hundredths(at.x), hundredths(at.y))
}

fn coarse_path(path: kurbo::BezPath) -> kurbo::BezPath {
    use kurbo::PathEl;
    path.into_iter()
        .map(|element| match element {
            PathEl::MoveTo(p) => PathEl::MoveTo(coarse(p)),
            PathEl::LineTo(p) => PathEl::LineTo(coarse(p)),
            PathEl::QuadTo(a, p) => PathEl::QuadTo(coarse(a), coarse(p)),
            PathEl::CurveTo(a, b, p) => PathEl::CurveTo(coarse(a), coarse(b), coarse(p)),
            PathEl::ClosePath => PathEl::ClosePath,
        })
        .collect()
}
