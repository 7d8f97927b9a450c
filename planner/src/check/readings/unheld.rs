//! Tables read without a block to hold them against: their columns, and whether each cell is what its column takes.

use super::{Gather, tables};
use crate::read::fault::Fault;
use crate::read::given::Units;
use crate::read::quantity as q;
use crate::read::source::Source;
use crate::read::table::{Row, Table};

/// The faults of a table, `field` being the job's key for it, that stand in it whatever the block: an unknown or missing
/// column, a cell that is no number or beyond what any block has. What only the block tells is not seen: whose cylinders and mains
/// they are, what lies on the bank, which words of a clock it has. Nothing is told of cells where the units are not known.
pub(in crate::check) fn unheld(source: &Source, field: &str, units: Option<Units>) -> Vec<Fault> {
    let Some((columns, most)) = tables::columns(field) else { return Vec::new() };
    let table = match Table::split(source, columns, most, units.unwrap_or_default()) {
        Ok(table) => table,
        Err(faults) => return faults,
    };
    if units.is_none() {
        return Vec::new();
    }
    let read = table.each(|row| {
        let mut f = Gather::default();
        for column in columns {
            let given = !table.text(row, column.name).is_empty();
            if given || column.required {
                f.take(cell(&table, row, column.name));
            }
        }
        f.done(|| Some(()))
    });
    read.err().unwrap_or_default()
}

fn cell(table: &Table<'_>, row: &Row<'_>, name: &str) -> Result<(), Box<Fault>> {
    let quantity = match name {
        "cylinder" => return table.count(row, name).map(|_| ()),
        "wall" if table.text(row, name) == "nr" => return Ok(()),
        "depth" => q::DEPTH,
        "diameter" => q::BORE,
        "wall" => q::WALL,
        "height" => q::HEIGHT,
        "x" | "y" | "z" | "radius" => q::COORDINATE,
        _ => return Ok(()),
    };
    table.length(row, name, quantity).map(|_| ())
}
