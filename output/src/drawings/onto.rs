//! A figure onto a page of a sheet.

use kurbo::{Affine, Point, Shape as _};

use super::figure::{CURVE_MM, Figure, Filling, PT_PER_MM, Shape};
use super::hatch;
use crate::paper::canvas::{Canvas, Dash, Ink};
use crate::paper::pages::{INNER, LEFT, Pages};
use crate::paper::text::Fonts;

/// A figure's height on a page, pt.
pub(crate) fn height_pt(figure: &Figure) -> f64 {
    figure.height_mm * PT_PER_MM
}

/// A figure's width on a page, pt.
pub(crate) fn width_pt(figure: &Figure) -> f64 {
    figure.width_mm * PT_PER_MM
}

/// Draws a figure in the middle of a sheet's width, on the next page where it does not fit.
pub(crate) fn place(pages: &mut Pages<'_>, figure: &Figure) {
    let height = height_pt(figure);
    pages.need(height);
    pages.mark();
    let left = LEFT + (INNER - width_pt(figure)) / 2.0;
    draw(&mut pages.canvas, pages.fonts, figure, Point::new(left, pages.y));
    pages.y += height;
}

/// Draws a figure in its true size with its top left corner at `at`, pt from the page's.
pub(crate) fn draw(canvas: &mut Canvas, fonts: &Fonts, figure: &Figure, at: Point) {
    let to_page = Affine::translate(at.to_vec2()) * Affine::scale(PT_PER_MM);
    for shape in &figure.shapes {
        match shape {
            Shape::Line { path, width_mm, dash } => {
                canvas.stroke(to_page * path, width_mm * PT_PER_MM, *dash);
            }
            Shape::Area { path, filling: Filling::Black } => canvas.fill(to_page * path, Ink::Black),
            Shape::Area { path, filling: Filling::White } => canvas.fill(to_page * path, Ink::White),
            Shape::Area { path, filling: Filling::Hatched { slope_deg, apart_mm, width_mm } } => {
                for line in hatch::lines(path, *slope_deg, *apart_mm) {
                    canvas.stroke(to_page * line.to_path(CURVE_MM), width_mm * PT_PER_MM, Dash::Solid);
                }
            }
            Shape::Text { at, align, weight, size_pt, text, .. } => {
                canvas.text(fonts, to_page * *at, *align, (*weight, *size_pt), text);
            }
        }
    }
}
