//! `report`: the job as it left, with nothing left out.

use std::fmt::Write as _;

use borewright_planner::plan::check::{Asked, Check, Of, What};
use serde_json::Value;

use crate::bench::Bench;
use crate::common::{Run, run};

fn report(bench: &Bench, more: &[&str]) -> Run {
    let job = bench.folder.job().to_str().unwrap().to_owned();
    let mut arguments = vec!["report", job.as_str()];
    arguments.extend(more);
    run(&arguments)
}

fn json(bench: &Bench) -> (Option<i32>, Value) {
    let run = report(bench, &["--format", "json"]);
    (run.status, serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err)))
}

/// A reading as a hand would write it: as expected, a little off for sizes so that no two bores are alike.
fn value(asked: &Asked, nth: u32) -> String {
    let off = f64::from(nth % 3) * 0.001 - 0.001;
    match (asked.of, asked.expected) {
        (Of::Look, _) => "ok".into(),
        (Of::Roughness, _) => "0.45".into(),
        (Of::Diameter, Some(e)) => format!("{:.3} mm", e + off),
        // At each of the three parts of a pocket the same: the bore stands off by that, not by three times that.
        (Of::X, Some(e)) => format!("{:.3} mm", e + 0.006),
        (_, Some(e)) if asked.unit.is_length() => format!("{e:.3} mm"),
        (_, Some(e)) => format!("{e:.0}"),
        (_, None) => "nr".into(),
    }
}

/// The table of a whole job, made by hand: every reading but those left out.
fn fill(bench: &Bench, leave: impl Fn(&Check, Option<u32>, &Asked) -> bool) {
    let mut text = "check,cylinder,reading,value,instrument,by,at\n".to_owned();
    for check in bench.checks() {
        for at in &check.cylinders {
            let cylinder = at.cylinder.map_or_else(String::new, |c| c.to_string());
            for asked in at.readings.iter().filter(|a| !leave(&check, at.cylinder, a)) {
                let value = value(asked, asked.reading + at.cylinder.unwrap_or(0));
                writeln!(
                    text,
                    "{},{cylinder},{},{value},gauge 2,KP,2026-03-02T09:30:00Z",
                    check.check, asked.reading
                )
                .unwrap();
            }
        }
    }
    std::fs::write(bench.file(), text).unwrap();
}

#[test]
fn a_job_with_nothing_recorded_says_so_and_that_nothing_was_cut() {
    let bench = Bench::planned();
    let run = report(&bench, &[]);
    assert_eq!(run.status, Some(3), "{}", run.err);
    let words = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("Nothing has been recorded for this job. Nothing was cut"), "{}", run.out);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80 || l.starts_with("written to")), "{}", run.out);
    let checks = bench.checks();
    for check in &checks {
        assert!(run.out.contains(&format!("CHECK {}, ", check.check)), "{}: {}", check.check, run.out);
    }
    let (_, value) = json(&bench);
    assert_eq!(
        value["not_measured"].as_array().unwrap().len(),
        checks.iter().map(|c| c.cylinders.len()).sum::<usize>()
    );
    assert!(value["cylinders"].as_array().unwrap().iter().all(|c| c["cut"].is_null()));
}

#[test]
fn all_measured_and_as_asked_is_go_and_the_short_form_of_the_plan_is_printed() {
    let bench = Bench::planned();
    fill(&bench, |_, _, _| false);
    let run = report(&bench, &[]);
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let plan: Value = serde_json::from_str(&bench.folder.read("out/plan.json")).unwrap();
    let short: String = plan["fingerprint"].as_str().unwrap().chars().take(12).collect();
    let (_, value) = json(&bench);
    assert_eq!(value["short"], short);
    let grouped = format!("{}-{}-{}", &short[..4], &short[4..8], &short[8..]);
    assert!(run.out.contains(&grouped), "{}", run.out);
    assert!(run.out.contains("not measured: nothing that was asked for"), "{}", run.out);
    // Of cylinder 3 the finished bore: 20 readings within 0.001 of 82.
    let hone = value["sizes"]
        .as_array()
        .unwrap()
        .iter()
        .find(|s| s["what"] == "bore" && s["cylinder"] == 3)
        .unwrap();
    assert_eq!((hone["places"][0].as_u64(), hone["lies"].as_str()), (Some(20), Some("within")));
    assert_eq!(hone["ends"], serde_json::json!([81.999, 82.001]));
    assert_eq!(hone["round"]["figure"].as_f64(), Some(0.002));
    let cut = &value["cylinders"][1]["cut"];
    let off = cut["off_told"]["x"].as_f64().unwrap();
    assert!(cut["read"] == 3 && (off - 0.006).abs() < 0.001, "{cut}");
}

#[test]
fn the_customer_is_told_of_findings_that_are_open_though_every_reading_is_as_asked() {
    let bench = Bench::planned();
    fill(&bench, |_, _, _| false);
    let says = |bench: &Bench| -> (Option<i32>, String) {
        let (status, value) = json(bench);
        (status, value["says"].to_string())
    };
    let (status, said) = says(&bench);
    assert!(status == Some(0) && said.contains("measured, and every reading is as asked."), "{said}");
    bench.record("note 3 rift in the ledge --by KP");
    let (status, said) = says(&bench);
    assert_eq!(status, Some(3));
    assert!(!said.contains("every reading is as asked"), "{said}");
    let open = "every reading by itself is as asked; one finding is open: see what is open.";
    assert!(said.contains(open), "{said}");
    // Released by name it is open no more.
    bench.record("release 3 it was a scratch --by LEAD");
    assert!(says(&bench).1.contains("measured, and every reading is as asked."));
}

#[test]
fn what_the_work_did_not_wait_for_and_nobody_recorded_is_told_to_the_customer() {
    let bench = Bench::planned();
    let said = |leave: &dyn Fn(Option<u32>, &Asked) -> bool| {
        fill(&bench, |_, cylinder, asked| leave(cylinder, asked));
        let (status, value) = json(&bench);
        assert_eq!(status, Some(0));
        value["says"].to_string()
    };
    let (tight, off) = ("No pressure test is recorded", "No gauging with the plate off is recorded");
    let all = said(&|_, _| false);
    assert!(!all.contains(tight) && !all.contains(off), "{all}");
    let none = said(&|_, asked| matches!(asked.of, Of::Tight | Of::Off));
    assert!(none.contains(&format!("{tight}.")) && none.contains(&format!("{off}.")), "{none}");
    let one = said(&|cylinder, asked| asked.of == Of::Tight && cylinder == Some(3));
    assert!(one.contains(&format!("{tight} of cylinder 3.")), "{one}");
}

#[test]
fn a_reading_outside_is_not_as_asked_until_the_lead_lets_it_through_by_name() {
    let bench = Bench::planned();
    fill(&bench, |_, _, _| false);
    let check = bench.check(What::Bore, "hone plateau").check;
    let text =
        bench.text().replacen(&format!("\n{check},3,1,"), &format!("\n{check},3,1,82.030 mm,,LM,\n#"), 1);
    std::fs::write(bench.file(), text).unwrap();
    let (status, value) = json(&bench);
    assert_eq!(status, Some(4));
    assert_eq!(value["cylinders"][1]["left"], "not as asked");
    let open = value["open"][0].as_str().unwrap();
    assert!(
        open.contains("diameter at depth 10.0 mm clock 0 82.030 mm, asked 81.990 to 82.010 mm"),
        "{open}"
    );
    bench.record("release 3 the customer takes a piston 0.02 larger --by LM");
    let (status, value) = json(&bench);
    assert_eq!(status, Some(3), "{}", value["open"]);
    assert_eq!(value["cylinders"][1]["left"], "let through by name");
    let run = report(&bench, &[]);
    assert!(run.out.contains("LM decided for cylinder 3"), "{}", run.out);
}

#[test]
fn what_was_not_measured_is_named_and_struck_readings_are_kept_with_their_reason() {
    let bench = Bench::planned();
    let ledge = bench.check(What::Ledge, "flange").check;
    fill(&bench, |check, cylinder, asked| check.check == ledge && cylinder == Some(5) && asked.reading > 2);
    bench.record(&format!("{ledge} 1 +0.002 --again --by KP"));
    let line = bench.text().lines().count();
    bench.record(&format!("strike {line} --because dirt --by KP"));
    bench.record("note the left oil way had a chip in it --by KP");
    let run = report(&bench, &[]);
    assert_eq!(run.status, Some(3), "{}", run.out);
    let words = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains(&format!("CHECK {ledge}, pocket, flange, ledge depth: 2 of 4 of cylinder 5")),
        "{words}"
    );
    assert!(words.contains("struck, and not counted above") && words.contains("dirt"), "{words}");
    assert!(words.contains("the left oil way had a chip in it (KP, "), "{words}");
    assert!(words.contains("2 of 424 readings") || words.contains("2 of "), "{words}");
}

#[test]
fn what_a_later_plan_no_longer_asks_is_still_not_measured() {
    let bench = Bench::planned();
    let rough = bench.check(What::Look, "lower register");
    let lower = bench.check(What::Size, "lower register");
    // The look after roughing was skipped; the register below it is read, so that roughing is behind cylinder 3.
    fill(&bench, |check, cylinder, _| check.check != lower.check || cylinder != Some(3));
    let planned = run(&["plan".as_ref(), bench.folder.job().as_os_str()]);
    assert!(planned.status.is_some(), "{}", planned.err);
    let (_, value) = json(&bench);
    let skipped = value["not_measured"].as_array().unwrap();
    let has = |u: &&Value| u["check"] == rough.check && u["cylinder"] == 3;
    assert!(skipped.iter().any(|u| has(&u)), "{skipped:?}");
}

#[test]
fn the_same_job_gives_the_same_bytes_and_an_inch_job_reads_in_inches() {
    let bench = Bench::planned();
    fill(&bench, |_, _, _| false);
    let written = || {
        ["report.json", "report.pdf", "figures/before-and-after-left.svg"]
            .map(|file| std::fs::read(bench.folder.job().join("report").join(file)).unwrap())
    };
    report(&bench, &[]);
    let first = written();
    report(&bench, &[]);
    assert!(first == written());
    bench.folder.edit("job.yaml", "sheet_units: mm", "sheet_units: in");
    let run = report(&bench, &[]);
    // 82 / 25.4 = 3.22835.
    assert!(run.out.contains("finished at 3.2283 in"), "{}", run.out);
    assert!(run.out.contains("job.yaml is no longer what the plan was made from"), "{}", run.out);
    assert!(!run.out.contains(" mm"), "{}", run.out);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80 || l.starts_with("written to")), "{}", run.out);
}

#[test]
fn a_folder_of_somebodys_own_is_not_replaced_and_without_a_plan_there_is_no_report() {
    let bench = Bench::planned();
    std::fs::create_dir(bench.folder.job().join("report")).unwrap();
    bench.folder.write("report/photo.txt", "mine");
    assert_eq!(report(&bench, &[]).status, Some(2));
    assert_eq!(bench.folder.read("report/photo.txt"), "mine");
    std::fs::remove_file(bench.folder.job().join("out/plan.json")).unwrap();
    let run = report(&bench, &[]);
    assert_eq!(run.status, Some(2));
    assert!(run.err.contains("plan first"), "{}", run.err);
}

#[test]
fn what_a_plan_held_for_and_was_read_since_is_no_longer_told() {
    let bench = Bench::planned();
    let first = bench.checks().into_iter().find(|c| c.check == 2).unwrap();
    let expected = first.at(Some(1)).unwrap().readings[0].expected.unwrap();
    bench.record(&format!("2 1 {expected:.3} mm --by KP"));
    // Issued at hold, for a touch check that nobody read.
    let plan = crate::held::planned(&bench);
    assert_eq!(crate::held::findings(&plan, "touch_unread").len(), 1);
    let told = |bench: &Bench| json(bench).1["open"].to_string();
    assert!(told(&bench).contains("nothing read of CHECK 1"), "{}", told(&bench));
    bench.touch_first(1);
    assert!(!told(&bench).contains("nothing read of CHECK 1"), "{}", told(&bench));
}
