//! Names that people type: the same one however it is written.

/// Letters of Latin script with a mark, by the plain one; small letters.
///
/// Source: Unicode 15, decompositions of Latin-1 Supplement and Latin Extended-A, and the strokes, which have none.
const MARKED: [(char, &str); 22] = [
    ('a', "àáâãäåāăą"),
    ('c', "çćĉċč"),
    ('d', "ďđ"),
    ('e', "èéêëēĕėęě"),
    ('g', "ĝğġģ"),
    ('h', "ĥħ"),
    ('i', "ìíîïĩīĭįı"),
    ('j', "ĵ"),
    ('k', "ķ"),
    ('l', "ĺļľŀł"),
    ('n', "ñńņňŉ"),
    ('o', "òóôõöøōŏő"),
    ('r', "ŕŗř"),
    ('s', "śŝşšș"),
    ('t', "ţťŧț"),
    ('u', "ùúûüũūŭůűų"),
    ('w', "ŵ"),
    ('y', "ýÿŷ"),
    ('z', "źżž"),
    ('\'', "’‘ʼ´`"),
    ('-', "‐‑–—"),
    ('"', "“”„"),
];

/// A name without capitals, accents, and blanks that are more than one between words.
#[must_use]
pub fn folded(name: &str) -> String {
    let words: Vec<String> = name.split_whitespace().map(|word| word.to_lowercase()).collect();
    let plain = |c: char| MARKED.iter().find(|(_, marked)| marked.contains(c)).map_or(c, |(plain, _)| *plain);
    // A mark may also stand behind its letter, as a character of its own.
    words.join(" ").chars().filter(|c| !('\u{300}'..='\u{36F}').contains(c)).map(plain).collect()
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
        ] {
            assert!(alike(a, b) && alike(b, a), "{a} {b}");
        }
        for (a, b) in [("Saltmarsh", "Saltmarsh Ltd"), ("0412", "412"), ("", "x"), ("Tern", "Terns")] {
            assert!(!alike(a, b), "{a} {b}");
        }
    }
}
