//! Exit statuses, what is printed, and what is released.

use std::fs;

use serde_json::Value;

use crate::common::{Folder, command, ended, files, pdf_text, run};

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

/// A parent wall under what is preferred and over what decides: one bore at hold.
fn held() -> Folder {
    let job = Folder::base("base");
    job.edit("walls.csv", "2,90,270,6.22", "2,90,270,4.30");
    job
}

#[test]
fn go_hold_stop_and_rejected_end_in_their_own_status() {
    let job = Folder::base("base");
    assert_eq!(job.check().status, Some(0));
    assert_eq!(job.plan().status, Some(0));
    let run = held().plan();
    assert_eq!(run.status, Some(3), "{}", run.out);
    assert!(run.out.starts_with("HOLD: "));
    job.edit("walls.csv", "2,90,270,6.22", "2,90,270,2.50");
    let run = job.plan();
    assert_eq!(run.status, Some(4), "{}", run.out);
    assert!(run.out.starts_with("STOP: "));
    job.edit("walls.csv", "2,90,270,2.50", "2,90,270,thin");
    let before = files(&job.out());
    let run = job.plan();
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert_eq!(files(&job.out()), before, "the plan before stays as it is");
    assert_eq!(crate::common::run::<&str>(&[]).status, Some(2), "no command at all");
}

#[test]
fn check_says_the_same_verdict_and_writes_nothing() {
    let jobs = [(Folder::base("base"), 0, "GO"), (Folder::base("base-vee"), 0, "GO"), (held(), 3, "HOLD")];
    for (job, status, verdict) in jobs {
        let before = files(job.place());
        let run = job.check();
        assert_eq!((run.status, run.err.as_str()), (Some(status), ""));
        assert!(run.out.starts_with(&format!("{verdict}: job 073")), "{}", run.out);
        assert_eq!(files(job.place()), before);
    }
}

#[test]
fn json_is_the_plan_and_nothing_else() {
    let job = Folder::base("base");
    let path = job.job().as_os_str();
    let checked = run(&["check".as_ref(), path, "--format".as_ref(), "json".as_ref()]);
    let planned = run(&["plan".as_ref(), path, "--format".as_ref(), "json".as_ref()]);
    assert_eq!((checked.err.as_str(), planned.err.as_str()), ("", ""));
    assert_eq!(planned.out, job.read("out/plan.json"));
    let (checked, planned) = (json(&checked.out), json(&planned.out));
    assert_eq!(checked["fingerprint"], planned["fingerprint"]);
    assert_eq!(planned["verdict"], "go");
    job.edit("block.yaml", "deck_height", "deck_hight");
    let broken = run(&["check".as_ref(), path, "--format".as_ref(), "json".as_ref()]);
    assert_eq!((broken.status, broken.out.as_str()), (Some(2), ""));
    assert!(broken.err.contains("deck_hight"));
}

#[test]
fn a_hold_withholds_its_lists_until_it_is_released() {
    let job = held();
    let run = job.plan();
    assert!(run.out.contains("no coordinates for cylinder 2"), "{}", run.out);
    let plan = json(&job.read("out/plan.json"));
    assert_eq!(plan["release"], Value::Null);
    let listed = |plan: &Value| {
        let lists = plan["lists"].as_array().unwrap().clone();
        lists.iter().any(|list| list["cylinders"].as_array().unwrap().contains(&Value::from(2)))
    };
    assert!(!listed(&plan));

    let release = "R. Ledger: wall of 2 read again, 4.3";
    let released =
        crate::common::run(&["plan".as_ref(), job.job().as_os_str(), "--release".as_ref(), release.as_ref()]);
    assert_eq!(released.status, Some(3), "a release changes no verdict: {}", released.out);
    assert!(released.out.contains("released by R. Ledger:"), "{}", released.out);
    let plan = json(&job.read("out/plan.json"));
    assert_eq!(plan["release"]["who"], "R. Ledger");
    assert_eq!(plan["release"]["why"], "wall of 2 read again, 4.3");
    assert!(listed(&plan));
    for list in plan["lists"].as_array().unwrap() {
        let text = job.read(&format!("out/{}", list["file"].as_str().unwrap()));
        assert!(text.to_uppercase().contains("R. LEDGER"), "the list says who released it");
    }
    assert!(
        ["cards", "figures"]
            .iter()
            .all(|sheet| { pdf_text(&job.out().join(format!("sheets/{sheet}.pdf"))).contains("R. Ledger") })
    );
}

#[test]
fn a_release_that_names_one_bore_of_several_that_are_held_is_none() {
    let job = held();
    job.edit("walls.csv", "1,90,270,6.05", "1,90,270,4.30");
    let plan = |why: &str| {
        let release = format!("R. Ledger: {why}");
        crate::common::run(&["plan".as_ref(), job.job().as_os_str(), "--release".as_ref(), release.as_ref()])
    };
    for why in ["cylinder 2 read again", "bores 2-2 fine", "cyl2 looked at"] {
        let refused = plan(why);
        assert_eq!((refused.status, refused.out.as_str()), (Some(2), ""), "{why}: {}", refused.err);
        assert!(refused.err.contains("names cylinder 2, of a plan that holds"), "{}", refused.err);
        assert!(!job.out().exists());
    }
    for why in ["walls read again", "cylinders 1 and 2 read again", "cylinders 1 to 4 read again"] {
        assert_eq!(plan(why).status, Some(3), "{why}");
    }
}

#[test]
fn a_stop_is_not_released() {
    let job = Folder::base("base");
    job.edit("walls.csv", "2,90,270,6.22", "2,90,270,2.50");
    let release = "R. Ledger: we will see";
    let run =
        crate::common::run(&["plan".as_ref(), job.job().as_os_str(), "--release".as_ref(), release.as_ref()]);
    assert_eq!(run.status, Some(4));
    let plan = json(&job.read("out/plan.json"));
    for list in plan["lists"].as_array().unwrap() {
        assert!(!list["cylinders"].as_array().unwrap().contains(&Value::from(2)));
    }
}

#[test]
fn nothing_of_the_sample_is_wider_than_a_terminal() {
    let job = Folder::sample();
    let mut printed = vec![job.check(), job.plan()];
    for words in
        [vec!["--help"], vec!["-h"], vec!["help", "plan"], vec!["check", "--help"], vec!["new", "--help"]]
    {
        printed.push(run(&words));
    }
    for run in printed {
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{}", run.out);
        // The temporary folder's name is not ours.
        for line in run.out.lines().filter(|line| !line.starts_with("written to ")) {
            assert!(line.chars().count() <= 80, "{} wide: {line}", line.chars().count());
        }
    }
    assert_eq!(fs::read_dir(job.out().join("lists")).unwrap().count(), 12);
}

#[test]
fn help_and_version_are_no_failure() {
    let help = run(&["--help"]);
    for command in ["new", "plan", "check", "schema", "completions"] {
        assert!(help.out.contains(&format!("\n  {command} ")), "{}", help.out);
    }
    assert!(help.out.contains("Exit status: 0 go, 3 hold, 4 stop, 2 input rejected"));
    assert!(run(&["--version"]).out.starts_with("borewright "));
    for shell in ["bash", "zsh", "fish"] {
        let completions = run(&["completions", shell]);
        assert_eq!(completions.status, Some(0));
        assert!(completions.out.contains("borewright"));
    }
    let wrong = ended(command().args(["plan"]));
    assert_eq!((wrong.status, wrong.out.as_str()), (Some(2), ""));
}
