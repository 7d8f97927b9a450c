//! `find`: records of the archive, newest first.

mod hint;

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};

use borewright_archive::{Archive, Found, Index, Query, Time};
use borewright_planner::read::fault::plain;
use serde_json::json;

use super::index::{self, Asked};
use super::of_job::{self, OfJob, Own};
use super::print;
use crate::args::{FindArgs, Format};
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal::columns;

pub(super) fn run(asked: &FindArgs, place: &Place) -> Result<Status, Failure> {
    asks_for_something(asked)?;
    let archive = filing::archive(place, false)?;
    let cache = asked.cache.folder.as_deref();
    let index = index::open(cache, place, &archive)?;
    let Asked { index, found, more, unread } = index::asked(index, (cache, place), &archive, &query(asked))?;
    index::remark_unread(&index, &unread)?;
    let last = archive.last()?;
    // The newest is looked at in any case: it is the one that two computers write at once.
    let looked: BTreeSet<u32> = found.iter().map(|f| f.number).chain([last]).filter(|n| *n > 0).collect();
    of_job::remark_twice(&archive, looked)?;
    let replaced = replaced(&index, &archive, &found)?;
    match asked.format() {
        Format::Json => print(json_of(&found, &replaced, more)?.as_bytes())?,
        Format::Text if found.is_empty() => print(nothing(&hint::of(asked, &index)?).as_bytes())?,
        Format::Text => {
            let mut text = page(&found, &replaced, more);
            let dated = hint::by_date(asked, &index, found.len())?;
            dated.iter().for_each(|hint| text.push_str(&format!("  {hint}\n")));
            print(text.as_bytes())?;
        }
    }
    Ok(Status::Go)
}

/// Refuses a question that no record answers.
///
/// # Errors
/// A verdict that is none, no lines at all, a time that ends before it begins.
fn asks_for_something(asked: &FindArgs) -> Result<(), Failure> {
    let refuse = |found: String, expected| Err(Failure::Said { found, expected });
    if let Some(verdict) = &asked.verdict {
        let word = verdict.to_lowercase();
        let is_meant = |one: &&str| match word.strip_suffix('*') {
            None => *one == word,
            Some(beginning) => one.starts_with(beginning),
        };
        if !["go", "hold", "stop"].iter().any(is_meant) {
            return refuse(format!("--verdict `{}`", plain(verdict, 40)), "go, hold or stop");
        }
    }
    if asked.limit == 0 {
        return refuse("--limit 0".to_owned(), "1 or more: how many records are listed");
    }
    if let (Some(since), Some(until)) = (asked.since, asked.until)
        && since >= until
    {
        let last = Time::from_seconds(until.seconds().saturating_sub(1)).unwrap_or(until);
        let found = format!("--since {since} after --until {last}");
        return refuse(found, "a --since that is no later than --until");
    }
    Ok(())
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
            query.tags.push((what.to_owned(), word.trim().to_owned()));
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

/// What replaced a record.
struct Replaced {
    /// The last of its job.
    by: u32,
    /// How many lines that were recorded in it the last has not: the job went on in two folders.
    lacks: usize,
}

impl Replaced {
    fn words(&self) -> String {
        match self.lacks {
            0 => format!("replaced by {}: ", self.by),
            1 => format!("replaced by {}, which lacks a line: ", self.by),
            n => format!("replaced by {}, which lacks {n} lines: ", self.by),
        }
    }
}

/// The last record of each one's job, where that is later.
fn replaced(index: &Index, archive: &Archive, found: &[Found]) -> Result<BTreeMap<u32, Replaced>, Failure> {
    let held: BTreeSet<u32> = found.iter().map(|one| one.number).collect();
    let (mut replaced, mut tables) = (BTreeMap::new(), BTreeMap::<u32, Option<Vec<u8>>>::new());
    for one in found {
        let own = Own::Record(one.number, &one.summary);
        let of_job = OfJob::by(index, archive, own, &held)?;
        if of_job.all().len() > 1
            && of_job.after(one.number).is_none()
            && let Ok(record) = archive.record(one.number)
        {
            let figures = filing::figures_in(archive, &record)?;
            let other = of_job.another_engine(archive, one.number, figures.as_ref())?;
            status::remark(
                &other.map(|other| format!("record {}: {other}", one.number)).into_iter().collect::<Vec<_>>(),
            );
        }
        let Some(by) = of_job.after(one.number).map(|last| last.number) else { continue };
        if let Entry::Vacant(free) = tables.entry(by) {
            let last = archive.record(by).ok();
            free.insert(last.map(|last| filing::recorded(archive, &last)).transpose()?);
        }
        // A record that cannot be read just now says nothing.
        let lacks = match (archive.record(one.number), tables.get(&by)) {
            (Ok(record), Some(Some(table))) => {
                filing::lines_more(archive, &record, &of_job.own(table.clone()))?.len()
            }
            _ => 0,
        };
        replaced.insert(one.number, Replaced { by, lacks });
    }
    Ok(replaced)
}

/// Nothing, and what would find something.
fn nothing(hints: &[String]) -> String {
    let lines: String = hints.iter().map(|hint| format!("  {hint}\n")).collect();
    if hints.is_empty() {
        "nothing found\n".to_owned()
    } else {
        format!("nothing found as asked, but\n{lines}")
    }
}

fn page(found: &[Found], replaced: &BTreeMap<u32, Replaced>, more: bool) -> String {
    let mut text = String::new();
    for f in found {
        let later = replaced.get(&f.number).map(Replaced::words).unwrap_or_default();
        let line = format!(
            "{:>7}  {}  {:<4}  {:<8}  {later}{}",
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

/// A line of at most the terminal's width.
fn cut(line: &str) -> String {
    let columns = columns();
    if line.chars().count() <= columns {
        return line.to_owned();
    }
    line.chars().take(columns - 1).chain(['…']).collect()
}

fn json_of(found: &[Found], replaced: &BTreeMap<u32, Replaced>, more: bool) -> Result<String, Failure> {
    let one = |f: &Found| {
        json!({
            "record": f.number, "at": f.at, "sha256": f.sum, "short": f.sum.short(),
            "replaced_by": replaced.get(&f.number).map(|own| own.by),
            "lacking_there": replaced.get(&f.number).map(|own| own.lacks), "title": f.summary.title, "words": f.summary.words, "ranges": f.summary.ranges,
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
