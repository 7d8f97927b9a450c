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
    assert!(run.out.starts_with("      2  2024-11-26  "), "{}", run.out);
    assert_eq!(numbers(&shop, &["spanner"]), [2, 1]);
    assert_eq!(numbers(&shop, &["spanner", "porosity"]), [2]);
    assert_eq!(numbers(&shop, &["--since", "2024-11", "--until", "2024-11-26"]), [2, 1]);
    assert_eq!(numbers(&shop, &["--until", "2024-11-25"]), [] as [u64; 0]);
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
fn a_tool_is_found_and_a_date_in_any_form_says_what_finds_the_day() {
    let shop = two();
    let plan: serde_json::Value = serde_json::from_str(&shop.job.read("out/plan.json")).unwrap();
    let tool = plan["passes"].as_array().unwrap().iter().find_map(|p| p["tool"].as_str()).unwrap();
    assert_eq!(numbers(&shop, &tool.split(' ').collect::<Vec<_>>()), [2, 1]);
    let said = "nothing found as asked, but\n  --since 2024-11-26 --until 2024-11-26 finds 2\n";
    for date in ["26.11.2024", "26.11.24", "2024/11/26", "11/26/2024", "26/11/2024", "2024-11-26"] {
        assert_eq!(find(&shop, &[date]).out, said, "{date}");
    }
    assert_eq!(find(&shop, &["25.11.2024"]).out, "nothing found\n");
    // Told day or month first, and found in a note: both are asked, and what was found is more than the note.
    shop.job.write("notes/third.txt", "cleaned on 26.11.2024");
    assert_eq!(shop.file(&[]).status, Some(0));
    let out = find(&shop, &["26.11.2024"]).out;
    let lines: Vec<&str> = out.lines().collect();
    assert!(lines.len() == 2 && lines[0].starts_with("      3 "), "{out}");
    assert_eq!(lines[1], "  --since 2024-11-26 --until 2024-11-26 finds 3");
}

#[test]
fn where_nothing_is_found_what_would_find_something_is_said() {
    let shop = two();
    let said = |asked: &[&str]| find(&shop, asked).out;
    assert_eq!(said(&["2024"]), "nothing found as asked, but\n  --since 2024 --until 2024 finds 2\n");
    assert_eq!(said(&["731"]), "nothing found as asked, but\n  `0731` for `731` finds 2\n");
    let record: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(shop.record(1)).unwrap()).unwrap();
    let bore = record["summary"]["ranges"]["bore"][0].as_f64().unwrap();
    // As a word of the block's name it would be found.
    let typed = format!("{bore:.1}");
    assert!(said(&[&typed, "spanner"]).contains(&format!("--bore {bore} finds 2")), "{}", said(&[&typed]));
    let family = &record["summary"]["words"]["family"][0].as_str().unwrap().to_owned();
    let half = &family[..family.len() - 2];
    assert!(
        said(&["--family", half]).contains(&format!("--family \"{half}*\" finds 2")),
        "{}",
        said(&["--family", half])
    );
    let slip = format!("{half}x{}", &family[family.len() - 1..]);
    assert!(said(&[&slip]).contains(&format!("`{family}` for `{slip}` finds 2")), "{}", said(&[&slip]));
    // What finds nothing is not said.
    assert_eq!(said(&["1999"]), "nothing found\n");
    assert_eq!(numbers(&shop, &["2024"]), [] as [u64; 0]);
}

#[test]
fn a_question_that_no_record_answers_is_refused() {
    let shop = two();
    let cases: [(&[&str], &str); 4] = [
        (&["--verdict", "held"], "found --verdict `held`, expected go, hold or stop\n"),
        (&["--limit", "0"], "found --limit 0, expected 1 or more"),
        (
            &["--since", "2025", "--until", "2024"],
            "found --since 2025-01-01T00:00:00Z after --until 2024-12-31T23:59:59Z, expected a --since",
        ),
        (&["--verdict", "g\u{1b}o"], "found --verdict `g?o`"),
    ];
    for (asked, said) in cases {
        let run = find(&shop, asked);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{asked:?}");
        assert!(run.err.contains(said), "{}", run.err);
    }
    for meant in [&["--verdict", "HOLD"][..], &["--verdict", "s*"], &["--since", "2024", "--until", "2024"]] {
        assert_eq!(find(&shop, meant).status, Some(0), "{meant:?}");
    }
}

#[test]
fn what_cannot_be_read_is_told_and_found_again_once_it_can_be() {
    let shop = two();
    shop.job.write("notes/third.txt", "honed");
    assert_eq!(shop.file(&[]).status, Some(0));
    let away = |path: &PathBuf| path.with_extension("away");
    let lost = [shop.record(2), shop.kept(1, "job/notes/first.txt")];
    for path in &lost {
        fs::rename(path, away(path)).unwrap();
    }
    for _ in 0..2 {
        let run = find(&shop, &["cleaned"]);
        assert_eq!((run.status, run.err.lines().count()), (Some(0), 2), "{}", run.err);
        let told = "1 record of the archive cannot be read: 2; `audit` says what is wrong\n";
        assert!(run.err.starts_with(told), "{}", run.err);
        assert!(run.err.contains("2 records with notes that cannot be read and are not searched: 1, 3;"));
    }
    let mut trend = command();
    trend.args(["trend", "dunlin", "--archive"]).arg(&shop.archive).arg("--cache").arg(shop.cache());
    let trend = ended(&mut trend);
    assert!(trend.status == Some(0) && trend.err.contains("cannot be read: 2;"), "{}", trend.err);
    for path in &lost {
        fs::rename(away(path), path).unwrap();
    }
    let run = find(&shop, &["spanner"]);
    assert_eq!((run.err.as_str(), run.out.lines().count()), ("", 3), "{}", run.out);
    assert_eq!(numbers(&shop, &["porosity"]), [3, 2]);
    // One that was read long ago and is spoiled now is found, and told.
    fs::rename(&lost[0], away(&lost[0])).unwrap();
    let run = find(&shop, &["spanner"]);
    assert_eq!(run.out.lines().count(), 3, "{}", run.out);
    assert!(run.err.contains("1 record of the archive cannot be read: 2;"), "{}", run.err);
}

#[test]
fn where_the_index_cannot_be_written_another_place_is_asked_for() {
    let shop = two();
    let file = shop.job.place().join("file");
    fs::write(&file, "mine").unwrap();
    let ask = |cache: &std::path::Path| {
        let mut find = command();
        ended(find.args(["find", "--archive"]).arg(&shop.archive).arg("--cache").arg(cache))
    };
    let run = ask(&file);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
    let told = run.err.contains("file/") && run.err.contains("expected a folder that can be written to");
    assert!(told && run.err.contains("--cache DIR"), "{}", run.err);
    // Something in the place of the index itself.
    assert_eq!(find(&shop, &[]).status, Some(0));
    let path = index(&shop);
    fs::remove_file(&path).unwrap();
    fs::create_dir(&path).unwrap();
    let run = ask(&shop.cache());
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
    assert!(run.err.contains("index.sqlite") && run.err.contains("--cache DIR"), "{}", run.err);
}

#[test]
fn notes_of_any_usual_encoding_are_found_and_of_long_ones_the_beginning() {
    let shop = Shop::planned();
    fs::create_dir_all(shop.job.job().join("notes")).unwrap();
    let put = |name: &str, bytes: &[u8]| fs::write(shop.job.job().join("notes").join(name), bytes).unwrap();
    put("a.txt", b"Z\xFCndung");
    put("b.txt", &"\u{FEFF}pinhole".encode_utf16().flat_map(u16::to_le_bytes).collect::<Vec<u8>>());
    put("c.txt", format!("seepage {}chatter", "x ".repeat(600_000)).as_bytes());
    let run = shop.file(&["--begin"]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert_eq!(
        run.err,
        "job/notes/c.txt: `find` searches its first 1024 KiB; the rest is kept and not searched\n"
    );
    for word in ["Zündung", "pinhole", "seepage"] {
        assert_eq!(numbers(&shop, &[word]), [1], "{word}");
    }
    assert_eq!(numbers(&shop, &["chatter"]), [] as [u64; 0]);
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
