//! What `find` finds, whatever becomes of its index.

use std::fs;
use std::path::PathBuf;

use crate::common::{Run, command, ended};
use crate::place::{Shop, forged, put};

fn find(shop: &Shop, words: &[&str]) -> Run {
    let mut find = command();
    find.arg("find").args(words).arg("--archive").arg(&shop.archive).arg("--cache").arg(shop.cache());
    ended(&mut find)
}

fn numbers(shop: &Shop, words: &[&str]) -> Vec<u64> {
    let run = find(shop, &[words, &["--json"]].concat());
    assert_eq!(run.status, Some(0), "{}", run.err);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(value["format"], "borewright/found/1");
    value["records"].as_array().unwrap().iter().map(|r| r["record"].as_u64().unwrap()).collect()
}

fn index(shop: &Shop) -> PathBuf {
    let folder = fs::read_dir(shop.cache()).unwrap().next().unwrap().unwrap().path();
    folder.join("index.sqlite")
}

fn two() -> Shop {
    let shop = Shop::filed();
    shop.job.write("notes/second.txt", "cleaned, and the porosity welded");
    assert_eq!(shop.file(&[]).status, Some(0));
    shop
}

#[test]
fn records_are_found_by_notes_tags_sizes_and_dates() {
    let shop = two();
    let run = find(&shop, &[]);
    assert!(run.out.lines().count() == 2 && run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    assert!(run.out.starts_with("      2  2026-11-26  "), "{}", run.out);
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    assert_eq!(numbers(&shop, &["spanner", "porosity"]), [2]);
    assert_eq!(numbers(&shop, &["--since", "2026-11", "--until", "2026-11-26"]), [2, 1]);
    assert_eq!(numbers(&shop, &["--until", "2026-11-25"]), [] as [u64; 0]);
    let record: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(shop.record(1)).unwrap()).unwrap();
    let word = |what: &str| record["summary"]["words"][what][0].as_str().unwrap().to_owned();
    assert_eq!(numbers(&shop, &["--job", &word("job"), "--sleeve", &word("sleeve").to_lowercase()]), [2, 1]);
    assert_eq!(numbers(&shop, &["--verdict", &word("verdict")]), [2, 1]);
    let bore = record["summary"]["ranges"]["bore"][0].as_f64().unwrap();
    assert_eq!(numbers(&shop, &["--bore", &format!("{}..{}", bore - 0.5, bore + 0.5)]), [2, 1]);
    assert_eq!(numbers(&shop, &["--bore", &format!("{}", bore + 1.0)]), [] as [u64; 0]);
    assert_eq!(find(&shop, &["nowhere"]).out, "nothing found\n");
    assert_eq!(find(&shop, &["--limit", "1"]).out.lines().count(), 2);
    for wrong in [["--since", "last week"], ["--bore", "83..82"], ["--bore", "nan"], ["--limit", "-1"]] {
        assert_eq!(find(&shop, &wrong).status, Some(2), "{wrong:?}");
    }
}

#[test]
fn an_index_that_is_gone_damaged_or_lies_is_made_again_and_nothing_lies_in_the_archive() {
    let shop = two();
    let before = crate::common::files(&shop.archive);
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    let path = index(&shop);
    fs::write(&path, "no index").unwrap();
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    fs::remove_file(&path).unwrap();
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    // The record says something else than the index: the record is believed.
    let bytes = fs::read(shop.record(1)).unwrap();
    put(&shop.record(1), &forged(&bytes, "\"title\": \"", "\"title\": \"tern "));
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    assert_eq!(numbers(&shop, &["tern"]), [1]);
    assert_eq!(crate::common::files(&shop.archive), before);
}

#[cfg(unix)]
#[test]
fn the_index_is_closed_to_others_and_an_archive_that_is_only_read_is_enough() {
    use std::os::unix::fs::PermissionsExt;
    let shop = two();
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    let mode = index(&shop).parent().unwrap().metadata().unwrap().permissions().mode();
    assert_eq!(mode & 0o077, 0);
}

/// The database's own check, by its own shell where that is installed.
#[test]
fn the_databases_own_check_finds_nothing_wrong() {
    let shop = two();
    find(&shop, &[]);
    let shell = std::process::Command::new("python3")
        .args(["-c", "import sqlite3, sys; print(sqlite3.connect(sys.argv[1]).execute('PRAGMA integrity_check').fetchall())"])
        .arg(index(&shop))
        .output();
    match shell {
        Err(_) => eprintln!("skipped: python3 is not installed"),
        Ok(run) => assert_eq!(String::from_utf8_lossy(&run.stdout).trim(), "[('ok',)]"),
    }
}
