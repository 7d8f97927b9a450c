//! The same rows as a table: for reading, for typing from, for a spreadsheet.

use borewright_planner::plan::ListUnits;

use super::Rows;
use super::rows::Row;
use crate::OutputError;

/// What stands over the columns: lengths and feed with the list's unit behind them.
fn columns(units: ListUnits) -> [String; 12] {
    let unit = units.short();
    let length = |name: &str| format!("{name}_{unit}");
    let feed = format!("feed_{unit}_per_min");
    let [x, y, z, i, j] = ["x", "y", "z", "i", "j"].map(length);
    let [line, cylinder, pass, kind] = ["line", "cylinder", "pass", "move"].map(str::to_owned);
    [line, cylinder, pass, kind, x, y, z, i, j, feed, "rpm".to_owned(), "note".to_owned()]
}

/// The whole file: a head and the rows, nothing else, so that a column can be added up.
///
/// # Errors
/// None that is known: a table in memory always takes another row.
pub(crate) fn table(rows: &Rows) -> Result<Vec<u8>, OutputError> {
    // Line ends as RFC 4180 has them.
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(columns(rows.units))?;
    for row in &rows.rows {
        writer.write_record(record(row, rows.units))?;
    }
    writer.into_inner().map_err(|fault| OutputError::Table(fault.into_error().into()))
}

fn record(row: &Row, units: ListUnits) -> [String; 12] {
    let mut cells: [String; 12] = Default::default();
    cells[3] = row.of.kind.word().to_owned();
    cells[0] = row.line.to_string();
    cells[1] = row.of.cylinder.map(|c| c.to_string()).unwrap_or_default();
    cells[2] = row.of.pass.map(|p| p.to_string()).unwrap_or_default();
    for (cell, length) in cells[4..9].iter_mut().zip(row.lengths) {
        *cell = length.map(|l| l.to_string()).unwrap_or_default();
    }
    cells[9] = row.feed.map(|f| f.to_string()).unwrap_or_default();
    cells[10] = row.rpm.map(|r| r.to_string()).unwrap_or_default();
    cells[11] = words_only(&row.of.note.in_units(units.of_sentences()));
    cells
}

/// Free text that a spreadsheet takes for text: no control or direction marks, and an apostrophe
/// before anything that could start a formula.
fn words_only(text: &str) -> String {
    let text: String = text
        .chars()
        .take(500)
        .filter(|c| !matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'))
        .map(|c| if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}') { ' ' } else { c })
        .collect();
    let text = text.trim();
    // The wide forms count as well: some spreadsheets take them for the narrow ones.
    let formula = text.starts_with(['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}']);
    if formula { format!("'{text}") } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_never_becomes_a_formula() {
        assert_eq!(words_only("=1+1"), "'=1+1");
        assert_eq!(words_only(" \t@x"), "'@x");
        assert_eq!(words_only("-3 to go\r\n"), "'-3 to go");
        assert_eq!(words_only("\u{202e}+1"), "'+1");
        assert_eq!(words_only("a\u{2028}b\u{2029}c"), "a b c");
        assert_eq!(words_only("wall-to-wall check"), "wall-to-wall check");
    }
}
