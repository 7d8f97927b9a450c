//! The table beside a list, which must have the same rows.

use super::flaw::{At, Flaws};
use super::unit::Unit;
use super::words::{Block, Words};
use crate::read::fault::plain;

/// The columns that say what a row does.
fn columns(unit: Unit) -> [&'static str; 9] {
    match unit {
        Unit::Mm => ["line", "move", "x_mm", "y_mm", "z_mm", "i_mm", "j_mm", "feed_mm_per_min", "rpm"],
        Unit::Inch => ["line", "move", "x_in", "y_in", "z_in", "i_in", "j_in", "feed_in_per_min", "rpm"],
    }
}

/// Holds a table against the words, row by row.
pub(super) fn table(words: &Words, text: &str, unit: Unit, flaws: &mut Flaws) {
    let columns = columns(unit);
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
    let whole = |flaws: &mut Flaws, found: String, expected: &str| {
        flaws.add(At::default(), "table", found, expected);
    };
    let header = reader.headers().cloned().unwrap_or_default();
    let places = columns.map(|name| header.iter().position(|h| h == name));
    if let Some(index) = places.iter().position(Option::is_none) {
        whole(flaws, format!("a table without the column `{}`", columns[index]), "the columns of a list");
        return;
    }
    let mut blocks = words.blocks.iter().skip(1);
    let mut last = None;
    for record in reader.records() {
        let Ok(record) = record else {
            whole(flaws, "a table that cannot be read".into(), "comma-separated values");
            return;
        };
        let line = record.position().map_or(0, csv::Position::line);
        let cells = places.map(|place| place.and_then(|p| record.get(p)).unwrap_or_default());
        let Some(block) = blocks.next() else {
            let n = plain(cells[0], 10);
            whole(flaws, format!("line {line} of the table, N{n}, beyond the list's end"), "as many rows");
            return;
        };
        last = Some(block.at);
        let expected = row(block, unit);
        for ((name, cell), wanted) in columns.iter().zip(cells).zip(&expected) {
            if cell != wanted {
                let found = format!("{name} `{}` in line {line} of the table", plain(cell, 20));
                let wanted = if wanted.is_empty() { "nothing" } else { wanted };
                flaws.add(block.at, "table", found, format!("{wanted}, as in the words"));
            }
        }
    }
    if let Some(block) = blocks.next() {
        flaws.add(block.at, "table", "a row that the table does not have", "as many rows");
    } else if last.is_none() && words.blocks.len() > 1 {
        whole(flaws, "a table without rows".into(), "the rows of the list");
    }
}

/// A block as its row in the table.
fn row(block: &Block, unit: Unit) -> [String; 9] {
    let moves = match (block.g.as_slice(), block.m.as_slice()) {
        ([0], _) => "rapid",
        ([1], _) => "feed",
        ([2], _) => "clockwise",
        ([3], _) => "anticlockwise",
        (_, [0]) => "stop",
        (_, [3]) => "spindle on",
        (_, [5]) => "spindle off",
        (_, [30]) => "end",
        _ => "",
    };
    let fixed = |value: Option<i64>, decimals: usize| {
        value.map_or(String::new(), |v| {
            let digits = format!("{:0width$}", v.unsigned_abs(), width = decimals + 1);
            let (whole, part) = digits.split_at(digits.len() - decimals);
            format!("{}{whole}{}{part}", if v < 0 { "-" } else { "" }, if decimals > 0 { "." } else { "" })
        })
    };
    let [x, y, z, i, j] = block.lengths.map(|l| fixed(l, unit.places()));
    let n = block.at.block.map_or(String::new(), |n| n.to_string());
    [n, moves.into(), x, y, z, i, j, fixed(block.feed, unit.feed_places()), fixed(block.speed, 0)]
}
