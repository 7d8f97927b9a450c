//! The query of an index.

use rusqlite::ToSql;
use rusqlite::types::Value;

use super::{Fold, Index};
use crate::error::ArchiveError;
use crate::sum::{self, Sum};
use crate::summary::Summary;
use crate::time::Time;

/// What is looked for; a record must have all of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Query {
    /// Words, or beginnings of them, anywhere in the summary or the notes.
    pub words: Vec<String>,
    /// Whole words of the summary by what they are, as the index folds them; `*` at the end for a beginning.
    pub tags: Vec<(String, String)>,
    /// Figures of the summary by what they are: ranges that share something with this one.
    pub ranges: Vec<(String, [f64; 2])>,
    /// Filed at this time or later.
    pub since: Option<Time>,
    /// Filed before this time.
    pub before: Option<Time>,
    /// No more than so many, newest first.
    pub most: u32,
}

/// A record that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Its number.
    pub number: u32,
    /// Its sum.
    pub sum: Sum,
    /// When it was filed.
    pub at: Time,
    /// What it was found by.
    pub summary: Summary,
}

/// One part of a question: rows of record numbers, and the same for one record `r`.
struct Part {
    rows: String,
    of_record: String,
    values: Vec<Value>,
}

/// A part with fewer rows than this is asked first; of one with more, the newest records soon hold enough.
const FEW: i64 = 3000;

impl Index {
    /// The newest records that have all that is asked for, and whether there are more.
    ///
    /// # Errors
    /// A damaged index.
    pub fn find(&self, query: &Query) -> Result<(Vec<Found>, bool), ArchiveError> {
        let found = self.ask(query).map_err(|e| self.wrong(e))?;
        let most = usize::try_from(query.most).unwrap_or(usize::MAX);
        let more = found.len() > most;
        Ok((found.into_iter().take(most).collect(), more))
    }

    /// Words of summaries by what they are, folded, each once and no more than so many.
    ///
    /// # Errors
    /// A damaged index.
    pub fn words(&self, most: u32) -> Result<Vec<[String; 2]>, ArchiveError> {
        let read = || {
            let sql = "SELECT DISTINCT what, word FROM word LIMIT ?1";
            let mut asked = self.connection.prepare_cached(sql)?;
            let rows = asked.query_map([most], |row| Ok([row.get(0)?, row.get(1)?]))?;
            rows.collect::<rusqlite::Result<Vec<_>>>()
        };
        Ok(read().map_err(|e| self.wrong(e))?)
    }

    /// Full text gives its rows newest first and stops when there are enough, so it leads where words are asked for:
    /// asked once for each record of another part, it would put a beginning's rows together each time anew.
    fn ask(&self, query: &Query) -> rusqlite::Result<Vec<Found>> {
        let (parts, words) = (parts(query, self.fold), matching(&query.words));
        let mut counted = Vec::with_capacity(parts.len());
        for part in &parts {
            let sql = format!("SELECT count(*) FROM (SELECT 1 FROM {} LIMIT {FEW})", part.rows);
            let count: i64 = self
                .connection
                .prepare_cached(&sql)?
                .query_row(rusqlite::params_from_iter(&part.values), |row| row.get(0))?;
            counted.push(count);
        }
        let first =
            counted.iter().enumerate().filter(|(_, c)| **c < FEW).min_by_key(|(_, c)| **c).map(|(i, _)| i);
        let mut sql = String::from("SELECT r.number, r.sum, r.at, r.summary FROM ");
        let mut values = Vec::new();
        let (lead, number) = match words {
            None => ("record r WHERE 1", "r.number"),
            Some(words) => {
                values.push(Value::Text(words));
                // The `+` keeps the database from asking the full text once for each row of another part.
                ("text CROSS JOIN record r ON r.number = text.rowid WHERE text MATCH ?", "+text.rowid")
            }
        };
        sql.push_str(lead);
        for (place, part) in parts.iter().enumerate() {
            if Some(place) == first {
                sql.push_str(&format!(" AND {number} IN (SELECT number FROM {})", part.rows));
            } else {
                sql.push_str(&format!(" AND EXISTS (SELECT 1 FROM {})", part.of_record));
            }
            values.extend(part.values.iter().cloned());
        }
        for (time, compare) in [(query.since, ">="), (query.before, "<")] {
            if let Some(time) = time {
                sql.push_str(&format!(" AND r.at {compare} ?"));
                values.push(Value::Integer(time.seconds()));
            }
        }
        let order = number.trim_start_matches('+');
        sql.push_str(&format!(" ORDER BY {order} DESC LIMIT ?"));
        values.push(Value::Integer(i64::from(query.most).saturating_add(1)));
        let mut statement = self.connection.prepare(&sql)?;
        let values: Vec<&dyn ToSql> = values.iter().map(|v| v as &dyn ToSql).collect();
        let rows = statement.query_map(values.as_slice(), |row| {
            Ok((
                row.get::<_, u32>(0)?,
                row.get::<_, String>(1)?,
                row.get::<_, i64>(2)?,
                row.get::<_, String>(3)?,
            ))
        })?;
        let mut found = Vec::new();
        for row in rows {
            let (number, sum, at, summary) = row?;
            // A row that does not read back is left out: the archive counts, not its index.
            let read = Sum::parse(&sum).zip(Time::from_seconds(at)).zip(serde_json::from_str(&summary).ok());
            if let Some(((sum, at), summary)) = read {
                found.push(Found { number, sum, at, summary });
            }
        }
        Ok(found)
    }
}

/// The query's words and ranges as pieces of SQL with their values, to be joined by whoever asks.
fn parts(query: &Query, fold: Fold) -> Vec<Part> {
    let mut parts = Vec::new();
    for (what, word) in &query.tags {
        let folded = fold(word);
        let (clause, values) = match folded.strip_suffix('*') {
            None => ("word = ?", vec![folded.clone()]),
            // Every text with this beginning sorts between these two.
            Some(start) => ("word >= ? AND word < ?", vec![start.to_owned(), format!("{start}\u{10FFFF}")]),
        };
        let mut all = vec![Value::Text(what.clone())];
        all.extend(values.into_iter().map(Value::Text));
        parts.push(Part {
            rows: format!("(SELECT DISTINCT number FROM word WHERE what = ? AND {clause})"),
            of_record: format!(
                "word w WHERE w.what = ? AND w.{} AND w.number = r.number",
                clause.replace(" AND word", " AND w.word")
            ),
            values: all,
        });
    }
    for (what, [least, most]) in &query.ranges {
        let clause = "what = ? AND least <= ? AND most >= ?";
        parts.push(Part {
            rows: format!("(SELECT number FROM figure WHERE {clause})"),
            // The `+` makes the database look up by record number: by size it would walk the index from its
            // beginning for each record.
            of_record: "figure f WHERE f.what = ? AND +f.least <= ? AND +f.most >= ? AND f.number = r.number"
                .to_owned(),
            values: vec![Value::Text(what.clone()), Value::Real(*most), Value::Real(*least)],
        });
    }
    parts
}

/// Words as the full text takes them: each quoted, so that none is taken for an operator, and a beginning is enough.
fn matching(words: &[String]) -> Option<String> {
    let quoted: Vec<String> = words
        .iter()
        .flat_map(|w| w.split_whitespace())
        .filter(|w| w.chars().any(char::is_alphanumeric))
        .map(|w| {
            let quoted = |w: &str| format!("\"{}\"*", w.replace(['"', '\0'], " "));
            // A sum as it is printed, or an order's number with a hyphen.
            match sum::printed(w) {
                Some(digits) => format!("({} OR {})", quoted(w), quoted(&digits)),
                None => quoted(w),
            }
        })
        .collect();
    (!quoted.is_empty()).then(|| quoted.join(" AND "))
}
