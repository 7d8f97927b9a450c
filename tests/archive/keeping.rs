//! What `audit` says of an archive that was tampered with, and of one that was not.

use std::fs;

use crate::place::{Shop, put};

#[test]
fn an_untouched_archive_is_whole() {
    let shop = Shop::filed();
    let run = shop.audit(&[]);
    assert_eq!(run.status, Some(0), "{}", run.out);
    assert!(run.out.starts_with("WHOLE: "), "{}", run.out);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    let value: serde_json::Value = serde_json::from_str(&shop.audit(&["--format", "json"]).out).unwrap();
    assert_eq!((&value["records"], &value["findings"]), (&1.into(), &serde_json::json!([])));
}

#[test]
fn a_flip_in_any_file_of_a_record_is_named() {
    let shop = Shop::filed();
    let record: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(shop.record(1)).unwrap()).unwrap();
    let files = record["files"].as_array().unwrap();
    assert!(files.len() > 10);
    for file in files {
        let name = file["name"].as_str().unwrap();
        let path = shop.kept(1, name);
        let good = fs::read(&path).unwrap();
        let mut bytes = good.clone();
        let middle = bytes.len() / 2;
        bytes[middle] ^= 0x01;
        put(&path, &bytes);
        let run = shop.audit(&[]);
        let told: String = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(run.status, Some(4), "{name}");
        assert!(told.contains(&format!("FAULT record 1, {name}: its kept bytes were altered")), "{told}");
        put(&path, &good);
    }
    assert_eq!(shop.audit(&[]).status, Some(0));
}

#[test]
fn the_paper_log_tells_a_chain_that_was_cut_off_or_added_to() {
    let shop = Shop::filed();
    let sum = |n: u32| -> String {
        let text = fs::read_to_string(shop.record(n)).unwrap();
        serde_json::from_str::<serde_json::Value>(&text).unwrap()["sha256"].as_str().unwrap().to_owned()
    };
    shop.job.write("notes/second.txt", "x");
    assert_eq!(shop.file(&[]).status, Some(0));
    let (first, second) = (sum(1), sum(2));
    assert_eq!(shop.audit(&["--logged", &second[..12]]).status, Some(0));
    let run = shop.audit(&["--logged", &first[..12]]);
    assert!(run.status == Some(4) && run.out.contains("record 2:"), "{}", run.out);
    fs::remove_file(shop.record(2)).unwrap();
    let run = shop.audit(&["--logged", &second[..12]]);
    assert!(run.status == Some(4) && run.out.contains("no record has the log's last"), "{}", run.out);
    // Without the log it is a doubt: a note that no record asks for.
    let run = shop.audit(&[]);
    assert!(run.status == Some(3) && run.out.contains("kept file"), "{}", run.out);
}
