//! The kept content, room by room: each file must have the sum that it is named by, none may be missing, and some
//! record must ask for it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::buckets::Buckets;
use super::found::{Level, plain};
use super::{Audit, Stage, Watch};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::key;
use crate::record::MOST_FILE_BYTES;
use crate::several::several;
use crate::store::{Kind, Store};
use crate::sum::Sum;

/// Bytes between two reports of progress.
const STEP: u64 = 64 * 1024 * 1024;
/// Files summed at once, and so the fewest between two reports of progress.
const AT_ONCE: usize = 256;
/// Most spoiled files that are named; a disk that lost more than that is told by their number.
const MOST_SPOILED: usize = 100_000;
/// Sums shown of files that no record asks for.
const SHOWN: usize = 3;

/// What is wrong with a kept file that records ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Spoil {
    Altered,
    Gone,
    Length,
    Unreadable,
}

impl Spoil {
    /// The stable word for what is wrong with a file, and the sentence for it.
    fn told(self) -> (&'static str, &'static str) {
        match self {
            Self::Altered => ("content_altered", "its kept bytes were altered"),
            Self::Gone => ("content_gone", "its kept bytes are gone"),
            Self::Length => ("content_length", "its kept bytes are not as many as the record says"),
            Self::Unreadable => ("content_unreadable", "its kept bytes cannot be read"),
        }
    }
}

/// How far the kept content was read, and what of it is spoiled or asked for by no record: an audit can go on from
/// here.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Halfway {
    /// The first room that was not read, of 256.
    pub room: u32,
    /// Kept files read.
    pub files: u64,
    /// Their bytes.
    pub bytes: u64,
    spoiled: BTreeMap<Sum, Spoil>,
    nobodys: Nobodys,
    strangers: Vec<String>,
}

/// Kept files that no record asks for, with their bytes.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
struct Nobodys(BTreeMap<Sum, u64>);

/// Reads the rooms that were not read yet; what is spoiled.
pub(super) fn read(
    archive: &Archive,
    asked: &Buckets,
    mut so_far: Halfway,
    audit: &mut Audit,
    watch: &mut dyn Watch,
) -> Result<BTreeMap<Sum, Spoil>, ArchiveError> {
    for room in so_far.room..256 {
        watch.at(Stage::Content(room, 256, so_far.bytes));
        read_room(archive, room, asked, &mut so_far, watch)?;
        so_far.room = room + 1;
        watch.halfway(&so_far);
    }
    for listed in archive.store().list(key::CONTENT)? {
        if listed.kind != Kind::Folder || room_of(&listed.name).is_none() {
            so_far.strangers.push(format!("{}/{}", key::CONTENT, listed.name));
        }
    }
    watch.at(Stage::Content(256, 256, so_far.bytes));
    (audit.files, audit.bytes) = (so_far.files, so_far.bytes);
    for at in &so_far.strangers {
        let text = format!("{}: lies among what is kept and is none of it", plain(at));
        audit.of_place(Level::Doubt, "stranger", text);
    }
    so_far.nobodys.of_new_records(archive, audit)?;
    so_far.nobodys.told(audit);
    Ok(so_far.spoiled)
}

/// Reads one of the 256 rooms of content: what it holds is summed and held against what the records ask for;
/// spoiled, missing and unknown files are added to `so_far`.
fn read_room(
    archive: &Archive,
    room: u32,
    asked: &Buckets,
    so_far: &mut Halfway,
    watch: &mut dyn Watch,
) -> Result<(), ArchiveError> {
    let (store, mut missed) = (archive.store(), false);
    let wanted = asked.of(usize::try_from(room).unwrap_or_default())?;
    let folder = format!("{}/{room:02x}", key::CONTENT);
    let (mut there, mut told): (Vec<Sum>, u64) = (Vec::new(), so_far.bytes / STEP);
    let mut lying = Vec::new();
    for listed in store.list(&folder)? {
        let sum = Sum::parse(&listed.name).filter(|s| u32::from(s.bytes()[0]) == room);
        let Some(sum) = sum.filter(|_| listed.kind == Kind::File) else {
            so_far.strangers.push(format!("{folder}/{}", listed.name));
            continue;
        };
        lying.push(sum);
    }
    for (sum, (bytes, spoil)) in
        lying.chunks(AT_ONCE).flat_map(|some| some.iter().zip(several(some, |sum| held(store, sum))))
    {
        let sum = *sum;
        there.push(sum);
        so_far.files += 1;
        so_far.bytes = so_far.bytes.saturating_add(bytes);
        if so_far.bytes / STEP != told {
            told = so_far.bytes / STEP;
            watch.at(Stage::Content(room, 256, so_far.bytes));
        }
        let place = wanted.partition_point(|(w, _)| *w < sum);
        let mut rows =
            wanted.get(place..).unwrap_or_default().iter().take_while(|(w, _)| *w == sum).peekable();
        if rows.peek().is_none() {
            so_far.nobodys.add(&sum, bytes);
        }
        missed = missed || matches!(spoil, Some(Spoil::Gone | Spoil::Unreadable));
        let spoil = spoil.or_else(|| rows.any(|(_, length)| *length != bytes).then_some(Spoil::Length));
        if let Some(spoil) = spoil {
            so_far.spoiled.insert(sum, spoil);
        }
    }
    there.sort_unstable();
    for (sum, _) in &wanted {
        if there.binary_search(sum).is_err() && so_far.spoiled.len() < MOST_SPOILED {
            so_far.spoiled.insert(*sum, Spoil::Gone);
            missed = true;
        }
    }
    if missed { archive.still_there() } else { Ok(()) }
}

fn room_of(name: &str) -> Option<u8> {
    (name.len() == 2 && name == name.to_lowercase()).then(|| u8::from_str_radix(name, 16).ok()).flatten()
}

/// A kept file read to its end: how many bytes, and what is wrong with it.
fn held(store: &dyn Store, sum: &Sum) -> (u64, Option<Spoil>) {
    match store.get(&key::content(sum)) {
        // No kept file is that large. A sparse file of terabytes costs nothing to make and would take days to read.
        Ok(Some(opened)) if opened.bytes > MOST_FILE_BYTES => (opened.bytes, Some(Spoil::Altered)),
        Ok(Some(mut opened)) => match Sum::of_reader(&mut opened.reader) {
            Ok((found, bytes)) => (bytes, (found != *sum).then_some(Spoil::Altered)),
            Err(_) => (0, Some(Spoil::Unreadable)),
        },
        Ok(None) => (0, Some(Spoil::Gone)),
        Err(_) => (0, Some(Spoil::Unreadable)),
    }
}

impl Nobodys {
    fn add(&mut self, sum: &Sum, bytes: u64) {
        if self.0.len() < MOST_SPOILED {
            self.0.insert(*sum, bytes);
        }
    }

    /// Takes files off the list that records filed while the audit ran ask for.
    fn of_new_records(&mut self, archive: &Archive, audit: &Audit) -> Result<(), ArchiveError> {
        let from = audit.read_to.saturating_add(1);
        for record in (from..=archive.last()?).filter_map(|number| archive.record(number).ok()) {
            for file in &record.files {
                self.0.remove(&file.sha256);
            }
        }
        Ok(())
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

/// Tells which files of which records are spoiled.
pub(super) fn name(
    archive: &Archive,
    spoiled: &BTreeMap<Sum, Spoil>,
    audit: &mut Audit,
) -> Result<(), ArchiveError> {
    if spoiled.is_empty() {
        return Ok(());
    }
    for number in 1..=archive.last()? {
        let Ok(record) = archive.record(number) else {
            archive.still_there()?;
            continue;
        };
        for file in &record.files {
            if let Some(spoil) = spoiled.get(&file.sha256) {
                let (code, text) = spoil.told();
                audit.of_file(code, number, &file.name, text);
            }
        }
    }
    Ok(())
}
