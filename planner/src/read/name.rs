//! Names that people type: the same one however it is written.

use unicode_normalization::UnicodeNormalization;

/// What Unicode does not take apart into a letter and its mark, by the plain one; small letters.
///
/// Source: Unicode 15, Latin-1 Supplement and Latin Extended-A: letters with a stroke or none of its dot, and what stands for an
/// apostrophe, a hyphen or a quotation mark in General Punctuation.
const ALIKE: [(char, &str); 12] = [
    ('d', "đ"),
    ('h', "ħ"),
    ('i', "ı"),
    ('l', "łŀ"),
    ('n', "ŉ"),
    ('o', "ø"),
    ('t', "ŧ"),
    ('b', "ƀ"),
    ('z', "ƶ"),
    ('\'', "’‘ʼ´`"),
    ('-', "‐‑‒–—−"),
    ('"', "“”„"),
];

/// A name without capitals, accents, and blanks that are more than one between words; dashes, apostrophes and quotation marks of a
/// kind are one.
///
/// An archive's index keeps what this gives: whoever changes it raises `FORM` of `archive/src/index/schema.rs`.
#[must_use]
pub fn folded(name: &str) -> String {
    let words: Vec<String> = name.split_whitespace().map(|word| word.to_lowercase()).collect();
    let plain = |c: char| ALIKE.iter().find(|(_, alike)| alike.contains(c)).map_or(c, |(plain, _)| *plain);
    // Taken apart, a mark stands behind its letter as a character of its own.
    words.join(" ").nfd().filter(|c| !('\u{300}'..='\u{36F}').contains(c)).map(plain).collect()
}

/// Whether two names are one.
#[must_use]
pub fn alike(a: &str, b: &str) -> bool {
    a == b || folded(a) == folded(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_one_with_or_without_capitals_accents_and_doubled_blanks() {
        for (a, b) in [
            ("Saltmarsh Engine Works", " saltmarsh  ENGINE\tworks "),
            ("Möwe & Söhne", "mowe & sohne"),
            ("Mo\u{308}we", "MÖWE"),
            ("Łódź", "lodz"),
            ("İnci", "inci"),
            ("Tern’s", "tern's"),
            ("A–12", "a-12"),
            ("Ärø  12", "arø 12"),
            ("Ƀṩ ǭ Ệ", "Bs o e"),
            ("ΆΛΦΑ", "αλφα"),
        ] {
            assert!(alike(a, b) && alike(b, a), "{a} {b}");
        }
        for (a, b) in [("Saltmarsh", "Saltmarsh Ltd"), ("0412", "412"), ("", "x"), ("Tern", "Terns")] {
            assert!(!alike(a, b), "{a} {b}");
        }
    }
}
