//! Seal and fingerprint of a plan, worked out from the text of its file.
//!
//! Anyone can work out either sum: they show that something was changed, not who did it.

use crate::read::source::sha256_hex;

/// What stands in the seal's place while it is worked out.
pub const UNSEALED: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// What stands before the seal, the last key of the file, and behind it.
const BEFORE: &str = ",\n  \"seal\": \"";
const BEHIND: &str = "\"\n}\n";

/// The seal of a plan's text: SHA-256 over all of it, noughts in the place of the seal; `None` where the text
/// does not end in a seal as a plan's does.
#[must_use]
pub fn seal(text: &str) -> Option<String> {
    let (before, said) = parts(text)?;
    if said == UNSEALED {
        return Some(sha256_hex(text.as_bytes()));
    }
    Some(sha256_hex(format!("{before}{UNSEALED}{BEHIND}").as_bytes()))
}

/// A plan's text with its seal, and the seal; `None` where the text does not end in a seal as a plan's does.
#[must_use]
pub fn sealed(mut text: String) -> Option<(String, String)> {
    let seal = seal(&text)?;
    let (before, _) = parts(&text)?;
    text.truncate(before.len());
    text.push_str(&seal);
    text.push_str(BEHIND);
    Some((text, seal))
}

/// Whether a text still has its seal.
pub(super) fn is_sealed(text: &str) -> bool {
    parts(text).is_some_and(|(_, said)| seal(text).is_some_and(|seal| seal == said))
}

/// The text up to the seal, and the seal.
fn parts(text: &str) -> Option<(&str, &str)> {
    let rest = text.strip_suffix(BEHIND)?;
    let (before, said) = rest.split_at_checked(rest.len().checked_sub(UNSEALED.len())?)?;
    let hexadecimal = said.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
    (hexadecimal && before.ends_with(BEFORE)).then_some((before, said))
}

/// The fingerprint that the inputs' sums and the results in a plan's text give: SHA-256 over the plan without
/// blanks, as it was before it had a fingerprint, lists, what its family says, sums of files or a seal.
pub(super) fn fingerprint(text: &str) -> Option<String> {
    summed(text, None)
}

/// The same but for who released the plan, and why: two that are alike by it come to the same results.
pub(super) fn but_for_release(text: &str) -> Option<String> {
    summed(text, Some("null"))
}

/// The sum with what stands for the release; with `None` what the text has there.
fn summed(text: &str, release: Option<&str>) -> Option<String> {
    let mut plan = String::with_capacity(text.len());
    for (key, value) in members(text)? {
        let value = match key {
            "files" | "prior" | "seal" => continue,
            "fingerprint" => "\"\"",
            "lists" => "[]",
            "release" => release.unwrap_or(value),
            _ => value,
        };
        plan.push(if plan.is_empty() { '{' } else { ',' });
        plan.push_str(&format!("\"{key}\":{}", close(value)));
    }
    plan.push('}');
    Some(sha256_hex(plan.as_bytes()))
}

/// Keys and values of an object as they are written; `None` where the text is no object. Only for text that was
/// read as JSON before.
fn members(text: &str) -> Option<Vec<(&str, &str)>> {
    let inside = text.trim().strip_prefix('{')?.strip_suffix('}')?;
    let (mut found, mut depth, mut quoted, mut escaped) = (Vec::new(), 0_u32, false, false);
    let (mut start, mut colon) = (0, None);
    for (at, c) in inside.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            _ if quoted => {}
            '{' | '[' => depth += 1,
            '}' | ']' => depth = depth.checked_sub(1)?,
            ':' if depth == 0 && colon.is_none() => colon = Some(at),
            ',' if depth == 0 => {
                found.push(member(inside, start, colon.take()?, at)?);
                start = at + 1;
            }
            _ => {}
        }
    }
    if let Some(colon) = colon {
        found.push(member(inside, start, colon, inside.len())?);
    }
    Some(found)
}

fn member(text: &str, start: usize, colon: usize, end: usize) -> Option<(&str, &str)> {
    let key = text.get(start..colon)?.trim().strip_prefix('"')?.strip_suffix('"')?;
    Some((key, text.get(colon + 1..end)?.trim()))
}

/// JSON without the blanks between its parts. What was escaped for terminals, from U+007F on, stands as itself
/// again: nothing else is escaped by its number there.
fn close(json: &str) -> String {
    let mut made = String::with_capacity(json.len());
    let mut rest = json.chars();
    let mut quoted = false;
    while let Some(c) = rest.next() {
        match c {
            '"' => {
                quoted = !quoted;
                made.push(c);
            }
            '\\' if quoted => match rest.next() {
                Some('u') => {
                    let digits: String = rest.by_ref().take(4).collect();
                    let code = u32::from_str_radix(&digits, 16).ok().filter(|code| *code >= 0x7f);
                    match code.and_then(char::from_u32) {
                        Some(c) => made.push(c),
                        None => made.push_str(&format!("\\u{digits}")),
                    }
                }
                Some(next) => made.extend(['\\', next]),
                None => made.push(c),
            },
            ' ' | '\n' | '\r' | '\t' if !quoted => {}
            _ => made.push(c),
        }
    }
    made
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seal_holds_until_anything_before_it_changes() {
        let open = format!("{{\n  \"a\": 1{BEFORE}{UNSEALED}{BEHIND}");
        let sealed = open.replace(UNSEALED, &seal(&open).unwrap());
        assert!(is_sealed(&sealed) && !is_sealed(&open));
        assert_eq!(super::sealed(open.clone()), Some((sealed.clone(), seal(&open).unwrap())));
        assert_eq!(super::sealed(sealed.clone()).unwrap().0, sealed);
        // SHA-256 over the open text, as `sha256sum` tells it.
        assert!(
            sealed.contains("93bc376be315f5b1cd3d772b7d7f1c422012af837f3d2dd315596bba83b4979b"),
            "{sealed}"
        );
        for (index, _) in sealed.char_indices() {
            let mut other = sealed.clone();
            other.replace_range(index..=index, "7");
            assert!(other == sealed || !is_sealed(&other), "{other}");
        }
    }

    #[test]
    fn a_fingerprint_is_that_of_the_plan_without_blanks_lists_and_sums() {
        let text = "{ \"format\": \"x, y: \\\"{\\\\\", \"fingerprint\": \"abc\",\n \"lists\": [ { \"file\": \"a\" } ],\n \
                    \"inputs\": [ 1, \"\\u202e \\u001f\" ], \"files\": [], \"seal\": \"0\" }";
        let plain = "{\"format\":\"x, y: \\\"{\\\\\",\"fingerprint\":\"\",\"lists\":[],\"inputs\":[1,\"\u{202e} \\u001f\"]}";
        assert_eq!(fingerprint(text), Some(sha256_hex(plain.as_bytes())));
        assert_eq!(fingerprint("[]"), None);
    }

    proptest::proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "[{}:,\"\\\\u0-9 a\u{e9}]{0,60}") {
            let _ = (fingerprint(&text), seal(&text), is_sealed(&text));
        }
    }
}
