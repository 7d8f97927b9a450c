//! Single bytes changed all through a list, its table and the plan: nothing that is not free ends in proven.

use borewright_planner::prove::{prove, prove_files};
use proptest::prelude::*;

use crate::common::Folder;
use crate::sample::{Sample, said, sample};

/// A list with what is free taken out (`docs/formats.md`): blanks, empty lines, how comments are broken, noughts before
/// numbers, the height of rapids that are clear.
fn canon(text: &str, clear: f64) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    let mut notes = String::new();
    for line in text.split('\n') {
        let mut words = String::new();
        let mut rest = line.strip_suffix('\r').unwrap_or(line);
        while let Some(open) = rest.find('(') {
            let Some(close) = rest[open..].find(')') else { break };
            words += &rest[..open];
            notes += &format!(" {}", &rest[open + 1..open + close]);
            rest = &rest[open + close + 1..];
        }
        words += rest;
        let words: String = words.chars().filter(|c| !matches!(c, ' ' | '\t')).collect();
        if words.is_empty() {
            continue;
        }
        let mut row = String::new();
        let mut digits = String::new();
        for c in words.chars().chain(['\n']) {
            if c.is_ascii_digit() || c == '.' {
                digits.push(c);
                continue;
            }
            if !digits.is_empty() {
                let short = digits.trim_start_matches('0');
                row += if short.is_empty() || short.starts_with('.') { "0" } else { "" };
                row += short;
                digits.clear();
            }
            row.push(c);
        }
        let up = row.split_once("G0Z").and_then(|(head, z)| Some((head, z.trim().parse::<f64>().ok()?)));
        if let Some((head, _)) = up.filter(|(head, z)| *z >= clear && head.starts_with('N')) {
            row = format!("{head}G0Z*");
        }
        rows.push(format!("{} | {row}", notes.split_ascii_whitespace().collect::<Vec<_>>().join(" ")));
        notes.clear();
    }
    rows.push(notes);
    rows
}

/// What may be put in the place of a byte.
const PUT: &[u8] = b"0179.-+ ()%/GMNXZFSgz:,;#\n\r\t~";

/// One change of one byte: another in its place, none, or one more.
fn changed(bytes: &[u8], at: usize, how: usize) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    let put = PUT[how / 3 % PUT.len()];
    match how % 3 {
        0 => bytes[at] = if bytes[at] == put { bytes[at] ^ 1 } else { put },
        1 => drop(bytes.remove(at)),
        _ => bytes.insert(at, put),
    }
    bytes
}

fn assert_unproven(
    sample: &Sample,
    list: usize,
    spoiled: &[u8],
    reference: &borewright_planner::prove::Reference,
) {
    let (name, words, _) = &sample.lists[list];
    // What is no text is refused before it is read.
    let Ok(text) = std::str::from_utf8(spoiled) else { return };
    if text == words {
        return;
    }
    let proof = prove(text, None, name, reference);
    let clear = if name.contains("finish") { 50.0 } else { 5.0 };
    let line = words.lines().zip(text.lines()).find(|(a, b)| a != b);
    if proof.proven {
        assert_eq!(canon(text, clear), canon(words, clear), "{name}: proven with {line:?}");
    } else {
        assert!(!said(&proof).is_empty());
    }
}

#[test]
fn no_byte_of_a_list_changes_unseen() {
    let sample = sample();
    let reference = sample.reference();
    let mut tried = 0;
    // A prime stride apart, so that each round meets other bytes.
    for round in 0..2 {
        for (list, (_, words, _)) in sample.lists.iter().enumerate() {
            let bytes = words.as_bytes();
            for at in (round * 7 % 97..bytes.len()).step_by(97) {
                assert_unproven(sample, list, &changed(bytes, at, at + round * 31), &reference);
                tried += 1;
            }
        }
    }
    assert!(tried > 500, "{tried}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn no_byte_anywhere_in_a_list_changes_unseen(list in 0_usize..6, at in any::<prop::sample::Index>(), how in 0_usize..200, put in any::<char>()) {
        let sample = sample();
        let words = &sample.lists[list].1;
        let at = at.index(words.len());
        let spoiled = if how < 180 {
            changed(words.as_bytes(), at, how)
        } else {
            let mut text = words.clone();
            text.insert(at, put);
            text.into_bytes()
        };
        assert_unproven(sample, list, &spoiled, &sample.reference());
    }
}

#[test]
fn no_byte_of_the_plan_or_of_a_table_changes_unseen() {
    let job = Folder::base("base");
    assert_eq!(job.plan().status, Some(0));
    let [plan, list] = ["out/plan.json", "out/lists/10-rough-bank.nc"].map(|f| job.job().join(f));
    let proven = || prove_files(&list, &plan).is_ok_and(|proof| proof.proven);
    assert!(proven());
    for file in ["out/plan.json", "out/lists/10-rough-bank.csv"] {
        let original = std::fs::read(job.job().join(file)).unwrap();
        let stride = (original.len() / 40).max(1) | 1;
        for (n, at) in (0..original.len()).step_by(stride).chain([original.len() - 1]).enumerate() {
            job.write(file, changed(&original, at, n + 5));
            let now = std::fs::read(job.job().join(file)).unwrap();
            assert!(now == original || !proven(), "{file}: byte {at} changed unseen");
        }
        for whole in [
            b"\xef\xbb\xbf".iter().chain(&original).copied().collect(),
            [&original[..], b"\n"].concat(),
            Vec::new(),
        ] {
            job.write(file, whole);
            assert!(!proven(), "{file}");
        }
        job.write(file, original);
    }
    assert!(proven());
}
