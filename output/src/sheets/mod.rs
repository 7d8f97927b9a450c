//! Sheets for the machine: one setup sheet, in order of work.

mod canvas;
mod deck_view;
mod face;
mod page;
mod paper;
mod setup;
mod sides;
mod table;
mod text;
mod units;

pub(crate) use setup::setup_sheet;

/// Whether both faces of a sheet draw this character as itself.
#[cfg(test)]
pub(crate) fn has_glyph(character: char) -> bool {
    static FONTS: std::sync::LazyLock<text::Fonts> =
        std::sync::LazyLock::new(|| text::Fonts::load().unwrap());
    [text::Weight::Plain, text::Weight::Bold].iter().all(|weight| FONTS.face(*weight).has(character))
}
