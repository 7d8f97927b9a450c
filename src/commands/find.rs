//! `find`: records of the archive, newest first.

use std::path::{Path, PathBuf};

use borewright_archive::{Archive, Found, Index, Query, Time};
use borewright_planner::read::fault::plain;
use serde_json::json;

use super::print;
use crate::args::{FindArgs, Format};
use crate::cache;
use crate::filing;
use crate::place::Place;
use crate::status::{Failure, Status};
use crate::terminal::COLUMNS;

/// The index of an archive in its folder of the cache.
const FILE: &str = "index.sqlite";

pub(super) fn run(asked: &FindArgs, place: &Place) -> Result<Status, Failure> {
    let archive = filing::archive(place, false)?;
    let path = index(asked.cache.folder.as_deref(), place)?;
    let query = query(asked);
    let (mut index, _) = Index::open(&path, &archive, &mut watch)?;
    let (mut found, mut more) = index.find(&query)?;
    // The index is never the truth: what it says is held against the records themselves.
    if any_other(&archive, &found)? {
        drop(index);
        index = Index::again(&path, &archive, &mut watch)?;
        (found, more) = index.find(&query)?;
        let (all, mut kept) = (found, Vec::new());
        for f in all {
            if !is_other(&archive, &f)? {
                kept.push(f);
            }
        }
        found = kept;
    }
    match asked.format() {
        Format::Json => print(json_of(&found, more)?.as_bytes())?,
        Format::Text => print(page(&found, more).as_bytes())?,
    }
    Ok(Status::Go)
}

/// Where the index of an archive lies.
pub(super) fn index(cache: Option<&Path>, place: &Place) -> Result<PathBuf, Failure> {
    Ok(cache::folder(cache, place)?.join(FILE))
}

/// Whether the record is there and says something else; one that is spoiled is found all the same, and told by `audit`.
fn is_other(archive: &Archive, found: &Found) -> Result<bool, Failure> {
    match archive.record(found.number) {
        Ok(record) => Ok(record.sha256 != found.sum || record.summary != found.summary),
        Err(_) => Ok(archive.still_there().map(|()| false)?),
    }
}

fn any_other(archive: &Archive, found: &[Found]) -> Result<bool, Failure> {
    for f in found {
        if is_other(archive, f)? {
            return Ok(true);
        }
    }
    Ok(false)
}

pub(super) fn watch(done: u32, of: u32) {
    use std::io::{IsTerminal, Write};
    let mut to = std::io::stderr().lock();
    if to.is_terminal() && of - done > 2000 {
        let _ = write!(to, "\rindex: {done} of {of} records");
        let _ = to.flush();
    } else if to.is_terminal() && of > 2000 && done == of {
        let _ = write!(to, "\r{:<40}\r", "");
    }
}

fn query(asked: &FindArgs) -> Query {
    let mut query = Query {
        words: asked.words.clone(),
        since: asked.since,
        before: asked.until,
        most: asked.limit,
        ..Query::default()
    };
    let mut tag = |what: &str, word: Option<&str>| {
        if let Some(word) = word {
            query.tags.push((what.to_owned(), word.to_owned()));
        }
    };
    tag("job", asked.job.as_deref());
    tag("customer", asked.customer.as_deref());
    tag("family", asked.family.as_deref());
    tag("block", asked.block.as_deref());
    tag("sleeve", asked.sleeve.as_deref());
    tag("machine", asked.machine.as_deref());
    tag("verdict", asked.verdict.as_deref());
    tag("verdict", asked.held.then_some("hold"));
    tag("released", asked.released.as_deref());
    if let Some(bore) = asked.bore {
        query.ranges.push(("bore".to_owned(), bore));
    }
    query
}

fn page(found: &[Found], more: bool) -> String {
    if found.is_empty() {
        return "nothing found\n".to_owned();
    }
    let mut text = String::new();
    for f in found {
        let line = format!(
            "{:>7}  {}  {:<4}  {:<8}  {}",
            f.number,
            f.at.day(),
            plain(&f.summary.told("verdict"), 4),
            plain(&f.summary.told("sleeve"), 8),
            plain(&f.summary.title, 200),
        );
        text.push_str(&cut(&line));
        text.push('\n');
    }
    if more {
        text.push_str("there are more: --limit N, or more words\n");
    }
    text
}

/// A line of at most the usual width of a terminal.
fn cut(line: &str) -> String {
    if line.chars().count() <= COLUMNS {
        return line.to_owned();
    }
    line.chars().take(COLUMNS - 1).chain(['…']).collect()
}

fn json_of(found: &[Found], more: bool) -> Result<String, Failure> {
    let one = |f: &Found| {
        json!({
            "record": f.number, "at": f.at, "sha256": f.sum, "short": f.sum.short(),
            "title": f.summary.title, "words": f.summary.words, "ranges": f.summary.ranges,
        })
    };
    let records: Vec<_> = found.iter().map(one).collect();
    let value = json!({ "format": "borewright/found/1", "records": records, "more": more });
    let mut text = serde_json::to_string_pretty(&value).map_err(std::io::Error::other)?;
    text.push('\n');
    Ok(text)
}

/// `2025`, `2025-03`, `2025-03-14` or a time: its first second.
pub(crate) fn since(text: &str) -> Result<Time, String> {
    Time::first_of(text).ok_or_else(|| EXPECTED.to_owned())
}

/// `2025`, `2025-03`, `2025-03-14` or a time: the first second after it.
pub(crate) fn until(text: &str) -> Result<Time, String> {
    Time::after(text).ok_or_else(|| EXPECTED.to_owned())
}

const EXPECTED: &str = "expected a year, a month or a day: 2025, 2025-03, 2025-03-14";

/// `82` or `80..83`, mm.
pub(crate) fn range(text: &str) -> Result<[f64; 2], String> {
    let number = |text: &str| text.trim().parse::<f64>().ok().filter(|n| n.is_finite() && *n >= 0.0);
    let range = match text.split_once("..") {
        None => number(text).map(|n| [n, n]),
        Some((least, most)) => number(least).zip(number(most)).map(|(a, b)| [a, b]),
    };
    range.filter(|[a, b]| a <= b).ok_or_else(|| "expected mm, as 82 or 80..83".to_owned())
}
