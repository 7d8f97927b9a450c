//! What a reader of the file shows beside the pages: bookmarks, page labels, the language; and that it prints at its true size.

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};

/// Adds them to a document whose pages are in place.
pub(super) fn add(file: &mut Document, bookmarks: &[(String, usize)]) {
    let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    let outlines = file.new_object_id();
    let ids: Vec<ObjectId> = bookmarks.iter().map(|_| file.new_object_id()).collect();
    for (at, ((name, page), id)) in bookmarks.iter().zip(&ids).enumerate() {
        let Some(page) = pages.get(*page) else { continue };
        let mut item = Dictionary::new();
        item.set("Title", text(name));
        item.set("Parent", outlines);
        item.set("Dest", Object::Array(vec![Object::Reference(*page), Object::Name(b"Fit".to_vec())]));
        if let Some(before) = at.checked_sub(1).and_then(|before| ids.get(before)) {
            item.set("Prev", *before);
        }
        if let Some(next) = ids.get(at + 1) {
            item.set("Next", *next);
        }
        file.set_object(*id, Object::Dictionary(item));
    }
    let mut list = Dictionary::new();
    list.set("Type", Object::Name(b"Outlines".to_vec()));
    if let (Some(first), Some(last)) = (ids.first(), ids.last()) {
        list.set("First", *first);
        list.set("Last", *last);
    }
    list.set("Count", i64::try_from(ids.len()).unwrap_or_default());
    file.set_object(outlines, Object::Dictionary(list));
    let labels = labels(bookmarks);
    let mut view = Dictionary::new();
    view.set("DisplayDocTitle", true);
    view.set("PrintScaling", Object::Name(b"None".to_vec()));
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("Outlines", outlines);
        catalog.set("PageLabels", labels);
        catalog.set("Lang", Object::String(b"en".to_vec(), StringFormat::Literal));
        catalog.set("ViewerPreferences", view);
    }
}

/// Each bookmark's pages are labelled with its number: `3-1`, `3-2`.
fn labels(bookmarks: &[(String, usize)]) -> Dictionary {
    let mut numbers = Vec::new();
    for ((_, page), card) in bookmarks.iter().zip(1_u32..) {
        let mut label = Dictionary::new();
        label.set("S", Object::Name(b"D".to_vec()));
        label.set("P", Object::String(format!("{card}-").into_bytes(), StringFormat::Literal));
        numbers.push(Object::Integer(i64::try_from(*page).unwrap_or_default()));
        numbers.push(Object::Dictionary(label));
    }
    let mut labels = Dictionary::new();
    labels.set("Nums", Object::Array(numbers));
    labels
}

/// A text as UTF-16 with its mark, as the format asks of text beyond its own alphabet.
fn text(words: &str) -> Object {
    let mut bytes = vec![0xfe, 0xff];
    bytes.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}
