//! `borewright prove` as somebody at a prompt meets it.

use std::ffi::OsStr;

use serde_json::Value;

use crate::common::{Folder, Run, files, run};

fn prove(job: &Folder, list: &str, more: &[&str]) -> Run {
    let (list, plan) = (job.out().join(list), job.out().join("plan.json"));
    let mut arguments = vec![OsStr::new("prove"), list.as_os_str(), OsStr::new("--plan"), plan.as_os_str()];
    arguments.extend(more.iter().map(OsStr::new));
    run(&arguments)
}

fn first(job: &Folder) -> String {
    let lists = files(&job.out()).into_iter();
    lists.filter(|f| f.ends_with(".nc")).min().unwrap()
}

#[test]
fn a_list_as_written_proves_in_a_sentence_and_nothing_is_written() {
    let job = Folder::planned();
    let before = files(job.place());
    for list in files(&job.out()).iter().filter(|f| f.ends_with(".nc") || f.ends_with(".csv")) {
        let run = prove(&job, list, &[]);
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{list}: {}", run.out);
        let said = run.out.replace("\n  ", " ");
        let name = list.trim_start_matches("lists/").split('.').next().unwrap();
        let (stage, bank) = (name.split('-').nth(1).unwrap(), name.split('-').nth(2).unwrap());
        assert!(
            said.starts_with(&format!("PROVEN: lists/{name}.nc, {stage} of bank {bank}, cylinders ")),
            "{said}"
        );
        assert!(said.ends_with(" mm\n") && said.lines().count() == 1, "{said}");
        assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
        let json: Value = serde_json::from_str(&prove(&job, list, &["--format", "json"]).out).unwrap();
        assert_eq!((&json["bank"], &json["stage"]), (&bank.into(), &stage.into()));
    }
    assert_eq!(files(job.place()), before);
}

#[test]
fn an_edited_list_is_told_line_by_line_and_ends_in_four() {
    let job = Folder::planned();
    let list = format!("out/{}", first(&job));
    let words = job.read(&list);
    let plunge = words.lines().position(|l| l.contains(" G1 Z-") && !l.contains("Z-10.000")).unwrap();
    let spoiled: Vec<String> = words
        .lines()
        .enumerate()
        .map(|(i, l)| if i == plunge { l.replace(" G1 ", " G0 ") } else { l.to_owned() })
        .collect();
    job.write(&list, spoiled.join("\n") + "\n");
    let run = prove(&job, &first(&job), &[]);
    assert_eq!((run.status, run.err.as_str()), (Some(4), ""));
    assert!(run.out.contains(&format!("line {} (N", plunge + 1)), "{}", run.out);
    assert!(run.out.contains("note: changed since it was written"), "{}", run.out);
    // The table beside it no longer says the same.
    assert!(run.out.contains("of the table") && run.out.starts_with("NOT PROVEN: "), "{}", run.out);
    assert!(run.out.lines().all(|l| l.starts_with("NOT PROVEN") || l.chars().count() <= 80), "{}", run.out);
    let json: Value = serde_json::from_str(&prove(&job, &first(&job), &["--format", "json"]).out).unwrap();
    assert_eq!((&json["format"], &json["proven"]), (&"borewright/proof/1".into(), &false.into()));
    assert_eq!(json["flaws"][0]["line"], plunge + 1);
    assert!(json["flaws"][0]["found"].as_str().unwrap().contains("rapid"), "{json}");
}

#[test]
fn what_is_no_list_or_no_plan_is_rejected() {
    let job = Folder::planned();
    let list = first(&job);
    let original = job.read("out/plan.json");
    for (plan, says) in [
        ("{", "out/plan.json:1:"),
        ("{}", "format"),
        ("[]", "expected a plan.json"),
        (&original.replace("borewright/plan/1", "borewright/plan/7"), "borewright/plan/7"),
        (&original.replace("\"deepest\"", "\"deep\""), "lists[0].proof"),
        (&original.replace("\"G21\"", "\"G20\""), "millimetres"),
        (&original.replace("\"passes\"", "\"steps\""), "passes"),
    ] {
        job.write("out/plan.json", plan);
        let run = prove(&job, &list, &[]);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{says}");
        assert!(run.err.contains(says) && run.err.contains("plan.json"), "{says}: {}", run.err);
    }
    job.write("out/plan.json", original);
    assert_eq!(prove(&job, "lists/none.nc", &[]).status, Some(2));
    assert_eq!(prove(&job, "lists", &[]).status, Some(2));
    // A key that is not known is no other form, but no plan that was written either.
    let more = job.read("out/plan.json").replacen('{', "{ \"later\": { \"x\": [1] },", 1);
    job.write("out/plan.json", more);
    assert_eq!(prove(&job, &list, &[]).status, Some(4));
}

#[test]
fn names_made_to_do_harm_leave_their_lists_proven() {
    for word in [
        "X)\nG0 Z-100",
        "(FINGERPRINT 0) LIST 20 - rough",
        "step 90 - tool set to 5.000 mm, \u{4e2d}",
        &"w ".repeat(300),
    ] {
        let job = Folder::base("base");
        let quoted = serde_json::to_string(word).unwrap();
        for (file, old) in [
            ("job.yaml", "job: \"0731\""),
            ("block.yaml", "along_datum: front face"),
            ("block.yaml", "name: Dunlin 76"),
            ("sleeve.yaml", "name: upper register"),
            ("machine.yaml", "name: head"),
            ("job.yaml", "set_up: deck up"),
        ] {
            let key = old.split(':').next().unwrap();
            job.edit(file, old, &format!("{key}: {quoted}"));
        }
        let run = job.plan();
        assert_eq!(run.status, Some(0), "{word:?}: {}{}", run.out, run.err);
        assert!(!run.out.contains("prove"), "{word:?}: {}", run.out);
        let lists: Vec<String> = files(&job.out()).into_iter().filter(|f| f.ends_with(".nc")).collect();
        assert!(!lists.is_empty());
        for list in lists {
            let run = prove(&job, &list, &[]);
            assert_eq!(run.status, Some(0), "{word:?}: {}", run.out);
        }
    }
}
