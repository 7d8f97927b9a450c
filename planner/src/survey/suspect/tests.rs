//! That the documents name every kind of suspicion.

use std::collections::BTreeSet;
use std::path::Path;

use super::Code;

#[test]
fn the_documents_list_every_kind_in_order() {
    let formats = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/formats.md");
    let text = std::fs::read_to_string(formats).unwrap();
    let told = text.split("`code` is one of").nth(1).unwrap().split(". Each is").next().unwrap();
    let told: Vec<&str> = told.split('`').skip(1).step_by(2).collect();
    let words: Vec<&str> = Code::ALL.iter().map(|code| code.word()).collect();
    assert_eq!(told, words);
    assert_eq!(words.iter().collect::<BTreeSet<_>>().len(), words.len(), "a word of two kinds");
}
