//! What a reader of the file shows beside the pages: bookmarks, page labels, the language; and that it prints at its true size.

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};

use super::about::{About, Labels};
use super::words::text;

/// Adds them to a document whose pages are in place.
pub(super) fn add(file: &mut Document, about: &About) {
    let bookmarks = &about.bookmarks;
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
    if !ids.is_empty() {
        file.set_object(outlines, Object::Dictionary(list));
    }
    let labels = match about.labels {
        Labels::Cards => by_bookmark(bookmarks),
        Labels::Plain => plain(),
    };
    let mut view = Dictionary::new();
    view.set("DisplayDocTitle", true);
    view.set("PrintScaling", Object::Name(b"None".to_vec()));
    if let Ok(catalog) = file.catalog_mut() {
        if !ids.is_empty() {
            catalog.set("Outlines", outlines);
            // A reader that opens the file shows the list beside the page.
            catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
        }
        catalog.set("PageLabels", labels);
        catalog.set("Lang", Object::String(b"en".to_vec(), StringFormat::Literal));
        catalog.set("ViewerPreferences", view);
    }
}

/// Each bookmark's pages are labelled with its number: `3-1`, `3-2`.
fn by_bookmark(bookmarks: &[(String, usize)]) -> Dictionary {
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

/// 1, 2, 3.
fn plain() -> Dictionary {
    let mut label = Dictionary::new();
    label.set("S", Object::Name(b"D".to_vec()));
    let mut labels = Dictionary::new();
    labels.set("Nums", Object::Array(vec![Object::Integer(0), Object::Dictionary(label)]));
    labels
}
