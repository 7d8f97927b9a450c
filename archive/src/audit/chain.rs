//! The records one after the other: each whole, each in its place, each after the one before it.

use super::buckets::Writer;
use super::found::{Level, plain};
use super::{Audit, Head, Stage, Watch, Witness};
use crate::archive::Archive;
use crate::astray::{Among, Astray, astray};
use crate::error::ArchiveError;
use crate::key;
use crate::record::{Record, Unreadable};
use crate::several::several;
use crate::store::Kind;
use crate::sum::{Sum, is_prefix};
use crate::time::Time;

/// Records read at once; none is larger than 16 MiB.
const AT_ONCE: usize = 32;
/// Records between two reports of progress.
const STEP: u32 = 500;

/// What is known of the record before.
enum Before {
    /// There is no record before: the chain begins.
    None,
    /// It is whole: its number, its sum, when it was filed.
    Known(Head, Time),
    /// It is gone or spoiled, which was told.
    Lost,
}

/// Reads every record from the first to the last into `audit`: each must hold the sum of the one before it, and
/// what was noted elsewhere (`witness`) must still be there. The files that they name go into `asked`.
pub(super) fn read(
    archive: &Archive,
    witness: &Witness,
    asked: &mut Writer,
    audit: &mut Audit,
    watch: &mut dyn Watch,
) -> Result<(), ArchiveError> {
    let last = archive.last()?;
    audit.read_to = last;
    let mut before = Before::None;
    let (mut logged, mut seen) = (None, false);
    let read = (1..=last).step_by(AT_ONCE).flat_map(|from| {
        let numbers: Vec<u32> = (from..=last).take(AT_ONCE).collect();
        let found = several(&numbers, |number| lying(archive, *number));
        numbers.into_iter().zip(found)
    });
    for (number, found) in read {
        if number % STEP == 1 {
            watch.at(Stage::Chain(number - 1, last));
        }
        let Some(record) = one(found, number, audit)? else {
            archive.still_there()?;
            before = Before::Lost;
            continue;
        };
        audit.records += 1;
        for file in &record.files {
            asked.add(file)?;
        }
        linked(&before, &record, audit);
        if witness.logged.as_deref().is_some_and(|typed| record.sha256.begins_with(typed)) {
            logged = Some(number);
        }
        seen = seen || witness.seen.is_some_and(|s| s.number == number && s.sum == record.sha256);
        before = Before::Known(Head { number, sum: record.sha256 }, record.at);
    }
    watch.at(Stage::Chain(last, last));
    if let Before::Known(end, _) = before {
        audit.head = Some(end);
    }
    against(witness, logged, seen, last, audit);
    strangers(archive, asked, audit)?;
    beside_it(archive, audit)
}

/// What lies in a record's place: nothing, more than a record, a record or bytes that are none.
type Lying = Result<Option<Option<Result<Record, Unreadable>>>, ArchiveError>;

fn lying(archive: &Archive, number: u32) -> Lying {
    let found = archive.small(&key::record(number))?;
    Ok(found.map(|bytes| bytes.map(|bytes| Record::read(&bytes))))
}

/// One record, or what is wrong with it.
fn one(found: Lying, number: u32, audit: &mut Audit) -> Result<Option<Record>, ArchiveError> {
    let told = |audit: &mut Audit, code, text: String| audit.of_record(Level::Fault, code, number, text);
    match found {
        Ok(None) => told(audit, "record_gone", "gone: there are records before and after it".to_owned()),
        Ok(Some(None)) => told(audit, "record_altered", "larger than any record".to_owned()),
        Ok(Some(Some(found))) => match found {
            Ok(record) if record.number == number => return Ok(Some(record)),
            Ok(record) => {
                let text =
                    format!("in its place stands record {}: swapped, or copied over it", record.number);
                told(audit, "record_misplaced", text);
            }
            Err(why) => told(audit, "record_altered", plain(&why.to_string())),
        },
        // A link or a folder in its place; a disk that cannot read it.
        Err(ArchiveError::Store(e)) => {
            told(audit, "record_unreadable", plain(&format!("cannot be read: {}", e.source)));
        }
        Err(ArchiveError::Copy(e)) => {
            told(audit, "record_unreadable", plain(&format!("cannot be read: {e}")))
        }
        Err(other) => return Err(other),
    }
    Ok(None)
}

/// Whether a record follows the one that stands before it.
fn linked(before: &Before, record: &Record, audit: &mut Audit) {
    match before {
        Before::Known(before, _) if record.before != Some(before.sum) => {
            let text = format!(
                "does not follow record {}: one of the two was put in another's place",
                before.number
            );
            audit.of_record(Level::Fault, "chain_broken", record.number, text);
        }
        Before::Known(before, at) if record.at < *at => {
            let text =
                format!("filed at {}, before record {}: a clock was set back", record.at, before.number);
            audit.of_record(Level::Note, "clock_back", record.number, text);
        }
        _ => {}
    }
}

/// The chain's end against the paper log and the audit before.
fn against(witness: &Witness, logged: Option<u32>, seen: bool, last: u32, audit: &mut Audit) {
    if let Some(typed) = &witness.logged {
        let shown = plain(typed);
        match logged {
            Some(number) if number < last => {
                let text = format!(
                    "the log's last sum {shown} is record {number}, but the chain goes on to record {last}: what comes \
                     after is not in the log"
                );
                audit.of_record(Level::Fault, "not_logged", number + 1, text);
            }
            Some(_) => {}
            None if is_prefix(typed) => {
                let text = format!(
                    "no record has the log's last sum {shown}: the record was altered or replaced, or the chain cut off"
                );
                audit.of_place(Level::Fault, "log_missing", text);
            }
            None => audit.of_place(
                Level::Fault,
                "log_unreadable",
                format!("{shown} is no sum: expected at least eight of its digits"),
            ),
        }
    }
    if let Some(head) = witness.seen.filter(|_| !seen) {
        let text = format!(
            "this computer saw the chain end at record {} with the sum {}; that record is not there now: altered, cut off, \
             or an older copy put back",
            head.number,
            head.sum.short()
        );
        audit.of_place(Level::Fault, "seen_missing", text);
    }
}

/// Tells what lies in the archive's own folder and is none of it: nobody finds a record of an archive that was laid in there.
fn beside_it(archive: &Archive, audit: &mut Audit) -> Result<(), ArchiveError> {
    let store = archive.store();
    for listed in store.list("")? {
        let own = match listed.kind {
            Kind::File => listed.name == key::MARK || key::is_nobodys(&listed.name),
            Kind::Folder => {
                [key::RECORDS, key::CONTENT, key::BESIDE].contains(&&*listed.name)
                    || key::is_nobodys(&listed.name)
            }
            Kind::Other => false,
        };
        if own {
            continue;
        }
        let shown = plain(&listed.name);
        let has_mark = || matches!(store.get(&format!("{}/{}", listed.name, key::MARK)), Ok(Some(_)));
        let text = if listed.kind == Kind::Folder && has_mark() {
            format!("{shown}: another archive, whose records are not found in this one")
        } else {
            format!("{shown}: lies in the archive's folder and is none of it")
        };
        audit.of_place(Level::Doubt, "stranger", text);
    }
    Ok(())
}

/// Tells what lies among the records and does not belong there: other files, and whole records under names not
/// their own.
fn strangers(archive: &Archive, asked: &mut Writer, audit: &mut Audit) -> Result<(), ArchiveError> {
    for Astray { key: at, kind, is_within } in astray(archive.store(), &Among::All)? {
        let shown = plain(&at);
        let record = match kind {
            Kind::File => archive.small(&at).ok().flatten().flatten().and_then(|b| Record::read(&b).ok()),
            _ => None,
        };
        match record {
            Some(record) => second_head(archive, &shown, &record, asked, audit)?,
            // Its folder was told.
            None if is_within => {}
            None => {
                let text = format!("{shown}: lies among the records and is none");
                audit.of_place(Level::Doubt, "stranger", text);
            }
        }
    }
    Ok(())
}

/// A whole record under a name that is not its own.
fn second_head(
    archive: &Archive,
    at: &str,
    record: &Record,
    asked: &mut Writer,
    audit: &mut Audit,
) -> Result<(), ArchiveError> {
    for file in &record.files {
        asked.add(file)?;
    }
    let sum_of = |number: u32| archive.record(number).ok().map(|r| r.sha256);
    let own: Option<Sum> = sum_of(record.number);
    let before = record.number.checked_sub(1).filter(|n| *n > 0).and_then(sum_of);
    let text = if own == Some(record.sha256) {
        format!("{at}: a second copy of this record")
    } else if own.is_some() && before == record.before {
        format!("two heads of the chain: after record {} come this one and {at}", record.number - 1)
    } else {
        format!("{at}: another record of this number, of another chain")
    };
    let code = if own == Some(record.sha256) { "second_copy" } else { "two_heads" };
    let level = if code == "two_heads" { Level::Fault } else { Level::Doubt };
    audit.of_record(level, code, record.number, text);
    Ok(())
}
