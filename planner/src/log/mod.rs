//! The record as a file: lines as recorded, lines typed by hand, lines cut off; every line left out is told.

mod kept;
pub mod line;
pub mod time;
mod whose;

use std::collections::HashMap;

use crate::read::fault::plain;
pub use kept::{BEGUN, NOT_THE_LAST, kept, kept_in, kept_lines, of_others, taken_out, tell_beside};
pub use line::{COLUMNS, Fields, Word};
use line::{cells, sum};
use time::{is_just_before, is_written};
pub use whose::Whose;

/// Where a job keeps its record, under its folder.
pub const FILE: &str = "readings/cut.csv";

/// The line that is named where the record as a whole is meant: its first.
pub const WHOLE: usize = 1;

/// Most lines that are read: a hundred jobs' worth.
const MOST_LINES: usize = 1_000_000;

/// What a line that was cut off while it was written ends in once another comes after it.
pub const CUT_OFF: &str = " #cut off";

/// How a line stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// The line stands as it was recorded.
    AsRecorded,
    /// Typed into the table by hand.
    ByHand,
    /// It, or a line above it, was changed since it was recorded.
    Changed,
}

/// One line that counts.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its line in the file, counted from 1.
    pub line: usize,
    /// Its cells.
    pub fields: Fields,
    /// How it stands.
    pub kept: Kept,
}

/// Something about the file that a reader must know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// The line, counted from 1.
    pub line: usize,
    /// What.
    pub text: String,
    /// Whether it holds the job: what a line said does not count, or the record was changed since.
    pub holds: bool,
    /// What stands there, in twelve digits: a release is of this and of nothing else.
    pub stand: String,
}

/// A record read.
#[derive(Debug, Clone, Default)]
pub struct Log {
    /// What counts, in the order of the file.
    pub entries: Vec<Entry>,
    /// What must be told.
    pub told: Vec<Told>,
    /// The last sum in the file; the next line is chained to it.
    pub last_sum: String,
    /// The last instant in the file.
    pub last_at: String,
    /// Sums of lines that earlier plans were made with and that are gone.
    pub missed: Vec<String>,
    /// Sums of lines of another job's record that was taken out of the folder again.
    taken_out: Vec<String>,
    /// The sums seen, each with its line.
    sums: HashMap<String, usize>,
    /// What stands in each line that has no sum of its own which holds.
    stands: HashMap<usize, String>,
    /// Whether lines can be added below the last header.
    headed: bool,
    /// How the file ends.
    end: End,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum End {
    #[default]
    Whole,
    /// Without an end of line, but whole.
    Open,
    /// In the middle of a line.
    CutOff,
}

/// How a file's header reads: for each field which column it is.
struct Header {
    order: Vec<usize>,
}

impl Header {
    /// A header: a line whose cells are all names of columns, `check` among them.
    fn of(cells: &[String]) -> Option<Self> {
        let order: Option<Vec<usize>> =
            cells.iter().map(|cell| COLUMNS.iter().position(|c| c == cell)).collect();
        let order = order.filter(|o| o.contains(&0) || cells.iter().any(|c| c == "value"))?;
        Some(Self { order })
    }

    fn has_sum(&self) -> bool {
        self.order.contains(&(COLUMNS.len() - 1))
    }

    fn is_own(&self) -> bool {
        self.order.iter().copied().eq(0..COLUMNS.len())
    }
}

impl Log {
    /// Reads a record. Nothing in it is an error: what does not count is told.
    #[must_use]
    pub fn read(bytes: &[u8]) -> Self {
        let text = String::from_utf8_lossy(bytes);
        let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
        let mut log = Self::default();
        let ended = text.is_empty() || text.ends_with('\n');
        let count = text.lines().count();
        let mut header: Option<Header> = None;
        for (index, line) in text.lines().enumerate() {
            let number = index + 1;
            if number > MOST_LINES {
                log.tell(number, format!("more than {MOST_LINES} lines: the rest is not read"), true);
                break;
            }
            let end = if number == count && !ended { End::Open } else { End::Whole };
            log.take(number, line, end, &mut header);
        }
        log.headed = header.is_some_and(|h| h.is_own());
        if log.end == End::Whole && !ended {
            log.end = End::Open;
        }
        log
    }

    /// Tells, as a hold, that the line which ended in this sum is gone from the record, though it was recorded, or the last plan
    /// was made with it.
    pub fn miss(&mut self, sum: &str) {
        if self.knows(sum) || [&self.missed, &self.taken_out].into_iter().flatten().any(|s| s == sum) {
            return;
        }
        self.missed.push(sum.to_owned());
        let lines = "lines that are not in this record any more: what stood there is not known. Put back the table as it was; or \
                     read again what it may have said, and the lead lets the loss through (`release \"line 1: WHY\"`, with `--by`)";
        let text = if self.is_gone() {
            format!("the record of this job is gone: it had {lines}")
        } else {
            format!("there were {lines}")
        };
        self.hold_whole(text, sum);
    }

    /// Hears that a line was another job's, which was taken out of the folder again: it is not missed, now or later.
    pub(crate) fn take_out(&mut self, sum: &str) {
        self.missed.retain(|own| own != sum);
        self.told.retain(|told| told.line != WHOLE || told.stand != sum);
        self.taken_out.push(sum.to_owned());
    }

    /// Tells, as a hold, what concerns the record as a whole; `stand` is what a release of it is of.
    pub(crate) fn hold_whole(&mut self, text: String, stand: &str) {
        self.told.push(Told { line: WHOLE, text, holds: true, stand: stand.to_owned() });
    }

    /// Whether there was a record of which no line is left.
    #[must_use]
    pub fn is_gone(&self) -> bool {
        !self.missed.is_empty() && self.sums.is_empty() && self.entries.is_empty()
    }

    /// Whether an instant comes before the last line's by more than a line may have waited to be written.
    #[must_use]
    pub fn is_behind(&self, at: &str) -> bool {
        is_written(at) && at < self.last_at.as_str() && !is_just_before(at, &self.last_at)
    }

    /// Whether a line that ended in this sum is in the record.
    #[must_use]
    pub fn knows(&self, sum: &str) -> bool {
        self.sums.contains_key(sum)
    }

    /// What stands in a line, in twelve digits, with what it followed; empty of a line that is none of the record.
    #[must_use]
    pub fn stand(&self, line: usize) -> String {
        let own = || self.entries.iter().find(|e| e.line == line).map(|e| e.fields.get("sum").to_owned());
        self.stands.get(&line).cloned().or_else(own).unwrap_or_default()
    }

    fn tell(&mut self, line: usize, text: impl Into<String>, holds: bool) {
        let stand = self.stand(line);
        self.told.push(Told { line, text: text.into(), holds, stand });
    }

    /// Takes in one line of the record: keeps it as an entry, or as the header of those that follow, and tells what
    /// is odd about it. The last line may have no end.
    fn take(&mut self, number: usize, line: &str, end: End, header: &mut Option<Header>) {
        let blank = line.trim().is_empty();
        if blank || line.starts_with('#') {
            return;
        }
        self.stands.insert(number, sum(&self.last_sum, line.trim_end()));
        if line.ends_with(CUT_OFF) {
            self.tell(number, "cut off while it was written; it was never answered and does not count", true);
            return;
        }
        let Some(found) = cells(line) else {
            return self.unreadable(number, "a quotation mark is left open", end);
        };
        if let Some(next) = Header::of(&found) {
            *header = Some(next);
            return;
        }
        let Some(known) = header.as_ref() else {
            let text = format!("`{}` stands before any header", plain(line, 40));
            return self.unreadable(number, &text, end);
        };
        if end == End::Open && known.has_sum() && !self.sums(line, &found) {
            // A recorded line ends in its sum, so this one was cut off before it.
            self.end = End::CutOff;
            self.tell(number, "cut off while it was written; it was never answered and does not count", true);
            return;
        }
        if found.len() != known.order.len() {
            let text = format!("{} values where the header has {} columns", found.len(), known.order.len());
            return self.unreadable(number, &text, end);
        }
        let mut fields = Fields::default();
        for (cell, column) in found.iter().zip(&known.order) {
            fields.set(COLUMNS.get(*column).copied().unwrap_or_default(), cell);
        }
        if let Some(first) = self.sums.get(fields.get("sum")) {
            let text = format!("a copy of line {first}: it does not count a second time");
            self.tell(number, text, true);
            return;
        }
        let kept = match fields.get("sum") {
            // Only the program fills in the plan's fingerprint, so this line had a sum once.
            "" if known.has_sum() && !fields.get("plan").is_empty() => Kept::Changed,
            "" => Kept::ByHand,
            _ if known.is_own() && self.sums(line, &found) => Kept::AsRecorded,
            _ => Kept::Changed,
        };
        match kept {
            Kept::AsRecorded => {
                // Its own sum says what stands there.
                self.stands.remove(&number);
            }
            Kept::ByHand if known.has_sum() => self.tell(number, "typed into the table by hand", false),
            Kept::ByHand => {}
            Kept::Changed => {
                let text = "this line, or one above it, was changed or taken out since it was recorded: what stood there is not \
                            known. Put back the table as it was, or read again what it may have said";
                self.tell(number, text, true);
            }
        }
        let at = fields.get("at").to_owned();
        if is_written(&at) {
            if self.is_behind(&at) {
                let text = format!(
                    "at {at}, before the line above it ({}): a card typed in afterwards, or the clock was set back?",
                    self.last_at
                );
                self.tell(number, text, false);
            }
            self.last_at = at;
        }
        if kept != Kept::ByHand && !fields.get("sum").is_empty() {
            self.last_sum = fields.get("sum").to_owned();
            self.sums.insert(self.last_sum.clone(), number);
        }
        self.entries.push(Entry { line: number, fields, kept });
    }

    fn unreadable(&mut self, number: usize, why: &str, end: End) {
        if end == End::Open {
            self.end = End::CutOff;
        }
        self.tell(number, format!("cannot be read and does not count: {why}"), true);
    }

    /// Whether a line's sum is the one of its text after the line before.
    fn sums(&self, line: &str, cells: &[String]) -> bool {
        let body = line.trim_end_matches('\r').rsplit_once(',').map_or("", |(body, _)| body);
        cells.last().is_some_and(|own| cells.len() == COLUMNS.len() && *own == sum(&self.last_sum, body))
    }

    /// The bytes to add for a line, and the sum that it ends in.
    ///
    /// A header comes first where the table has none with these columns, and what was cut off is ended.
    #[must_use]
    pub fn added(&self, fields: &Fields) -> (String, String) {
        self.all_added(std::slice::from_ref(fields))
    }

    /// The bytes to add for several lines, each chained to the one before it, and the sum that the last ends in.
    #[must_use]
    pub fn all_added(&self, lines: &[Fields]) -> (String, String) {
        let mut text = match self.end {
            End::Whole => String::new(),
            End::Open => "\n".to_owned(),
            End::CutOff => format!("{CUT_OFF}\n"),
        };
        if !self.headed {
            text.push_str(&COLUMNS.join(","));
            text.push('\n');
        }
        let mut last = self.last_sum.clone();
        for fields in lines {
            let (line, sum) = fields.written(&last);
            text.push_str(&line);
            text.push('\n');
            last = sum;
        }
        (text, last)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(check: &str, value: &str, at: &str) -> Fields {
        let mut fields = Fields::default();
        for (column, text) in
            [("check", check), ("cylinder", "3"), ("reading", "1"), ("value", value), ("at", at)]
        {
            fields.set(column, text);
        }
        fields
    }

    fn add(file: &mut String, fields: &Fields) {
        let (text, _) = Log::read(file.as_bytes()).added(fields);
        file.push_str(&text);
    }

    fn three() -> String {
        let mut file = String::new();
        for (value, at) in [
            ("+0.01", "2026-03-01T09:00:00Z"),
            ("89.78", "2026-03-01T09:01:00Z"),
            ("nr", "2026-03-01T09:02:00Z"),
        ] {
            add(&mut file, &fields("5", value, at));
        }
        file
    }

    #[test]
    fn a_line_that_an_earlier_plan_knew_is_missed_wherever_it_was_cut_off() {
        let file = three();
        let knew = Log::read(file.as_bytes()).last_sum;
        for lines in 0..=4 {
            let left: String = file.split_inclusive('\n').take(lines).collect();
            let mut log = Log::read(left.as_bytes());
            log.miss(&knew);
            let missed = log.told.iter().any(|t| t.holds && t.text.contains("not in this record any more"));
            assert_eq!(missed, lines < 4, "{lines} of 4 lines");
        }
        // What came after is only more.
        let mut longer = file.clone();
        add(&mut longer, &fields("6", "0.02", "2026-03-01T10:00:00Z"));
        let mut log = Log::read(longer.as_bytes());
        log.miss(&knew);
        assert!(log.told.is_empty());
    }

    #[test]
    fn what_was_added_is_read_back_as_recorded() {
        let file = three();
        let log = Log::read(file.as_bytes());
        assert_eq!(log.told, []);
        assert!(log.entries.iter().all(|e| e.kept == Kept::AsRecorded));
        let values: Vec<&str> = log.entries.iter().map(|e| e.fields.get("value")).collect();
        assert_eq!(values, ["+0.01", "89.78", "nr"]);
        assert_eq!(file.lines().count(), 4, "one header and three lines");
    }

    #[test]
    fn cut_off_at_every_byte_nothing_answered_is_lost_and_nothing_half_is_believed() {
        let file = three();
        let ends: Vec<usize> = file.match_indices('\n').map(|(at, _)| at + 1).collect();
        for cut in 0..=file.len() {
            // A line is answered once its end of line is on the disk; one that lacks only that is whole too.
            let whole = ends.iter().filter(|end| **end <= cut + 1).count().saturating_sub(1);
            let torn = &file[..cut];
            let log = Log::read(torn.as_bytes());
            assert_eq!(log.entries.len(), whole, "cut at {cut}");
            let mut more = torn.to_owned();
            add(&mut more, &fields("6", "+0.02", "2026-03-01T10:00:00Z"));
            assert!(more.starts_with(torn), "only ever added to");
            let log = Log::read(more.as_bytes());
            assert_eq!(log.entries.len(), whole + 1, "cut at {cut}: {more}");
            assert_eq!(log.entries.last().unwrap().kept, Kept::AsRecorded, "cut at {cut}");
            let told = log.told.iter().filter(|t| t.holds).count();
            // Of a header that is cut off nothing was answered.
            let half = cut > ends[0] && !ends.contains(&cut) && !ends.contains(&(cut + 1));
            assert!(told == usize::from(half) || cut < ends[0], "cut at {cut}: {:?}", log.told);
        }
    }

    #[test]
    fn a_hands_edit_a_line_taken_out_and_a_clock_set_back_are_told() {
        let edited = three().replace("+0.01", "+0.07");
        let log = Log::read(edited.as_bytes());
        assert_eq!(log.entries[0].kept, Kept::Changed);
        assert_eq!(log.entries[1].kept, Kept::AsRecorded, "the line after keeps its own sum");
        assert_eq!(log.entries.len(), 3, "told, and still there");
        let mut lines: Vec<String> = three().lines().map(str::to_owned).collect();
        lines.remove(2);
        let log = Log::read((lines.join("\n") + "\n").as_bytes());
        assert_eq!(log.entries[1].kept, Kept::Changed);
        let mut file = three();
        add(&mut file, &fields("5", "+0.01", "2026-03-01T08:00:00Z"));
        let log = Log::read(file.as_bytes());
        assert!(log.told[0].text.contains("set back"), "{:?}", log.told);
        assert_eq!(log.entries.len(), 4);
    }

    #[test]
    fn a_line_copied_by_hand_does_not_count_twice() {
        let file = three();
        let copied = format!("{file}{}\n", file.lines().nth(1).unwrap());
        let log = Log::read(copied.as_bytes());
        assert_eq!(log.entries.len(), 3);
        assert_eq!(log.told[0].text, "a copy of line 2: it does not count a second time");
    }

    #[test]
    fn a_table_made_by_hand_is_read_and_added_to_below_a_second_header() {
        let mut file = "cylinder, check, reading, value\n3, 5, 1, 89.784".to_owned();
        add(&mut file, &fields("5", "+0.01", "2026-03-01T08:00:00Z"));
        let log = Log::read(file.as_bytes());
        let got: Vec<(&str, &str, Kept)> =
            log.entries.iter().map(|e| (e.fields.get("check"), e.fields.get("value"), e.kept)).collect();
        assert_eq!(got, [("5", "89.784", Kept::ByHand), ("5", "+0.01", Kept::AsRecorded)]);
        assert_eq!(log.told, []);
        assert!(file.starts_with("cylinder, check, reading, value\n3, 5, 1, 89.784\n"));
    }
}
