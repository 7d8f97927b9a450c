//! What `audit` says of an archive that was tampered with, and of one that was not.

use std::fs;

use crate::place::{Shop, forged, put, sum};

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

/// One line, however it was wrapped.
fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_record_planned_again_by_the_same_version_is_alike() {
    let sample = crate::common::Folder::sample();
    assert_eq!(sample.plan().status, Some(0));
    let (archive, cache) = (sample.place().join("archive"), sample.place().join("cache"));
    let run = |arguments: &[&str]| {
        let mut command = crate::common::command();
        command.args(arguments).arg("--archive").arg(&archive);
        if arguments[0] == "audit" {
            command.arg("--cache").arg(&cache);
        }
        crate::common::ended(&mut command)
    };
    let filed = run(&["file", sample.job().to_str().unwrap(), "--begin"]);
    assert_eq!(filed.status, Some(0), "{}", filed.err);
    // From what is kept alone: the job and its block are gone.
    fs::remove_dir_all(sample.place().join("jobs")).unwrap();
    fs::remove_file(sample.place().join("petrel-90.yaml")).unwrap();
    let audit = run(&["audit"]);
    assert_eq!(audit.status, Some(0), "{}{}", audit.out, audit.err);
    assert!(audit.out.contains("planned again: 1 alike, 0 otherwise"), "{}", audit.out);
}

#[cfg(target_os = "linux")]
#[test]
fn other_figures_are_told_with_how_much_and_the_version_that_made_them() {
    let shop = Shop::planned();
    // As an older version might have planned it: a centre 0.0123 further along.
    let plan = shop.job.read("out/plan.json");
    let value: serde_json::Value = serde_json::from_str(&plan).unwrap();
    let x = value["cylinders"][0]["planned"]["x"].as_f64().unwrap();
    let at = plan.find("\"planned\"").unwrap();
    let old = format!("\"x\": {x:?}");
    assert!(plan[at..].contains(&old), "{old}");
    let other =
        format!("{}{}", &plan[..at], plan[at..].replacen(&old, &format!("\"x\": {:?}", x + 0.0123), 1));
    shop.job.write("out/plan.json", &other);
    shop.job.edit("out/.written", &sum(plan.as_bytes()), &sum(other.as_bytes()));
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    put(&shop.record(1), &forged(&fs::read(shop.record(1)).unwrap(), "borewright 0.1.0", "borewright 0.0.9"));
    let run = shop.audit_again(&[]);
    assert_eq!(run.status, Some(3), "{}", run.out);
    let told = unwrapped(&run.out);
    let expected = "OTHER record 1: planned by borewright 0.0.9; today cylinders[].planned.x is other by up to -0.0123 \
                    (at cylinders[cylinder 1].planned.x)";
    assert!(told.contains(expected), "{told}");
    assert!(told.starts_with("WHOLE, but today's program comes to other figures"), "{told}");
    // Inputs of which one is gone from the record.
    let bytes = fs::read(shop.record(1)).unwrap();
    put(&shop.record(1), &forged(&bytes, "\"as\": \"bores.csv\"", "\"as\": \"holes.csv\""));
    let run = shop.audit_again(&["--afresh"]);
    let told = unwrapped(&run.out);
    assert!(
        run.status == Some(4) && told.contains("not planned again: today's version refuses its inputs"),
        "{told}"
    );
}

#[test]
fn a_job_that_names_a_file_of_the_system_reads_only_what_is_kept() {
    let base = crate::common::root().join("blocks/invalid/base");
    let mut kept: std::collections::BTreeMap<String, std::path::PathBuf> =
        crate::common::files(&base).into_iter().map(|name| (name.clone(), base.join(name))).collect();
    assert!(borewright_planner::load_kept(&base.join("job.yaml"), &kept).is_ok());
    kept.remove("bores.csv");
    let faults = borewright_planner::load_kept(&base.join("job.yaml"), &kept).unwrap_err().to_string();
    assert!(faults.contains("`bores.csv`: no such file"), "{faults}");
}

#[test]
fn an_audit_remembers_where_the_chain_ended() {
    let shop = Shop::filed();
    shop.job.write("notes/second.txt", "x");
    assert_eq!(shop.file(&[]).status, Some(0));
    assert_eq!(shop.audit(&[]).status, Some(0));
    // Cut off with all that it kept: nothing is left to tell it by.
    let note = shop.kept(2, "job/notes/second.txt");
    fs::remove_file(note).unwrap();
    fs::remove_file(shop.record(2)).unwrap();
    let run = shop.audit_again(&["--without-plans"]);
    assert!(
        run.status == Some(4) && unwrapped(&run.out).contains("this computer saw the chain end at record 2")
    );
    // A fault is not got used to.
    assert_eq!(shop.audit_again(&["--without-plans"]).status, Some(4));
    assert_eq!(shop.audit(&[]).status, Some(0));
}

#[test]
fn an_audit_that_was_broken_off_goes_on_unless_told_otherwise() {
    let shop = Shop::filed();
    assert_eq!(shop.audit(&[]).status, Some(0));
    let cache = fs::read_dir(shop.cache()).unwrap().next().unwrap().unwrap().path();
    let record: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(shop.record(1)).unwrap()).unwrap();
    let broken_off = |begun: &str| {
        let state = serde_json::json!({
            "format": "borewright/audit-halfway/1", "begun": begun, "number": 1, "sum": record["sha256"],
            "content": { "room": 256, "files": 77, "bytes": 20480, "spoiled": {}, "nobodys": {}, "strangers": [] },
            "plans": { "done": 1, "alike": 1, "other": [], "more": 0 },
        });
        fs::write(cache.join("audit-halfway.json"), state.to_string()).unwrap();
    };
    broken_off("2026-11-26T12:00:00Z");
    let run = shop.audit_again(&[]);
    assert!(
        run.out.contains("begun 2026-11-26T12:00:00Z") && run.out.contains("77 kept files, 20 KiB"),
        "{}",
        run.out
    );
    // It ended: the next begins anew.
    let run = shop.audit_again(&["--without-plans"]);
    assert!(!run.out.contains("begun"), "{}", run.out);
    // Told to, or broken off weeks ago, or by a clock that is ahead.
    broken_off("2026-11-26T12:00:00Z");
    assert!(!shop.audit_again(&["--afresh", "--without-plans"]).out.contains("begun"));
    for begun in ["2026-11-01T00:00:00Z", "2027-01-01T00:00:00Z"] {
        broken_off(begun);
        assert!(!shop.audit_again(&["--without-plans"]).out.contains("begun"), "{begun}");
    }
    fs::write(cache.join("audit-halfway.json"), "{}").unwrap();
    assert_eq!(shop.audit_again(&["--without-plans"]).status, Some(0));
}

#[test]
fn what_was_laid_into_an_archives_folder_is_told() {
    let (shop, other) = (Shop::filed(), Shop::filed());
    assert_eq!(shop.audit(&[]).status, Some(0));
    crate::common::copy(&other.archive, &shop.archive.join("other shop"));
    fs::write(shop.archive.join("readme.txt"), "x").unwrap();
    let run = shop.audit(&["--format", "json"]);
    assert_eq!(run.status, Some(3), "{}", run.out);
    let told: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let texts: Vec<&str> =
        told["findings"].as_array().unwrap().iter().filter_map(|f| f["text"].as_str()).collect();
    assert_eq!(
        texts,
        [
            "other shop: another archive, whose records are not found in this one",
            "readme.txt: lies in the archive's folder and is none of it"
        ]
    );
    assert!(told["findings"].as_array().unwrap().iter().all(|f| f["code"] == "stranger"));
}
