//! The same rows as a table: for reading, for typing from, for a spreadsheet.

use borewright_planner::plan::moves::{MoveList, Touch};

use super::Rows;
use super::rows::Row;
use crate::OutputError;
use crate::said::number::Fixed;

const COLUMNS: [&str; 12] =
    ["line", "cylinder", "pass", "move", "x", "y", "z", "i", "j", "feed", "rpm", "note"];

/// The whole file: touch checks, rows, row count, sums.
///
/// # Errors
/// Where a touch check holds a figure that cannot be printed.
pub(crate) fn table(list: &MoveList, rows: &Rows) -> Result<Vec<u8>, OutputError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(COLUMNS)?;
    for touch in &list.touch {
        writer.write_record(touch_record(touch)?)?;
    }
    for row in &rows.rows {
        writer.write_record(record(row))?;
    }
    let mut count = blank("rows");
    count[11] = rows.rows.len().to_string();
    writer.write_record(count)?;
    let mut sums = blank("sum");
    sums[4] = rows.sum_x.to_string();
    sums[5] = rows.sum_y.to_string();
    writer.write_record(sums)?;
    writer.into_inner().map_err(|fault| OutputError::Table(fault.into_error().into()))
}

fn blank(word: &str) -> [String; 12] {
    let mut cells: [String; 12] = Default::default();
    cells[3] = word.to_owned();
    cells
}

fn record(row: &Row) -> [String; 12] {
    let mut cells = blank(row.of.kind.word());
    cells[0] = row.line.to_string();
    cells[1] = row.of.cylinder.map(|c| c.to_string()).unwrap_or_default();
    cells[2] = row.of.pass.map(|p| p.to_string()).unwrap_or_default();
    for (cell, length) in cells[4..9].iter_mut().zip(row.lengths) {
        *cell = length.map(|l| l.to_string()).unwrap_or_default();
    }
    cells[9] = row.feed.map(|f| f.to_string()).unwrap_or_default();
    cells[10] = row.rpm.map(|r| r.to_string()).unwrap_or_default();
    cells[11] = words_only(&row.of.note);
    cells
}

fn touch_record(touch: &Touch) -> Result<[String; 12], OutputError> {
    let mut cells = blank("touch");
    for (cell, value) in cells[4..7].iter_mut().zip([touch.x_mm, touch.y_mm, touch.z_mm]) {
        if let Some(value) = value {
            *cell = Fixed::new(value, 3)?.to_string();
        }
    }
    cells[11] = words_only(&format!("{} (within {})", touch.what, Fixed::new(touch.within_mm, 2)?));
    Ok(cells)
}

/// Free text that a spreadsheet takes for text: no control or direction marks, and an apostrophe
/// before anything that could start a formula.
fn words_only(text: &str) -> String {
    let text: String = text
        .chars()
        .take(500)
        .filter(|c| !matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'))
        .map(|c| if c.is_control() { ' ' } else { c })
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
        assert_eq!(words_only("wall-to-wall check"), "wall-to-wall check");
    }
}
