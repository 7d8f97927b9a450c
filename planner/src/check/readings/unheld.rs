//! Tables read without a block to hold them against: their columns, and whether each cell is what its column takes.

use super::Gather;
use crate::job::TableKind;
use crate::read::fault::Fault;
use crate::read::given::Units;
use crate::read::source::Source;
use crate::read::table::{Column, NOT_READ, Row, Table, Takes};

/// The faults of a table that stand in it whatever the block: an unknown or missing
/// column, a cell that is no number or beyond what any block has. What only the block tells is not seen: whose cylinders and mains
/// they are, what lies on the bank, which words of a clock it has. Nothing is told of cells where the units are not known.
pub(in crate::check) fn unheld(source: &Source, kind: TableKind, units: Option<Units>) -> Vec<Fault> {
    let table = match kind.split(source, units.unwrap_or_default()) {
        Ok(table) => table,
        Err(faults) => return faults,
    };
    if units.is_none() {
        return Vec::new();
    }
    let read = table.each(|row| {
        let mut f = Gather::default();
        for column in kind.columns() {
            let given = !table.text(row, column.name).is_empty();
            if given || column.required {
                f.take(cell(&table, row, column));
            }
        }
        f.done(|| Some(()))
    });
    read.err().unwrap_or_default()
}

fn cell(table: &Table<'_>, row: &Row<'_>, column: &Column) -> Result<(), Box<Fault>> {
    match column.takes {
        Takes::Count => table.count(row, column.name).map(|_| ()),
        Takes::LengthOrNotRead(_) if table.text(row, column.name) == NOT_READ => Ok(()),
        Takes::Length(_) | Takes::LengthOrNotRead(_) => table.length(row, column.name).map(|_| ()),
        Takes::Words => Ok(()),
    }
}
