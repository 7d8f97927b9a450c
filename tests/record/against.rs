//! Figures of a record that contradict each other or the plan: none of them is gone on with.

use borewright_planner::plan::Stage;
use borewright_planner::plan::check::{Check, Of, What};

use crate::bench::Bench;
use crate::held::{findings, plan, verdict};

/// Says these figures, one after the other, of a bore's diameters; the statuses.
fn sizes(bench: &Bench, check: &Check, n: u32, said: &[f64]) -> Vec<Option<i32>> {
    let readings = &check.at(Some(n)).unwrap().readings;
    let diameters = readings.iter().filter(|r| r.of == Of::Diameter);
    let say = |(r, figure): (&borewright_planner::plan::check::Asked, &f64)| {
        let run = bench
            .record(&format!("{} {n} {figure:.3} mm --reading {} --again --by KP", check.check, r.reading));
        assert!(matches!(run.status, Some(0 | 3 | 4)), "{}{}", run.out, run.err);
        run.status
    };
    diameters.zip(said).map(say).collect()
}

#[track_caller]
fn held(bench: &Bench, n: u64, words: &str) {
    let after = plan(bench);
    assert_ne!(verdict(&after, n), "go");
    let told = findings(&after, "as_cut");
    assert!(told.iter().any(|(_, text)| text.contains(words)), "{told:?}");
}

const LOWER: [f64; 6] = [88.569, 88.571, 88.570, 88.572, 88.569, 88.570];

#[test]
fn a_head_that_was_set_three_tenths_beside_what_it_cut_passes_nothing_on() {
    for set in ["88.870", "88.470"] {
        let bench = Bench::touched();
        let lower = bench.check(What::Size, "lower register");
        let run = bench.record(&format!("{} 1 set {set} mm --by KP", lower.check));
        assert!(matches!(run.status, Some(3 | 4)), "{}{}", run.out, run.err);
        assert_eq!(sizes(&bench, &lower, 1, &LOWER).last(), Some(&Some(3)));
        held(&bench, 1, "no tool cuts");
    }
    // Two hundredths are the bar's.
    let bench = Bench::touched();
    let lower = bench.check(What::Size, "lower register");
    bench.record(&format!("{} 1 set 88.590 mm --by KP", lower.check));
    assert_eq!(sizes(&bench, &lower, 1, &LOWER).last(), Some(&Some(0)));
}

#[test]
fn a_bore_with_another_ones_figures_was_not_gauged() {
    let bench = Bench::touched();
    let lower = bench.check(What::Size, "lower register");
    assert_eq!(sizes(&bench, &lower, 1, &LOWER).last(), Some(&Some(0)));
    assert_eq!(sizes(&bench, &lower, 3, &LOWER).last(), Some(&Some(3)));
    held(&bench, 3, "those of cylinder 1");
    assert_eq!(verdict(&plan(&bench), 1), "go");
    // One of them a thousandth off is a bore of its own.
    let bench = Bench::touched();
    sizes(&bench, &lower, 1, &LOWER);
    let mut own = LOWER;
    own[4] += 0.001;
    assert_eq!(sizes(&bench, &lower, 3, &own).last(), Some(&Some(0)));
}

#[test]
fn metal_does_not_grow_back_between_two_cuts() {
    let bench = Bench::touched();
    let mut hones: Vec<Check> = bench
        .checks()
        .into_iter()
        .filter(|c| c.stage == Stage::Hone && c.bank == "left" && c.what == What::Size)
        .collect();
    hones.sort_by_key(|c| c.step);
    let [first, second, ..] = hones.as_slice() else { panic!("{hones:?}") };
    let expected = |c: &Check| c.at(Some(1)).unwrap().readings[0].expected.unwrap();
    let after = expected(second);
    sizes(&bench, first, 1, &[after]);
    assert_eq!(sizes(&bench, second, 1, &[after - 0.020]), [Some(3)]);
    held(&bench, 1, "metal does not grow back");
}

#[test]
fn a_bare_hole_wider_than_the_pocket_stops_and_one_narrower_than_its_liner_holds() {
    for (figure, status, words) in [
        ("88.620", Some(4), "nothing of it would clean up"),
        // (88.570 - 88.300) / 2 = 0.135 of the 0.150 that clean up asks for.
        ("88.300", Some(3), "asked all round"),
        // 1.5 over the liner's 86.0, where 1.0 is too much.
        ("87.500", Some(3), "told or read wrong"),
        ("84.000", Some(3), "is it out"),
        ("85.980", Some(0), ""),
    ] {
        let bench = Bench::planned();
        // Beside the lower register, which is cut to 88.570.
        let deep = |r: &&borewright_planner::plan::check::Asked| {
            r.of == Of::Parent && r.depth.is_some_and(|d| (60.0..80.0).contains(&d))
        };
        let checks = bench.checks();
        let (check, reading) = checks
            .iter()
            .find_map(|c| Some((c.check, c.at(Some(1))?.readings.iter().find(deep)?.reading)))
            .unwrap();
        let run = bench.record(&format!("{check} 1 parent {figure} mm --reading {reading} --by KP"));
        assert_eq!(run.status, status, "{}{}", run.out, run.err);
        if status != Some(0) {
            held(&bench, 1, words);
        }
    }
}

#[test]
fn a_flange_that_stands_higher_than_it_is_thick_over_its_ledge_sits_on_something() {
    let bench = Bench::touched();
    let all = |what: What, of: Of, figures: &[f64]| {
        let check = bench.checks().into_iter().find(|c| c.what == what && c.bank == "left").unwrap();
        let readings = check.at(Some(1)).unwrap().readings.clone();
        let own: Vec<_> = readings.iter().filter(|r| r.of == of).collect();
        let mut last = None;
        for (r, figure) in own.iter().zip(figures.iter().cycle()) {
            let run = bench
                .record(&format!("{} 1 {figure:.3} mm --reading {} --again --by KP", check.check, r.reading));
            last = run.status;
        }
        last
    };
    // 8.000 of flange over 7.974 of ledge stands 0.026 proud; 0.048 is in its window and 0.022 more.
    assert_eq!(all(What::Ledge, Of::Depth, &[7.974, 7.975, 7.973]), Some(0));
    assert_eq!(all(What::Protrusion, Of::Height, &[0.048, 0.049]), Some(3));
    held(&bench, 1, "a chip under it");
}

#[test]
fn a_bore_that_springs_as_its_plate_comes_off_and_a_roughness_of_no_stone_hold() {
    let bench = Bench::touched();
    let bore = bench.checks().into_iter().find(|c| c.what == What::Bore && c.bank == "left").unwrap();
    let readings = &bore.at(Some(1)).unwrap().readings;
    for r in readings.iter().filter(|r| r.of == Of::Diameter) {
        bench.record(&format!("{} 1 82.000 mm --reading {} --again --by KP", bore.check, r.reading));
    }
    let off = readings.iter().find(|r| r.of == Of::Off).unwrap();
    let say = |figure: &str| {
        bench
            .record(&format!("{} 1 off {figure} mm --reading {} --again --by KP", bore.check, off.reading))
            .status
    };
    assert_eq!(say("82.300"), Some(3));
    let look = bench.checks().into_iter().find(|c| {
        c.bank == "left" && c.at(Some(1)).is_some_and(|at| at.readings.iter().any(|r| r.of == Of::Roughness))
    });
    let look = look.unwrap();
    assert_eq!(bench.record(&format!("{} 1 ra 9 --by KP", look.check)).status, Some(3));
    // As asked, and told to stay held all the same: nobody read what comes before it.
    let run = bench.record(&format!("{} 3 ra 0.4 --by KP", look.check));
    assert!(run.out.contains("\n  cylinder 3 STAYS AT"), "{}", run.out);
    assert_eq!(run.status, Some(0));
}

#[test]
fn a_reading_is_not_judged_by_the_plan_of_another_job() {
    let bench = Bench::planned();
    let other = Bench::planned_with(|folder| folder.edit("job.yaml", "job: \"0412\"", "job: \"0413\""));
    let plan = other.folder.out().join("plan.json");
    let words = format!("1 1 89.000 --by KP --plan {}", plan.display());
    let run = bench.record(&words);
    assert_eq!(run.status, Some(2), "{}", run.out);
    assert!(run.err.contains("the plan of job 0413"), "{}", run.err);
    assert_eq!(bench.text(), "");
    // A copied folder brings its plan along.
    bench.folder.edit("job.yaml", "job: \"0412\"", "job: \"0414\"");
    let run = bench.record("1 1 89.000 --by KP");
    assert_eq!(run.status, Some(2), "{}", run.out);
    assert!(run.err.contains("the plan of job 0412"), "{}", run.err);
    let report = crate::common::run(&["report".as_ref(), bench.folder.job().as_os_str()]);
    assert_eq!(report.status, Some(2), "{}", report.out);
}
