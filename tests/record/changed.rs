//! What was recorded or let through, and no longer is what is planned: sleeves exchanged, files changed, checks passed over.

use std::fs;

use borewright_planner::plan::check::{Check, Of, What};

use crate::answers::with_sleeves;
use crate::bench::Bench;
use crate::held::{findings, plan, planned, verdict};

/// Figures of a check on a bore, in the order of its readings that the work waits for.
fn figures(bench: &Bench, check: &Check, n: u32, values: &[f64]) -> Option<i32> {
    let waiting = check.at(Some(n)).unwrap().readings.iter().filter(|r| r.waits);
    let mut last = None;
    for (asked, value) in waiting.zip(values) {
        let run = bench.record(&format!(
            "{} {n} {value:.4} mm --reading {} --again --by KP",
            check.check, asked.reading
        ));
        assert!(matches!(run.status, Some(0 | 3)), "{}{}", run.out, run.err);
        last = run.status;
    }
    last
}

/// What is expected of each reading of a bore that the work waits for.
fn expected(check: &Check, n: u32) -> Vec<f64> {
    check.at(Some(n)).unwrap().readings.iter().filter(|r| r.waits).filter_map(|r| r.expected).collect()
}

fn off(values: &[f64], by: &[f64]) -> Vec<f64> {
    values.iter().zip(by.iter().cycle()).map(|(v, by)| v + by).collect()
}

#[test]
fn a_release_is_of_the_files_that_the_lead_looked_at() {
    let bench = Bench::touched();
    let register = bench.check(What::Size, "upper register");
    let large = off(&expected(&register, 3), &[0.015]);
    figures(&bench, &register, 3, &large);
    assert_eq!(verdict(&planned(&bench), 3), "hold");
    assert_eq!(bench.record("release 3 fits 0.005 tight, shown to the customer --by LEAD").status, Some(0));
    assert_eq!(verdict(&planned(&bench), 3), "go");
    // Planning again changes nothing of that, nor does what is recorded of another bore.
    figures(&bench, &register, 1, &expected(&register, 1));
    assert_eq!(verdict(&planned(&bench), 3), "go");
    let axis = bench.folder.job().join("readings/axis-left.csv");
    let text = fs::read_to_string(&axis).unwrap();
    assert!(text.contains("2,-39.350,18.435"));
    fs::write(&axis, text.replace("2,-39.350,18.435", "2,-39.350,18.434")).unwrap();
    let after = planned(&bench);
    assert_eq!(verdict(&after, 3), "hold");
    let told = findings(&after, "as_cut");
    assert!(told.iter().any(|(_, t)| t.contains("given before the job's files were changed")), "{told:?}");
    // Looked at again, and let through again.
    assert_eq!(bench.record("release 3 axis swept again, still fits 0.005 tight --by LEAD").status, Some(0));
    assert_eq!(verdict(&planned(&bench), 3), "go");
}

#[test]
fn a_bore_and_a_flange_that_are_right_at_each_place_are_judged_by_their_shape_too() {
    let bench = Bench::touched();
    let bore = bench.checks().into_iter().find(|c| c.what == What::Bore && c.bank == "left").unwrap();
    let nominal = expected(&bore, 1);
    let clocks =
        bore.at(Some(1)).unwrap().readings.iter().filter(|r| r.waits && r.clock == Some(0.0)).count();
    let ways = nominal.len() / clocks;
    // Out of round by 0.017 at every depth, each figure within 0.010.
    let mut round = vec![0.0; ways];
    round[0] = -0.009;
    round[ways / 2] = 0.008;
    assert_eq!(figures(&bench, &bore, 1, &off(&nominal, &round)), Some(3));
    // 0.016 wider at the top than at the bottom.
    let taper: Vec<f64> = bore
        .at(Some(3))
        .unwrap()
        .readings
        .iter()
        .filter(|r| r.waits && r.depth.is_some())
        .map(|r| 0.008 - 0.016 * (r.depth.unwrap() - 10.0) / 121.0)
        .collect();
    assert_eq!(figures(&bench, &bore, 3, &off(&expected(&bore, 3), &taper)), Some(3));
    // Thousandths of both are what a good stone leaves.
    assert_eq!(figures(&bench, &bore, 5, &off(&expected(&bore, 5), &[-0.002, 0.001, 0.003, 0.0])), Some(0));

    let flange = bench.checks().into_iter().find(|c| c.what == What::Protrusion && c.bank == "left").unwrap();
    assert_eq!(figures(&bench, &flange, 1, &off(&expected(&flange, 1), &[-0.014, 0.014])), Some(3));
    // Level, and 0.028 under its neighbour; its bore, which tapers, holds it still.
    assert_eq!(figures(&bench, &flange, 3, &off(&expected(&flange, 3), &[-0.014])), Some(3));
    assert_eq!(figures(&bench, &flange, 5, &off(&expected(&flange, 5), &[0.014])), Some(3));
    let ledge = bench.checks().into_iter().find(|c| c.what == What::Ledge && c.bank == "left").unwrap();
    assert_eq!(figures(&bench, &ledge, 1, &off(&expected(&ledge, 1), &[-0.009, 0.0, 0.009, 0.0])), Some(3));
    assert_eq!(figures(&bench, &ledge, 5, &off(&expected(&ledge, 5), &[-0.003, 0.0, 0.003, 0.0])), Some(3));
}

#[test]
fn bores_that_all_stand_off_alike_are_a_zero_that_is_off() {
    let touched_at = |x: f64, by: [f64; 2]| {
        let bench = Bench::planned();
        let touch = bench.checks().into_iter().find(|c| c.what == What::Touch && c.bank == "left").unwrap();
        let mut last = None;
        for (at, off) in touch.cylinders.iter().filter(|at| at.cylinder.is_some()).zip(by) {
            for asked in at.readings.iter().filter(|r| r.waits && matches!(r.of, Of::X | Of::Y)) {
                let off = if asked.of == Of::Y { off } else { x };
                let value = asked.expected.unwrap() + off;
                let n = at.cylinder.unwrap();
                let run = bench.record(&format!(
                    "{} {n} {value:.3} mm --reading {} --by KP",
                    touch.check, asked.reading
                ));
                last = last.max(run.status);
            }
        }
        last
    };
    let touched = |by| touched_at(0.002, by);
    assert_eq!(touched([0.045, 0.044]), Some(3));
    assert_eq!(touched([-0.04, -0.045]), Some(3));
    // One bore's own, and what a careful hand repeats to.
    assert_eq!(touched([0.045, -0.01]), Some(0));
    assert_eq!(touched([0.012, 0.015]), Some(0));
    // A zone of 0.05 has a radius of 0.025: 0.034 in the mean leaves nothing of it, 0.021 does.
    assert_eq!(touched_at(0.024, [0.024, 0.024]), Some(3));
    assert_eq!(touched_at(-0.024, [0.024, 0.023]), Some(3));
    assert_eq!(touched_at(0.015, [0.015, 0.015]), Some(0));
}

#[test]
fn a_pocket_that_was_cut_for_one_sleeve_holds_where_another_is_to_go_in() {
    let bench = with_sleeves();
    bench.touch();
    for feature in ["upper register", "lower register"] {
        let check = bench.check(What::Size, feature);
        figures(&bench, &check, 3, &expected(&check, 3));
    }
    let ledge = bench.checks().into_iter().find(|c| c.what == What::Ledge && c.bank == "left").unwrap();
    figures(&bench, &ledge, 3, &expected(&ledge, 3));
    let before = plan(&bench);
    assert_eq!(verdict(&before, 3), "go");
    // S8's upper register is 0.015 larger than any that was planned, its flange 0.05 thicker.
    assert_eq!(bench.record("sleeve S8 for 3 --by KP").status, Some(0));
    let after = plan(&bench);
    assert_eq!(verdict(&after, 3), "hold");
    let told = findings(&after, "sleeve_changed");
    assert!(told.iter().any(|(s, t)| s == "cylinder 3" && t.contains("upper register")), "{told:?}");
    assert_eq!(verdict(&after, 1), "go");
    // The lead lets it through, or the sleeve that it was cut for comes back.
    assert_eq!(bench.record("release 3 S8 was dressed to fit --by LEAD").status, Some(0));
    assert_eq!(verdict(&plan(&bench), 3), "go");
}

#[test]
fn a_deck_that_nobody_read_holds_its_bank_once_something_after_it_was() {
    let bench = Bench::planned_with(|folder| {
        folder.edit("job.yaml", "aim: journal", "aim: journal\ndeck: { cut: 0.15, when: before_fit }");
    });
    let deck = bench.checks().into_iter().find(|c| c.what == What::Deck && c.bank == "left").unwrap();
    let of = |c: &Check| {
        c.bank == "left" && c.step > deck.step && c.cylinders.iter().any(|a| a.cylinder == Some(1))
    };
    let later = bench.checks().into_iter().find(of).unwrap();
    for asked in later.at(Some(1)).unwrap().readings.iter().filter(|r| r.waits) {
        let said = asked.expected.map_or("ok".to_owned(), |e| format!("{e:.3} {}", asked.unit));
        bench.record(&format!("{} 1 {said} --reading {} --by KP", later.check, asked.reading));
    }
    let told = findings(&plan(&bench), "passed_over");
    assert!(told.iter().any(|(s, t)| s == "bank left" && t.contains("count from that deck")), "{told:?}");
}

#[test]
fn a_size_of_a_pocket_that_is_cut_warm_says_how_warm_it_was() {
    let bench = Bench::planned_with(|folder| {
        folder.edit(
            "job.yaml",
            "temperature: { block: 20.0, machine: 20.0 }",
            "temperature: { block: 20.0, machine: 20.0, cutting: { block: 30.0, machine: 20.0 } }",
        );
    });
    let size = bench.check(What::Size, "upper register");
    let run = bench.record(&format!("{} 3 +0.001 --by KP", size.check));
    assert_ne!(run.status, Some(0), "{}", run.out);
    assert!(run.out.contains("--temperature"), "{}", run.out);
    // Read at 30 degrees: 89.78 x 22e-6 x 10 = 0.020 larger than at 20.
    let run = bench.record(&format!("{} 1 +0.020 --temperature 30 --by KP", size.check));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
}
