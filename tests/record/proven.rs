//! What must not pass for proven: strikes, releases, places, notes and touch checks that nobody stands for.

use borewright_planner::plan::check::What;
use serde_json::Value;

use crate::bench::Bench;
use crate::common::run;
use crate::held::{findings, plan, planned, prove, verdict};

/// Says one thing of every place of a part of the pocket in a bore.
fn size(bench: &Bench, feature: &str, n: u32, said: &str) {
    let check = bench.check(What::Size, feature);
    for r in check.at(Some(n)).unwrap().readings.iter().filter(|r| r.waits) {
        let run =
            bench.record(&format!("{} {n} {said} --reading {} --again --by KP", check.check, r.reading));
        assert!(matches!(run.status, Some(0 | 3 | 4)), "{}{}", run.out, run.err);
    }
}

fn last_line(bench: &Bench) -> usize {
    bench.text().lines().count()
}

fn plan_to(bench: &Bench, out: &str) -> Option<i32> {
    let job = bench.folder.job();
    run(&["plan".as_ref(), job.as_os_str(), "--out".as_ref(), job.join(out).as_os_str()]).status
}

#[test]
fn a_strike_after_a_release_is_released_anew() {
    let bench = Bench::touched();
    size(&bench, "upper register", 3, "+0.015");
    assert_eq!(verdict(&plan(&bench), 3), "hold");
    bench.record("release 3 fits as it is --by LEAD");
    assert_eq!(verdict(&plan(&bench), 3), "go");
    let run = bench.strike(&(last_line(&bench) - 1).to_string(), "gauge not set");
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    assert_eq!(verdict(&plan(&bench), 3), "hold");
    bench.record("release 3 fits without it --by LEAD");
    assert_ne!(findings(&plan(&bench), "as_cut_released"), []);
}

#[test]
fn a_bank_whose_touch_checks_nobody_read_holds_once_it_is_cut() {
    let bench = Bench::planned();
    size(&bench, "upper register", 3, "+0.001");
    let after = plan(&bench);
    let told = findings(&after, "touch_unread");
    assert!(
        matches!(told.as_slice(), [(of, text)] if of == "bank left" && text.contains("nothing read")),
        "{told:?}"
    );
    assert_eq!([1, 3, 2].map(|n| verdict(&after, n)), ["hold", "hold", "go"]);
    bench.touch();
    assert_eq!(verdict(&plan(&bench), 3), "go");
}

#[test]
fn a_release_of_a_line_is_of_what_stood_there() {
    let bench = Bench::touched();
    size(&bench, "upper register", 3, "+0.001");
    let line = last_line(&bench) - 3;
    let edit = |from: &str, to: &str| {
        let mut lines: Vec<String> = bench.text().lines().map(str::to_owned).collect();
        lines[line - 1] = lines[line - 1].replacen(from, to, 1);
        std::fs::write(bench.file(), lines.join("\n") + "\n").unwrap();
    };
    edit("+0.001", "+0.002");
    assert_eq!(verdict(&plan(&bench), 3), "hold");
    bench.record(&format!("release line {line} was retyped --by LEAD"));
    assert_eq!(verdict(&plan(&bench), 3), "go");
    edit("+0.002", "+0.000");
    assert_eq!(verdict(&plan(&bench), 3), "hold", "another edit is another line");
    // A release from before says nothing of what it is of.
    let text = bench.text();
    let old: Vec<&str> = text.lines().filter(|l| !l.contains(",release,")).collect();
    let release = format!(",,release,line {line} was retyped,,,,,LEAD,,,,,,,,,");
    std::fs::write(bench.file(), format!("{}\n{release}\n", old.join("\n"))).unwrap();
    bench.keep();
    assert_eq!(verdict(&plan(&bench), 3), "go");
}

#[test]
fn lines_that_are_gone_are_missed_wherever_the_plan_is_written() {
    let bench = Bench::planned();
    bench.record("note 3 start --by KP");
    bench.record("crack 3 through --by KP");
    planned(&bench);
    let kept: String = bench.text().lines().take(2).map(|l| format!("{l}\n")).collect();
    std::fs::write(bench.file(), &kept).unwrap();
    assert_eq!(plan_to(&bench, "elsewhere"), Some(3));
    // What was let through is let through; what goes after it is another.
    bench.record("release line 1 it was a scratch --by LEAD");
    assert_eq!(verdict(&planned(&bench), 3), "go");
    let kept = bench.text();
    bench.record("crack 5 through --by KP");
    assert_eq!(verdict(&planned(&bench), 5), "stop");
    std::fs::write(bench.file(), kept).unwrap();
    assert_eq!(verdict(&planned(&bench), 5), "hold");
}

#[test]
fn a_record_that_is_gone_is_no_job_without_one() {
    let bench = Bench::planned();
    bench.record("note 3 start --by KP");
    planned(&bench);
    std::fs::remove_file(bench.file()).unwrap();
    let report = run(&["report".as_ref(), bench.folder.job().as_os_str()]);
    let words = report.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(report.status, Some(3));
    assert!(words.contains("record of this job is gone") && !words.contains("Nothing was cut"), "{words}");
    // A new table does not make up for it.
    let said = bench.record("1 1 nr --by KP");
    let words = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("STAYS AT HOLD: readings/cut.csv line 1"), "{}{}", said.out, said.err);
}

#[test]
fn a_begun_bore_stays_where_it_was_cut_whatever_is_struck() {
    let bench = Bench::touched();
    size(&bench, "upper register", 1, "+0.001");
    let place = bench.text().lines().position(|l| l.starts_with(",1,place,")).unwrap() + 1;
    assert_eq!(bench.record(&format!("strike {place} --because oops")).status, Some(2));
    assert_eq!(bench.strike(&place.to_string(), "another bore's").status, Some(3));
    let told = findings(&plan(&bench), "begun_on");
    assert!(matches!(told.as_slice(), [(of, _)] if of == "cylinder 1"), "{told:?}");
}

#[test]
fn the_record_of_another_customer_holds_until_the_lead_says_that_it_is_the_same() {
    let bench = Bench::touched();
    size(&bench, "upper register", 1, "+0.001");
    bench.folder.edit("job.yaml", "Saltmarsh", "Another");
    let told = findings(&planned(&bench), "begun_on");
    assert!(
        matches!(told.as_slice(), [(of, text)] if of == "the record" && text.contains("Another")),
        "{told:?}"
    );
    bench.record("release the shop took another name --by LEAD");
    assert_eq!(verdict(&plan(&bench), 2), "go");
}

#[test]
fn damage_told_beside_a_reading_or_in_a_reason_holds() {
    let with = |words: &[&'static str]| -> (Option<i32>, Value) {
        let bench = Bench::touched();
        let check = bench.check(What::Size, "upper register").check.to_string();
        let job = bench.folder.job().as_os_str().to_owned();
        let record = |words: &[&str]| {
            let mut all = vec!["record".as_ref(), job.as_os_str()];
            all.extend(words.iter().map(std::ffi::OsStr::new));
            run(&all)
        };
        assert_eq!(record(&[&check, "3", "+0.001", "--by", "KP"]).status, Some(0));
        let line = (last_line(&bench) - 2).to_string();
        let named = |word: &&'static str| match *word {
            "CHECK" => check.clone(),
            "LINE" => line.clone(),
            other => other.to_owned(),
        };
        let words: Vec<String> = words.iter().map(named).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let said = record(&words);
        (said.status, plan(&bench))
    };
    let (status, after) = with(&["CHECK", "3", "+0.002", "--note", "crack seen at the deck", "--by", "KP"]);
    assert_eq!((status, verdict(&after, 3)), (Some(3), "hold"));
    let (status, after) =
        with(&["strike", "LINE", "--because", "the block moved in the clamps", "--by", "KP"]);
    assert_eq!((status, verdict(&after, 3)), (Some(3), "hold"));
    let (status, after) = with(&["CHECK", "3", "+0.002", "--note", "dye: no crack", "--by", "KP"]);
    assert_eq!((status, verdict(&after, 3)), (Some(0), "go"));
    let (status, after) = with(&["CHECK", "3", "-0.002 mm", "--by", "KP"]);
    assert_eq!((status, verdict(&after, 3)), (Some(0), "go"));
}

#[test]
fn a_record_that_lost_lines_proves_no_list() {
    let list = "20-pocket-left.nc";
    let bench = Bench::planned();
    bench.record("note 3 start --by KP");
    let before = bench.text();
    bench.record("crack 3 through --by KP");
    assert_eq!(prove(&bench, list).0, Some(4));
    std::fs::write(bench.file(), &before).unwrap();
    let (status, said) = prove(&bench, list);
    assert!(status == Some(4) && said.contains("not in this record any more"), "{said}");
    // Let through by name it is let through, as in a plan.
    bench.record("release line 1 it was a scratch --by LEAD");
    assert_eq!(prove(&bench, list).0, Some(0));
    std::fs::remove_file(bench.file()).unwrap();
    let (status, said) = prove(&bench, list);
    assert!(status == Some(4) && said.contains("the record of this job is gone"), "{said}");
}

#[test]
fn a_list_whose_work_is_done_or_a_step_of_it_proves_no_more() {
    let list = "20-pocket-left.nc";
    let bench = Bench::planned();
    bench.touch_first(2);
    assert_eq!(prove(&bench, list).0, Some(0));
    for n in [1, 3] {
        size(&bench, "upper register", n, "+0.000");
    }
    let (status, said) = prove(&bench, list);
    assert_eq!(status, Some(0), "bore 5 is to come: {said}");
    size(&bench, "upper register", 5, "+0.000");
    let (status, said) = prove(&bench, list);
    assert!(status == Some(4) && said.contains("upper register, is read whole in all its bores"), "{said}");
}

#[test]
fn a_window_that_a_file_makes_wider_lets_nothing_through() {
    let bench = Bench::touched();
    size(&bench, "upper register", 3, "-0.010");
    assert_eq!(verdict(&planned(&bench), 3), "hold");
    let job = bench.folder.job().join("job.yaml");
    let text = std::fs::read_to_string(&job).unwrap();
    std::fs::write(&job, format!("{text}allowances: {{ pocket_size: 0.012 }}\n")).unwrap();
    let after = planned(&bench);
    assert_eq!(verdict(&after, 3), "hold");
    assert_ne!(findings(&after, "window_widened"), []);
    bench.record("release 3 fits by what was asked of the sleeve --by LEAD");
    assert_eq!(verdict(&planned(&bench), 3), "go");
}

#[test]
fn a_list_planned_after_a_step_was_done_proves_whatever_is_noted_since() {
    let list = "20-pocket-left.nc";
    let bench = Bench::planned();
    bench.touch_first(2);
    for n in [1, 3, 5] {
        size(&bench, "upper register", n, "+0.000");
    }
    planned(&bench);
    bench.record("note 3 started after lunch --by KP");
    let (status, said) = prove(&bench, list);
    assert_eq!(status, Some(0), "{said}");
}

#[test]
fn a_crack_in_the_bore_that_governs_the_roughing_changes_no_pass_of_the_others() {
    // Bore 5 stands 0.13 farther off across than it does, so that the whole bank is roughed in steps for it.
    let bench = Bench::planned_with(|folder| {
        let path = folder.job().join("readings/bores-left.csv");
        let text = std::fs::read_to_string(&path).unwrap();
        let rows = text.lines().map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if cells[0] == "5" {
                cells[3] = format!("{:.3}", cells[3].parse::<f64>().unwrap() + 0.13);
            }
            cells.join(",")
        });
        let text: String = rows.map(|row| row + "\n").collect();
        std::fs::write(&path, text).unwrap();
    });
    bench.touch_first(1);
    let of = |plan: &Value, n: u64| -> Vec<Value> {
        let all = plan["passes"].as_array().unwrap().iter().filter(|p| p["cylinder"] == n);
        all.map(|p| serde_json::json!([p["step"], p["feature"], p["diameter"], p["stock"]])).collect()
    };
    let before = planned(&bench);
    bench.record("crack 5 through --by KP");
    let after = planned(&bench);
    assert_eq!(verdict(&after, 5), "stop");
    for n in [1, 3, 2, 4, 6] {
        assert_eq!(of(&before, n), of(&after, n), "cylinder {n}");
    }
}
