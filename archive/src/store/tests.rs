use std::fs;

use super::testing::{Disk, Place, in_every_place};
use super::*;

in_every_place!(
    what_was_first_is_kept,
    of_many_writers_exactly_one_is_first_and_whole,
    a_reader_that_fails_leaves_nothing,
    what_is_larger_than_a_piece_is_whole,
    strange_names_are_listed_as_they_are,
    more_than_a_page_of_names_is_listed,
);

fn text(store: &dyn Store, key: &str) -> Option<String> {
    let mut reader = store.get(key).unwrap()?.reader;
    let mut text = String::new();
    reader.read_to_string(&mut text).unwrap();
    Some(text)
}

fn what_was_first_is_kept(place: &dyn Place) {
    let store = place.store();
    let store = store.as_ref();
    store.make().unwrap();
    assert_eq!(store.put("a/b/one", &mut b"first".as_slice()).unwrap(), Put::New);
    assert_eq!(store.put("a/b/one", &mut b"second".as_slice()).unwrap(), Put::Taken);
    assert_eq!(text(store, "a/b/one").as_deref(), Some("first"));
    assert_eq!(store.bytes("a/b/one").unwrap(), Some(5));
    assert_eq!((text(store, "a/b/two"), store.bytes("z/z").unwrap()), (None, None));
    store.put("a/c", &mut b"".as_slice()).unwrap();
    let names = |folder| store.list(folder).unwrap().into_iter().map(|l| l.name).collect::<Vec<_>>();
    assert_eq!(
        (names("a"), names("a/b"), names("none")),
        (vec!["b".into(), "c".into()], vec!["one".into()], vec![])
    );
}

#[test]
fn a_folder_has_nothing_left_beside() {
    let disk = Disk::new();
    what_was_first_is_kept(&disk);
    assert_eq!(fs::read_dir(disk.at("beside")).unwrap().count(), 0);
}

fn of_many_writers_exactly_one_is_first_and_whole(place: &dyn Place) {
    place.store().make().unwrap();
    for round in 0..if place.is_quick() { 20 } else { 5 } {
        let key = format!("x/{round}");
        let firsts: usize = std::thread::scope(|scope| {
            let writers: Vec<_> = (0..8_u8)
                .map(|n| {
                    let key = &key;
                    scope.spawn(move || place.store().put(key, &mut vec![n; 50_000].as_slice()).unwrap())
                })
                .collect();
            writers.into_iter().filter(|_| true).map(|w| usize::from(w.join().unwrap() == Put::New)).sum()
        });
        assert_eq!(firsts, 1);
        let bytes = place.read(&key);
        assert!(bytes.len() == 50_000 && bytes.iter().all(|b| *b == bytes[0]));
    }
}

fn a_reader_that_fails_leaves_nothing(place: &dyn Place) {
    struct Broken(u8);
    impl Read for Broken {
        fn read(&mut self, to: &mut [u8]) -> io::Result<usize> {
            self.0 += 1;
            if self.0 > 2 {
                Err(io::Error::other("gone"))
            } else {
                to[0] = 1;
                Ok(1)
            }
        }
    }
    let store = place.store();
    store.make().unwrap();
    assert!(store.put("a/b", &mut Broken(0)).is_err());
    assert_eq!(store.bytes("a/b").unwrap(), None);
    // After whole pieces too.
    let large = vec![7_u8; 20_000_000];
    assert!(store.put("a/c", &mut large.as_slice().chain(Broken(0))).is_err());
    assert_eq!(store.bytes("a/c").unwrap(), None);
    assert!(store.list("beside").unwrap().is_empty());
}

fn what_is_larger_than_a_piece_is_whole(place: &dyn Place) {
    let store = place.store();
    store.make().unwrap();
    const PIECE: usize = 8 * 1024 * 1024;
    for (n, size) in [PIECE - 1, PIECE, PIECE + 1, 2 * PIECE, 2 * PIECE + 12_345].into_iter().enumerate() {
        let bytes: Vec<u8> = (0..size).map(|i| u8::try_from(i / 7 % 251).unwrap()).collect();
        let key = format!("a/{n}");
        assert_eq!(store.put(&key, &mut bytes.as_slice()).unwrap(), Put::New);
        // Whoever comes later, with as much or with less, changes nothing.
        assert_eq!(store.put(&key, &mut vec![0; size].as_slice()).unwrap(), Put::Taken);
        assert_eq!(store.put(&key, &mut b"x".as_slice()).unwrap(), Put::Taken);
        let mut opened = store.get(&key).unwrap().unwrap();
        let mut read = Vec::new();
        opened.reader.read_to_end(&mut read).unwrap();
        assert_eq!(opened.bytes, size as u64);
        assert!(read == bytes, "{size}");
    }
    assert_eq!(store.list("a").unwrap().len(), 5);
}

fn strange_names_are_listed_as_they_are(place: &dyn Place) {
    let store = place.store();
    store.make().unwrap();
    let names = ["000000005 (2).json", "a%2Fb", "straße.txt", "x+y&z"];
    names.iter().for_each(|name| place.force(&format!("a/{name}"), b"x"));
    let listed: Vec<String> = store.list("a").unwrap().into_iter().map(|l| l.name).collect();
    assert_eq!(listed, names);
    assert!(names.iter().all(|name| text(store.as_ref(), &format!("a/{name}")).as_deref() == Some("x")));
}

fn more_than_a_page_of_names_is_listed(place: &dyn Place) {
    // A server gives a thousand at once.
    (0..1100).for_each(|n| place.force(&format!("a/{n:04}"), b""));
    place.force("b", b"");
    let names: Vec<String> = place.store().list("a").unwrap().into_iter().map(|l| l.name).collect();
    assert_eq!(names, (0..1100).map(|n| format!("{n:04}")).collect::<Vec<_>>());
}

#[cfg(unix)]
#[test]
fn a_closed_folder_stays_closed_and_what_is_kept_is_not_written_to() {
    use std::os::unix::fs::PermissionsExt;
    for (mode, folder, file) in [(0o700, 0o700, 0o400), (0o750, 0o750, 0o440)] {
        let dir = tempfile::tempdir().unwrap();
        fs::set_permissions(dir.path(), fs::Permissions::from_mode(mode)).unwrap();
        let store = Folder::at(dir.path());
        store.put("a/b", &mut b"x".as_slice()).unwrap();
        let of = |path: &str| fs::metadata(dir.path().join(path)).unwrap().permissions().mode() & 0o777;
        assert_eq!((of("a"), of("beside"), of("a/b")), (folder, folder, file));
    }
}

#[cfg(unix)]
#[test]
fn nothing_is_written_or_read_through_a_link() {
    use std::os::unix::fs::symlink;
    let (dir, outside) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    fs::write(outside.path().join("secret"), "s").unwrap();
    symlink(outside.path(), dir.path().join("a")).unwrap();
    symlink(outside.path().join("secret"), dir.path().join("file")).unwrap();
    let store = Folder::at(dir.path());
    assert!(store.put("a/b", &mut b"x".as_slice()).is_err());
    assert_eq!(fs::read_dir(outside.path()).unwrap().count(), 1);
    assert!(store.get("file").is_err() && store.bytes("file").is_err());
    assert_eq!(store.put("file", &mut b"x".as_slice()).unwrap(), Put::Taken);
    let kinds: Vec<Kind> = store.list("").unwrap().into_iter().map(|l| l.kind).collect();
    assert!(kinds.iter().filter(|k| **k == Kind::Other).count() == 2);
}

#[cfg(target_os = "linux")]
#[test]
fn a_disk_without_second_names_moves_where_the_name_is_free() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("new"), "n").unwrap();
    fs::write(dir.path().join("old"), "o").unwrap();
    let taken = folder::rename_where_free(&dir.path().join("new"), &dir.path().join("old"));
    assert_eq!(taken.unwrap_err().kind(), io::ErrorKind::AlreadyExists);
    folder::rename_where_free(&dir.path().join("new"), &dir.path().join("free")).unwrap();
    assert_eq!(fs::read_to_string(dir.path().join("old")).unwrap(), "o");
}
