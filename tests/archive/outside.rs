//! What others say: an independent reader of the format, the system's own sums.

use std::collections::BTreeSet;
use std::fs;
use std::process::Command;

use crate::common::{files, root};
use crate::place::{Shop, forged, put};

/// What the independent reader says, or nothing where Python is not installed.
fn reader(shop: &Shop, more: &[&str]) -> Option<BTreeSet<String>> {
    let script = root().join("scripts/read-archive");
    let run = match Command::new("python3").arg(script).arg(&shop.archive).args(more).output() {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
            eprintln!("skipped: python3 is not installed");
            return None;
        }
        other => other.unwrap(),
    };
    assert!(run.stderr.is_empty(), "{}", String::from_utf8_lossy(&run.stderr));
    Some(String::from_utf8(run.stdout).unwrap().lines().map(str::to_owned).collect())
}

/// What `audit` says, in the words of the independent reader.
fn audit(shop: &Shop, more: &[&str]) -> BTreeSet<String> {
    let run = shop.audit(&[&["--format", "json"], more].concat());
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let line = |f: &serde_json::Value| {
        let file = f["file"].as_str().unwrap_or("-");
        format!("{} {file} {}", f["record"].as_u64().unwrap_or(0), f["code"].as_str().unwrap())
    };
    value["findings"].as_array().unwrap().iter().map(line).collect()
}

fn agree(shop: &Shop, more: &[&str], about: &str) {
    let [logged] = more else { unreachable!() };
    let arguments: Vec<&str> = if logged.is_empty() { vec![] } else { vec!["--logged", logged] };
    let reader_arguments: Vec<&str> = if logged.is_empty() { vec![] } else { vec![logged] };
    let Some(theirs) = reader(shop, &reader_arguments) else { return };
    assert_eq!(audit(shop, &arguments), theirs, "{about}");
}

#[cfg(target_os = "linux")]
#[test]
fn an_independent_reader_finds_the_same_faults() {
    let shop = Shop::filed();
    for n in 2..=4 {
        shop.job.write(&format!("notes/{n}.txt"), format!("note {n}"));
        assert_eq!(shop.file(&[]).status, Some(0));
    }
    agree(&shop, &[""], "untouched");
    let record = |n| fs::read(shop.record(n)).unwrap();
    let good: Vec<Vec<u8>> = (1..=4).map(record).collect();
    let sum = |n: usize| -> String {
        let value: serde_json::Value = serde_json::from_slice(&good[n - 1]).unwrap();
        value["sha256"].as_str().unwrap()[..12].to_owned()
    };
    let restore = || (1..=4_u32).zip(&good).for_each(|(n, bytes)| put(&shop.record(n), bytes));
    put(&shop.record(2), &good[1][..good[1].len() - 1]);
    agree(&shop, &[""], "cut short");
    fs::remove_file(shop.record(2)).unwrap();
    agree(&shop, &[""], "gone");
    put(&shop.record(2), &good[2]);
    put(&shop.record(3), &good[1]);
    agree(&shop, &[""], "swapped");
    restore();
    put(&shop.record(2), &forged(&good[1], "borewright 0", "borewright 9"));
    agree(&shop, &[""], "forged in the middle");
    restore();
    put(&shop.record(5), &forged(&good[3], "\"number\": 4", "\"number\": 5"));
    agree(&shop, &[""], "forged at the end, after nothing");
    let before: serde_json::Value = serde_json::from_slice(&good[3]).unwrap();
    let after_last = forged(
        &forged(&good[3], "\"number\": 4", "\"number\": 5"),
        before["before"].as_str().unwrap(),
        before["sha256"].as_str().unwrap(),
    );
    put(&shop.record(5), &after_last);
    agree(&shop, &[""], "forged at the end, after the last");
    agree(&shop, &[&sum(4)], "the same, by the log");
    fs::remove_file(shop.record(5)).unwrap();
    agree(&shop, &["0123456789ab"], "cut off, by the log");
    let beside = shop.record(4).with_file_name("000000004 (2).json");
    put(&beside, &good[3]);
    agree(&shop, &[""], "a second copy");
    put(&beside, &forged(&good[3], "borewright 0", "borewright 9"));
    agree(&shop, &[""], "two heads");
    fs::remove_file(&beside).unwrap();
    for name in ["job/notes/first.txt", "job/out/plan.json", "job/notes/3.txt"] {
        let path = shop.kept(3, name);
        let bytes = fs::read(&path).unwrap();
        put(&path, b"something else");
        agree(&shop, &[""], "altered content");
        fs::remove_file(&path).unwrap();
        agree(&shop, &[""], "content gone");
        put(&path.with_file_name("note"), b"x");
        agree(&shop, &[""], "a stranger");
        fs::remove_file(path.with_file_name("note")).unwrap();
        put(&path, &bytes);
    }
    agree(&shop, &[""], "whole again");
    fs::write(shop.archive.join("readme.txt"), "x").unwrap();
    fs::write(shop.archive.join(".DS_Store"), "x").unwrap();
    agree(&shop, &[""], "a stranger beside it");
}

#[cfg(target_os = "linux")]
#[test]
fn the_systems_own_sums_are_the_names_of_what_is_kept() {
    let shop = Shop::filed();
    let content = shop.archive.join("content");
    let kept: Vec<_> = files(&content).into_iter().filter(|f| f.contains('/')).collect();
    assert!(kept.len() > 10);
    let run = Command::new("sha256sum").args(kept.iter().map(|f| content.join(f))).output().unwrap();
    for line in String::from_utf8(run.stdout).unwrap().lines() {
        let (sum, path) = line.split_once("  ").unwrap();
        assert!(path.ends_with(sum), "{line}");
    }
}
