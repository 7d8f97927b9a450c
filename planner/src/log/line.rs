//! One line of the record: its columns, and the sum that tells a hand's edit from what was recorded.

use crate::read::fault::plain;
use crate::read::source::sha256_hex;

/// The columns, in the order in which lines are added. A table made by hand may have fewer, in any order.
pub const COLUMNS: [&str; 18] = [
    "check",
    "cylinder",
    "reading",
    "value",
    "depth",
    "clock",
    "instrument",
    "temperature",
    "by",
    "at",
    "note",
    "figure",
    "expected",
    "least",
    "most",
    "of",
    "plan",
    "sum",
];

/// Digits of a sum: enough that no hand's edit keeps it by chance.
const SUM_DIGITS: usize = 12;

/// Longest text of a cell, characters.
const LONGEST: usize = 400;

/// What a line is when its `reading` is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Word {
    /// A line that does not count: `value` names it, `note` says why.
    Strike,
    /// A hole in the casting met by a cut.
    Void,
    /// A crack.
    Crack,
    /// A tool broke or was changed.
    Tool,
    /// The block was touched.
    Moved,
    /// Something to remember.
    Note,
    /// Where a bore is cut, in the bank: it stays there.
    Place,
    /// Which sleeve goes into which bore.
    Sleeve,
    /// The lead lets something through.
    Release,
}

impl Word {
    /// Every word that a line of the record may begin with.
    pub const ALL: [Self; 9] = [
        Self::Strike,
        Self::Void,
        Self::Crack,
        Self::Tool,
        Self::Moved,
        Self::Note,
        Self::Place,
        Self::Sleeve,
        Self::Release,
    ];

    /// The word as a line of the record has it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Strike => "strike",
            Self::Void => "void",
            Self::Crack => "crack",
            Self::Tool => "tool",
            Self::Moved => "moved",
            Self::Note => "note",
            Self::Place => "place",
            Self::Sleeve => "sleeve",
            Self::Release => "release",
        }
    }

    /// The word that a text is.
    #[must_use]
    pub fn of(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|w| w.word() == text)
    }
}

/// The cells of one line, as typed; empty where there is nothing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Fields {
    cells: [String; COLUMNS.len()],
}

impl Fields {
    /// A cell by its column.
    #[must_use]
    pub fn get(&self, column: &str) -> &str {
        COLUMNS.iter().position(|c| *c == column).and_then(|i| self.cells.get(i)).map_or("", String::as_str)
    }

    /// Fills a cell; what a terminal or a spreadsheet would act upon is made harmless.
    pub fn set(&mut self, column: &str, text: &str) {
        let at = COLUMNS.iter().position(|c| *c == column);
        if let Some(cell) = at.and_then(|i| self.cells.get_mut(i)) {
            *cell = plain(text.trim(), LONGEST);
        }
    }

    /// The line without its end, with the sum that chains it to the one before.
    #[must_use]
    pub fn written(&self, sum_before: &str) -> (String, String) {
        let body: Vec<String> = self.cells.iter().take(COLUMNS.len() - 1).map(|c| quoted(c)).collect();
        let body = body.join(",");
        let sum = sum(sum_before, &body);
        (format!("{body},{sum}"), sum)
    }
}

/// The sum of a line's text up to its last comma, chained to the sum before.
#[must_use]
pub fn sum(before: &str, body: &str) -> String {
    let whole = sha256_hex(format!("{before}\n{body}").as_bytes());
    whole.chars().take(SUM_DIGITS).collect()
}

/// A cell as comma-separated values have it (RFC 4180).
fn quoted(cell: &str) -> String {
    let text = cell.replace(['\r', '\n'], " ");
    // A spreadsheet would count a text that starts so; a signed figure with its unit is no formula.
    let plain = |c: char| c.is_alphanumeric() || matches!(c, '.' | ',' | '/' | ' ' | '"' | '°');
    let figure = text.get(1..).is_some_and(|rest| rest.chars().all(plain));
    let formula = text.starts_with(['=', '@']) || (text.starts_with(['+', '-']) && !figure);
    let text = if formula { format!("'{text}") } else { text };
    let special = text.contains([',', '"']) || text.starts_with('#');
    if special { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// The cells of one line; `None` where a quotation mark is left open.
#[must_use]
pub fn cells(line: &str) -> Option<Vec<String>> {
    let mut cells = vec![String::new()];
    let mut rest = line.chars().peekable();
    let mut quoted = false;
    while let Some(c) = rest.next() {
        let fresh = cells.last().is_none_or(String::is_empty);
        match (c, quoted) {
            ('"', true) if rest.peek() == Some(&'"') => {
                rest.next();
                push(&mut cells, '"');
            }
            ('"', true) => quoted = false,
            ('"', false) if fresh => quoted = true,
            (',', false) => cells.push(String::new()),
            _ => push(&mut cells, c),
        }
    }
    (!quoted).then(|| cells.into_iter().map(|c| c.trim().to_owned()).collect())
}

fn push(cells: &mut [String], c: char) {
    if let Some(cell) = cells.last_mut() {
        cell.push(c);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_comes_back_as_it_was_written_whatever_stands_in_it() {
        let mut fields = Fields::default();
        fields.set("check", "5");
        fields.set("value", "+0.8 thou");
        fields.set("note", "chip, \"small\"\nand bright\u{1b}[31m");
        fields.set("by", "=KP");
        let (line, sum_of) = fields.written("before");
        assert_eq!(line.lines().count(), 1);
        let back = cells(&line).unwrap();
        assert_eq!(back.len(), COLUMNS.len());
        assert_eq!(back[3], "+0.8 thou");
        assert_eq!(back[8], "'=KP");
        assert_eq!(quoted("+1+cmd|' /C x'!A0"), "'+1+cmd|' /C x'!A0");
        assert_eq!(quoted("-3 1/2 thou"), "-3 1/2 thou");
        assert_eq!(back[10], "chip, \"small\"?and bright?[31m");
        assert_eq!(back[17], sum_of);
        assert_eq!(sum("before", line.rsplit_once(',').unwrap().0), sum_of);
        assert_ne!(sum("after", line.rsplit_once(',').unwrap().0), sum_of);
    }

    #[test]
    fn a_quotation_mark_left_open_is_no_line() {
        assert_eq!(cells("1,\"2"), None);
        assert_eq!(cells("1,\"2\"\"\"").unwrap(), ["1", "2\""]);
    }
}
