//! `new --family`: a job laid out like the newest that was filed, and filled in.

use std::fs;
use std::path::Path;

use borewright_archive::Sum;

use crate::common::{Folder, Run, command, ended, files};
use crate::learning::Shop;

fn new(shop: &Shop, dir: &Path, more: &[&str]) -> Run {
    let mut new = command();
    new.arg("new").arg(dir).args(more).arg("--archive").arg(shop.archive()).arg("--cache").arg(shop.cache());
    ended(&mut new)
}

#[test]
fn a_job_of_a_family_has_its_files_byte_for_byte_and_empty_tables_for_every_place() {
    let shop = Shop::with(&[0.010, -0.012, 0.008, -0.005, 0.002]);
    let place = tempfile::tempdir().unwrap();
    let dir = place.path().join("next");
    let run = new(&shop, &dir, &["--family", "dunlin"]);
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{}", run.out);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    assert!(run.out.contains("like record 5, job 0004"), "{}", run.out);
    assert!(run.out.contains("walls to read"), "{}", run.out);
    let base = Folder::base("base");
    for file in ["block.yaml", "sleeve.yaml", "machine.yaml", "shop.yaml"] {
        assert_eq!(fs::read(dir.join(file)).unwrap(), base.read(file).into_bytes(), "{file}");
    }
    let earlier = fs::read_to_string(dir.join("notes/job-of-record-5.yaml")).unwrap();
    assert!(earlier.contains("job: \"0004\""), "{earlier}");
    // Every circle and wall of the earlier job has a row that waits; heights were never read.
    let bores = fs::read_to_string(dir.join("readings/bores.csv")).unwrap();
    let rows: Vec<&str> = bores.lines().skip(2).collect();
    assert_eq!(rows, ["1,20,,,", "1,70,,,", "1,115,,,", "2,20,,,", "2,70,,,", "2,115,,,"]);
    let walls = fs::read_to_string(dir.join("readings/walls.csv")).unwrap();
    assert_eq!(walls.lines().count(), 2 + 10, "{walls}");
    assert!(walls.contains("\n1,90,0,\n") && walls.contains("\n2,90,180,\n"), "{walls}");
    for asked in ["job.yaml: ", "readings/bores.csv: 18 places, from line 3", "readings/walls.csv: 10 places"]
    {
        assert!(run.out.contains(asked), "{asked}: {}", run.out);
    }
    // Filled in, it plans.
    let fill = |file: &str, old: &str, new: &str| {
        let text = fs::read_to_string(dir.join(file)).unwrap();
        assert!(text.contains(old), "{file}: {old:?}");
        fs::write(dir.join(file), text.replacen(old, new, 1)).unwrap();
    };
    fill("job.yaml", "job: \"\"", "job: \"0900\"");
    fill("job.yaml", "{ block: \"\", machine: \"\" }", "{ block: 20.0, machine: 20.0 }");
    fs::write(dir.join("readings/bores.csv"), base.read("bores.csv")).unwrap();
    fs::write(dir.join("readings/walls.csv"), base.read("walls.csv")).unwrap();
    let planned = ended(command().arg("plan").arg(&dir));
    assert_eq!(planned.status, Some(0), "{}{}", planned.out, planned.err);
}

#[test]
fn its_measuring_sheet_asks_for_thin_walls_first() {
    let shop = Shop::with(&[0.010, -0.012, 0.008, -0.005]);
    let place = tempfile::tempdir().unwrap();
    let [a, b] = ["a", "b"].map(|name| place.path().join(name));
    for dir in [&a, &b] {
        assert_eq!(new(&shop, dir, &["--family", "dunlin"]).status, Some(0));
    }
    let [sheet, again] = [&a, &b].map(|dir| fs::read(dir.join("measuring.pdf")).unwrap());
    assert_eq!(Sum::of(&sheet), Sum::of(&again), "equal blocks give equal sheets");
    let pdf = lopdf::Document::load_mem(&sheet).unwrap();
    assert!(pdf.get_pages().len() >= 2);
}

#[test]
fn a_record_that_cannot_be_read_is_passed_over_for_an_older_one_and_that_is_said() {
    let shop = Shop::with(&[0.010, -0.012, 0.008]);
    let place = tempfile::tempdir().unwrap();
    let record = |n: u32| shop.archive().join(format!("records/000/000/{n:09}.json"));
    let spoil = |path: &Path| {
        let bytes = fs::read(path).unwrap();
        fs::remove_file(path).unwrap();
        fs::write(path, &bytes[..bytes.len() - 1]).unwrap();
    };
    // Of the newest its job is gone, of the one before the record itself is cut short.
    let newest: serde_json::Value = serde_json::from_slice(&fs::read(record(3)).unwrap()).unwrap();
    let job = newest["files"].as_array().unwrap().iter().find(|f| f["as"] == "job.yaml").unwrap();
    let sum = job["sha256"].as_str().unwrap();
    let first = new(&shop, &place.path().join("a"), &["--family", "dunlin"]);
    assert!(first.out.contains("like record 3, job 0002"), "{}{}", first.out, first.err);
    fs::remove_file(shop.archive().join("content").join(&sum[..2]).join(sum)).unwrap();
    spoil(&record(2));
    let run = new(&shop, &place.path().join("b"), &["--family", "dunlin"]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert!(run.out.contains("like record 1, job 0000"), "{}", run.out);
    assert!(run.err.contains("record 3 is newer and was passed over: job/job.yaml"), "{}", run.err);
    assert!(run.err.contains("record 2 is newer and was passed over: record 2"), "{}", run.err);
    spoil(&record(1));
    let run = new(&shop, &place.path().join("c"), &["--family", "dunlin"]);
    assert_ne!(run.status, Some(0), "{}", run.out);
    assert!(!place.path().join("c").exists());
}

#[test]
fn a_family_that_nobody_filed_and_a_folder_that_is_not_empty_are_refused() {
    let shop = Shop::with(&[0.0]);
    let place = tempfile::tempdir().unwrap();
    let run = new(&shop, &place.path().join("x"), &["--family", "tern\u{1b}"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(run.err.contains("no block of the family `tern?`"), "{}", run.err);
    fs::write(place.path().join("mine"), "mine").unwrap();
    let run = new(&shop, place.path(), &["--family", "dunlin"]);
    assert_eq!(run.status, Some(2));
    assert_eq!(files(place.path()), ["mine"]);
}
