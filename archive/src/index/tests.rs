use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering::SeqCst};

use super::*;
use crate::filing::{Filing, Item, Origin};
use crate::store::{Folder, Listed, Opened, Put, Store, StoreError};
use crate::summary::Summary;
use crate::time::Time;

struct Shop {
    dir: tempfile::TempDir,
    archive: Archive,
}

impl Shop {
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let archive = Archive::begin(Box::new(Folder::at(&dir.path().join("archive")))).unwrap();
        Self { dir, archive }
    }

    fn file(&self, at: &str, words: &[(&str, &str)], bore: f64, note: &str) {
        let mut summary = Summary { title: format!("job of {at}"), ..Summary::default() };
        words.iter().for_each(|(what, word)| summary.word(what, word));
        summary.figure("bore", bore);
        let item = Item {
            name: "notes/a.txt".to_owned(),
            from: Origin::Bytes(note.as_bytes().to_vec()),
            called: None,
            words: true,
            expected: None,
        };
        let at = Time::parse(at).unwrap();
        self.archive.file(Filing { at, tool: "test".to_owned(), summary, items: vec![item] }).unwrap();
    }

    fn three() -> Self {
        let shop = Self::new();
        shop.file(
            "2024-05-01",
            &[("family", "petrel"), ("sleeve", "W90")],
            82.0,
            "bored by Käthe, the cat's paw",
        );
        shop.file(
            "2025-05-01",
            &[("family", "petrel"), ("sleeve", "W92"), ("verdict", "hold")],
            83.5,
            "porosity at 3",
        );
        shop.file("2026-05-01", &[("family", "kittiwake"), ("sleeve", "W90")], 90.0, "");
        shop
    }

    fn path(&self) -> std::path::PathBuf {
        self.dir.path().join("index.sqlite")
    }

    fn open(&self) -> (Index, Updated) {
        Index::open(&self.path(), &self.archive, lower, &mut |_, _| {}).unwrap()
    }

    fn found(&self, query: Query) -> Vec<u32> {
        let query = Query { most: 10, ..query };
        self.open().0.find(&query).unwrap().0.into_iter().map(|f| f.number).collect()
    }
}

/// Capitals let pass, and a hyphen left out.
fn lower(word: &str) -> String {
    word.to_lowercase().replace('-', "")
}

fn words(words: &str) -> Query {
    Query { words: vec![words.to_owned()], ..Query::default() }
}

fn tag(what: &str, word: &str) -> Query {
    Query { tags: vec![(what.to_owned(), word.to_owned())], ..Query::default() }
}

#[test]
fn records_are_found_by_words_tags_figures_and_dates_newest_first() {
    let shop = Shop::three();
    assert_eq!(shop.found(Query::default()), [3, 2, 1]);
    assert_eq!(shop.found(words("petrel")), [2, 1]);
    assert_eq!(shop.found(words("kathe CAT")), [1]);
    assert_eq!(shop.found(words("poros")), [2]);
    assert_eq!(shop.found(tag("sleeve", "w90")), [3, 1]);
    assert_eq!(shop.found(tag("sleeve", "W9*")), [3, 2, 1]);
    assert_eq!(shop.found(tag("sleeve", "W9")), [] as [u32; 0]);
    // Words are the same as whoever opens it says.
    assert_eq!(
        (shop.found(tag("sleeve", "w-90")), shop.found(tag("sleeve", "W-9*"))),
        (vec![3, 1], vec![3, 2, 1])
    );
    let bore = |least, most| Query { ranges: vec![("bore".to_owned(), [least, most])], ..Query::default() };
    assert_eq!((shop.found(bore(82.0, 83.5)), shop.found(bore(84.0, 89.0))), (vec![2, 1], vec![]));
    let dated =
        |since, before| Query { since: Time::parse(since), before: Time::parse(before), ..Query::default() };
    assert_eq!(shop.found(dated("2025-05-01", "2026-05-01")), [2]);
    let all = Query {
        words: vec!["petrel".into()],
        tags: vec![("verdict".into(), "HOLD".into())],
        ..dated("2025-01-01", "2027-01-01")
    };
    assert_eq!(shop.found(all), [2]);
    let (found, more) = shop.open().0.find(&Query { most: 2, ..Query::default() }).unwrap();
    assert_eq!((found.len(), more, found[0].summary.told("family").as_str()), (2, true, "kittiwake"));
}

#[test]
fn no_word_of_a_user_is_an_operator() {
    let shop = Shop::three();
    for text in [
        "\"",
        "petrel\" OR \"kittiwake",
        "NOT petrel",
        "NEAR(a b)",
        "words:petrel",
        "*",
        "^petrel -",
        "a\0b",
        "(",
        "'; DROP TABLE record; --",
    ] {
        let found = shop.found(words(text));
        assert!(found.len() <= 3, "{text}");
        let _ = shop.found(tag("sleeve", text));
    }
    assert_eq!(shop.found(words("NOT petrel")), [] as [u32; 0]);
    assert_eq!(shop.found(Query::default()), [3, 2, 1]);
}

#[test]
fn only_what_is_new_is_read() {
    let shop = Shop::three();
    assert_eq!(shop.open().1, Updated { read: 3, anew: true });
    assert_eq!(shop.open().1, Updated { read: 0, anew: false });
    shop.file("2026-06-01", &[("family", "petrel")], 82.0, "x");
    assert_eq!(shop.open().1, Updated { read: 1, anew: false });
    assert_eq!(shop.found(words("petrel")), [4, 2, 1]);
}

#[test]
fn an_index_that_is_missing_foreign_or_damaged_is_made_again() {
    let shop = Shop::three();
    let (index, _) = shop.open();
    assert_eq!(index.check().unwrap(), None);
    drop(index);
    let good = fs::read(shop.path()).unwrap();
    let cases: [(&str, Vec<u8>); 5] = [
        ("empty", Vec::new()),
        ("no database", b"a note".repeat(1000)),
        ("cut short", good[..good.len() / 2].to_vec()),
        ("zeroes in the middle", {
            let mut b = good.clone();
            let n = b.len();
            b[4096..n - 4096].fill(0);
            b
        }),
        ("a head of nothing", {
            let mut b = good.clone();
            b[100..4096].fill(0xFF);
            b
        }),
    ];
    for (what, bytes) in cases {
        fs::write(shop.path(), bytes).unwrap();
        let found = shop.found(words("petrel"));
        assert_eq!(found, [2, 1], "{what}");
        assert_eq!(shop.open().0.check().unwrap(), None, "{what}");
    }
}

#[test]
fn an_index_of_another_archive_or_of_one_that_was_cut_off_is_made_again() {
    let shop = Shop::three();
    shop.open();
    let other = Shop::new();
    for n in 0..5 {
        other.file("2026-01-01", &[("family", "tern")], 70.0, &n.to_string());
    }
    fs::copy(shop.path(), other.path()).unwrap();
    assert_eq!(other.open().1, Updated { read: 5, anew: true });
    let records = other.dir.path().join("archive/records/000/000");
    fs::remove_file(records.join("000000005.json")).unwrap();
    assert_eq!(other.open().1, Updated { read: 4, anew: true });
}

#[test]
fn many_who_look_while_others_file_find_what_there_is() {
    let shop = Shop::three();
    let (place, path) = (shop.dir.path().join("archive"), shop.path());
    let file = |place: &Path, n: u32| {
        let archive = Archive::open(Box::new(Folder::at(place))).unwrap();
        let summary = Summary { title: format!("tern {n}"), ..Summary::default() };
        archive.file(Filing { at: Time::now(), tool: "t".into(), summary, items: vec![] }).unwrap();
    };
    std::thread::scope(|scope| {
        for _ in 0..3 {
            scope.spawn(|| {
                for _ in 0..10 {
                    let archive = Archive::open(Box::new(Folder::at(&place))).unwrap();
                    let (index, _) = Index::open(&path, &archive, lower, &mut |_, _| {}).unwrap();
                    let query = Query { words: vec!["petrel".into()], most: 10, ..Query::default() };
                    assert_eq!(index.find(&query).unwrap().0.len(), 2);
                }
            });
        }
        scope.spawn(|| (0..20).for_each(|n| file(&place, n)));
    });
    assert_eq!(shop.found(Query { words: vec!["tern".into()], ..Query::default() }).len(), 10);
    assert_eq!(shop.open().0.check().unwrap(), None);
}

/// A folder in which somebody files, and another reads it, right after the records were looked over once.
#[derive(Debug)]
struct Overtaken {
    folder: Folder,
    path: std::path::PathBuf,
    index: std::path::PathBuf,
    nobody_yet: Arc<AtomicBool>,
}

impl Store for Overtaken {
    fn list(&self, folder: &str) -> Result<Vec<Listed>, StoreError> {
        let listed = self.folder.list(folder)?;
        let is_last = listed.iter().any(|l| crate::key::number_of(&l.name).is_some());
        if is_last && self.nobody_yet.swap(false, SeqCst) {
            let archive = Archive::open(Box::new(Folder::at(&self.path))).unwrap();
            let summary = Summary { title: "tern".to_owned(), ..Summary::default() };
            archive.file(Filing { at: Time::now(), tool: "t".into(), summary, items: vec![] }).unwrap();
            Index::open(&self.index, &archive, lower, &mut |_, _| {}).unwrap();
        }
        Ok(listed)
    }
    fn make(&self) -> Result<(), StoreError> {
        self.folder.make()
    }
    fn put(&self, key: &str, from: &mut dyn std::io::Read) -> Result<Put, StoreError> {
        self.folder.put(key, from)
    }
    fn get(&self, key: &str) -> Result<Option<Opened>, StoreError> {
        self.folder.get(key)
    }
    fn bytes(&self, key: &str) -> Result<Option<u64>, StoreError> {
        self.folder.bytes(key)
    }
    fn place(&self) -> String {
        self.folder.place()
    }
}

#[test]
fn who_counted_before_another_filed_and_read_does_not_empty_the_index() {
    let shop = Shop::three();
    shop.open();
    let (path, index) = (shop.dir.path().join("archive"), shop.path());
    let nobody_yet = Arc::new(AtomicBool::new(false));
    let place = Overtaken { folder: Folder::at(&path), path, index, nobody_yet: nobody_yet.clone() };
    let archive = Archive::open(Box::new(place)).unwrap();
    nobody_yet.store(true, SeqCst);
    let mut told = Vec::new();
    let (index, updated) =
        Index::open(&shop.path(), &archive, lower, &mut |done, of| told.push([done, of])).unwrap();
    assert_eq!(told, [[3, 3]], "more read than there is");
    assert!(!nobody_yet.load(SeqCst), "nobody came between");
    assert!(!updated.anew, "what another had read was thrown away");
    assert_eq!(index.find(&Query { most: 10, ..words("tern") }).unwrap().0.len(), 1);
}

/// The notes of all records, newest first, as `files` hands them on.
fn notes(shop: &Shop) -> Vec<Option<String>> {
    let mut index = shop.open().0;
    let found = index.find(&Query { most: 10, ..Query::default() }).unwrap().0;
    let mut all = Vec::new();
    let mut take = |_: &Found, bytes: Option<Vec<u8>>| all.push(bytes.map(|b| String::from_utf8(b).unwrap()));
    index.files(&shop.archive, &found, "notes/a.txt", 1000, &mut take).unwrap();
    all
}

fn said(notes: [Option<&str>; 3]) -> Vec<Option<String>> {
    notes.map(|note| note.map(str::to_owned)).to_vec()
}

#[test]
fn what_was_read_of_a_record_is_kept_and_held_against_its_sum() {
    let shop = Shop::three();
    let whole = said([Some(""), Some("porosity at 3"), Some("bored by Käthe, the cat's paw")]);
    assert_eq!(notes(&shop), whole);
    let place = shop.dir.path().join("archive");
    let key = |text: &str| place.join(crate::key::content(&crate::Sum::of(text.as_bytes())));
    fs::remove_file(key("porosity at 3")).unwrap();
    assert_eq!(notes(&shop), whole, "nothing is opened that was kept");
    // A spoiled row is none: what it was is read again, where it still lies.
    let spoil = |index: &Index| index.connection.execute("UPDATE kept SET bytes = x'00'", []).unwrap();
    assert_eq!(spoil(&shop.open().0), 3);
    let without = said([Some(""), None, Some("bored by Käthe, the cat's paw")]);
    assert_eq!(notes(&shop), without);
    assert_eq!(notes(&shop), without);
    // So it is in an index made anew.
    fs::remove_file(shop.path()).unwrap();
    assert_eq!(notes(&shop), without);
    // Another name, and one that is larger than asked for.
    fs::remove_file(shop.path()).unwrap();
    let mut index = shop.open().0;
    let found = index.find(&Query { most: 10, ..Query::default() }).unwrap().0;
    for (name, most, expected) in [("notes/b.txt", 1000, 0), ("notes/a.txt", 0, 1)] {
        let mut count = 0;
        let mut take = |_: &Found, bytes: Option<Vec<u8>>| count += usize::from(bytes.is_some());
        index.files(&shop.archive, &found, name, most, &mut take).unwrap();
        assert_eq!(count, expected, "{name}");
    }
}

#[test]
fn a_record_that_is_another_now_gives_nothing_of_what_was_found() {
    let shop = Shop::three();
    let mut index = shop.open().0;
    let mut found = index.find(&Query { most: 10, ..Query::default() }).unwrap().0;
    found[1].sum = crate::Sum::of(b"another");
    let mut all = Vec::new();
    index
        .files(&shop.archive, &found, "notes/a.txt", 1000, &mut |f, b| all.push((f.number, b.is_some())))
        .unwrap();
    assert_eq!(all, [(3, true), (2, false), (1, true)]);
    fs::remove_file(shop.dir.path().join("archive/archive.json")).unwrap();
    let away = index.files(&shop.archive, &found, "notes/a.txt", 1000, &mut |_, _| {});
    assert!(matches!(away, Err(ArchiveError::Away { .. })), "{away:?}");
}

/// The file of a record, and that of a note's bytes.
fn lie(shop: &Shop, number: u32, note: &str) -> [std::path::PathBuf; 2] {
    let content = crate::key::content(&crate::Sum::of(note.as_bytes()));
    [crate::key::record(number), content].map(|key| shop.dir.path().join("archive").join(key))
}

#[test]
fn what_could_not_be_read_once_is_told_tried_again_and_found() {
    let shop = Shop::three();
    let [record, _] = lie(&shop, 2, "");
    let [_, note] = lie(&shop, 1, "bored by Käthe, the cat's paw");
    let away = |path: &Path| path.with_extension("away");
    for path in [&record, &note] {
        fs::rename(path, away(path)).unwrap();
    }
    let both = Unread { records: vec![2], texts: vec![1] };
    for (read, anew) in [(2, true), (0, false)] {
        let (index, updated) = shop.open();
        assert_eq!((index.unread().unwrap(), updated), (both.clone(), Updated { read, anew }));
    }
    // What of a record can be read is found all the same.
    assert_eq!((shop.found(words("petrel")), shop.found(words("kathe"))), (vec![1], vec![]));
    fs::rename(away(&note), &note).unwrap();
    let (index, updated) = shop.open();
    assert_eq!((index.unread().unwrap(), updated.read), (Unread { records: vec![2], texts: vec![] }, 1));
    assert_eq!((shop.found(words("petrel")), shop.found(words("kathe"))), (vec![1], vec![1]));
    fs::rename(away(&record), &record).unwrap();
    let (index, updated) = shop.open();
    assert_eq!((index.unread().unwrap(), updated), (Unread::default(), Updated { read: 1, anew: false }));
    assert_eq!((shop.found(words("petrel")), shop.found(tag("sleeve", "w92"))), (vec![2, 1], vec![2]));
    assert_eq!(shop.found(words("poros")), [2]);
    assert_eq!((shop.open().1, shop.open().0.check().unwrap()), (Updated::default(), None));
}

#[test]
fn a_last_record_that_could_not_be_read_costs_the_others_nothing() {
    let shop = Shop::three();
    let [record, _] = lie(&shop, 3, "");
    let whole = fs::read(&record).unwrap();
    fs::remove_file(&record).unwrap();
    fs::write(&record, "spoiled").unwrap();
    assert_eq!(shop.open().1, Updated { read: 2, anew: true });
    fs::remove_file(&record).unwrap();
    fs::write(&record, whole).unwrap();
    assert_eq!(shop.open().1, Updated { read: 1, anew: false });
    assert_eq!(shop.found(words("kittiwake")), [3]);
}

#[test]
fn a_place_that_is_away_makes_nothing_unreadable() {
    let shop = Shop::three();
    let [record, _] = lie(&shop, 2, "");
    fs::rename(&record, record.with_extension("away")).unwrap();
    assert_eq!(shop.open().0.unread().unwrap().records, [2]);
    fs::rename(record.with_extension("away"), &record).unwrap();
    let mark = shop.dir.path().join("archive/archive.json");
    fs::rename(&mark, mark.with_extension("away")).unwrap();
    fs::rename(&record, record.with_extension("away")).unwrap();
    let away = Index::open(&shop.path(), &shop.archive, lower, &mut |_, _| {});
    assert!(matches!(away, Err(ArchiveError::Away { .. })), "{away:?}");
}

#[test]
fn notes_of_other_encodings_and_the_beginnings_of_long_ones_are_searched() {
    let shop = Shop::new();
    let mut long = b"pinhole ".to_vec();
    long.resize(1024 * 1024, b' ');
    long.extend(b" seepage");
    let utf_16: Vec<u8> = "\u{FEFF}Graufäule".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let notes = [("a.txt", b"Z\xFCndung".to_vec()), ("b.txt", utf_16), ("c.txt", long)];
    let items = notes.map(|(name, bytes)| Item {
        name: name.to_owned(),
        from: Origin::Bytes(bytes),
        called: None,
        words: true,
        expected: None,
    });
    let filing = Filing {
        at: Time::now(),
        tool: "test".to_owned(),
        summary: Summary::default(),
        items: items.to_vec(),
    };
    shop.archive.file(filing).unwrap();
    for (word, found) in
        [("Zündung", true), ("graufaule", true), ("c.txt", true), ("pinhole", true), ("seepage", false)]
    {
        assert_eq!(!shop.found(words(word)).is_empty(), found, "{word}");
    }
    assert_eq!(shop.open().0.unread().unwrap(), Unread::default());
}
