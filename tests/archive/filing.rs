//! What `file` takes, what it refuses, what `open` gives back.

use std::fs;

use crate::common::{command, ended, files};
use crate::place::{Shop, put};

#[test]
fn a_filed_job_is_given_back_byte_for_byte() {
    let shop = Shop::filed();
    let out = shop.job.place().join("again");
    let run = shop.open(&["1", "--out", out.to_str().unwrap()]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    let job = shop.job.job();
    for name in files(job) {
        let path = job.join(&name);
        if path.is_file() {
            assert_eq!(fs::read(path).unwrap(), fs::read(out.join("job").join(&name)).unwrap(), "{name}");
        }
    }
    // One file alone, by the end of its name.
    let run = shop.open(&["last", "first.txt"]);
    assert_eq!((run.status, run.out.as_str()), (Some(0), "the deck was hit by a spanner\n"));
    // And by the short form of its sum, as it stands in the paper log.
    let short = shop.open(&["1", "--format", "json"]).out;
    let record: serde_json::Value = serde_json::from_str(&short).unwrap();
    let sum = record["sha256"].as_str().unwrap();
    let typed = format!("{}-{}-{}", &sum[..4], &sum[4..8], &sum[8..12]).to_uppercase();
    assert_eq!(shop.open(&[&typed, "notes/first.txt"]).out, "the deck was hit by a spanner\n");
}

#[test]
fn what_was_recorded_is_kept_with_the_plan() {
    let shop = Shop::filed();
    shop.job.write("cut.csv", "not the record");
    fs::create_dir_all(shop.job.job().join("readings")).unwrap();
    shop.job.write("readings/cut.csv", "check,cylinder,reading,value\n");
    // Begun and added to since the plan was made, it goes with the plan that was cut by, lists and all.
    assert_eq!(shop.file(&[]).status, Some(0));
    assert_eq!(shop.open(&["2", "job/readings/cut.csv"]).out, "check,cylinder,reading,value\n");
    assert_eq!(shop.open(&["2", "job/cut.csv"]).status, Some(2));
    let plan = shop.job.read("out/plan.json");
    assert_eq!(shop.open(&["2", "job/out/plan.json"]).out, plan);
    let audit =
        ended(command().arg("audit").arg("--archive").arg(&shop.archive).arg("--cache").arg(shop.cache()));
    assert_eq!(audit.status, Some(0), "{}", audit.out);
    // Planned with it and added to since: the same; with a line of it changed: not.
    assert_eq!(shop.job.plan().status, Some(0));
    shop.job.write("readings/cut.csv", "check,cylinder,reading,value\n# looked at\n");
    assert_eq!(shop.file(&[]).status, Some(0));
    let audit =
        ended(command().arg("audit").arg("--archive").arg(&shop.archive).arg("--cache").arg(shop.cache()));
    assert_eq!(audit.status, Some(0), "{}", audit.out);
    shop.job.write("readings/cut.csv", "check,cylinder,reading\n");
    assert_eq!(shop.file(&[]).status, Some(2));
    fs::remove_file(shop.job.job().join("readings/cut.csv")).unwrap();
    assert_eq!(shop.file(&[]).status, Some(2));
}

#[test]
fn inputs_from_elsewhere_are_kept_with_what_the_job_calls_them() {
    let sample = crate::common::Folder::sample();
    assert_eq!(sample.plan().status, Some(0));
    let archive = sample.place().join("archive");
    let run = ended(command().arg("file").arg(sample.job()).arg("--begin").arg("--archive").arg(&archive));
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    let run = ended(command().args(["open", "1", "--format", "json", "--archive"]).arg(&archive));
    let record: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let files = record["files"].as_array().unwrap();
    let of = |called: &str| {
        files.iter().find(|f| f["as"] == called).map(|f| f["name"].as_str().unwrap().to_owned())
    };
    assert_eq!(of("../../petrel-90.yaml").as_deref(), Some("elsewhere/petrel-90.yaml"));
    assert_eq!(of("readings/bores-left.csv").as_deref(), Some("job/readings/bores-left.csv"));
    let words = &record["summary"]["words"];
    assert_eq!((&words["job"][0], &words["family"][0]), (&"0412".into(), &"petrel".into()));
    assert_eq!(record["summary"]["ranges"]["bore"], serde_json::json!([82.0, 82.0]));
}

#[test]
fn an_archive_is_begun_only_when_told() {
    let shop = Shop::planned();
    // A share that is away looks like an empty folder.
    let run = shop.file(&[]);
    assert_eq!(run.status, Some(2));
    assert!(
        run.err.contains("found nothing, expected an archive") && run.err.contains("--begin"),
        "{}",
        run.err
    );
    assert!(!shop.archive.exists());
    fs::create_dir(&shop.archive).unwrap();
    fs::write(shop.archive.join("letter.txt"), "mine").unwrap();
    assert_eq!(shop.file(&["--begin"]).status, Some(2));
    assert_eq!(files(&shop.archive), ["letter.txt"]);
    fs::remove_file(shop.archive.join("letter.txt")).unwrap();
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    // No place at all.
    let cache = shop.cache();
    let audit = || {
        let mut audit = command();
        audit.args(["audit", "--without-plans", "--cache"]).arg(&cache);
        audit
    };
    let run = ended(audit().env_remove("BOREWRIGHT_ARCHIVE"));
    assert_eq!(run.status, Some(2));
    assert!(run.err.contains("BOREWRIGHT_ARCHIVE"));
    let run = ended(audit().env("BOREWRIGHT_ARCHIVE", &shop.archive));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
}

#[test]
fn what_was_not_planned_or_changed_since_is_not_filed() {
    let shop = Shop::planned();
    let refused = |what: &str| {
        let run = shop.file(&["--begin"]);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
        assert!(run.err.contains(what), "{}", run.err);
        assert!(!shop.archive.exists());
    };
    let bores = shop.job.read("bores.csv");
    shop.job.write("bores.csv", format!("{bores}# read twice\n"));
    refused("a plan made before `bores.csv` was changed");
    shop.job.write("bores.csv", bores);
    let plan = shop.job.read("out/plan.json");
    shop.job.write("out/plan.json", format!("{plan}\n"));
    refused("plan.json: found a file changed since borewright wrote it");
    shop.job.write("out/plan.json", plan);
    shop.job.write("out/note.txt", "mine");
    refused("note.txt: found a file that borewright did not write");
    fs::remove_dir_all(shop.job.out()).unwrap();
    refused("found no plan as it was written");
}

#[test]
fn the_same_again_is_told_and_adds_nothing() {
    let shop = Shop::filed();
    let before = files(&shop.archive);
    let run = shop.file(&[]);
    assert!(run.status == Some(0) && run.out.starts_with("filed before and unchanged: job "), "{}", run.out);
    assert_eq!(files(&shop.archive), before);
    shop.job.write("notes/second.txt", "and cleaned\n");
    let run = shop.file(&["--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    // Only the note is new.
    assert_eq!((&value["record"], &value["new_bytes"]), (&2.into(), &12.into()));
}

#[cfg(unix)]
#[test]
fn links_pipes_and_odd_names_among_the_notes_are_told_all_at_once() {
    use std::os::unix::ffi::OsStrExt;
    let shop = Shop::planned();
    let notes = shop.job.job().join("notes");
    fs::create_dir_all(notes.join("Größe und Öl")).unwrap();
    fs::write(notes.join("Größe und Öl/写真 1.txt"), "fine").unwrap();
    std::os::unix::fs::symlink("/etc/passwd", notes.join("out")).unwrap();
    std::os::unix::fs::symlink("/etc", notes.join("far")).unwrap();
    fs::write(notes.join("a\u{1b}[2Jb"), "x").unwrap();
    fs::write(notes.join("c:d"), "x").unwrap();
    fs::write(notes.join(std::ffi::OsStr::from_bytes(b"\xff\xfe")), "x").unwrap();
    assert!(std::process::Command::new("mkfifo").arg(notes.join("pipe")).status().unwrap().success());
    let run = shop.file(&["--begin"]);
    assert_eq!(run.status, Some(2));
    assert_eq!(run.err.matches("job/notes/").count(), 6, "{}", run.err);
    assert!(!run.err.contains('\u{1b}') && !shop.archive.exists(), "{}", run.err);
    for bad in ["out", "far", "a\u{1b}[2Jb", "c:d", "pipe"] {
        fs::remove_file(notes.join(bad)).unwrap();
    }
    fs::remove_file(notes.join(std::ffi::OsStr::from_bytes(b"\xff\xfe"))).unwrap();
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    assert_eq!(shop.open(&["1", "写真 1.txt"]).out, "fine");
}

#[test]
fn open_writes_over_nothing_and_leaves_nothing_half() {
    let shop = Shop::filed();
    let out = shop.job.place().join("again");
    fs::create_dir(&out).unwrap();
    assert_eq!(shop.open(&["1", "--out", out.to_str().unwrap()]).status, Some(2));
    let file = shop.job.place().join("mine.txt");
    fs::write(&file, "mine").unwrap();
    assert_eq!(shop.open(&["1", "first.txt", "--out", file.to_str().unwrap()]).status, Some(2));
    assert_eq!(fs::read_to_string(file).unwrap(), "mine");
    for (record, name) in
        [("2", "first.txt"), ("0", "first.txt"), ("x\u{1b}", "first.txt"), ("1", "none.txt")]
    {
        let run = shop.open(&[record, name]);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
        assert!(!run.err.contains('\u{1b}'));
    }
    // Spoiled bytes never come out as if they were the file.
    put(&shop.kept(1, "job/notes/first.txt"), b"the deck was hit by a SPANNER\n");
    let run = shop.open(&["1", "first.txt"]);
    assert_eq!((run.status, run.out.as_str()), (Some(1), ""));
    let out = shop.job.place().join("third");
    assert_eq!(shop.open(&["1", "--out", out.to_str().unwrap()]).status, Some(1));
    assert!(!out.exists());
}

#[test]
fn a_clock_set_back_is_told_and_filed_all_the_same() {
    let shop = Shop::filed();
    shop.job.write("notes/second.txt", "x");
    let job = shop.job.job().to_str().unwrap();
    let archive = shop.archive.to_str().unwrap();
    let run = ended(command().args(["file", job, "--archive", archive, "--at", "2024-11-25"]));
    assert_eq!(run.status, Some(0));
    assert!(run.err.contains("record 1 was filed at 2024-11-26T08:15:00Z"), "{}", run.err);
    let run = shop.audit(&[]);
    assert!(run.status == Some(0) && run.out.contains("before record 1: a clock was"), "{}", run.out);
}

#[test]
fn a_moment_to_come_is_not_filed() {
    let shop = Shop::planned();
    let file = |at: &str| {
        let mut file = command();
        file.arg("file").arg(shop.job.job()).args(["--begin", "--at", at, "--archive"]).arg(&shop.archive);
        ended(&mut file)
    };
    let run = file("9999-12-31");
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
    let said = "found --at 9999-12-31T00:00:00Z, where the clock says 2";
    assert!(run.err.starts_with(said) && run.err.contains("expected a moment that has come"), "{}", run.err);
    assert!(!shop.archive.exists());
    // Clocks and zones differ.
    let soon = borewright_archive::Time::now().seconds() + 20 * 3600;
    let soon = borewright_archive::Time::from_seconds(soon).unwrap().to_string();
    assert_eq!(file(&soon).status, Some(0));
}

#[test]
fn an_archive_inside_a_folder_that_is_filed_is_refused_before_anything_is_written() {
    let shop = Shop::planned();
    let job = shop.job.job();
    fs::create_dir_all(job.join("notes")).unwrap();
    let file = |archive: &std::path::Path| {
        let mut file = command();
        ended(file.arg("file").arg(job).arg("--begin").arg("--archive").arg(archive))
    };
    let before = files(job);
    let mut inside =
        vec!["notes", "notes/archive", "record/archive", "report/a", "out/archive", "x/../notes/a"];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(job.join("notes"), shop.job.place().join("link")).unwrap();
        inside.push("../link/archive");
    }
    fs::create_dir(job.join("x")).unwrap();
    for place in inside {
        let run = file(&job.join(place));
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{place}: {}", run.err);
        assert!(run.err.contains("expected a place outside the job's folder"), "{place}: {}", run.err);
        fs::remove_dir(job.join("x")).unwrap();
        assert_eq!(files(job), before, "{place}");
        fs::create_dir(job.join("x")).unwrap();
    }
    // Beside them it holds no record of itself.
    assert_eq!(file(&job.join("notes-of-years")).status, Some(0));
}

#[test]
fn a_job_filed_again_after_another_is_told_as_the_record_that_it_is_already() {
    let shop = Shop::filed();
    let other = Shop { job: Shop::filed().job, archive: shop.archive.clone() };
    other.job.edit("job.yaml", "\"0731\"", "\"0732\"");
    assert!(matches!(other.job.plan().status, Some(0 | 3 | 4)));
    let run = other.file(&[]);
    assert_eq!(run.status, Some(0), "{}", run.out);
    assert!(run.err.contains("was the number put right"), "{}", run.err);
    let run = shop.file(&["--format", "json"]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert!(run.err.contains("\nas record 1 already: "), "{}", run.err);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((&value["record"], &value["again"], &value["same_as"]), (&3.into(), &false.into(), &1.into()));
}

#[test]
fn a_record_given_back_stands_as_it_was_filed_with_its_files_from_elsewhere() {
    let sample = crate::common::Folder::sample();
    assert_eq!(sample.plan().status, Some(0));
    let away = tempfile::tempdir().unwrap();
    let [archive, back] = ["archive", "back"].map(|name| away.path().join(name));
    let run = ended(command().arg("file").arg(sample.job()).arg("--begin").arg("--archive").arg(&archive));
    assert_eq!(run.status, Some(0), "{}", run.err);
    let run = ended(command().args(["open", "1", "--out"]).arg(&back).arg("--archive").arg(&archive));
    assert_eq!(run.status, Some(0), "{}", run.err);
    let out = back.join("job/out");
    let run = ended(command().arg("verify").arg(&out));
    assert_eq!(run.status, Some(0), "{}", run.out);
    let list = out.join("lists/10-rough-left.nc");
    let run = ended(command().arg("prove").arg(list).arg("--plan").arg(out.join("plan.json")));
    assert_eq!(run.status, Some(0), "{}", run.out);
    assert!(!run.out.contains("note:"), "{}", run.out);
    let run = ended(command().arg("check").arg(back.join("job")));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    // What was given back is looked at too.
    fs::write(back.join("elsewhere/petrel-90.yaml"), "another block\n").unwrap();
    assert_eq!(ended(command().arg("verify").arg(&out)).status, Some(4));
}

#[test]
fn a_report_is_filed_only_while_it_says_what_the_job_says() {
    let shop = Shop::filed();
    let report = || ended(command().arg("report").arg(shop.job.job()));
    assert!(matches!(report().status, Some(0 | 3 | 4)));
    assert_eq!(shop.file(&[]).status, Some(0));
    // Altered by hand.
    let whole = shop.job.read("report/report.json");
    shop.job.write("report/report.json", whole.replacen("hold", "go", 1));
    let run = shop.file(&[]);
    assert_eq!(run.status, Some(2), "{}", run.out);
    assert!(run.err.contains("`report` again"), "{}", run.err);
    shop.job.write("report/report.json", whole);
    assert_eq!(shop.file(&[]).status, Some(0));
    // Of a plan that is no more.
    shop.job.write("job.yaml", format!("{}# looked at again\n", shop.job.read("job.yaml")));
    assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
    let run = shop.file(&[]);
    assert_eq!(run.status, Some(2), "{}", run.out);
    assert!(run.err.contains("a report of another plan"), "{}", run.err);
    assert!(matches!(report().status, Some(0 | 3 | 4)));
    assert_eq!(shop.file(&[]).status, Some(0));
}
