//! The file of a typeface: what it says of all its glyphs, and a copy with some of them.

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::{CmapTarget, SubsetProfile, subset};
use allsorts::tables::{FontTableProvider, HeadTable, MaxpTable};
use allsorts::tag;

use crate::OutputError;

/// The error of a file that cannot be read or cut.
pub(super) fn fault(what: impl std::fmt::Debug) -> OutputError {
    OutputError::Font(format!("{what:?}"))
}

/// What a face says of all its glyphs, and how many it has.
///
/// # Errors
/// Where it says neither.
pub(super) fn head_and_count(tables: &impl FontTableProvider) -> Result<(HeadTable, MaxpTable), OutputError> {
    let bytes = tables.read_table_data(tag::HEAD).map_err(fault)?;
    let head = ReadScope::new(&bytes).read::<HeadTable>().map_err(fault)?;
    let bytes = tables.read_table_data(tag::MAXP).map_err(fault)?;
    let count = ReadScope::new(&bytes).read::<MaxpTable>().map_err(fault)?;
    Ok((head, count))
}

/// A face with only some of its glyphs, which keep their order; 0 is the first of them.
///
/// # Errors
/// Where the face cannot be cut.
pub(super) fn cut(face: &[u8], ids: &[u16], profile: &SubsetProfile) -> Result<Vec<u8>, OutputError> {
    let file = ReadScope::new(face).read::<FontData<'_>>().map_err(fault)?;
    let tables = file.table_provider(0).map_err(fault)?;
    subset(&tables, ids, profile, CmapTarget::Unicode).map_err(fault)
}
