//! What stands beside the record, words beside what was read, and what was read before its time.

use std::fs;
use std::path::Path;

use borewright_planner::plan::Stage;
use borewright_planner::plan::check::{Check, What};
use borewright_planner::record::{BEGUN, Whose, kept_in, kept_lines};

use crate::bench::Bench;

use crate::common::copy::copy;
use crate::common::{Run, command, ended, run};
use crate::held::{findings, plan};

fn expected(check: &Check, n: u32) -> f64 {
    check.at(Some(n)).unwrap().readings.iter().find(|r| r.waits).unwrap().expected.unwrap()
}

fn with(bench: &Bench, words: &[&str]) -> Run {
    let mut command = command();
    command.arg("record").arg(bench.folder.job()).args(words).args(["--by", "KP"]);
    ended(&mut command)
}

#[test]
fn a_copy_of_the_record_with_lines_of_its_own_holds_until_it_is_taken_away() {
    let bench = Bench::touched();
    let whole = bench.text();
    let names = [".borewright-cut.sum", "../.borewright-cut.sum"];
    let beside = |name: &str| bench.file().with_file_name("").join(name);
    let kept = names.map(|name| fs::read(beside(name)).unwrap());
    // What a hand kept of an hour ago holds nothing.
    fs::write(bench.file().with_file_name("cut.csv.bak"), &whole).unwrap();
    assert_eq!(bench.record("note coolant topped up --by KP").status, Some(0));
    bench.record("crack 3 at the bridge --by AB");
    let forked = bench.text();
    for (name, bytes) in names.iter().zip(kept) {
        fs::write(beside(name), bytes).unwrap();
    }
    fs::write(bench.file(), &whole).unwrap();
    for name in ["cut (conflicted copy).csv", "cut~HEAD", "copy of cut.csv"] {
        let copy = bench.file().with_file_name(name);
        fs::write(&copy, &forked).unwrap();
        let register = bench.check(What::Size, "upper register");
        let words = format!("{} 1 {:.3} --again --by KP", register.check, expected(&register, 1));
        assert_eq!(bench.record(&words).status, Some(3), "{name}");
        let told = findings(&plan(&bench), "record");
        assert!(
            told.iter().any(|(_, t)| t.contains(name) && t.contains("is a copy of this record")),
            "{told:?}"
        );
        fs::remove_file(&copy).unwrap();
        assert_eq!(bench.record(&words).status, Some(0), "{name}");
    }
}

#[test]
fn a_folder_beside_the_jobs_that_has_gone_on_holds_until_it_is_taken_away() {
    let bench = Bench::touched();
    let own = bench.folder.job();
    let other = own.with_file_name("a copy of it");
    copy(own, &other);
    let verdict = |job: &Path| run(&["plan".as_ref(), job.as_os_str()]).status;
    assert_eq!((verdict(own), verdict(&other)), (Some(0), Some(0)), "what has not gone on holds nothing");
    // The pocket was read where the copy is not worked from.
    bench.record("note coolant topped up --by KP");
    assert_eq!((verdict(own), verdict(&other)), (Some(0), Some(3)));
    let told = run(&["plan".as_ref(), other.as_os_str()]).out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("beside this one has a record of this job with 1 line that this one does not have"),
        "{told}"
    );
    // Each with a line of its own holds the other; another job's is none of this one's.
    bench.folder.edit("job.yaml", "\"0412\"", "\"0413\"");
    assert_eq!(verdict(&other), Some(3));
    fs::remove_dir_all(own).unwrap();
    assert_eq!(verdict(&other), Some(0));
}

#[test]
fn readings_put_back_whole_are_missed_by_what_is_kept_outside_them() {
    let bench = Bench::touched();
    let readings = bench.folder.job().join("readings");
    let names = ["cut.csv", ".borewright-cut.sum"];
    let before = names.map(|name| fs::read(readings.join(name)).unwrap());
    bench.record("crack 3 at the bridge --by AB");
    for (name, bytes) in names.iter().zip(&before) {
        fs::write(readings.join(name), bytes).unwrap();
    }
    let told = findings(&plan(&bench), "record");
    assert!(told.iter().any(|(_, t)| t.contains("not in this record any more")), "{told:?}");
}

#[test]
fn a_record_of_the_job_whose_folder_was_copied_holds_from_its_first_line() {
    let bench = Bench::touched();
    bench.folder.edit("job.yaml", "\"0412\"", "\"0413\"");
    assert_eq!(bench.folder.plan().status, Some(3));
    let told = findings(&plan(&bench), "record");
    assert!(told.iter().any(|(_, t)| t.contains("was begun as job 0412, and this is job 0413")), "{told:?}");
    // Whose it was stays known once lines of this job come behind it.
    bench.record("note coolant topped up --by KP");
    assert_eq!(bench.folder.plan().status, Some(3));
    // The same block under another number is let through by name.
    let run = bench.record("release line 1 the number was mistyped and it is the same block --by LEAD");
    assert!(matches!(run.status, Some(0 | 3)), "{}{}", run.out, run.err);
    assert_eq!(bench.folder.plan().status, Some(0));
}

#[test]
fn a_record_copied_without_what_is_kept_of_it_holds_until_the_lead_lets_it_through() {
    let old = Bench::touched();
    let new = Bench::planned_with(|folder| {
        folder.edit("job.yaml", "\"0412\"", "\"0500\"");
        folder.edit("job.yaml", "Saltmarsh Engine Works", "Other Shop");
    });
    let prove = || {
        let list = new.folder.job().join("out/lists/10-rough-left.nc");
        let mut prove = command();
        prove.arg("prove").arg(list).arg("--plan").arg(new.folder.job().join("out/plan.json"));
        ended(&mut prove)
    };
    assert_eq!(prove().status, Some(0), "{}", prove().out);
    fs::copy(old.file(), new.file()).unwrap();
    assert_eq!(prove().status, Some(4), "{}", prove().out);
    let doubted = |bench: &Bench| {
        let told = findings(&plan(bench), "record");
        told.iter().any(|(_, t)| t.contains("nothing beside it says that they are of this job"))
    };
    assert!(doubted(&new) && new.folder.plan().status == Some(3));
    // A line of this job behind them does not make them this job's.
    new.record("note coolant topped up --by KP");
    assert!(doubted(&new) && new.folder.plan().status == Some(3));
    let run = new.record("release line 1 it is the same block under a new number --by LEAD");
    assert!(matches!(run.status, Some(0 | 3)), "{}{}", run.out, run.err);
    assert_eq!(new.folder.plan().status, Some(0));
    assert_eq!(new.record("note coolant topped up --by KP").status, Some(0));
    // What was let through of one copy says nothing of another.
    let third = Bench::planned_with(|folder| folder.edit("job.yaml", "\"0412\"", "\"0501\""));
    fs::copy(new.file(), third.file()).unwrap();
    assert!(doubted(&third) && third.folder.plan().status == Some(3));
    // What a hand typed says of itself whose it is: nothing was recorded.
    let hand = Bench::planned();
    fs::write(hand.file(), "check,cylinder,reading,value\n").unwrap();
    assert_eq!(hand.folder.plan().status, Some(0));
}

#[test]
fn a_power_loss_behind_the_first_line_leaves_it_this_jobs() {
    let bench = Bench::planned();
    assert_eq!(bench.record("note coolant topped up --by KP").status, Some(0));
    // What is kept before the first line is on the disk, and not yet that line's sum.
    let begun = kept_lines(&[(BEGUN.to_owned(), Whose::numbered("0412"))]);
    for path in kept_in(bench.folder.job()) {
        fs::write(path, &begun).unwrap();
    }
    assert!(findings(&plan(&bench), "record").is_empty());
    // Nor is a line missed that never came.
    fs::remove_file(bench.file()).unwrap();
    assert!(findings(&plan(&bench), "record").is_empty());
    assert_eq!(bench.record("note coolant topped up --by KP").status, Some(0));
    let kept = fs::read_to_string(bench.folder.job().join(".borewright-cut.sum")).unwrap();
    assert!(!kept.starts_with(BEGUN) && kept.lines().count() == 1, "{kept}");
}

#[test]
fn a_record_of_another_customers_block_of_the_same_number_holds() {
    let bench = Bench::touched();
    // A name put right, and one written otherwise, are of the same block.
    bench.folder.edit("job.yaml", "Saltmarsh Engine Works", "Saltmarsh Engine Works Ltd");
    assert_eq!(bench.folder.plan().status, Some(0));
    bench.folder.edit("job.yaml", "Saltmarsh Engine Works Ltd", "SALTMARSH engine works");
    let bores = bench.folder.read("readings/bores-left.csv");
    let row = bores.lines().find(|l| l.starts_with("1,")).unwrap();
    let cells: Vec<&str> = row.split(',').collect();
    let moved = format!("{:.3}", cells[2].parse::<f64>().unwrap() + 0.002);
    bench.folder.edit("readings/bores-left.csv", row, &row.replacen(cells[2], &moved, 1));
    assert!(findings(&plan(&bench), "record").is_empty());
    // The name put right beside a corrected table is asked about, and what the question says to do settles it.
    bench.folder.edit("job.yaml", "SALTMARSH engine works", "Saltmarsh Engines");
    let told = findings(&plan(&bench), "record");
    let asked = "was the customer put right, and is it the same block?";
    assert!(told.iter().any(|(_, t)| t.contains(asked) && !t.contains("nothing in it was read")), "{told:?}");
    assert_eq!(bench.folder.plan().status, Some(3));
    let run = with(&bench, &["release", "line 1: the customer was put right"]);
    assert!(matches!(run.status, Some(0 | 3)), "{}{}", run.out, run.err);
    assert_eq!(bench.folder.plan().status, Some(0));
    // Another's block, read anew: not a table of it is the same.
    let bench = Bench::touched();
    bench.folder.edit("job.yaml", "Saltmarsh Engine Works", "Other Shop");
    for table in fs::read_dir(bench.folder.job().join("readings")).unwrap().map(|file| file.unwrap().path()) {
        if table.extension().is_some_and(|e| e == "csv") && !table.ends_with("cut.csv") {
            let text = fs::read_to_string(&table).unwrap();
            fs::write(&table, format!("{text}# read anew\n")).unwrap();
        }
    }
    let said = "the record is of job 0412 for Saltmarsh Engine Works, and this is job 0412 for Other Shop";
    let told = findings(&plan(&bench), "record");
    assert!(told.iter().any(|(_, t)| t.contains(said)), "{told:?}");
    assert_eq!(bench.folder.plan().status, Some(3));
    bench.record("release line 1 sold on while it was here --by LEAD");
    assert_eq!(bench.folder.plan().status, Some(0));
}

#[test]
fn a_touch_check_read_before_the_stage_that_comes_before_it_does_not_count() {
    let bench = Bench::touched();
    let finish = |c: &&Check| c.what == What::Touch && c.stage == Stage::Finish && c.bank == "left";
    let touch = bench.checks().iter().find(finish).cloned().unwrap();
    let unread = |bench: &Bench| {
        let run = bench.prompt("");
        assert_eq!(run.status, Some(0), "{}", run.err);
        let told = findings(&plan(bench), "record");
        told.iter().any(|(_, t)| t.contains(&format!("CHECK {} was read before", touch.check)))
    };
    assert!(!unread(&bench), "read early, and nothing of the fit since");
    let flange = bench.checks().into_iter().find(|c| c.what == What::Protrusion && c.bank == "left").unwrap();
    bench.record(&format!("{} 1 {:.3} mm --by KP", flange.check, expected(&flange, 1)));
    assert!(unread(&bench));
}

#[test]
fn the_head_that_cut_a_bore_too_large_cuts_no_other_before_it_is_set() {
    for off in [0.012, 0.050] {
        let bench = Bench::touched();
        let register = bench.check(What::Size, "upper register");
        let mut said = String::new();
        for at in 0..6 {
            let figure = expected(&register, 1) + off + f64::from(at % 2) * 0.001;
            said = bench.record(&format!("{} 1 {figure:.3} --by KP", register.check)).out;
        }
        let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains("no other bore is cut with the head as it stands"), "{off}: {flat}");
        // 89.780 - 0.0505 for one, and 0.0125 for the other.
        let set = expected(&register, 1) - off - 0.0005;
        assert!(
            [set - 0.0005, set, set + 0.0005].iter().any(|s| said.contains(&format!("{s:.3}"))),
            "{said}"
        );
    }
}

#[test]
fn a_note_that_is_not_understood_is_asked_about_and_one_that_denies_a_yes_or_a_figure_holds() {
    let bench = Bench::touched();
    let run = with(&bench, &["note", "3", "Tom knows about it"]);
    assert_eq!(run.status, Some(0), "{}", run.out);
    assert!(run.out.contains("not judged"), "{}", run.out);
    let told = findings(&plan(&bench), "noted");
    assert!(told.len() == 1 && told[0].1.contains("Tom knows"), "{told:?}");
    // It keeps the report open, which says what to do; the lead judges it by its line, and by no other.
    let line = bench.text().lines().position(|l| l.contains("Tom knows")).unwrap() + 1;
    let is_open = || {
        let job = bench.folder.job().as_os_str().to_owned();
        let run = ended(command().arg("report").arg(job).args(["--format", "json"]));
        let report: serde_json::Value = serde_json::from_str(&run.out).unwrap();
        let asks = format!("(`release \"line {line}: WHY\"`, with `--by`)");
        report["open"].as_array().unwrap().iter().any(|text| text.as_str().unwrap().contains(&asks))
    };
    assert!(is_open());
    with(&bench, &["release", "line 2: asked him and it is nothing"]);
    assert!(is_open() && findings(&plan(&bench), "noted").len() == 1);
    let run = with(&bench, &["release", &format!("line {line}: asked him and it is nothing")]);
    let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains(&format!("the note of line {line} is judged")), "{flat}");
    assert!(!is_open() && findings(&plan(&bench), "noted").is_empty());
    let look = bench.checks().into_iter().find(|c| c.what == What::Look).unwrap();
    let (check, n) = (look.check.to_string(), look.cylinders[0].cylinder.unwrap().to_string());
    for (note, status) in [("half gone", 3), ("Tom looked", 0), ("seen with a lamp, all gone", 0)] {
        let bench = Bench::planned();
        let run = with(&bench, &[&check, &n, "yes", "--note", note]);
        assert_eq!(run.status, Some(status), "{note}: {}", run.out);
    }
    let register = bench.check(What::Size, "upper register");
    let (check, figure) = (register.check.to_string(), format!("{:.3}", expected(&register, 1)));
    for (note, status) in [("trial cut only", 3), ("second gauge reads the same", 0)] {
        let run = with(&bench, &[&check, "1", &figure, "--note", note, "--reading", "1"]);
        assert_eq!(run.status, Some(status), "{note}: {}", run.out);
        let line = bench.text().lines().position(|l| l.contains(note)).unwrap() + 1;
        bench.strike(&line.to_string(), "read anew since");
    }
}
