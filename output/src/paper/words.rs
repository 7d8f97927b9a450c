//! Words as the format keeps them.

use lopdf::{Object, StringFormat};

/// A text as UTF-16 with its mark, as the format asks of text beyond its own alphabet.
pub(super) fn text(words: &str) -> Object {
    let mut bytes = vec![0xfe, 0xff];
    bytes.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}
