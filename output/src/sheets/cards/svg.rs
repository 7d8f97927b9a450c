//! A card as a picture of its own: the area that prints, in mm.

use kurbo::{Affine, Point};

use super::leaf::{LEFT, TOP};
use crate::OutputError;
use crate::drawings::{self, Figure, Filling, PT_PER_MM, Shape};
use crate::paper::canvas::{Align, Canvas, Ink, Mark};
use crate::paper::text::Fonts;

/// The area, mm.
const SIZE_MM: [f64; 2] = [190.0, 254.0];

/// Writes it.
///
/// # Errors
/// Where a mark lies far off the card.
pub(super) fn svg(canvas: &Canvas, fonts: &Fonts, title: &str, about: &str) -> Result<String, OutputError> {
    let to_mm = Affine::scale(1.0 / PT_PER_MM) * Affine::translate((-LEFT, -TOP));
    let shapes = canvas.marks.iter().map(|mark| match mark {
        Mark::Text { at, size, weight, text } => Shape::Text {
            at: coarse(to_mm * *at),
            align: Align::Left,
            weight: *weight,
            size_pt: *size,
            width_mm: hundredths(fonts.width(text, *weight, *size) / PT_PER_MM),
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
    let [width_mm, height_mm] = SIZE_MM;
    drawings::svg(&Figure {
        title: fonts.clean(title),
        about: fonts.clean(about),
        width_mm,
        height_mm,
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
