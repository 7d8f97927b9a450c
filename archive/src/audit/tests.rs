use std::fs;
use std::path::{Path, PathBuf};

use super::*;
use crate::filing::{Filing, Item, Origin};
use crate::record::Record;
use crate::store::Folder;
use crate::summary::Summary;
use crate::time::Time;
use crate::{Filed, key};

fn open(place: &Path) -> Archive {
    Archive::begin(Box::new(Folder::at(place))).unwrap()
}

/// A filing of one file that all share and one of its own.
fn filing(n: u32) -> Filing {
    let item = |name: &str, text: String| Item {
        name: name.to_owned(),
        from: Origin::Bytes(text.into_bytes()),
        called: None,
        words: false,
        expected: None,
    };
    Filing {
        at: Time::parse(&format!("2026-11-{:02}", n + 1)).unwrap(),
        tool: "test 1".to_owned(),
        summary: Summary { title: format!("job {n}"), ..Summary::default() },
        items: vec![item("own.txt", format!("the bytes of {n}")), item("shared.txt", "of all".to_owned())],
    }
}

/// An archive of five records.
fn five() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    let archive = open(&dir.path().join("archive"));
    for n in 1..=5 {
        archive.file(filing(n)).unwrap();
    }
    dir
}

fn audited(dir: &Path, witness: &Witness) -> Audit {
    let scratch = tempfile::tempdir().unwrap();
    open(&dir.join("archive")).audit(witness, scratch.path(), Halfway::default(), &mut |_| {}).unwrap()
}

fn told(dir: &Path) -> Vec<(Option<u32>, &'static str)> {
    audited(dir, &Witness::default()).faults.iter().map(|f| (f.record, f.code)).collect()
}

fn place(dir: &Path, number: u32) -> PathBuf {
    dir.join("archive").join(key::record(number))
}

/// What is kept is closed to writing: a forger opens it first.
fn put(path: &Path, bytes: &[u8]) {
    let _ = fs::remove_file(path);
    fs::write(path, bytes).unwrap();
}

fn read(dir: &Path, number: u32) -> Record {
    open(&dir.join("archive")).record(number).unwrap()
}

/// A record that says what the forger likes, with its right sum.
fn forged(dir: &Path, number: u32, change: impl FnOnce(&mut Record)) -> Vec<u8> {
    let mut record = read(dir, number);
    change(&mut record);
    record.sealed().unwrap()
}

#[test]
fn an_archive_as_it_was_filed_has_nothing_wrong() {
    let dir = five();
    let audit = audited(dir.path(), &Witness::default());
    assert_eq!(audit.faults, []);
    // Five of their own and one that they share.
    assert_eq!((audit.records, audit.files), (5, 6));
    assert_eq!(audit.bytes, 5 * "the bytes of 1".len() as u64 + 6);
    assert_eq!(audit.head.map(|h| (h.number, h.sum)), Some((5, read(dir.path(), 5).sha256)));
}

#[test]
fn a_flip_in_any_byte_of_any_file_is_named() {
    let dir = five();
    let archive = dir.path().join("archive");
    for number in [1, 3, 5] {
        let path = place(dir.path(), number);
        let good = fs::read(&path).unwrap();
        for at in (0..good.len()).step_by(7).chain([good.len() - 1]) {
            let mut bytes = good.clone();
            bytes[at] ^= 0x20;
            put(&path, &bytes);
            assert!(
                told(dir.path()).contains(&(Some(number), "record_altered")),
                "record {number}, byte {at}"
            );
        }
        put(&path, &good);
    }
    for file in read(dir.path(), 3).files {
        let path = archive.join(key::content(&file.sha256));
        let good = fs::read(&path).unwrap();
        for at in 0..good.len() {
            let mut bytes = good.clone();
            bytes[at] ^= 1;
            put(&path, &bytes);
            let audit = audited(dir.path(), &Witness::default());
            let named: Vec<_> = audit.faults.iter().map(|f| (f.record, f.file.as_deref(), f.code)).collect();
            assert!(named.contains(&(Some(3), Some(file.name.as_str()), "content_altered")), "{named:?}");
            // Who shares it is named too, and nobody else.
            assert_eq!(named.len(), if file.name == "shared.txt" { 5 } else { 1 });
        }
        put(&path, &good);
    }
    assert_eq!(told(dir.path()), []);
}

#[test]
fn what_is_cut_short_gone_or_swapped_is_named() {
    let dir = five();
    let (three, four) = (place(dir.path(), 3), place(dir.path(), 4));
    let (good, other) = (fs::read(&three).unwrap(), fs::read(&four).unwrap());
    for keep in [0, 1, 100, good.len() - 1] {
        put(&three, &good[..keep]);
        assert!(told(dir.path()).contains(&(Some(3), "record_altered")));
    }
    fs::remove_file(&three).unwrap();
    assert_eq!(told(dir.path()), [(Some(3), "record_gone"), (None, "content_of_nobody")]);
    put(&three, &other);
    put(&four, &good);
    let swapped = told(dir.path());
    assert!(
        swapped.contains(&(Some(3), "record_misplaced")) && swapped.contains(&(Some(4), "record_misplaced"))
    );
    put(&three, &good);
    put(&four, &other);
    let own = dir.path().join("archive").join(key::content(&read(dir.path(), 2).files[0].sha256));
    put(&own, b"the bytes");
    assert_eq!(told(dir.path()), [(Some(2), "content_altered")]);
    fs::remove_file(&own).unwrap();
    assert_eq!(told(dir.path()), [(Some(2), "content_gone")]);
}

#[test]
fn a_chain_that_was_cut_off_is_told_by_what_is_left_by_the_log_and_by_the_audit_before() {
    let dir = five();
    let end = read(dir.path(), 5).sha256;
    fs::remove_file(place(dir.path(), 5)).unwrap();
    // What it kept is nobody's now: a doubt.
    let audit = audited(dir.path(), &Witness::default());
    assert_eq!((audit.faults[0].code, audit.worst()), ("content_of_nobody", Some(Level::Doubt)));
    let logged = Witness { logged: Some(end.short()), seen: None };
    let seen = Witness { logged: None, seen: Some(Head { number: 5, sum: end }) };
    for (witness, code) in [(logged, "log_missing"), (seen, "seen_missing")] {
        let audit = audited(dir.path(), &witness);
        assert!(audit.faults.iter().any(|f| f.code == code && f.level == Level::Fault), "{:?}", audit.faults);
    }
}

#[test]
fn a_forged_record_is_told_by_the_chain_or_by_the_log() {
    let dir = five();
    let end = read(dir.path(), 5).sha256;
    // In the place of another, with every sum right: the next one was not filed after it.
    let good = fs::read(place(dir.path(), 2)).unwrap();
    put(&place(dir.path(), 2), &forged(dir.path(), 2, |r| r.summary.title = "go".to_owned()));
    assert_eq!(told(dir.path()), [(Some(3), "chain_broken")]);
    put(&place(dir.path(), 2), &good);
    // At the end, after nothing.
    put(&place(dir.path(), 6), &forged(dir.path(), 5, |r| r.number = 6));
    assert_eq!(told(dir.path()), [(Some(6), "chain_broken")]);
    // At the end, after the last: only the log can tell.
    put(
        &place(dir.path(), 6),
        &forged(dir.path(), 5, |r| {
            r.number = 6;
            r.before = Some(end);
            r.at = Time::parse("2027-01-01").unwrap()
        }),
    );
    assert_eq!(told(dir.path()), []);
    let audit = audited(dir.path(), &Witness { logged: Some(end.short()), seen: None });
    assert_eq!((audit.faults[0].record, audit.faults[0].code), (Some(6), "not_logged"));
}

#[test]
fn two_heads_copies_and_strangers_are_told() {
    let dir = five();
    let folder = place(dir.path(), 5).parent().unwrap().to_owned();
    fs::copy(place(dir.path(), 5), folder.join("000000005 (2).json")).unwrap();
    assert_eq!(told(dir.path()), [(Some(5), "second_copy")]);
    // Another site filed after the same record.
    put(&folder.join("000000005 (2).json"), &forged(dir.path(), 5, |r| r.tool = "elsewhere".to_owned()));
    assert_eq!(told(dir.path()), [(Some(5), "two_heads")]);
    put(&folder.join("000000005 (2).json"), b"a note");
    let shared = dir.path().join("archive").join(key::content(&read(dir.path(), 1).files[1].sha256));
    put(&shared.with_file_name("x"), b"a note");
    put(&dir.path().join("archive/content/y"), b"a note");
    assert_eq!(told(dir.path()), [(None, "stranger"); 3]);
}

#[test]
fn a_clock_set_back_is_told_when_filing_and_when_auditing() {
    let dir = five();
    let archive = open(&dir.path().join("archive"));
    let filed = archive.file(Filing { at: Time::parse("2020-01-01").unwrap(), ..filing(9) }).unwrap();
    assert_eq!(filed.later_before, Time::parse("2026-11-06"));
    let audit = audited(dir.path(), &Witness::default());
    assert_eq!((audit.faults.len(), audit.worst()), (1, Some(Level::Note)));
}

#[test]
fn many_who_file_at_once_make_one_chain() {
    let dir = tempfile::tempdir().unwrap();
    let place = dir.path().join("archive");
    open(&place);
    std::thread::scope(|scope| {
        for writer in 0..4 {
            let place = &place;
            scope.spawn(move || {
                let archive = open(place);
                for n in 0..25 {
                    let one = Filing { at: Time::parse("2026-11-26").unwrap(), ..filing(n) };
                    let summary = Summary { title: format!("{writer}"), ..Summary::default() };
                    archive.file(Filing { summary, ..one }).unwrap();
                }
            });
        }
    });
    let audit = audited(dir.path(), &Witness::default());
    assert_eq!((audit.records, audit.faults), (100, vec![]));
}

#[test]
fn the_same_again_adds_no_record_and_stores_nothing() {
    let dir = five();
    let archive = open(&dir.path().join("archive"));
    let Filed { record, again, new_bytes, .. } = archive.file(filing(5)).unwrap();
    assert_eq!((record.number, again, new_bytes), (5, true, 0));
    // A spoiled file is nothing to rest on.
    let shared = dir.path().join("archive").join(key::content(&record.files[1].sha256));
    put(&shared, b"of ALL");
    let refused = archive.file(filing(6)).unwrap_err().to_string();
    assert!(refused.starts_with("shared.txt: its kept bytes do not have their sum"), "{refused}");
    assert_eq!(archive.last().unwrap(), 5);
}

#[test]
fn an_audit_that_was_broken_off_goes_on_and_finds_the_same() {
    struct Kept(Vec<String>);
    impl Watch for Kept {
        fn at(&mut self, _: Stage) {}
        fn halfway(&mut self, halfway: &Halfway) {
            self.0.push(serde_json::to_string(halfway).unwrap());
        }
    }
    let dir = five();
    let archive = open(&dir.path().join("archive"));
    let own = dir.path().join("archive").join(key::content(&read(dir.path(), 2).files[0].sha256));
    put(&own, b"altered");
    put(&own.with_file_name("x"), b"a note");
    let scratch = tempfile::tempdir().unwrap();
    let mut kept = Kept(Vec::new());
    let whole = archive.audit(&Witness::default(), scratch.path(), Halfway::default(), &mut kept).unwrap();
    assert_eq!((whole.faults.len(), kept.0.len()), (2, 256));
    for text in kept.0 {
        let halfway = serde_json::from_str(&text).unwrap();
        let mut bytes = 0;
        let mut watch = |stage| {
            if let Stage::Content(_, _, read) = stage {
                bytes = read
            }
        };
        let again = archive.audit(&Witness::default(), scratch.path(), halfway, &mut watch).unwrap();
        assert_eq!((again.faults, again.bytes, bytes), (whole.faults.clone(), whole.bytes, whole.bytes));
    }
}

#[cfg(unix)]
#[test]
fn links_among_what_is_kept_are_told_and_not_followed() {
    let dir = five();
    let own = dir.path().join("archive").join(key::content(&read(dir.path(), 2).files[0].sha256));
    let text = fs::read(&own).unwrap();
    fs::remove_file(&own).unwrap();
    fs::write(dir.path().join("outside"), text).unwrap();
    std::os::unix::fs::symlink(dir.path().join("outside"), &own).unwrap();
    assert_eq!(told(dir.path()), [(Some(2), "content_gone"), (None, "stranger")]);
    let path = place(dir.path(), 3);
    fs::rename(&path, dir.path().join("record")).unwrap();
    std::os::unix::fs::symlink(dir.path().join("record"), &path).unwrap();
    assert!(told(dir.path()).contains(&(Some(3), "record_unreadable")));
}
