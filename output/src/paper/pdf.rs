//! Marks to a PDF file: the only place that knows printpdf.
//!
//! Equal marks give equal bytes: font names are fixed, the file's identity comes from the plan's
//! fingerprint, and no clock is read.

use std::collections::BTreeSet;

use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::{Document, Object, Stream, StringFormat};
use printpdf::{FontId, Mm, Op, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem};
use rayon::prelude::*;

use super::about::About;
use super::canvas::{Canvas, Mark};
use super::content::{Coded, content};
use super::text::{Fonts, Weight, characters};
use super::{archive, outline};
use crate::OutputError;

/// Writes the pages.
///
/// # Errors
/// Where a coordinate is not finite or off every page, or a font cannot be cut down.
pub(crate) fn write(pages: &[Canvas], fonts: &Fonts, about: &About) -> Result<Vec<u8>, OutputError> {
    let title = fonts.clean(&about.title);
    let mut document = PdfDocument::new(&title);
    let (mut faces, mut asked) = (Vec::new(), Vec::new());
    for weight in [Weight::Plain, Weight::Bold] {
        let used = characters_drawn(pages, weight);
        if used.is_empty() {
            continue;
        }
        let font = fonts.face(weight).cut_down(&used, full_name(weight))?;
        let code = |c: &char| font.lookup_glyph_index(u32::from(*c)).map(|code| (*c, code));
        let name = name(weight);
        faces.push(Coded { weight, name, codes: used.iter().filter_map(code).collect() });
        let id = FontId(name.to_owned());
        let font = PdfFont::new(font);
        document.resources.fonts.map.insert(id.clone(), font);
        // What a face is asked for tells its widths and what its codes mean.
        asked.push(Op::SetFont { font: PdfFontHandle::External(id), size: Pt(1.0) });
        asked.push(Op::ShowText { items: vec![TextItem::Text(used.iter().collect())] });
    }
    // The library frames the pages and writes the faces. Their contents are written here: it takes an object for every operand.
    for at in 0..pages.len() {
        let ops = if at == 0 { std::mem::take(&mut asked) } else { Vec::new() };
        document.pages.push(PdfPage::new(Mm(210.0), Mm(297.0), ops));
    }
    let options = PdfSaveOptions { subset_fonts: false, ..PdfSaveOptions::default() };
    let mut warnings = Vec::new();
    let mut file = document.to_lopdf_document(&options, &mut warnings);
    let drawn: Result<Vec<Stream>, OutputError> = pages
        .par_iter()
        .map_init(packer, |packer, page| {
            Ok(packed(packer, Stream::new(Default::default(), content(page, &faces)?)))
        })
        .collect();
    let framed: Vec<_> = file.get_pages().into_values().collect();
    for (page, stream) in framed.into_iter().zip(drawn?) {
        let fault = |fault: lopdf::Error| OutputError::Sheet(fault.to_string());
        let contents = file
            .get_dictionary(page)
            .and_then(|page| page.get(b"Contents")?.as_reference())
            .map_err(fault)?;
        file.set_object(contents, stream);
    }
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

/// Packs every stream that may be packed and is not.
fn compress(file: &mut Document) {
    let mut packer = packer();
    for object in file.objects.values_mut() {
        if let Object::Stream(stream) = object {
            let own = std::mem::replace(stream, Stream::new(Default::default(), Vec::new()));
            *stream = packed(&mut packer, own);
        }
    }
}

/// What packs stream after stream in the same room: a new one clears a third of a megabyte first. At the quickest level: the
/// sample's cards come to 130 kB where the third gives 103, and packing was a seventh of the work of a plan.
fn packer() -> Compress {
    Compress::new(Compression::new(1), true)
}

/// A stream packed, where it comes to less.
fn packed(packer: &mut Compress, mut stream: Stream) -> Stream {
    if stream.allows_compression && !stream.dict.has(b"Filter") {
        packer.reset();
        // What does not fit is longer than it was.
        let mut packed = Vec::with_capacity(stream.content.len());
        let done = packer.compress_vec(&stream.content, &mut packed, FlushCompress::Finish);
        if done.is_ok_and(|status| status == Status::StreamEnd) && packed.len() < stream.content.len() {
            packed.shrink_to_fit();
            stream.dict.set("Filter", "FlateDecode");
            stream.set_content(packed);
        }
    }
    stream
}

/// Every character drawn in a weight.
fn characters_drawn(pages: &[Canvas], weight: Weight) -> BTreeSet<char> {
    let marks = pages.iter().flat_map(|page| &page.marks);
    characters(marks.filter_map(|mark| match mark {
        Mark::Text { weight: drawn, text, .. } if *drawn == weight => Some(text.as_str()),
        _ => None,
    }))
}

/// Six capitals and a plus mark a cut-down font.
fn full_name(weight: Weight) -> &'static str {
    match weight {
        Weight::Plain => "SHEETA+DejaVuSansCondensed",
        Weight::Bold => "SHEETB+DejaVuSansCondensed-Bold",
    }
}

/// What pages call a face.
fn name(weight: Weight) -> &'static str {
    match weight {
        Weight::Plain => "SheetPlain",
        Weight::Bold => "SheetBold",
    }
}
