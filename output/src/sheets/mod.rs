//! Sheets: the setup sheet for the machine, in order of work, and the survey's.

pub(crate) mod canvas;
mod deck_view;
mod face;
pub(crate) mod page;
mod paper;
mod setup;
pub(crate) mod sides;
mod survey;
mod table;
pub(crate) mod text;
pub(crate) mod units;

pub(crate) use setup::{setup_sheet, shorten};
pub(crate) use survey::survey_sheet;

/// Whether both faces of a sheet draw this character as itself.
#[cfg(test)]
pub(crate) fn has_glyph(character: char) -> bool {
    static FONTS: std::sync::LazyLock<text::Fonts> =
        std::sync::LazyLock::new(|| text::Fonts::load().unwrap());
    [text::Weight::Plain, text::Weight::Bold].iter().all(|weight| FONTS.face(*weight).has(character))
}
