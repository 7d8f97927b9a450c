//! That the list of codes is that of the suspicions which the room raises, read from its sources, and that the documents have it.

use std::collections::BTreeSet;
use std::path::Path;

use super::CODES;

/// The sources that raise suspicions, their tests left out.
fn sources() -> Vec<String> {
    let survey = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/survey");
    let (mut found, mut folders) = (vec![survey.join("witness.rs")], vec![survey.join("suspect")]);
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            match path.file_name().and_then(|name| name.to_str()) {
                Some("mod.rs" | "tests.rs") => {}
                _ if path.is_dir() => folders.push(path),
                _ => found.push(path),
            }
        }
    }
    let text = |path: &std::path::PathBuf| std::fs::read_to_string(path).unwrap();
    found.iter().map(text).map(|text| text.split("#[cfg(test)]").next().unwrap().to_owned()).collect()
}

/// Words in quotation marks, each with what stands before it up to a blank.
fn words(text: &str) -> impl Iterator<Item = (&str, &str)> {
    let parts: Vec<&str> = text.split('"').collect();
    let is_word = |word: &str| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    let pairs: Vec<(&str, &str)> = parts.windows(2).map(|pair| (pair[0].trim_end(), pair[1])).collect();
    pairs.into_iter().filter(move |(_, word)| is_word(word))
}

/// Codes stand behind `code:`, as the first word of what makes a suspicion, or as the first of a tuple that is told
/// apart into `code` and the rest.
fn codes(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for after in text.split("code: ").skip(1) {
        let end = after.find(",\n").or_else(|| after.find(',')).unwrap_or(after.len());
        found.extend(words(&after[..end]).map(|(_, word)| word.to_owned()));
    }
    for maker in ["suspicion(", "asks(asked,", "asks(\n"] {
        for after in text.split(maker).skip(1) {
            let lead = after.split('"').next().unwrap_or_default().trim();
            if lead.is_empty() || lead == "asked," {
                found.extend(words(after).next().map(|(_, word)| word.to_owned()));
            }
        }
    }
    for after in text.split("let (code,").skip(1) {
        let told = after.split("Suspicion {").next().unwrap_or_default();
        let first = words(told).filter(|(before, _)| before.ends_with('('));
        found.extend(first.map(|(_, word)| word.to_owned()));
    }
    found
}

#[test]
fn every_suspicion_is_known_by_its_code_and_no_code_is_left_over() {
    let raised: BTreeSet<String> = sources().iter().flat_map(|text| codes(text)).collect();
    let listed: BTreeSet<String> = CODES.iter().map(|&code| code.to_owned()).collect();
    let apart: Vec<&String> = raised.symmetric_difference(&listed).collect();
    assert!(apart.is_empty(), "raised and not listed, or listed and not raised: {apart:?}");
    assert_eq!(listed.len(), CODES.len(), "a code listed twice");
}

#[test]
fn the_documents_list_every_code() {
    let formats = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/formats.md");
    let text = std::fs::read_to_string(formats).unwrap();
    let told = text.split("`code` is one of").nth(1).unwrap().split(". Each is").next().unwrap();
    let told: BTreeSet<&str> = told.split('`').skip(1).step_by(2).collect();
    assert_eq!(told, CODES.into_iter().collect());
}
