//! Planning again with a record: cut is cut, the rest is left alone.

use borewright_planner::plan::check::What;
use serde_json::Value;

use crate::bench::Bench;
use crate::common::run;

fn plan(bench: &Bench) -> (String, Value) {
    let run = run(&["plan".as_ref(), bench.folder.job().as_os_str()]);
    let text = std::fs::read_to_string(bench.folder.job().join("out/plan.json")).unwrap();
    (format!("{}{}", run.out, run.err), serde_json::from_str(&text).unwrap())
}

fn cylinder(plan: &Value, n: u64) -> &Value {
    plan["cylinders"].as_array().unwrap().iter().find(|c| c["cylinder"] == n).unwrap()
}

fn steps(plan: &Value, n: u64, stage: &str) -> Vec<u64> {
    let passes = plan["passes"].as_array().unwrap();
    let own = passes.iter().filter(|p| p["cylinder"] == n && p["stage"] == stage);
    own.map(|p| p["step"].as_u64().unwrap()).collect()
}

/// Readings of a whole check on a cylinder, each so much off.
fn all(bench: &Bench, what: What, feature: &str, n: u32, off: &str) {
    let check = bench.check(what, feature);
    let waiting = check.at(Some(n)).unwrap().readings.iter().filter(|r| r.waits).count();
    for _ in 0..waiting {
        let run = bench.record(&format!("{} {n} {off} --by KP --again", check.check));
        assert!(matches!(run.status, Some(0 | 3 | 4)), "{}{}", run.out, run.err);
    }
}

#[test]
fn nothing_recorded_leaves_every_byte_alone() {
    let bench = Bench::planned();
    let before = plan(&bench).1;
    bench.record("note the drawing is torn --by KP");
    let (said, after) = plan(&bench);
    for n in 1..=6 {
        assert_eq!(cylinder(&before, n)["fingerprint"], cylinder(&after, n)["fingerprint"], "{said}");
    }
    assert_eq!(before["lists"], strip(&after["lists"]), "{said}");
    assert_eq!(before["passes"], after["passes"]);
    assert_eq!(before["checks"], after["checks"]);
}

/// Lists without the mark of an earlier plan's head.
fn strip(lists: &Value) -> Value {
    let mut lists = lists.clone();
    for list in lists.as_array_mut().unwrap() {
        list.as_object_mut().unwrap().remove("issued");
    }
    lists
}

#[test]
fn a_register_that_is_cut_and_right_is_behind_and_the_others_are_untouched() {
    let bench = Bench::touched();
    let before = plan(&bench).1;
    all(&bench, What::Size, "upper register", 3, "+0.001");
    let (said, after) = plan(&bench);
    // Roughing and the upper register are behind cylinder 3; what is left begins with the wet length.
    assert!(steps(&after, 3, "rough").is_empty(), "{said}");
    assert_eq!(steps(&after, 3, "pocket"), steps(&before, 3, "pocket")[1..]);
    assert_eq!(steps(&after, 1, "rough"), steps(&before, 1, "rough"));
    for n in [1, 2, 4, 5, 6] {
        assert_eq!(cylinder(&before, n)["fingerprint"], cylinder(&after, n)["fingerprint"], "{n}: {said}");
        assert_eq!(cylinder(&after, n)["verdict"], "go");
    }
    assert_ne!(cylinder(&before, 3)["fingerprint"], cylinder(&after, 3)["fingerprint"]);
    // The right bank's lists stay as they were issued, byte for byte; the left's rough and pocket do not.
    let sums = |plan: &Value, file: &str| {
        let lists = plan["lists"].as_array().unwrap();
        lists.iter().find(|l| l["file"] == file).map(|l| l["sha256"].clone()).unwrap()
    };
    for list in ["30-rough-right", "40-pocket-right", "60-finish-right"] {
        let file = format!("lists/{list}.nc");
        assert_eq!(sums(&before, &file), sums(&after, &file), "{list}");
    }
    for list in ["10-rough-left", "20-pocket-left"] {
        let file = format!("lists/{list}.nc");
        assert_ne!(sums(&before, &file), sums(&after, &file), "{list}");
    }
    assert!(
        said.contains("CHANGE CARD") && said.contains("VOID, put away: lists lists/10-rough-left.nc"),
        "{said}"
    );
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("good as they are: cylinders 1 ("), "{said}");
    // Every list still proves, and the numbers of the checks stand.
    assert_eq!(before["checks"].as_array().unwrap().len(), after["checks"].as_array().unwrap().len());
    let list = bench.folder.job().join("out/lists/30-rough-right.nc");
    let json = bench.folder.job().join("out/plan.json");
    let proof = run(&["prove".as_ref(), list.as_os_str(), "--plan".as_ref(), json.as_os_str()]);
    assert_eq!(proof.status, Some(0), "{}{}", proof.out, proof.err);
}

#[test]
fn a_pocket_cut_too_large_holds_its_bore_alone_until_the_lead_releases_it() {
    let bench = Bench::touched();
    all(&bench, What::Size, "upper register", 3, "+0.015");
    let (said, after) = plan(&bench);
    assert_eq!(cylinder(&after, 3)["verdict"], "hold", "{said}");
    assert!(steps(&after, 3, "finish").is_empty(), "what is held is not planned on");
    for n in [1, 2, 4, 5, 6] {
        assert_eq!(cylinder(&after, n)["verdict"], "go", "{said}");
    }
    assert!(said.contains("CHECK") && said.contains("0.009 mm larger"), "{said}");
    // It can still be written on, and let through.
    let run = bench.record("release 3 fits 0.005 tight, shown to the customer --by LEAD");
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let (said, after) = plan(&bench);
    assert_eq!(cylinder(&after, 3)["verdict"], "go", "{said}");
    assert!(!steps(&after, 3, "finish").is_empty());
    let text = after["findings"].to_string();
    assert!(text.contains("released by LEAD"), "{text}");
}

#[test]
fn a_ledge_cut_deep_is_planned_on_with_its_own_depth() {
    let bench = Bench::touched();
    all(&bench, What::Ledge, "flange", 3, "+0.009");
    let (said, after) = plan(&bench);
    // 7.965 + 0.009 within 0.010; the flange then stands 8.000 - 7.974 = 0.026 proud, asked 0.020 to 0.050.
    assert_eq!(cylinder(&after, 3)["verdict"], "go", "{said}");
    let checks = after["checks"].as_array().unwrap();
    let proud = checks.iter().find(|c| c["what"] == "protrusion" && c["bank"] == "left").unwrap();
    let own = proud["cylinders"].as_array().unwrap().iter().find(|c| c["cylinder"] == 3).unwrap();
    let expected = own["readings"][0]["expected"].as_f64().unwrap();
    assert!((expected - 0.026).abs() < 1e-9, "{expected}");
    assert_eq!(own["readings"][0]["least"], 0.02);
}

#[test]
fn a_bore_that_is_cut_stays_where_it_is_when_the_readings_of_the_block_change() {
    let bench = Bench::touched();
    let before = plan(&bench).1;
    all(&bench, What::Size, "lower register", 3, "+0.001");
    // The parent bore follows another aim now: the uncut bores move, the cut one stays.
    bench.folder.edit("job.yaml", "aim: journal", "aim: parent");
    let (said, after) = plan(&bench);
    assert_eq!(cylinder(&before, 3)["planned"], cylinder(&after, 3)["planned"], "{said}");
    assert_ne!(cylinder(&before, 1)["planned"], cylinder(&after, 1)["planned"]);
}

#[test]
fn a_crack_stops_its_bore_and_a_touched_block_its_bank_until_it_is_read_again() {
    let bench = Bench::planned();
    bench.record("crack 5 from the stud hole --by KP");
    let (said, after) = plan(&bench);
    assert_eq!(cylinder(&after, 5)["verdict"], "stop", "{said}");
    assert_eq!(cylinder(&after, 1)["verdict"], "go");
    let bench = Bench::planned();
    let touch = bench.check(What::Touch, "datum");
    let read = |bench: &Bench, off: f64, leave: &[&str]| {
        for at in &touch.cylinders {
            let of = at.cylinder.map_or_else(|| "-".to_owned(), |c| c.to_string());
            for r in &at.readings {
                let said = if leave.contains(&r.of.words()) {
                    "nr".to_owned()
                } else {
                    format!("{:.3} mm", r.expected.unwrap() + off)
                };
                let run = bench
                    .record(&format!("{} {of} {said} --reading {} --by KP --again", touch.check, r.reading));
                assert!(matches!(run.status, Some(0 | 3 | 4)), "{}{}", run.out, run.err);
            }
        }
    };
    read(&bench, 0.0, &[]);
    bench.record("moved bumped --by KP");
    let (said, after) = plan(&bench);
    assert_eq!(cylinder(&after, 1)["verdict"], "hold", "{said}");
    assert_eq!(cylinder(&after, 2)["verdict"], "go", "the other bank is not on the machine");
    // X alone, or nothing but `nr`, says not where the block stands now.
    for leave in [["Y", "Z"], ["X", "Y"]] {
        read(&bench, 0.0, &leave);
        let (said, after) = plan(&bench);
        assert_eq!(cylinder(&after, 1)["verdict"], "hold", "{said}");
        let text = after["findings"].to_string();
        assert!(text.contains("was not read since, within its window and where it stood before: "), "{text}");
        assert!(after["lists"].as_array().unwrap().iter().all(|l| l["bank"] != "left"), "{said}");
    }
    read(&bench, 0.0, &[]);
    let (said, after) = plan(&bench);
    assert_eq!(cylinder(&after, 1)["verdict"], "go", "{said}");
}
