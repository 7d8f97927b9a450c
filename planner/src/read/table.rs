//! A table of readings: CSV with a header, each cell with its place.

use std::ops::ControlFlow;

use super::fault::{EMPTY, Fault, Place, did_you_mean, plain};
use super::given::{Scalar, Units};
use super::measure;
use super::quantity::Quantity;
use super::source::Source;

/// A column a table may have.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its header.
    pub name: &'static str,
    /// Whether the table must have it.
    pub required: bool,
    /// What its cells hold.
    pub takes: Takes,
}

/// What the cells of a column hold.
#[derive(Debug, Clone, Copy)]
pub enum Takes {
    /// A whole number.
    Count,
    /// A length.
    Length(Quantity),
    /// A length, or [`NOT_READ`].
    LengthOrNotRead(Quantity),
    /// What only the rest of a job tells the range of: a name, a clock, the size of a feature.
    Words,
}

/// In a cell: looked for, and could not be read.
pub const NOT_READ: &str = "nr";

/// A required column.
#[must_use]
pub const fn needed(name: &'static str, takes: Takes) -> Column {
    Column { name, required: true, takes }
}

/// A column that may be left out.
#[must_use]
pub const fn optional(name: &'static str, takes: Takes) -> Column {
    Column { name, required: false, takes }
}

/// One row while it is read.
#[derive(Debug)]
pub struct Row<'s> {
    line: usize,
    /// Its line as typed, for the columns of its cells.
    text: &'s str,
    record: csv::StringRecord,
}

impl Row<'_> {
    /// The row's line in the file, counted from 1.
    #[must_use]
    pub fn line(&self) -> usize {
        self.line
    }
}

/// A table's rows, read one after the other with faults gathered: a row at a time is held, not the table.
pub struct Table<'s> {
    source: &'s Source,
    columns: &'static [Column],
    units: Units,
    /// For each field of the header, which column it is.
    order: Vec<usize>,
    rows: usize,
}

/// More faults than this in one table are not gathered: the file is not what it was taken for.
pub(crate) const MOST_FAULTS: usize = 50;

/// Most rows of a table of points: a scan of a bore is some hundred thousand.
pub const MOST_POINTS: usize = 1_000_000;

/// Most rows of any other: each is a reading of its own, is judged by every limit, and is kept in memory with that.
pub const MOST_READINGS: usize = 50_000;

/// Takes every record of a table, header and all, to `take` until it has seen enough.
fn walk<'s>(
    source: &'s Source,
    mut take: impl FnMut(Row<'s>) -> (csv::StringRecord, ControlFlow<()>),
) -> Result<(), Box<Fault>> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .flexible(true)
        .has_headers(false)
        .trim(csv::Trim::All)
        .from_reader(source.text.as_bytes());
    // Lines are walked alongside the records, so that a column can be pointed at without a search.
    let mut lines = source.text.lines().enumerate();
    let mut record = csv::StringRecord::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => return Ok(()),
            Err(error) => {
                let found = plain(&error.to_string(), 120);
                return Err(Box::new(source.fault(None, "", found, "rows of comma-separated values".into())));
            }
        }
        // The reader counts from before the comments and blank lines that it passes over.
        let from = record.position().map_or(1, |p| usize::try_from(p.line()).unwrap_or(1));
        let own = |(at, text): &(usize, &str)| at + 1 >= from && !text.is_empty() && !text.starts_with('#');
        let (line, text) = lines.by_ref().find(own).map_or((from, ""), |(at, text)| (at + 1, text));
        if record.len() == 1 && record.get(0) == Some("") && text.trim().is_empty() {
            continue;
        }
        let (used, flow) = take(Row { line, text, record });
        if flow.is_break() {
            return Ok(());
        }
        record = used;
    }
}

impl<'s> Table<'s> {
    /// Finds the columns asked for, and that every row has them.
    ///
    /// # Errors
    /// An unknown, repeated or missing column, rows of another width, no rows at all, too many.
    pub fn split(
        source: &'s Source,
        columns: &'static [Column],
        most_rows: usize,
        units: Units,
    ) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        let mut order: Option<Vec<usize>> = None;
        let mut rows = 0_usize;
        let walked = walk(source, |row| {
            let Some(order) = &order else {
                return match header(source, columns, &row) {
                    Ok(found) => {
                        order = Some(found);
                        (row.record, ControlFlow::Continue(()))
                    }
                    Err(mut wrong) => {
                        faults.append(&mut wrong);
                        (row.record, ControlFlow::Break(()))
                    }
                };
            };
            rows += 1;
            if row.record.len() != order.len() {
                faults.push(other_width(source, &row, order.len()));
            }
            let enough = faults.len() >= MOST_FAULTS || rows > most_rows;
            (row.record, if enough { ControlFlow::Break(()) } else { ControlFlow::Continue(()) })
        });
        faults.extend(walked.err().map(|fault| *fault));
        if rows > most_rows {
            let found = format!("more than {most_rows} rows");
            faults.push(source.fault(None, "", found, format!("at most {most_rows}")));
        }
        if faults.is_empty() && rows == 0 {
            let found = match &order {
                None => "an empty table",
                Some(_) => "a header and no rows below it: no reading is filled in",
            };
            let expected = match &order {
                None => "a header and at least one row",
                Some(_) => "at least one row",
            };
            faults.push(source.fault(None, "", found.into(), expected.into()));
        }
        match order {
            Some(order) if faults.is_empty() => Ok(Self { source, columns, units, order, rows }),
            _ => Err(faults),
        }
    }

    /// How many rows it has.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// The field of the header that is this column; `None` where it was left out.
    fn field(&self, name: &str) -> Option<usize> {
        let wanted = self.columns.iter().position(|c| c.name == name)?;
        self.order.iter().position(|c| *c == wanted)
    }

    /// The cell's text.
    #[must_use]
    pub fn text<'r>(&self, row: &'r Row<'_>, name: &str) -> &'r str {
        self.field(name).and_then(|field| row.record.get(field)).unwrap_or_default()
    }

    /// A fault of one cell.
    #[must_use]
    pub fn fault(&self, row: &Row<'_>, name: &str, found: String, expected: String) -> Fault {
        let column =
            self.field(name).and_then(|field| field_starts(row.text).get(field).copied()).unwrap_or(1);
        self.source.fault(Some(Place { line: row.line, column }), name, found, expected)
    }

    fn quantity(
        &self,
        row: &Row<'_>,
        name: &str,
        quantity: Quantity,
        read: impl Fn(&Scalar) -> Result<f64, measure::Unreadable>,
    ) -> Result<f64, Box<Fault>> {
        let text = self.text(row, name);
        let shown = || if text.is_empty() { EMPTY.to_owned() } else { format!("`{}`", plain(text, 60)) };
        let value = read(&Scalar::Text(text.to_owned())).map_err(|unreadable| {
            let mut fault = self.fault(row, name, shown(), unreadable.expected.to_owned());
            fault.help = unreadable.help;
            fault
        })?;
        if quantity.holds(value) {
            Ok(value)
        } else {
            Err(Box::new(self.fault(row, name, shown(), quantity.expected())))
        }
    }

    /// A length, mm, within the range of its column.
    ///
    /// # Errors
    /// A cell that is no length or out of range; a column that holds none.
    pub fn length(&self, row: &Row<'_>, name: &str) -> Result<f64, Box<Fault>> {
        match self.columns.iter().find(|c| c.name == name).map(|c| c.takes) {
            Some(Takes::Length(quantity) | Takes::LengthOrNotRead(quantity)) => {
                self.length_of(row, name, quantity)
            }
            _ => {
                let found = "a column that holds no length".to_owned();
                Err(Box::new(self.fault(row, name, found, "one that does".into())))
            }
        }
    }

    /// A length of a quantity that the rest of its row tells, mm.
    ///
    /// # Errors
    /// A cell that is no length or out of range.
    pub fn length_of(&self, row: &Row<'_>, name: &str, quantity: Quantity) -> Result<f64, Box<Fault>> {
        self.quantity(row, name, quantity, |scalar| measure::length_mm(scalar, self.units))
    }

    /// An angle, degrees.
    ///
    /// # Errors
    /// A cell that is no angle or out of range.
    pub fn angle(&self, row: &Row<'_>, name: &str, quantity: Quantity) -> Result<f64, Box<Fault>> {
        self.quantity(row, name, quantity, measure::angle_deg)
    }

    /// A whole number.
    ///
    /// # Errors A cell that is no whole number.
    pub fn count(&self, row: &Row<'_>, name: &str) -> Result<u32, Box<Fault>> {
        let text = self.text(row, name);
        text.parse().map_err(|_| {
            let found = if text.is_empty() { EMPTY.to_owned() } else { format!("`{}`", plain(text, 60)) };
            Box::new(self.fault(row, name, found, "a whole number".into()))
        })
    }

    /// Applies `read` to every row; the values, or the faults of all rows.
    ///
    /// # Errors
    /// All faults found, up to a bound.
    pub fn each<T>(
        &self,
        mut read: impl FnMut(&Row<'s>) -> Result<T, Vec<Fault>>,
    ) -> Result<Vec<T>, Vec<Fault>> {
        let (mut values, mut faults, mut header) = (Vec::new(), Vec::new(), true);
        let walked = walk(self.source, |row| {
            if !std::mem::take(&mut header) {
                match read(&row) {
                    Ok(value) => values.push(value),
                    Err(mut wrong) => faults.append(&mut wrong),
                }
            }
            let enough = faults.len() >= MOST_FAULTS;
            (row.record, if enough { ControlFlow::Break(()) } else { ControlFlow::Continue(()) })
        });
        faults.extend(walked.err().map(|fault| *fault));
        if faults.is_empty() { Ok(values) } else { Err(faults) }
    }
}

/// What a decimal comma has split, joined again as the reader would have typed it with a point.
fn split_number(record: &csv::StringRecord) -> String {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let whole = |text: &str| digits(text.strip_prefix(['-', '+']).unwrap_or(text));
    let fields: Vec<&str> = record.iter().map(str::trim).collect();
    // Nothing but nought before it, or three decimals behind it, show a comma best; the first field is mostly a
    // cylinder.
    let pairs = || fields.windows(2).skip(1).filter(|w| whole(w[0]) && digits(w[1]));
    let pair = pairs()
        .find(|w| w[0].trim_start_matches(['-', '+']) == "0")
        .or_else(|| pairs().find(|w| w[1].len() > 2))
        .or_else(|| pairs().next())
        .or_else(|| fields.windows(2).find(|w| whole(w[0]) && digits(w[1])));
    match pair {
        Some(pair) => {
            let [whole, part] = [pair[0], pair[1]].map(|text| plain(text, 20));
            format!("a decimal comma splits a number in two: write {whole}.{part}")
        }
        None => "more commas than columns: each parts two values".into(),
    }
}

/// A row with more values or fewer than the header has columns.
fn other_width(source: &Source, row: &Row<'_>, columns: usize) -> Fault {
    let end = row.text.chars().count() + 1;
    let column = field_starts(row.text).get(columns).copied().unwrap_or(end);
    let found = match row.record.len() {
        1 => "one value in this row".to_owned(),
        values => format!("{values} values in this row"),
    };
    let place = Some(Place { line: row.line, column });
    let mut fault = source.fault(place, "", found, format!("{columns}, as in the header"));
    if row.record.len() > columns {
        fault.help = Some(split_number(&row.record));
    }
    fault
}

/// Columns (counted from 1) at which the fields of a line start; quoted commas do not split.
fn field_starts(line: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let (mut quoted, mut fresh) = (false, true);
    for (at, c) in line.chars().enumerate() {
        if c == ',' && !quoted {
            if fresh {
                starts.push(at + 1);
            }
            fresh = true;
            continue;
        }
        if fresh && !c.is_whitespace() {
            starts.push(at + 1);
            fresh = false;
        }
        if c == '"' {
            quoted = !quoted;
        }
    }
    if fresh {
        starts.push(line.chars().count() + 1);
    }
    starts
}

/// For each field of the header, which wanted column it is.
fn header(source: &Source, columns: &[Column], row: &Row<'_>) -> Result<Vec<usize>, Vec<Fault>> {
    let (record, line) = (&row.record, row.line);
    let starts = field_starts(row.text);
    let start = |field: usize| starts.get(field).copied().unwrap_or(1);
    let names = || columns.iter().map(|c| format!("`{}`", c.name)).collect::<Vec<_>>().join(", ");
    let known = |name: &str| columns.iter().any(|c| c.name == name.trim());
    if !row.text.split([',', ';', '\t']).any(|name| known(name.trim().trim_matches('"'))) {
        // A file without any known column is no such table, and nothing of its text is shown.
        let found = "a first line without any column of such a table".to_owned();
        let mut fault = source.fault(None, "", found, format!("a header with the columns {}", names()));
        fault.place = Some(Place { line, column: 1 });
        return Err(vec![fault]);
    }
    let (mut order, mut faults) = (Vec::new(), Vec::new());
    if let (1, Some(only)) = (record.len(), record.get(0))
        && let Some(mark) = only.chars().find(|c| matches!(c, ';' | '\t'))
    {
        let found = format!("a header parted by {}", if mark == ';' { "semicolons" } else { "tabs" });
        let place = Some(Place { line, column: start(0) });
        let mut fault = source.fault(place, "", found, "commas between the columns".into());
        fault.help = Some("save the table as comma-separated values, with points as decimal marks".into());
        return Err(vec![fault]);
    }
    for (field, name) in record.iter().enumerate() {
        if faults.len() >= MOST_FAULTS {
            break;
        }
        let place = Some(Place { line, column: start(field) });
        match columns.iter().position(|c| c.name == name) {
            Some(column) if order.contains(&column) => {
                let found = format!("the column `{name}` a second time");
                faults.push(source.fault(place, name, found, "each column once".into()));
            }
            Some(column) => order.push(column),
            None => {
                let found = format!("the unknown column `{}`", plain(name, 60));
                let mut fault = source.fault(place, "", found, format!("columns {}", names()));
                fault.help = did_you_mean(name, columns.iter().map(|c| c.name));
                faults.push(fault);
            }
        }
    }
    let missing = |(i, c): &(usize, &Column)| c.required && !order.contains(i);
    // The field that stands in the place of a missing column is told already.
    let whole = faults.is_empty();
    for (_, column) in columns.iter().enumerate().filter(|c| whole && missing(c)) {
        let place = Some(Place { line, column: 1 });
        let expected = format!("a column `{}`", column.name);
        faults.push(source.fault(place, column.name, "a header without it".into(), expected));
    }
    if faults.is_empty() { Ok(order) } else { Err(faults) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_start_after_their_commas_and_blanks() {
        assert_eq!(field_starts("1, 20.0,46.1"), [1, 4, 9]);
        assert_eq!(field_starts("1,,\"a,b\",2"), [1, 3, 4, 10]);
        assert_eq!(field_starts("1,"), [1, 3]);
    }
}
