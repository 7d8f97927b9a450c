//! What is kept, room by room: each file has the sum that it is called by, none is gone, none belongs to nobody.

use std::collections::BTreeMap;

use super::buckets::Buckets;
use super::found::{Level, plain};
use super::{Audit, Stage};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::key;
use crate::store::{Kind, Store};
use crate::sum::Sum;

/// Bytes between two words about how far it is.
const STEP: u64 = 64 * 1024 * 1024;
/// Most spoiled files that are named; a disk that lost more than that is told by their number.
const MOST_SPOILED: usize = 100_000;
/// Sums shown of what belongs to nobody.
const SHOWN: usize = 3;

/// What is wrong with kept files that records ask for.
pub(super) type Spoiled = BTreeMap<Sum, (&'static str, &'static str)>;

const ALTERED: (&str, &str) = ("content_altered", "its kept bytes were altered");
const GONE: (&str, &str) = ("content_gone", "its kept bytes are gone");
const LENGTH: (&str, &str) = ("content_length", "its kept bytes are not as many as the record says");
const UNREADABLE: (&str, &str) = ("content_unreadable", "its kept bytes cannot be read");

/// Kept files that no record asks for, with their bytes.
#[derive(Default)]
struct Nobodys(BTreeMap<Sum, u64>);

pub(super) fn read(
    archive: &Archive,
    asked: &Buckets,
    audit: &mut Audit,
    watch: &mut dyn FnMut(Stage),
) -> Result<Spoiled, ArchiveError> {
    let store = archive.store();
    let (mut spoiled, mut nobodys, mut told) = (Spoiled::new(), Nobodys::default(), 0);
    for listed in store.list(key::CONTENT)? {
        let own = listed.kind == Kind::Folder && room_of(&listed.name).is_some();
        if !own {
            stranger(&format!("{}/{}", key::CONTENT, listed.name), audit);
        }
    }
    for room in 0..256_u32 {
        watch(Stage::Content(room, 256, audit.bytes));
        let wanted = asked.of(usize::try_from(room).unwrap_or_default())?;
        let folder = format!("{}/{room:02x}", key::CONTENT);
        let mut there: Vec<Sum> = Vec::new();
        for listed in store.list(&folder)? {
            let sum = Sum::parse(&listed.name).filter(|s| u32::from(s.bytes()[0]) == room);
            let Some(sum) = sum.filter(|_| listed.kind == Kind::File) else {
                stranger(&format!("{folder}/{}", listed.name), audit);
                continue;
            };
            there.push(sum);
            let (bytes, fault) = held(store, &sum);
            audit.files += 1;
            audit.bytes = audit.bytes.saturating_add(bytes);
            if audit.bytes / STEP != told {
                told = audit.bytes / STEP;
                watch(Stage::Content(room, 256, audit.bytes));
            }
            let place = wanted.partition_point(|(w, _)| *w < sum);
            let mut rows =
                wanted.get(place..).unwrap_or_default().iter().take_while(|(w, _)| *w == sum).peekable();
            if rows.peek().is_none() {
                nobodys.add(&sum, bytes);
            }
            let fault = fault.or_else(|| rows.any(|(_, length)| *length != bytes).then_some(LENGTH));
            if let Some(fault) = fault {
                spoiled.insert(sum, fault);
            }
        }
        there.sort_unstable();
        for (sum, _) in &wanted {
            if there.binary_search(sum).is_err() && spoiled.len() < MOST_SPOILED {
                spoiled.insert(*sum, GONE);
            }
        }
    }
    watch(Stage::Content(256, 256, audit.bytes));
    nobodys.of_new_records(archive, audit);
    nobodys.told(audit);
    Ok(spoiled)
}

fn room_of(name: &str) -> Option<u8> {
    (name.len() == 2 && name == name.to_lowercase()).then(|| u8::from_str_radix(name, 16).ok()).flatten()
}

/// A kept file read to its end: how many bytes, and what is wrong with it.
fn held(store: &dyn Store, sum: &Sum) -> (u64, Option<(&'static str, &'static str)>) {
    match store.get(&key::content(sum)) {
        Ok(Some(mut opened)) => match Sum::of_reader(&mut opened.reader) {
            Ok((found, bytes)) => (bytes, (found != *sum).then_some(ALTERED)),
            Err(_) => (0, Some(UNREADABLE)),
        },
        Ok(None) => (0, Some(GONE)),
        Err(_) => (0, Some(UNREADABLE)),
    }
}

fn stranger(at: &str, audit: &mut Audit) {
    let text = format!("{}: lies among what is kept and is none of it", plain(at));
    audit.of_place(Level::Doubt, "stranger", text);
}

impl Nobodys {
    fn add(&mut self, sum: &Sum, bytes: u64) {
        if self.0.len() < MOST_SPOILED {
            self.0.insert(*sum, bytes);
        }
    }

    /// What was filed while the audit ran is somebody's.
    fn of_new_records(&mut self, archive: &Archive, audit: &Audit) {
        let from = audit.read_to.saturating_add(1);
        let last = archive.last().unwrap_or_default();
        for record in (from..=last).filter_map(|number| archive.record(number).ok()) {
            for file in &record.files {
                self.0.remove(&file.sha256);
            }
        }
    }

    fn told(&self, audit: &mut Audit) {
        if self.0.is_empty() {
            return;
        }
        let count = self.0.len();
        let bytes: u64 = self.0.values().fold(0, |sum, bytes| sum.saturating_add(*bytes));
        let first: Vec<String> = self.0.keys().take(SHOWN).map(Sum::short).collect();
        let text = format!(
            "{count} kept file{} ({bytes} bytes) of no record: left by a filing that did not end, or by a record that \
             was taken away ({}{})",
            if count == 1 { "" } else { "s" },
            first.join(", "),
            if count > SHOWN { ", …" } else { "" },
        );
        audit.of_place(Level::Doubt, "content_of_nobody", text);
    }
}

/// Says which records' which files are spoiled.
pub(super) fn name(archive: &Archive, spoiled: &Spoiled, audit: &mut Audit) -> Result<(), ArchiveError> {
    if spoiled.is_empty() {
        return Ok(());
    }
    for number in 1..=archive.last()? {
        let Ok(record) = archive.record(number) else { continue };
        for file in &record.files {
            if let Some((code, text)) = spoiled.get(&file.sha256) {
                audit.of_file(code, number, &file.name, text);
            }
        }
    }
    Ok(())
}
