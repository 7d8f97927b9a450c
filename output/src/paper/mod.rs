//! Paper: pages of marks, text set in two faces, tables, and the PDF that they become.
//!
//! In: lines, areas, words with a size, rows of cells. Out: bytes of a PDF, the same for the same marks.
//! A [`canvas::Canvas`] takes the marks of one page; [`pages::Pages`] fills page after page and puts head and foot on each;
//! only `pdf.rs` knows the library that writes. Nothing here knows a job or a plan.

pub(crate) mod about;
mod archive;
pub(crate) mod canvas;
mod content;
mod face;
mod font_file;
mod glyph;
mod outline;
pub(crate) mod pages;
pub(crate) mod pdf;
pub(crate) mod polished;
pub(crate) mod table;
pub(crate) mod text;
mod usual;
mod words;

/// Whether both faces of a sheet draw this character as itself.
#[cfg(test)]
pub(crate) fn has_glyph(character: char) -> bool {
    static FONTS: std::sync::LazyLock<&text::Fonts> =
        std::sync::LazyLock::new(|| text::Fonts::load().unwrap());
    [text::Weight::Plain, text::Weight::Bold].iter().all(|weight| FONTS.face(*weight).has(character))
}
