//! A figure as SVG: plain shapes and words, no script, no style sheet, nothing fetched from anywhere.

mod words;

use std::borrow::Cow;

use kurbo::{BezPath, PathEl, Point};

use super::figure::{Figure, Filling, PT_PER_MM, Shape};
use super::hatch;
use crate::OutputError;
use crate::paper::canvas::Dash;
use crate::paper::text::Fonts;
use words::Words;

/// A figure larger than this is a fault, mm.
const LARGEST_MM: f64 = 2000.0;

/// Writes it as a file of its own, its words drawn glyph by glyph: every reader shows the same, whatever faces it has. A user
/// unit is 1 mm.
///
/// # Errors
/// Where a coordinate is not finite or far off the figure, or a face cannot be read.
pub(crate) fn svg(figure: &Figure, fonts: &Fonts) -> Result<String, OutputError> {
    written(figure, Words::drawn(figure, fonts)?)
}

/// Writes it for a document that brings its faces along: its words are text, and nothing in it refers to anything or has a name that
/// another picture has too.
///
/// # Errors
/// Where a coordinate is not finite or far off the figure.
pub(crate) fn within(figure: &Figure) -> Result<String, OutputError> {
    written(figure, Words::Typed)
}

/// A figure as the text of an SVG file, its words as outlines or as text; lengths in mm, an error where one is not
/// finite.
fn written(figure: &Figure, words: Words<'_>) -> Result<String, OutputError> {
    let (width, height) = (number(figure.width_mm)?, number(figure.height_mm)?);
    let (title, about) = (escaped(&figure.title), escaped(&figure.about));
    let (before, after) = match words {
        Words::Drawn { .. } => (
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n",
            format!(
                " aria-labelledby=\"title about\">\n<title id=\"title\">{title}</title>\n<desc id=\"about\">{about}</desc>"
            ),
        ),
        Words::Typed => ("", format!(" aria-label=\"{title}. {about}\">")),
    };
    let mut made = String::with_capacity(words.reckoned(figure));
    made.push_str(before);
    made.push_str(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" \
         stroke-linecap=\"round\" role=\"img\"{after}\n<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n"
    ));
    words.define(&mut made);
    let mut shapes = figure.shapes.iter().peekable();
    while let Some(shape) = shapes.next() {
        match shape {
            Shape::Line { path, width_mm, dash } => {
                made.push_str(PATH);
                data(&mut made, path)?;
                // Lines drawn alike one after the other are one path.
                let alike = |next: &&Shape| matches!(next, Shape::Line { width_mm: w, dash: d, .. } if w == width_mm && d == dash);
                while let Some(Shape::Line { path, .. }) = shapes.next_if(alike) {
                    data(&mut made, path)?;
                }
                stroked(&mut made, *width_mm, *dash)?;
            }
            Shape::Area { path, filling: Filling::Black } => {
                made.push_str(PATH);
                data(&mut made, path)?;
                made.push_str("\"/>\n");
            }
            Shape::Area { path, filling: Filling::White } => {
                made.push_str(PATH);
                data(&mut made, path)?;
                made.push_str("\" fill=\"#fff\"/>\n");
            }
            Shape::Area { path, filling: Filling::Hatched { slope_deg, apart_mm, width_mm } } => {
                let mut lines = String::new();
                for l in hatch::lines(path, *slope_deg, *apart_mm) {
                    places(&mut lines, 'M', &[l.p0])?;
                    places(&mut lines, 'L', &[l.p1])?;
                }
                if !lines.is_empty() {
                    made.push_str(PATH);
                    made.push_str(&lines);
                    stroked(&mut made, *width_mm, Dash::Solid)?;
                }
            }
            Shape::Text { at, align, weight, size_pt, text, .. } => {
                words.write(&mut made, *at, *align, (*weight, size_pt / PT_PER_MM), text)?;
            }
        }
    }
    made.push_str("</svg>\n");
    Ok(made)
}

/// How a path begins, up to its data.
const PATH: &str = "<path d=\"";

/// What follows a path's data where it is a line.
fn stroked(made: &mut String, width_mm: f64, dash: Dash) -> Result<(), OutputError> {
    made.push_str("\" fill=\"none\" stroke=\"#000\" stroke-width=\"");
    push_number(made, width_mm)?;
    let pattern = dash.pattern();
    if !pattern.is_empty() {
        // Round ends would close the gaps of a dash.
        made.push_str("\" stroke-linecap=\"butt\" stroke-dasharray=\"");
        for (index, length) in pattern.iter().enumerate() {
            if index > 0 {
                made.push(' ');
            }
            push_number(made, f64::from(*length) / PT_PER_MM)?;
        }
    }
    made.push_str("\"/>\n");
    Ok(())
}

/// A path's data, to a thousandth of a mm.
fn data(made: &mut String, path: &BezPath) -> Result<(), OutputError> {
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => places(made, 'M', &[*to])?,
            PathEl::LineTo(to) => places(made, 'L', &[*to])?,
            PathEl::QuadTo(c, to) => places(made, 'Q', &[*c, *to])?,
            PathEl::CurveTo(c, d, to) => places(made, 'C', &[*c, *d, *to])?,
            PathEl::ClosePath => made.push('Z'),
        }
    }
    Ok(())
}

fn places(made: &mut String, letter: char, points: &[Point]) -> Result<(), OutputError> {
    made.push(letter);
    for (index, at) in points.iter().enumerate() {
        if index > 0 {
            made.push(' ');
        }
        push_number(made, at.x)?;
        made.push(',');
        push_number(made, at.y)?;
    }
    Ok(())
}

fn number(value: f64) -> Result<String, OutputError> {
    let mut made = String::new();
    push_number(&mut made, value)?;
    Ok(made)
}

/// To a thousandth, without needless noughts. By whole thousandths: a picture is tens of thousands of these, and the general
/// way of writing a fraction took a third of its time.
fn push_number(made: &mut String, value: f64) -> Result<(), OutputError> {
    if !value.is_finite() || value.abs() > LARGEST_MM {
        return Err(OutputError::Drawing);
    }
    #[expect(clippy::cast_possible_truncation, reason = "a whole number below a few millions")]
    let thousandths = (value * 1000.0).round() as i32;
    if thousandths < 0 {
        made.push('-');
    }
    let (whole, rest) = (thousandths.unsigned_abs() / 1000, thousandths.unsigned_abs() % 1000);
    made.push_str(itoa::Buffer::new().format(whole));
    if rest > 0 {
        // Four figures, of which the first stands in the place of the point.
        let mut buffer = itoa::Buffer::new();
        let digits = buffer.format(1000 + rest);
        made.push('.');
        made.push_str(digits.get(1..).unwrap_or_default().trim_end_matches('0'));
    }
    Ok(())
}

/// The characters that markup would act upon; control characters were taken out when the text was cleaned.
pub(crate) fn escaped(text: &str) -> Cow<'_, str> {
    if text.bytes().all(|byte| (b' '..0x7F).contains(&byte) && !b"&<>\"'".contains(&byte)) {
        return text.into();
    }
    let mut made = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => made.push_str("&amp;"),
            '<' => made.push_str("&lt;"),
            '>' => made.push_str("&gt;"),
            '"' => made.push_str("&quot;"),
            '\'' => made.push_str("&#39;"),
            c if c.is_control() => made.push(' '),
            c => made.push(c),
        }
    }
    made.into()
}

#[cfg(test)]
mod tests;
