//! Whether a job that is to be filed, or was, is an older state of one that the archive knows, or one that went on beside it.

use std::collections::{BTreeMap, BTreeSet};

use borewright_archive::{Archive, Record, Summary};
use borewright_planner::log::line::{COLUMNS, cells};
use borewright_planner::read::bounds::MOST_RECORD_BYTES;
use borewright_planner::read::fault::plain;
use borewright_planner::record::{FILE, Word};

use super::{OF_OTHERS, TAKEN_OUT};
use crate::status::Failure;

/// A job's own table, as it is to be filed or was, and sums of lines that were taken out of it as another job's.
#[derive(Debug, Clone, Default)]
pub(crate) struct OwnTable {
    pub(crate) table: Vec<u8>,
    pub(crate) taken_out: BTreeSet<String>,
}

impl OwnTable {
    /// With what these summaries of the job say was taken out of it.
    pub(crate) fn with<'s>(table: Vec<u8>, of_job: impl IntoIterator<Item = &'s Summary>) -> Self {
        let sums = of_job.into_iter().filter_map(|summary| summary.words.get(TAKEN_OUT)).flatten();
        Self { table, taken_out: sums.cloned().collect() }
    }
}

/// Lines that the record of a filed job has and that the job's own has not, in words; what cannot be read says nothing. What was
/// written down anew with the same words is not missing, nor what was filed in doubt as another job's and taken out since.
///
/// # Errors
/// The archive went away.
pub(crate) fn lines_more(archive: &Archive, filed: &Record, own: &OwnTable) -> Result<Vec<String>, Failure> {
    let table = recorded(archive, filed)?;
    let doubted = filed.summary.words.get(OF_OTHERS).into_iter().flatten();
    let others: Vec<&str> = doubted.filter(|sum| own.taken_out.contains(*sum)).map(String::as_str).collect();
    Ok(missing(without(&table, &others), &own.table))
}

/// A table from behind the last of some lines, which are known by their sums; all of it where it has none of them.
fn without<'t>(table: &'t [u8], sums: &[&str]) -> &'t [u8] {
    let has = |line: &[u8]| {
        let line = String::from_utf8_lossy(line);
        let sum = own_cells(line.trim()).map(|cell| cell("sum")).filter(|sum| !sum.is_empty());
        sum.is_some_and(|sum| sums.contains(&sum.as_str()))
    };
    let mut rest = table;
    let mut at = 0;
    for line in table.split_inclusive(|byte| *byte == b'\n') {
        at += line.len();
        if has(line) {
            rest = table.get(at..).unwrap_or_default();
        }
    }
    rest
}

/// The table of what was recorded, as it lies in a record; empty where none can be read.
///
/// # Errors
/// The archive went away.
pub(crate) fn recorded(archive: &Archive, filed: &Record) -> Result<Vec<u8>, Failure> {
    let entry = filed.file(&format!("job/{FILE}")).filter(|e| e.bytes <= MOST_RECORD_BYTES);
    let mut bytes = Vec::new();
    if let Some(entry) = entry
        && archive.give_back(entry, &mut bytes).is_err()
    {
        archive.still_there()?;
        bytes.clear();
    }
    Ok(bytes)
}

/// Whether a filed job has recorded lines that a job's own has not, or some that cannot be read.
///
/// # Errors
/// The archive went away.
pub(crate) fn may_know_more(archive: &Archive, filed: &Record, own: &OwnTable) -> Result<bool, Failure> {
    let table = recorded(archive, filed)?;
    let is_unread =
        table.is_empty() && filed.file(&format!("job/{FILE}")).is_some_and(|entry| entry.bytes > 0);
    Ok(is_unread || !lines_more(archive, filed, own)?.is_empty())
}

/// Lines of one text that another has not, each as often as it stands there.
fn missing(filed: &[u8], own: &[u8]) -> Vec<String> {
    let mut there: BTreeMap<String, usize> = BTreeMap::new();
    for (_, said) in Lines::of(own).said() {
        *there.entry(said).or_default() += 1;
    }
    let mut missing = Vec::new();
    for (line, said) in Lines::of(filed).said() {
        match there.get_mut(&said) {
            Some(left) if *left > 0 => *left -= 1,
            _ => missing.push(words(&line)),
        }
    }
    missing
}

/// The lines of a record's text.
struct Lines {
    lines: Vec<String>,
    /// Whether its cells stand in the columns that `record` writes; of others only whole lines are compared.
    by_columns: bool,
}

/// Cells that say who wrote a line down, when and by which plan, and what was asked then: a line that was written down anew elsewhere
/// differs in these and says the same.
const OF_WRITING: [&str; 7] = ["by", "at", "plan", "sum", "expected", "least", "most"];

impl Lines {
    fn of(text: &[u8]) -> Self {
        let all = String::from_utf8_lossy(text);
        let lines: Vec<String> =
            all.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect();
        let head = lines.iter().find(|line| line.trim_start_matches('\u{feff}').starts_with("check,"));
        let is_own =
            |head: &String| cells(head.trim_start_matches('\u{feff}')).is_some_and(|own| own == COLUMNS);
        Self { by_columns: head.is_none_or(is_own), lines }
    }

    /// Each line, and what it says whoever wrote it down.
    fn said(self) -> Vec<(String, String)> {
        let Self { lines, by_columns } = self;
        // A strike is of the line that it names by its sum.
        let mut by_sum: BTreeMap<String, String> = BTreeMap::new();
        let mut all = Vec::new();
        for line in lines {
            let said = own_cells(&line).filter(|_| by_columns).map_or_else(
                || line.clone(),
                |cell| {
                    let own = COLUMNS.iter().filter(|column| !OF_WRITING.contains(column)).map(|column| {
                        let text = cell(column);
                        match (*column, Word::of(&cell("reading")) == Some(Word::Strike)) {
                            ("of", true) => by_sum.get(&text).cloned().unwrap_or(text),
                            ("value", true) => String::new(),
                            ("of", false) => String::new(),
                            _ => text,
                        }
                    });
                    let said = own.collect::<Vec<_>>().join("\t");
                    by_sum.insert(cell("sum"), said.clone());
                    said
                },
            );
            all.push((line, said));
        }
        all
    }
}

/// The cells of a line that `record` wrote, by their column.
fn own_cells(line: &str) -> Option<impl Fn(&str) -> String> {
    let cells = cells(line).filter(|cells| cells.len() == COLUMNS.len())?;
    Some(move |column: &str| {
        let at = COLUMNS.iter().position(|own| *own == column);
        at.and_then(|at| cells.get(at).cloned()).unwrap_or_default()
    })
}

/// A line as people are told it.
fn words(line: &str) -> String {
    let Some(cell) = own_cells(line) else { return format!("`{}`", plain(line, 60)) };
    let [check, cylinder, reading, value] =
        ["check", "cylinder", "reading", "value"].map(|column| plain(&cell(column), 60));
    let at = if cylinder.is_empty() { String::new() } else { format!(", cylinder {cylinder}") };
    match check.as_str() {
        "" => format!("`{reading}{at}: {value}`"),
        _ => format!("`CHECK {check}{at}, reading {reading}: {value}`"),
    }
}

#[cfg(test)]
mod tests {
    use super::{missing, without};

    #[test]
    fn lines_are_missed_whatever_their_ends_and_as_often_as_they_stand() {
        assert_eq!(missing(b"a\nb\n", b"a\r\nb\r\nc"), [""; 0]);
        assert_eq!(missing(b"a\nb\nb\n", b"b\na\n"), ["`b`"]);
        assert_eq!(missing(b"a\n\n", b""), ["`a`"]);
        assert_eq!(missing(b"", b"a"), [""; 0]);
    }

    #[test]
    fn what_was_another_jobs_ends_with_the_line_of_its_sum() {
        let line = |sum: &str| format!("7,3,1,89.781,,,,,KP,2026-03-01T09:00:00Z,,,,,,,,{sum}\n");
        let table = ["aa", "bb", "cc"].map(line).concat();
        assert_eq!(without(table.as_bytes(), &["bb"]), line("cc").as_bytes());
        assert_eq!(without(table.as_bytes(), &["aa", "cc"]), b"");
        assert_eq!(without(table.as_bytes(), &["89.781", ""]), table.as_bytes());
    }

    #[test]
    fn a_line_that_was_written_down_anew_elsewhere_is_not_missing() {
        let line = |value: &str, at: &str, sum: &str| format!("7,3,1,{value},,,,,KP,{at},,,,,,,,{sum}\n");
        let own = line("89.781", "2026-03-01T09:00:00Z", "aa");
        assert_eq!(missing(own.as_bytes(), line("89.781", "2026-03-02T10:00:00Z", "bb").as_bytes()), [""; 0]);
        let other = line("89.783", "2026-03-01T09:00:00Z", "aa");
        assert_eq!(missing(own.as_bytes(), other.as_bytes()), ["`CHECK 7, cylinder 3, reading 1: 89.781`"]);
        let noted = "7,3,1,89.781,,,,,KP,2026-03-01T09:00:00Z,crack seen,,,,,,,dd\n";
        assert_eq!(missing(noted.as_bytes(), own.as_bytes()).len(), 1);
        let warm = "7,3,1,89.781,,,,29,KP,2026-03-01T09:00:00Z,,,,,,,,ee\n";
        assert_eq!(missing(warm.as_bytes(), own.as_bytes()).len(), 1);
        // In columns of a hand's own the cells are not known by their place.
        let hand = |value: &str| format!("check,cylinder,reading,depth,value\n1,5,1,,{value}\n");
        assert_eq!(missing(hand("0.9").as_bytes(), hand("0.1").as_bytes()).len(), 1);
        // A strike is of what it takes back, whatever that line's sum.
        let strike = |sum: &str| format!(",,strike,line 2,,,,,KP,,typed wrong,,,,,{sum},,x{sum}\n");
        let both = |sum: &str| line("89.781", "2026-03-01T09:00:00Z", sum) + &strike(sum);
        assert_eq!(missing(both("aa").as_bytes(), both("bb").as_bytes()), [""; 0]);
        let crack = b",3,crack,at the bridge,,,,,KP,,,,,,,,,cc\n";
        assert_eq!(missing(crack, b""), ["`crack, cylinder 3: at the bridge`"]);
    }
}
