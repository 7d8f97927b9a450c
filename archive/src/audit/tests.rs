use super::*;
use crate::filing::{Filing, Item, Origin};
use crate::record::Record;
use crate::store::testing::{Disk, Place, in_every_place};
use crate::summary::Summary;
use crate::time::Time;
use crate::{Filed, key};

in_every_place!(
    an_archive_as_it_was_filed_has_nothing_wrong,
    a_flip_in_any_byte_of_any_file_is_named,
    what_is_cut_short_gone_or_swapped_is_named,
    a_chain_that_was_cut_off_is_told_by_what_is_left_by_the_log_and_by_the_audit_before,
    a_forged_record_is_told_by_the_chain_or_by_the_log,
    two_heads_copies_and_strangers_are_told,
    a_clock_set_back_is_told_when_filing_and_when_auditing,
    many_who_file_at_once_make_one_chain,
    the_same_again_adds_no_record_and_stores_nothing,
    an_audit_that_was_broken_off_goes_on_and_finds_the_same,
    a_place_that_lost_its_mark_is_no_archive_and_nothing_in_it_is_called_spoiled,
);

fn open(place: &dyn Place) -> Archive {
    Archive::begin(place.store()).unwrap()
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
fn five(place: &dyn Place) -> Archive {
    let archive = open(place);
    for n in 1..=5 {
        archive.file(filing(n)).unwrap();
    }
    archive
}

fn audited(place: &dyn Place, witness: &Witness) -> Audit {
    let scratch = tempfile::tempdir().unwrap();
    open(place).audit(witness, scratch.path(), Halfway::default(), &mut |_| {}).unwrap()
}

fn told(place: &dyn Place) -> Vec<(Option<u32>, &'static str)> {
    audited(place, &Witness::default()).faults.iter().map(|f| (f.record, f.code)).collect()
}

fn read(place: &dyn Place, number: u32) -> Record {
    open(place).record(number).unwrap()
}

/// The key of a record's file.
fn kept(place: &dyn Place, number: u32, file: usize) -> String {
    key::content(&read(place, number).files[file].sha256)
}

/// A record that says what the forger likes, with its right sum.
fn forged(place: &dyn Place, number: u32, change: impl FnOnce(&mut Record)) -> Vec<u8> {
    let mut record = read(place, number);
    change(&mut record);
    record.sealed().unwrap()
}

fn an_archive_as_it_was_filed_has_nothing_wrong(place: &dyn Place) {
    five(place);
    let audit = audited(place, &Witness::default());
    assert_eq!(audit.faults, []);
    // Five of their own and one that they share.
    assert_eq!((audit.records, audit.files), (5, 6));
    assert_eq!(audit.bytes, 5 * "the bytes of 1".len() as u64 + 6);
    assert_eq!(audit.head.map(|h| (h.number, h.sum)), Some((5, read(place, 5).sha256)));
}

fn a_flip_in_any_byte_of_any_file_is_named(place: &dyn Place) {
    five(place);
    let (step, numbers) = if place.is_quick() { (7, &[1, 3, 5][..]) } else { (1000, &[3][..]) };
    for number in numbers.iter().copied() {
        let key = key::record(number);
        let good = place.read(&key);
        for at in (0..good.len()).step_by(step).chain([good.len() - 1]) {
            let mut bytes = good.clone();
            bytes[at] ^= 0x20;
            place.force(&key, &bytes);
            assert!(told(place).contains(&(Some(number), "record_altered")), "record {number}, byte {at}");
        }
        place.force(&key, &good);
    }
    for file in read(place, 3).files {
        let key = key::content(&file.sha256);
        let good = place.read(&key);
        for at in (0..good.len()).step_by(if place.is_quick() { 1 } else { 1000 }) {
            let mut bytes = good.clone();
            bytes[at] ^= 1;
            place.force(&key, &bytes);
            let audit = audited(place, &Witness::default());
            let named: Vec<_> = audit.faults.iter().map(|f| (f.record, f.file.as_deref(), f.code)).collect();
            assert!(named.contains(&(Some(3), Some(file.name.as_str()), "content_altered")), "{named:?}");
            // Who shares it is named too, and nobody else.
            assert_eq!(named.len(), if file.name == "shared.txt" { 5 } else { 1 });
        }
        place.force(&key, &good);
    }
    assert_eq!(told(place), []);
}

fn what_is_cut_short_gone_or_swapped_is_named(place: &dyn Place) {
    five(place);
    let (three, four) = (key::record(3), key::record(4));
    let (good, other) = (place.read(&three), place.read(&four));
    for keep in [0, 1, 100, good.len() - 1] {
        place.force(&three, &good[..keep]);
        assert!(told(place).contains(&(Some(3), "record_altered")));
    }
    place.remove(&three);
    assert_eq!(told(place), [(Some(3), "record_gone"), (None, "content_of_nobody")]);
    place.force(&three, &other);
    place.force(&four, &good);
    let swapped = told(place);
    assert!(
        swapped.contains(&(Some(3), "record_misplaced")) && swapped.contains(&(Some(4), "record_misplaced"))
    );
    place.force(&three, &good);
    place.force(&four, &other);
    let own = kept(place, 2, 0);
    place.force(&own, b"the bytes");
    assert_eq!(told(place), [(Some(2), "content_altered")]);
    place.remove(&own);
    assert_eq!(told(place), [(Some(2), "content_gone")]);
}

fn a_chain_that_was_cut_off_is_told_by_what_is_left_by_the_log_and_by_the_audit_before(place: &dyn Place) {
    five(place);
    let end = read(place, 5).sha256;
    place.remove(&key::record(5));
    // What it kept is nobody's now: a doubt.
    let audit = audited(place, &Witness::default());
    assert_eq!((audit.faults[0].code, audit.worst()), ("content_of_nobody", Some(Level::Doubt)));
    let logged = Witness { logged: Some(end.short()), seen: None };
    let seen = Witness { logged: None, seen: Some(Head { number: 5, sum: end }) };
    for (witness, code) in [(logged, "log_missing"), (seen, "seen_missing")] {
        let audit = audited(place, &witness);
        assert!(audit.faults.iter().any(|f| f.code == code && f.level == Level::Fault), "{:?}", audit.faults);
    }
}

fn a_forged_record_is_told_by_the_chain_or_by_the_log(place: &dyn Place) {
    five(place);
    let end = read(place, 5).sha256;
    // In the place of another, with every sum right: the next one was not filed after it.
    let good = place.read(&key::record(2));
    place.force(&key::record(2), &forged(place, 2, |r| r.summary.title = "go".to_owned()));
    assert_eq!(told(place), [(Some(3), "chain_broken")]);
    place.force(&key::record(2), &good);
    // At the end, after nothing.
    place.force(&key::record(6), &forged(place, 5, |r| r.number = 6));
    assert_eq!(told(place), [(Some(6), "chain_broken")]);
    // At the end, after the last: only the log can tell.
    let after_last = forged(place, 5, |r| {
        r.number = 6;
        r.before = Some(end);
        r.at = Time::parse("2027-01-01").unwrap()
    });
    place.force(&key::record(6), &after_last);
    assert_eq!(told(place), []);
    let audit = audited(place, &Witness { logged: Some(end.short()), seen: None });
    assert_eq!((audit.faults[0].record, audit.faults[0].code), (Some(6), "not_logged"));
}

fn two_heads_copies_and_strangers_are_told(place: &dyn Place) {
    five(place);
    let second = "records/000/000/000000005 (2).json";
    place.force(second, &place.read(&key::record(5)));
    assert_eq!(told(place), [(Some(5), "second_copy")]);
    // Another site filed after the same record.
    place.force(second, &forged(place, 5, |r| r.tool = "elsewhere".to_owned()));
    assert_eq!(told(place), [(Some(5), "two_heads")]);
    place.force(second, b"a note");
    // In a folder of its own, as programs leave it that keep two computers alike: the folder is a stranger, what is in it no less.
    let other: &dyn Place = &Disk::new();
    five(other);
    for folder in ["records/000/000 (PC2)", "records/000 (1)/000", "records (1)/000/000"] {
        other.force(
            &format!("{folder}/000000005.json"),
            &forged(other, 5, |r| r.tool = "elsewhere".to_owned()),
        );
        other.force(&format!("{folder}/list.txt"), b"a note");
    }
    let told_there = told(other);
    assert_eq!(told_there[..3], [(Some(5), "two_heads"); 3]);
    assert_eq!(told_there[3..], [(None, "stranger"); 3]);
    let shared = kept(place, 1, 1);
    place.force(&format!("{}/x", shared.rsplit_once('/').unwrap().0), b"a note");
    place.force("content/y", b"a note");
    assert_eq!(told(place), [(None, "stranger"); 3]);
    // In the archive's own folder too, but for what a system puts there by itself.
    place.force("readme.txt", b"a note");
    place.force("other/archive.json", b"{}");
    place.force("thumbs.db", b"x");
    assert_eq!(told(place), [(None, "stranger"); 5]);
}

fn a_clock_set_back_is_told_when_filing_and_when_auditing(place: &dyn Place) {
    let archive = five(place);
    let filed = archive.file(Filing { at: Time::parse("2020-01-01").unwrap(), ..filing(9) }).unwrap();
    assert_eq!(filed.later_before, Time::parse("2026-11-06"));
    let audit = audited(place, &Witness::default());
    assert_eq!((audit.faults.len(), audit.worst()), (1, Some(Level::Note)));
}

fn many_who_file_at_once_make_one_chain(place: &dyn Place) {
    open(place);
    let each = if place.is_quick() { 25 } else { 5 };
    std::thread::scope(|scope| {
        for writer in 0..4 {
            scope.spawn(move || {
                let archive = open(place);
                for n in 0..each {
                    let one = Filing { at: Time::parse("2026-11-26").unwrap(), ..filing(n) };
                    let summary = Summary { title: format!("{writer}"), ..Summary::default() };
                    archive.file(Filing { summary, ..one }).unwrap();
                }
            });
        }
    });
    let audit = audited(place, &Witness::default());
    assert_eq!((audit.records, audit.faults), (4 * each, vec![]));
}

fn the_same_again_adds_no_record_and_stores_nothing(place: &dyn Place) {
    let archive = five(place);
    let Filed { record, again, new_bytes, .. } = archive.file(filing(5)).unwrap();
    assert_eq!((record.number, again, new_bytes), (5, true, 0));
    // A spoiled file is nothing to rest on.
    place.force(&key::content(&record.files[1].sha256), b"of ALL");
    let refused = archive.file(filing(6)).unwrap_err().to_string();
    assert!(refused.starts_with("shared.txt: its kept bytes do not have their sum"), "{refused}");
    assert_eq!(archive.last().unwrap(), 5);
}

fn an_audit_that_was_broken_off_goes_on_and_finds_the_same(place: &dyn Place) {
    struct Kept(Vec<String>);
    impl Watch for Kept {
        fn at(&mut self, _: Stage) {}
        fn halfway(&mut self, halfway: &Halfway) {
            self.0.push(serde_json::to_string(halfway).unwrap());
        }
    }
    let archive = five(place);
    let own = kept(place, 2, 0);
    place.force(&own, b"altered");
    place.force(&format!("{}/x", own.rsplit_once('/').unwrap().0), b"a note");
    let scratch = tempfile::tempdir().unwrap();
    let mut kept = Kept(Vec::new());
    let whole = archive.audit(&Witness::default(), scratch.path(), Halfway::default(), &mut kept).unwrap();
    assert_eq!((whole.faults.len(), kept.0.len()), (2, 256));
    for text in kept.0.into_iter().step_by(if place.is_quick() { 1 } else { 85 }) {
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

fn a_place_that_lost_its_mark_is_no_archive_and_nothing_in_it_is_called_spoiled(place: &dyn Place) {
    let archive = five(place);
    place.remove(&key::record(2));
    place.remove(key::MARK);
    let scratch = tempfile::tempdir().unwrap();
    let away = archive.audit(&Witness::default(), scratch.path(), Halfway::default(), &mut |_| {});
    assert!(matches!(away, Err(ArchiveError::Away { .. })), "{away:?}");
    let index =
        crate::Index::open(&scratch.path().join("index"), &archive, str::to_lowercase, &mut |_, _| {});
    assert!(matches!(index, Err(ArchiveError::Away { .. })), "{index:?}");
    assert!(matches!(archive.file(filing(7)), Err(ArchiveError::Replaces { .. })));
    // It was put back by the try; no record was added.
    assert_eq!(archive.last().unwrap(), 5);
    // The index was not told that there is nothing to find in what it could not read.
    let index =
        crate::Index::open(&scratch.path().join("index"), &archive, str::to_lowercase, &mut |_, _| {})
            .unwrap();
    assert_eq!(index.1.read, 4);
}

#[cfg(unix)]
#[test]
fn links_among_what_is_kept_are_told_and_not_followed() {
    use std::fs;
    use std::os::unix::fs::symlink;
    let disk = Disk::new();
    five(&disk);
    let own = disk.at(&kept(&disk, 2, 0));
    let text = fs::read(&own).unwrap();
    fs::remove_file(&own).unwrap();
    let outside = disk.0.path().join("outside");
    fs::write(&outside, text).unwrap();
    symlink(&outside, &own).unwrap();
    assert_eq!(told(&disk), [(Some(2), "content_gone"), (None, "stranger")]);
    let path = disk.at(&key::record(3));
    fs::rename(&path, disk.0.path().join("record")).unwrap();
    symlink(disk.0.path().join("record"), &path).unwrap();
    assert!(told(&disk).contains(&(Some(3), "record_unreadable")));
}
