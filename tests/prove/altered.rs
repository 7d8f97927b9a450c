//! Plans that are not themselves any more, and inputs that are not those planned from.

use std::ffi::OsStr;

use serde_json::Value;

use crate::common::{Folder, Run, run};

const LIST: &str = "out/lists/10-rough-bank.nc";

fn prove(job: &Folder, list: &str) -> Run {
    let [list, plan] = [list, "out/plan.json"].map(|f| job.job().join(f));
    run(&[OsStr::new("prove"), list.as_os_str(), OsStr::new("--plan"), plan.as_os_str()])
}

#[test]
fn a_plan_and_its_list_altered_together_do_not_prove() {
    let job = Folder::planned();
    let (plan, words) = (job.read("out/plan.json"), job.read(LIST));
    // The same bore, a tenth to one side, in every file that tells it.
    let x = words.lines().find_map(|l| l.split(" G0 X").nth(1)).unwrap().split(' ').next().unwrap();
    let moved = format!("{:.3}", x.parse::<f64>().unwrap() + 0.1);
    let value: Value = serde_json::from_str(&plan).unwrap();
    let planned = value["passes"][0]["x"].as_f64().unwrap();
    let other = plan.replace(x, &moved).replace(&format!("\"x\": {planned:?},"), &format!("\"x\": {moved},"));
    assert_ne!(other, plan);
    job.write("out/plan.json", &other);
    job.write(LIST, words.replace(x, &moved));
    let run = prove(&job, LIST);
    assert_eq!(run.status, Some(4), "{}", run.out);
    let said = run.out.replace("\n  ", " ");
    assert!(
        said.starts_with("NOT PROVEN: ")
            && said.contains("\nplan: a plan that was changed since it was written: its seal does not hold;"),
        "{said}"
    );
    assert!(
        said.contains("\nplan: a plan whose fingerprint is not that of its inputs and results;"),
        "{said}"
    );
    assert!(run.out.lines().all(|l| l.chars().count() <= 80 || l.starts_with("NOT")), "{}", run.out);
    // Sealed anew, as somebody who knows how could: the fingerprint still tells, and stands on every sheet.
    let sealed =
        other.replace(value["seal"].as_str().unwrap(), &borewright_planner::prove::seal(&other).unwrap());
    job.write("out/plan.json", sealed);
    let run = prove(&job, LIST);
    assert_eq!(run.status, Some(4));
    assert!(!run.out.contains("seal") && run.out.contains("fingerprint"), "{}", run.out);
}

#[test]
fn a_plan_written_otherwise_or_without_its_seal_does_not_prove() {
    let job = Folder::planned();
    let plan = job.read("out/plan.json");
    let value: Value = serde_json::from_str(&plan).unwrap();
    let mut unsealed = value.clone();
    unsealed.as_object_mut().unwrap().remove("seal");
    for other in [
        serde_json::to_string_pretty(&value).unwrap(),
        unsealed.to_string(),
        plan.replace('\n', "\r\n"),
        format!("{plan}\n"),
        plan.replacen("\"verdict\": \"go\"", "\"verdict\":  \"go\"", 1),
    ] {
        assert_ne!(other, plan);
        job.write("out/plan.json", &other);
        let run = prove(&job, LIST);
        assert_eq!(run.status, Some(4), "{}", run.out);
        assert!(run.out.contains("seal"), "{}", run.out);
    }
}

#[test]
fn an_input_changed_since_the_plan_is_told_by_its_name() {
    let job = Folder::planned();
    let original = job.read("machine.yaml");
    job.write("machine.yaml", format!("{original}# looked at\n"));
    let told = prove(&job, LIST);
    assert_eq!(told.status, Some(4));
    assert!(told.out.contains("\nplan: machine.yaml altered since the plan was made;"), "{}", told.out);
    std::fs::remove_file(job.job().join("machine.yaml")).unwrap();
    assert!(prove(&job, LIST).out.contains("machine.yaml missing since"));
    job.write("machine.yaml", original);
    assert_eq!(prove(&job, LIST).status, Some(0));
    // Away from its job, on the stick that goes to the machine, a list still proves, and says what is not known.
    let away = tempfile::tempdir().unwrap();
    let out = away.path().join("stick/out");
    crate::common::copy(&job.out().join("lists"), &out.join("lists"));
    std::fs::copy(job.out().join("plan.json"), out.join("plan.json")).unwrap();
    let [list, plan] = ["lists/10-rough-bank.nc", "plan.json"].map(|f| out.join(f));
    let run = run(&[OsStr::new("prove"), list.as_os_str(), OsStr::new("--plan"), plan.as_os_str()]);
    assert_eq!(run.status, Some(0), "{}", run.out);
    assert!(run.out.contains("\nnote: the job does not lie beside"), "{}", run.out);
}

#[test]
fn another_list_of_the_plan_that_was_changed_is_a_note() {
    let job = Folder::planned();
    let other = "out/lists/20-pocket-bank.nc";
    job.write(other, job.read(other).replace("G1", "G01"));
    let run = prove(&job, LIST);
    assert_eq!(run.status, Some(0), "{}", run.out);
    assert!(run.out.contains("note: lists/20-pocket-bank.nc was changed since"), "{}", run.out);
}

#[test]
fn a_list_copied_over_another_does_not_prove_there() {
    let job = Folder::planned();
    let words = job.read(LIST);
    for (file, says) in [
        ("out/lists/20-pocket-bank.nc", "a file called `20-pocket-bank`"),
        ("out/lists/11-rough-bank.nc", "a file called"),
    ] {
        job.write(file, &words);
        let run = prove(&job, file);
        assert_eq!(run.status, Some(4), "{}", run.out);
        assert!(run.out.contains(says), "{}", run.out);
    }
    // A copy with a name of its own is the same list; a table that is another's is not.
    job.write("mine.nc", &words);
    assert_eq!(prove(&job, "mine.nc").status, Some(0));
    job.write("mine.csv", job.read("out/lists/20-pocket-bank.csv"));
    assert_eq!(prove(&job, "mine.nc").status, Some(4));
}

#[test]
fn a_plan_deeper_in_its_job_or_behind_a_link_is_held_against_its_inputs() {
    let job = Folder::planned();
    let deeper = job.job().join("plans/first/out");
    let planned = run(&[OsStr::new("plan"), job.job().as_os_str(), OsStr::new("--out"), deeper.as_os_str()]);
    assert_eq!(planned.status, Some(0), "{}", planned.err);
    let away = tempfile::tempdir().unwrap();
    let linked = away.path().join("plan.json");
    #[cfg(unix)]
    std::os::unix::fs::symlink(deeper.join("plan.json"), &linked).unwrap();
    #[cfg(not(unix))]
    let linked = deeper.join("plan.json");
    let proven = |plan: &std::path::Path| {
        let list = deeper.join("lists/10-rough-bank.nc");
        run(&[OsStr::new("prove"), list.as_os_str(), OsStr::new("--plan"), plan.as_os_str()])
    };
    for plan in [&deeper.join("plan.json"), &linked] {
        let run = proven(plan);
        assert_eq!(run.status, Some(0), "{}", run.out);
        assert!(!run.out.contains("does not lie beside"), "{}", run.out);
    }
    job.write("machine.yaml", format!("{}# looked at\n", job.read("machine.yaml")));
    for plan in [&deeper.join("plan.json"), &linked] {
        let run = proven(plan);
        assert_eq!(run.status, Some(4), "{}", run.out);
        assert!(run.out.contains("\nplan: machine.yaml altered since"), "{}", run.out);
    }
    let verified = run(&[OsStr::new("verify"), deeper.as_os_str()]);
    assert_eq!(verified.status, Some(4), "{}", verified.out);
}
