//! Plans that are others by now: files changed since, a plan that was replaced, a plan made anew while the prompt stands open.

use std::fs;
use std::io::{Read, Write};
use std::process::{Command, Stdio};

use borewright_planner::plan::check::{Check, What};
use serde_json::Value;

use crate::bench::Bench;
use crate::common::{command, ended};

/// Takes twice the interference: every register's size is another.
fn tighter(bench: &Bench) {
    let file = bench.folder.place().join("sleeves/w90.yaml");
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("interference: 0.03"));
    fs::write(file, text.replace("interference: 0.03", "interference: 0.06")).unwrap();
}

fn expected(check: &Check) -> f64 {
    check.at(Some(1)).unwrap().readings.iter().find(|r| r.waits).unwrap().expected.unwrap()
}

#[test]
fn nothing_goes_on_by_a_plan_whose_files_were_changed_since() {
    let bench = Bench::touched();
    let register = bench.check(What::Size, "upper register");
    tighter(&bench);
    let words = format!("{} 1 {:.3} --by KP", register.check, expected(&register));
    let run = bench.record(&words);
    assert_eq!(run.status, Some(3), "{}", run.out);
    assert!(run.out.contains("plan again") && !run.out.contains("go on"), "{}", run.out);
    let run = bench.record(&format!("{words} --again --format json"));
    let told: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!((run.status, told["answer"]["say"].as_str()), (Some(3), Some("hold")), "{}", run.out);
    assert!(run.out.contains("plan again before the next cut"), "{}", run.out);
    // What happened is written down, and nobody goes on by it either.
    let run = bench.record("note coolant topped up --by KP");
    assert_eq!(run.status, Some(3), "{}", run.out);
    // Planned again it goes on; the record itself is expected to grow.
    assert!(matches!(bench.folder.plan().status, Some(0 | 3)));
    let run = bench.record("note coolant topped up --by KP");
    assert_eq!(run.status, Some(0), "{}", run.out);
}

#[test]
fn a_plan_that_the_job_has_replaced_is_held() {
    let bench = Bench::touched();
    let register = bench.check(What::Size, "upper register");
    let old = bench.folder.place().join("old.json");
    fs::copy(bench.folder.job().join("out/plan.json"), &old).unwrap();
    let record = |reading: u32, plan: &std::path::Path| {
        let words = format!("{} 1 {:.3} --by KP --reading {reading}", register.check, expected(&register));
        let mut command = command();
        command.arg("record").arg(bench.folder.job()).args(words.split(' ')).arg("--plan").arg(plan);
        let run = ended(&mut command);
        (run.status, run.out.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    // The same plan in another place is as good.
    let (status, out) = record(1, &old);
    assert_eq!(status, Some(0), "{out}");
    // The same files and one line more: which of two plans is meant is told, whatever has changed.
    assert!(matches!(bench.folder.plan().status, Some(0 | 3)));
    let (status, out) = record(2, &old);
    assert!(status == Some(3) && out.contains("later plan of this job"), "{out}");
    tighter(&bench);
    assert!(matches!(bench.folder.plan().status, Some(0 | 3)));
    let (status, out) = record(3, &old);
    assert!(status == Some(3) && out.contains("later plan of this job"), "{out}");
}

#[test]
fn nothing_goes_on_by_a_release_that_was_withdrawn() {
    let bench = Bench::planned_with(|folder| {
        let shop = folder.place().join("shop.yaml");
        let text = fs::read_to_string(&shop).unwrap();
        assert!(text.contains("position: 0.05"));
        fs::write(shop, text.replace("position: 0.05", "position: 0.03")).unwrap();
    });
    let plan = |release: &[&str]| {
        let mut plan = command();
        plan.arg("plan").arg(bench.folder.job()).args(release);
        ended(&mut plan).status
    };
    assert!(matches!(plan(&["--release", "J. Tern: agreed with the customer"]), Some(0 | 3)));
    let old = bench.folder.place().join("old.json");
    fs::copy(bench.folder.job().join("out/plan.json"), &old).unwrap();
    let note = || {
        let mut record = command();
        record.arg("record").arg(bench.folder.job()).args(["note", "coolant topped up", "--by", "KP"]);
        let run = ended(record.arg("--plan").arg(&old));
        (run.status, run.out.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    assert_eq!(plan(&[]), Some(3));
    let (status, out) = note();
    assert!(status == Some(3) && out.contains("another plan of this job"), "{out}");
}

#[test]
fn an_open_prompt_goes_by_the_plan_that_lies_there_now() {
    let bench = Bench::touched();
    let register = bench.check(What::Size, "upper register");
    let mut prompt = Command::new(env!("CARGO_BIN_EXE_borewright"))
        .args(["record".as_ref(), bench.folder.job().as_os_str(), register.check.to_string().as_ref()])
        .args(["--by", "KP"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut out = prompt.stdout.take().unwrap();
    let mut said = String::new();
    let mut more = |said: &mut String, until: &str| {
        let mut bytes = [0; 4096];
        while !said.contains(until) {
            let n = out.read(&mut bytes).unwrap();
            assert!(n > 0, "{said}");
            said.push_str(&String::from_utf8_lossy(&bytes[..n]));
        }
    };
    more(&mut said, "CHECK ");
    tighter(&bench);
    assert!(matches!(bench.folder.plan().status, Some(0 | 3)));
    let mut input = prompt.stdin.take().unwrap();
    writeln!(input, "{:.3}", expected(&register)).unwrap();
    more(&mut said, "is not written down");
    assert!(said.contains("made anew") && !said.contains("go on"), "{said}");
    drop(input);
    more(&mut said, "CHECK ");
    prompt.wait().unwrap();
    let row = format!("{},1,", register.check);
    assert!(!bench.text().lines().any(|l| l.starts_with(&row)), "{}", bench.text());
}

#[test]
fn a_lone_digit_at_a_size_is_asked_about_and_at_a_look_it_answers() {
    let bench = Bench::planned();
    let run = bench.prompt("0\n1\n");
    assert!(!run.out.contains("go on") && !bench.file().exists(), "{}", run.out);
    let look = bench.checks().into_iter().find(|c| c.what == What::Look).unwrap();
    let n = look.cylinders[0].cylinder.unwrap();
    assert_eq!(bench.record(&format!("{} {n} 1 --by KP", look.check)).status, Some(0));
}
