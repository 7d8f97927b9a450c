//! Sample files with bytes flipped, lines lost and lines doubled, by a fixed sequence.

use std::collections::BTreeSet;
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::common::{Folder, files};

/// A small deterministic generator (xorshift).
struct Sequence(u64);

impl Sequence {
    fn next(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).unwrap() % below.max(1)
    }
}

/// Words that stand where figures or keys do.
const WORDS: [&str; 18] = [
    "0",
    "-1",
    "1e308",
    ".nan",
    "-.inf",
    "99999999999999999999",
    "0.0000001",
    "nr",
    "\"\"",
    "~",
    "[]",
    "{}",
    "true",
    "*a",
    "&a",
    "!!x",
    "'",
    "#",
];

fn mutated(bytes: &[u8], sequence: &mut Sequence) -> Vec<u8> {
    let mut lines: Vec<Vec<u8>> = bytes.split(|b| *b == b'\n').map(<[u8]>::to_vec).collect();
    let line = sequence.next(lines.len());
    match sequence.next(8) {
        0 => drop(lines.remove(line)),
        1 => {
            let copy = lines[line].clone();
            lines.insert(sequence.next(lines.len() + 1), copy);
        }
        2 => {
            let other = sequence.next(lines.len());
            lines.swap(line, other);
        }
        3 => {
            let at = sequence.next(lines[line].len());
            lines[line].truncate(at);
        }
        4 => {
            // Another digit: what is asked for stays readable, and may be planned.
            let digits: Vec<usize> =
                bytes.iter().enumerate().filter(|(_, b)| b.is_ascii_digit()).map(|(at, _)| at).collect();
            let mut bytes = bytes.to_vec();
            bytes[digits[sequence.next(digits.len())]] = b'0' + u8::try_from(sequence.next(10)).unwrap();
            return bytes;
        }
        5 => {
            // A word in the place of another.
            let text = String::from_utf8_lossy(bytes).into_owned();
            let words: Vec<(usize, &str)> = text
                .split([' ', ',', '\n'])
                .filter(|w| !w.is_empty())
                .map(|w| (w.as_ptr() as usize - text.as_ptr() as usize, w))
                .collect();
            let (at, old) = words[sequence.next(words.len())];
            let new = WORDS[sequence.next(WORDS.len())];
            return format!("{}{new}{}", &text[..at], &text[at + old.len()..]).into_bytes();
        }
        6 => {
            let mut bytes = bytes.to_vec();
            let at = sequence.next(bytes.len());
            bytes[at] ^= 1 << sequence.next(8);
            return bytes;
        }
        _ => {
            let mut bytes = bytes.to_vec();
            bytes.truncate(sequence.next(bytes.len()));
            return bytes;
        }
    }
    lines.join(&b'\n')
}

/// So many times as many rounds as are asked for by `BOREWRIGHT_ROUNDS`, for a longer hunt by hand.
fn times() -> usize {
    std::env::var("BOREWRIGHT_ROUNDS").ok().and_then(|n| n.parse().ok()).unwrap_or(1)
}

/// Runs mutations of every file of a base job through the whole command.
fn each_ends_in_order(base: &str, each: usize) {
    let original = Folder::base(base);
    let mut seen = BTreeSet::new();
    for (number, name) in files(original.job()).into_iter().enumerate() {
        let bytes = fs::read(original.job().join(&name)).unwrap();
        let mut sequence = Sequence(0x9E37_79B9_7F4A_7C15 ^ u64::try_from(number).unwrap());
        let job = Folder::base(base);
        let before = files(job.place());
        for round in 0..each * times() {
            let changed = mutated(&bytes, &mut sequence);
            job.write(&name, &changed);
            let run = job.plan();
            let shown =
                || format!("{name}, round {round}: {}\n{}", run.err, String::from_utf8_lossy(&changed));
            assert!(matches!(run.status, Some(0 | 2 | 3 | 4)), "{:?}: {}", run.status, shown());
            seen.insert(run.status);
            if run.status == Some(2) {
                assert!(run.out.is_empty() && run.err.ends_with("nothing was written\n"), "{}", shown());
                assert!(run.err.lines().count() > 1, "{}", shown());
                assert_eq!(files(job.place()), before, "{}", shown());
            } else {
                assert_eq!(run.err, "", "{}", shown());
                fs::remove_dir_all(job.out()).unwrap();
            }
            assert!(!run.out.contains('\u{1b}') && !run.err.contains('\u{1b}'), "{}", shown());
        }
    }
    assert!(seen.len() >= 3, "mutations that all end alike test little: {seen:?}");
}

#[test]
fn two_cylinders_in_line() {
    each_ends_in_order("base", 16);
}

#[test]
fn a_vee_on_the_machine() {
    each_ends_in_order("base-vee", 9);
}

/// Reads and checks mutations of every file of a job, and plans up to `most` of those that pass.
fn each_is_read_in_order(job: &Folder, each: usize, most: usize) {
    let mut planned = 0;
    for (number, name) in files(job.place()).into_iter().enumerate() {
        let path = job.place().join(&name);
        if path.is_dir() {
            continue;
        }
        let bytes = fs::read(&path).unwrap();
        let mut sequence = Sequence(0xD1B5_4A32_D192_ED03 ^ u64::try_from(number).unwrap());
        for round in 0..each * times() {
            fs::write(&path, mutated(&bytes, &mut sequence)).unwrap();
            let loaded = catch_unwind(AssertUnwindSafe(|| borewright_planner::load(job.job())));
            match loaded {
                Err(_) => panic!("{name}, round {round}: a panic"),
                Ok(Err(faults)) => assert!(!faults.0.is_empty() && !faults.to_string().is_empty()),
                Ok(Ok(checked)) => {
                    if planned < most {
                        planned += 1;
                        let done =
                            catch_unwind(AssertUnwindSafe(|| borewright_planner::plan_job(checked, None)));
                        assert!(done.is_ok(), "{name}, round {round}: a panic");
                    }
                }
            }
        }
        fs::write(&path, bytes).unwrap();
    }
}

#[test]
fn small_jobs_are_read_in_order() {
    each_is_read_in_order(&Folder::base("base"), 100, usize::MAX);
    each_is_read_in_order(&Folder::base("base-vee"), 50, usize::MAX);
}

/// The sample takes longer to plan.
#[test]
fn every_file_of_the_sample_is_read_in_order() {
    each_is_read_in_order(&Folder::sample(), 60, 2);
}
