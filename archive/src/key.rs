//! Keys: where the mark, the records and the content of an archive lie in its place.

use crate::sum::Sum;

/// The key of the mark that makes a place an archive.
pub(crate) const MARK: &str = "archive.json";
/// Folder of the records.
pub(crate) const RECORDS: &str = "records";
/// Folder of what is kept.
pub(crate) const CONTENT: &str = "content";
/// Folder in which files are written before they are moved in.
pub(crate) const BESIDE: &str = "beside";
/// What desktops and file systems put into a folder, or into the first of a disk, by themselves; in small letters.
const NOBODYS: [&str; 7] = [
    "thumbs.db",
    "desktop.ini",
    "@eadir",
    "#recycle",
    "lost+found",
    "$recycle.bin",
    "system volume information",
];
/// Highest number of a record: nine digits.
pub(crate) const LAST: u32 = 999_999_999;

/// `records/000/012/000012345.json`.
pub(crate) fn record(number: u32) -> String {
    let digits = format!("{number:09}");
    let part = |from: usize| digits.get(from..from + 3).unwrap_or_default();
    format!("{RECORDS}/{}/{}/{digits}.json", part(0), part(3))
}

/// The number of a record's file, by its name alone.
pub(crate) fn number_of(file: &str) -> Option<u32> {
    let digits = file.strip_suffix(".json")?;
    let plain = digits.len() == 9 && digits.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| digits.parse().ok()).flatten().filter(|n| *n > 0)
}

/// Whether a name in the archive's own folder is of something that a system put there by itself.
pub(crate) fn is_nobodys(name: &str) -> bool {
    let name = name.to_lowercase();
    // A dot before a name hides it: desktops, disks and sync programs keep their own so.
    NOBODYS.contains(&&*name) || name.starts_with('.')
}

/// Whether a folder below `records` is called as one of its own.
pub(crate) fn is_part(folder: &str) -> bool {
    folder.len() == 3 && folder.bytes().all(|b| b.is_ascii_digit())
}

/// `content/ab/ab…`, under the whole sum.
pub(crate) fn content(sum: &Sum) -> String {
    let hex = sum.to_string();
    format!("{CONTENT}/{}/{hex}", hex.get(..2).unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_names_go_both_ways() {
        assert_eq!(record(12_345), "records/000/012/000012345.json");
        assert_eq!(record(999_999_999), "records/999/999/999999999.json");
        assert_eq!(number_of("000012345.json"), Some(12_345));
        for wrong in ["000000000.json", "12345.json", "+00012345.json", "000012345 (2).json", "000012345"] {
            assert_eq!(number_of(wrong), None, "{wrong}");
        }
        assert!(content(&Sum::of(b"abc")).starts_with("content/ba/ba7816bf"));
    }
}
