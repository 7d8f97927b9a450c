//! The words of a record's files, in whichever of the usual encodings they were written.

use crate::archive::Archive;
use crate::record::Record;

/// The texts of a record in which words are looked for, its sum and the names of all its files among them, and how many of its files could not be read.
pub(super) fn texts(archive: &Archive, record: &Record) -> (Vec<String>, u32) {
    let mut texts: Vec<String> =
        record.files.iter().filter_map(|file| file.name.rsplit('/').next()).map(str::to_owned).collect();
    texts.push(record.sha256.to_string());
    let mut lacking = 0;
    for (file, bytes) in record.searched() {
        match archive.beginning(file, bytes) {
            Ok(bytes) => texts.push(text(&bytes)),
            Err(_) => lacking += 1,
        }
    }
    (texts, lacking)
}

/// A text: UTF-16 where it begins with the mark of it, else UTF-8; bytes that are no UTF-8 are taken as Windows-1252,
/// which has all of Latin-1 that is printed.
fn text(bytes: &[u8]) -> String {
    match bytes {
        [0xFF, 0xFE, rest @ ..] => utf_16(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => utf_16(rest, u16::from_be_bytes),
        [0xEF, 0xBB, 0xBF, rest @ ..] => utf_8(rest),
        all => utf_8(all),
    }
}

/// What is no half of a pair becomes a mark for it; a last odd byte is left out.
fn utf_16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let units = bytes.chunks_exact(2).filter_map(|pair| pair.try_into().ok().map(unit));
    char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

/// Piece by piece, so that one byte of another encoding spoils no word but its own.
fn utf_8(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len());
    for piece in bytes.utf8_chunks() {
        text.push_str(piece.valid());
        text.extend(piece.invalid().iter().map(|byte| windows_1252(*byte)));
    }
    text
}

/// Bytes 0x80 to 0x9F of Windows-1252; the five that it leaves open are controls of Latin-1.
///
/// Source: WHATWG Encoding Standard, index windows-1252.
const FROM_80: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8D}', 'Ž', '\u{8F}', '\u{90}',
    '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9D}', 'ž', 'Ÿ',
];

fn windows_1252(byte: u8) -> char {
    let of_its_own = usize::from(byte).checked_sub(0x80).and_then(|place| FROM_80.get(place));
    of_its_own.copied().unwrap_or(char::from(byte))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_read_in_the_encoding_that_it_was_written_in() {
        let utf_16 = |mark: &[u8], unit: fn(u16) -> [u8; 2]| {
            [mark, &"Zündung 🔧".encode_utf16().flat_map(unit).collect::<Vec<u8>>()].concat()
        };
        let cases: [(&[u8], &str); 7] = [
            ("Zündung".as_bytes(), "Zündung"),
            ("\u{FEFF}Zündung".as_bytes(), "Zündung"),
            (b"Z\xFCndung, 5 \x80", "Zündung, 5 €"),
            // One byte of the other encoding among UTF-8.
            (b"Z\xC3\xBCndung und Gr\xF6\xDFe", "Zündung und Größe"),
            (&utf_16(&[0xFF, 0xFE], u16::to_le_bytes), "Zündung 🔧"),
            (&utf_16(&[0xFE, 0xFF], u16::to_be_bytes), "Zündung 🔧"),
            (&[0xFF, 0xFE, 0x61, 0x00, 0x00, 0xD8, 0x62], "a\u{FFFD}"),
        ];
        for (bytes, expected) in cases {
            assert_eq!(text(bytes), expected);
        }
    }

    #[test]
    fn every_byte_has_its_character() {
        let all: String = (0x80..=0xFF).map(windows_1252).collect();
        assert_eq!(all.chars().count(), 128);
        assert!(all.starts_with("€\u{81}‚ƒ") && all.contains("žŸ\u{A0}¡") && all.ends_with("þÿ"), "{all}");
    }
}
