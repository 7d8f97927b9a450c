//! Marks to a PDF file: the only place that knows printpdf.
//!
//! Equal marks give equal bytes: font names are fixed, the file's identity comes from the plan's
//! fingerprint, and no clock is read.

use std::collections::BTreeSet;
use std::io::Write as _;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use kurbo::{BezPath, PathEl, Point};
use lopdf::{Document, Object, StringFormat};
use printpdf::{
    Color, FontId, Greyscale, Line, LineCapStyle, LineDashPattern, LinePoint, Mm, Op, PaintMode, PdfDocument,
    PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Polygon, PolygonRing, Pt, TextItem, WindingOrder,
};

use super::canvas::{Canvas, Dash, Ink, Mark};
use super::text::{Fonts, Weight};
use super::{archive, outline};
use crate::OutputError;

/// Height of A4, pt.
const HEIGHT: f64 = 841.890;

/// What a file says of itself.
#[derive(Debug, Clone)]
pub(crate) struct About {
    /// Its title.
    pub(crate) title: String,
    /// What tells it from every other: of the plan's fingerprint.
    pub(crate) identity: String,
    /// What a reader lists beside the pages: a name, and the page from 0 that it stands on.
    pub(crate) bookmarks: Vec<(String, usize)>,
    /// How its pages are numbered there.
    pub(crate) labels: Labels,
}

/// Numbers of pages as a reader shows them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Labels {
    /// Each bookmark's pages by its number: `3-1`, `3-2`.
    Cards,
    /// 1, 2, 3.
    Plain,
}

/// Writes the pages.
///
/// # Errors
/// Where a coordinate is not finite or off every page, or a font cannot be cut down.
pub(crate) fn write(pages: &[Canvas], fonts: &Fonts, about: &About) -> Result<Vec<u8>, OutputError> {
    let title = fonts.clean(&about.title);
    let mut document = PdfDocument::new(&title);
    for weight in [Weight::Plain, Weight::Bold] {
        let used = characters(pages, weight);
        if !used.is_empty() {
            let font = fonts.face(weight).cut_down(&used, full_name(weight))?;
            document.resources.fonts.map.insert(font_id(weight), PdfFont::new(font));
        }
    }
    for page in pages {
        let mut pen = Pen::default();
        for mark in &page.marks {
            pen.draw(mark)?;
        }
        document.pages.push(PdfPage::new(Mm(210.0), Mm(297.0), pen.ops));
    }
    let options = PdfSaveOptions { subset_fonts: false, ..PdfSaveOptions::default() };
    let mut warnings = Vec::new();
    let mut file = document.to_lopdf_document(&options, &mut warnings);
    let identity = || Object::String(about.identity.as_bytes().to_vec(), StringFormat::Literal);
    file.trailer.set("ID", Object::Array(vec![identity(), identity()]));
    "1.7".clone_into(&mut file.version);
    outline::add(&mut file, about);
    archive::add(&mut file, &title);
    compress(&mut file);
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(|fault| OutputError::Sheet(fault.to_string()))?;
    Ok(bytes)
}

/// Packs every stream that may be packed. The library's own way takes the most thorough level: over twice the work for a twentieth
/// less (counted on the sample's cards).
fn compress(file: &mut Document) {
    const LEVEL: Compression = Compression::new(3);
    for object in file.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        if !stream.allows_compression || stream.dict.has(b"Filter") {
            continue;
        }
        let mut packed = ZlibEncoder::new(Vec::new(), LEVEL);
        // Into memory nothing fails.
        if packed.write_all(&stream.content).is_ok()
            && let Ok(packed) = packed.finish()
            && packed.len() < stream.content.len()
        {
            stream.dict.set("Filter", "FlateDecode");
            stream.set_content(packed);
        }
    }
}

/// Every character drawn in a weight.
fn characters(pages: &[Canvas], weight: Weight) -> BTreeSet<char> {
    let mut used = BTreeSet::new();
    for mark in pages.iter().flat_map(|page| &page.marks) {
        if let Mark::Text { weight: drawn, text, .. } = mark
            && *drawn == weight
        {
            used.extend(text.chars());
        }
    }
    used
}

/// Six capitals and a plus mark a cut-down font.
fn full_name(weight: Weight) -> &'static str {
    match weight {
        Weight::Plain => "SHEETA+DejaVuSansCondensed",
        Weight::Bold => "SHEETB+DejaVuSansCondensed-Bold",
    }
}

fn font_id(weight: Weight) -> FontId {
    FontId(match weight {
        Weight::Plain => "SheetPlain".to_owned(),
        Weight::Bold => "SheetBold".to_owned(),
    })
}

/// A coordinate as the file holds it; anything off the page is a fault of the layout.
fn narrow(value: f64) -> Result<f32, OutputError> {
    if !value.is_finite() || value.abs() >= 2000.0 {
        return Err(OutputError::Drawing);
    }
    // Hundredths of a point: below any printer's dot, and short in the file.
    #[expect(clippy::cast_possible_truncation, reason = "below 2000 and rounded; the file holds f32")]
    Ok(((value * 100.0).round() / 100.0) as f32)
}

fn place(at: Point) -> Result<printpdf::Point, OutputError> {
    Ok(printpdf::Point { x: Pt(narrow(at.x)?), y: Pt(narrow(HEIGHT - at.y)?) })
}

/// Marks of one page on their way to operators. What is already set is not set again: a page of tables
/// is mostly lines of one weight, and each word spared is a word not compressed.
#[derive(Debug, Default)]
struct Pen {
    ops: Vec<Op>,
    width: Option<f64>,
    dash: Option<Dash>,
}

impl Pen {
    fn draw(&mut self, mark: &Mark) -> Result<(), OutputError> {
        match mark {
            Mark::Text { at, size, weight, text } => self.ops.extend([
                Op::StartTextSection,
                // Set for each text: printpdf forgets the font with the section when it encodes text.
                Op::SetFont { font: PdfFontHandle::External(font_id(*weight)), size: Pt(narrow(*size)?) },
                Op::SetTextCursor { pos: place(*at)? },
                Op::ShowText { items: vec![TextItem::Text(text.clone())] },
                Op::EndTextSection,
            ]),
            Mark::Stroke { path, width, dash } => self.stroke(path, *width, *dash)?,
            Mark::Fill { path, ink } => self.fill(path, *ink)?,
        }
        Ok(())
    }

    fn stroke(&mut self, path: &BezPath, width: f64, dash: Dash) -> Result<(), OutputError> {
        if self.width != Some(width) {
            self.width = Some(width);
            self.ops.push(Op::SetOutlineThickness { pt: Pt(narrow(width)?) });
        }
        if self.dash != Some(dash) {
            self.dash = Some(dash);
            self.ops.push(Op::SetLineDashPattern { dash: pattern(dash) });
            let cap = if dash == Dash::Solid { LineCapStyle::Round } else { LineCapStyle::Butt };
            self.ops.push(Op::SetLineCapStyle { cap });
        }
        // One line each: a path of several rings would close only its last one.
        for (points, is_closed) in rings(path)? {
            self.ops.push(Op::DrawLine { line: Line { points, is_closed } });
        }
        Ok(())
    }

    fn fill(&mut self, path: &BezPath, ink: Ink) -> Result<(), OutputError> {
        let paint =
            |percent| Op::SetFillColor { col: Color::Greyscale(Greyscale { percent, icc_profile: None }) };
        if ink == Ink::White {
            self.ops.push(paint(1.0));
        }
        let rings = rings(path)?.into_iter().map(|(points, _)| PolygonRing { points }).collect();
        let (mode, winding_order) = (PaintMode::Fill, WindingOrder::NonZero);
        self.ops.push(Op::DrawPolygon { polygon: Polygon { rings, mode, winding_order } });
        // Text takes the fill colour as well.
        if ink == Ink::White {
            self.ops.push(paint(0.0));
        }
        Ok(())
    }
}

fn pattern(dash: Dash) -> LineDashPattern {
    match dash.pattern() {
        [] => LineDashPattern::solid(),
        lengths => LineDashPattern::new(0.0, lengths),
    }
}

/// A path as separate runs of points, and whether each closes.
fn rings(path: &BezPath) -> Result<Vec<(Vec<LinePoint>, bool)>, OutputError> {
    let point = |at: Point, bezier| place(at).map(|p| LinePoint { p, bezier });
    let mut rings: Vec<(Vec<LinePoint>, bool)> = Vec::new();
    let mut here = Point::ZERO;
    for element in path.elements() {
        if let PathEl::MoveTo(to) = element {
            rings.push((vec![point(*to, false)?], false));
            here = *to;
            continue;
        }
        let Some((points, closed)) = rings.last_mut() else { continue };
        match element {
            PathEl::MoveTo(_) => {}
            PathEl::LineTo(to) => {
                points.push(point(*to, false)?);
                here = *to;
            }
            PathEl::QuadTo(c, to) => {
                let first = here + (*c - here) * (2.0 / 3.0);
                let second = *to + (*c - *to) * (2.0 / 3.0);
                points.extend([point(first, true)?, point(second, true)?, point(*to, false)?]);
                here = *to;
            }
            PathEl::CurveTo(first, second, to) => {
                points.extend([point(*first, true)?, point(*second, true)?, point(*to, false)?]);
                here = *to;
            }
            PathEl::ClosePath => *closed = true,
        }
    }
    Ok(rings)
}
