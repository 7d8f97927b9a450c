//! Jobs of every kind: whatever is planned is proven, wherever it stands on the machine and whatever holds it.

#[path = "../scenarios/bench.rs"]
mod bench;

use borewright_planner::job::{Front, Job, ReadingFrame};
use borewright_planner::plan::{InchesWord, ListUnits, Release};
use borewright_planner::{load, plan_job};
use proptest::prelude::*;

use crate::common::root;
use crate::sample::{Sample, of, said, sample};

/// Turns everything that was read in the machine about its upright axis, and moves it.
fn moved(job: &Job, turn_deg: f64, [dx, dy]: [f64; 2]) -> Job {
    let mut job = job.clone();
    let (sin, cos) = turn_deg.to_radians().sin_cos();
    let place = |x: f64, y: f64| [x * cos - y * sin + dx, x * sin + y * cos + dy];
    for set_up in &mut job.set_ups {
        if turn_deg.abs() > 90.0 {
            set_up.front = Front::Right;
        }
        let ReadingFrame::Machine(read) = &mut set_up.frame else {
            panic!("the sample is read in the machine")
        };
        // Where the datum's plane across the block crosses the axis.
        let y = read.axis.iter().map(|a| a.at_mm[1]).sum::<f64>()
            / f64::from(u32::try_from(read.axis.len()).unwrap());
        read.along_x_mm = place(read.along_x_mm, y)[0];
        for at in read.axis.iter_mut().map(|a| &mut a.at_mm).chain(&mut read.deck_mm) {
            [at[0], at[1]] = place(at[0], at[1]);
        }
        for bore in &mut set_up.bores {
            bore.centre_mm = place(bore.centre_mm[0], bore.centre_mm[1]);
        }
    }
    job
}

/// The same job on a machine whose lists are in inches.
fn in_inches(job: &Job) -> Job {
    let mut job = job.clone();
    job.machine.list_units = ListUnits::In(InchesWord::G20);
    job
}

fn assert_proven(sample: &Sample) -> usize {
    let findings = &sample.planning.plan.findings;
    assert!(!findings.iter().any(|f| f.code == "list_not_proven"), "{findings:?}");
    for (name, words, table) in &sample.lists {
        let proof = borewright_planner::prove::prove(words, Some(table), name, &sample.reference());
        assert!(proof.proven, "{name}: {}", said(&proof));
    }
    sample.lists.len()
}

fn job() -> &'static Job {
    static JOB: std::sync::OnceLock<Job> = std::sync::OnceLock::new();
    JOB.get_or_init(|| load(&root().join("blocks/jobs/petrel-0412")).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4))]

    #[test]
    fn a_block_put_down_anyhow_gives_lists_that_prove(turn in -1.5..1.5_f64, about: bool, dx in -20.0..20.0_f64, dy in -20.0..20.0_f64) {
        let job = moved(job(), if about { turn + 180.0 } else { turn }, [dx, dy]);
        prop_assert_eq!(assert_proven(&of(plan_job(in_inches(&job), None).unwrap())), 6);
        let sample = of(plan_job(job, None).unwrap());
        prop_assert_eq!(assert_proven(&sample), 6);
        // The list of another place on the machine is not the list of this one.
        let other = crate::sample::sample().list("10-rough");
        prop_assert!(!sample.prove(other).proven);
    }

    #[test]
    fn bores_on_their_limits_keep_them_when_their_centres_are_printed(
        off in prop::array::uniform8(prop::array::uniform2(-0.3..0.3_f64)),
        walls in prop::collection::vec((1_u32..9, 0.0..360.0_f64, 3.9..4.6_f64), 8..24),
        right: bool,
    ) {
        let mut bench = bench::Bench { front: if right { "right" } else { "left" }, ..bench::Bench::default() }.block_of(off);
        bench.limits = "position: 0.8, clean_up: 0.05, parent_wall: { least: 2.0, prefer: 2.6 }, bridge: 4.9".into();
        for (cylinder, clock, wall) in walls {
            bench = bench.wall(cylinder, 70.0, (clock * 10.0).round() / 10.0, (wall * 100.0).round() / 100.0);
        }
        let folder = bench.write();
        let job = load(folder.path()).unwrap();
        let release = Release { who: "A. Lead".into(), why: "read again".into() };
        // As many lists in either unit: a limit kept by the thousandth is kept by the ten-thousandth of an inch.
        let inch = plan_job(in_inches(&job), Some(release.clone())).unwrap();
        let planning = plan_job(job, Some(release)).unwrap();
        prop_assert_eq!(assert_proven(&of(planning)), assert_proven(&of(inch)));
    }
}

#[test]
fn limits_in_reach_of_rounding_go_into_the_plan() {
    let mut bench = bench::Bench::default().bore(6, [0.0, -0.30]);
    bench.limits = "position: 0.8, clean_up: 0.05, parent_wall: { least: 2.5, prefer: 3.0 }".into();
    bench.barrels = vec![104.03];
    let job = load(bench.wall(6, 70.0, 90.0, 4.1).write().path()).unwrap();
    let release = Release { who: "A. Lead".into(), why: "read again".into() };
    let sample = of(plan_job(job, Some(release)).unwrap());
    let plan: serde_json::Value = serde_json::from_str(&sample.plan).unwrap();
    let near = &plan["lists"][0]["proof"]["near"][0];
    assert_eq!((&near["cylinder"], &near["limit"]), (&6.into(), &"parent_wall".into()));
    assert!(
        near["margin"].as_f64().unwrap() < 0.002 && near["towards"][1].as_f64().unwrap() < -0.99,
        "{near}"
    );
    assert!(assert_proven(&sample) > 0);
}

#[test]
fn a_list_proves_against_its_own_plan_only() {
    let other = of(plan_job(load(&root().join("blocks/invalid/base-vee")).unwrap(), None).unwrap());
    for (name, words, _) in &sample().lists {
        let proof = other.prove(words);
        assert!(!proof.proven, "{name}");
        assert!(proof.flaws.iter().any(|f| f.code == "fingerprint" || f.code == "unknown_list"));
    }
}

/// The sample with more in its job and its machine.
fn sample_with(job: &str, machine: &str) -> Sample {
    let folder = crate::common::Folder::sample();
    folder.write("job.yaml", folder.read("job.yaml") + job);
    let path = folder.place().join("machines/column-mill.yaml");
    let shipped = std::fs::read_to_string(&path).unwrap();
    std::fs::write(path, shipped.replace("\nhone:", &format!("\n{machine}hone:"))).unwrap();
    let job = load(folder.job()).unwrap_or_else(|faults| panic!("{faults}"));
    of(plan_job(job, None).unwrap())
}

const MILL: &str = "  - { name: step cutter, kind: milling, diameter: 40.0, reach: 190.0, step_down: 3.0, \
                    cuts: { aluminium: { speed: 300, feed: 0.3, depth: 3.0 } } }\nmill: [flange, wet]\n";

#[test]
fn a_pocket_that_is_milled_proves_and_its_helix_spoiled_does_not() {
    let sample = sample_with("", MILL);
    assert_eq!(assert_proven(&sample), 6);
    let pocket = sample.list("20-pocket");
    assert!(pocket.matches(" G3 ").count() > 20);
    // The first round of the helix a tenth wider, the last flat one left out, the other way down.
    let helix: Vec<&str> = pocket.lines().filter(|l| l.contains(" G3 ")).collect();
    let wider = helix[1].replace('I', "I-0.100 (").replacen(" J", ") J", 1);
    assert!(!sample.prove(&pocket.replace(helix[1], &wider)).proven);
    for (index, row) in helix.iter().enumerate().take(30) {
        let lost: String = pocket.lines().filter(|l| l != row).map(|l| format!("{l}\n")).collect();
        let found = sample.prove(&lost);
        assert!(
            found.flaws.iter().any(|f| !matches!(f.code, "rows" | "gap" | "sum_x" | "sum_y")),
            "{index}: {row}\n{}",
            said(&found)
        );
        let clockwise = sample.prove(&pocket.replace(row, &row.replace("G3", "G2")));
        // The other way round cuts with the other side of the cutter, and a half turn is another half.
        let side = clockwise.flaws.iter().any(|f| f.code == "side_of_cut" && f.line.is_some());
        assert!(side, "{row}\n{}", said(&clockwise));
    }
}

#[test]
fn a_pocket_that_is_milled_proves_in_inches_and_spoiled_does_not() {
    let job = sample_with("", MILL).planning.job;
    let sample = of(plan_job(in_inches(&job), None).unwrap());
    assert_eq!(assert_proven(&sample), 6);
    let pocket = sample.list("20-pocket");
    let rows: Vec<&str> = pocket.lines().filter(|l| l.contains(" G3 ")).collect();
    assert!(rows.len() > 20);
    for row in rows.iter().take(12) {
        let lost: String = pocket.lines().filter(|l| l != row).map(|l| format!("{l}\n")).collect();
        let found = sample.prove(&lost);
        let counted = |code| matches!(code, "rows" | "gap" | "sum_x" | "sum_y");
        assert!(found.flaws.iter().any(|f| !counted(f.code)), "{row}\n{}", said(&found));
        // A centre two hundredths of an inch off, and one as a list in mm has it.
        let i = row.split(" I").nth(1).unwrap().split(' ').next().unwrap();
        let value: f64 = i.parse().unwrap();
        for other in [value + 0.02, value * 25.4] {
            let new = row.replace(&format!("I{i}"), &format!("I{other:.4}"));
            assert!(!sample.prove(&pocket.replace(row, &new)).proven, "{new}");
        }
    }
}

#[test]
fn lists_from_a_deck_that_was_cut_count_from_what_is_left() {
    // Cut with the sleeves in, this sleeve would lose its protrusion: that plan has no lists.
    let sample = sample_with("deck: { cut: 0.12 }\n", "");
    assert_eq!(assert_proven(&sample), 6);
    let plan: serde_json::Value = serde_json::from_str(&sample.plan).unwrap();
    let off: Vec<f64> =
        plan["lists"].as_array().unwrap().iter().map(|l| l["proof"]["cut_off"].as_f64().unwrap()).collect();
    assert_eq!(off, [0.0, 0.0, 0.0, 0.0, 0.12, 0.12]);
    // The depth as it would be from the deck that is gone.
    let finish = sample.list("50-finish");
    let deep = finish.lines().find(|l| l.contains("G1 Z-14")).unwrap();
    let z: f64 = deep.split(" Z").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    let from_old = deep.replace(&format!("Z{z:.3}"), &format!("Z{:.3}", z - 0.12));
    assert!(!sample.prove(&finish.replace(deep, &from_old)).proven);
}

#[test]
fn lists_by_the_cylinder_are_told_apart_by_their_numbers() {
    let sample = sample_with("lists: cylinder\n", "");
    assert_eq!(assert_proven(&sample), 18);
}

#[test]
fn a_head_set_anew_for_one_bore_is_held_against_that_bore() {
    let sample = sample();
    let mut plan = crate::sample::bare(&sample.plan);
    let passes = plan["passes"].as_array_mut().unwrap();
    // The second bore of the first pocket step gets a pocket of its own, six thousandths wider.
    let [first, second] = {
        let mut own = passes.iter_mut().filter(|p| p["stage"] == "pocket" && p["bank"] == "left");
        [own.next().unwrap(), own.next().unwrap()]
    };
    let (step, common) = (first["step"].as_u64().unwrap(), first["diameter"].as_f64().unwrap());
    assert_eq!(second["step"].as_u64(), Some(step));
    second["diameter"] = (common + 0.006).into();
    let other = second["cylinder"].as_u64().unwrap();
    let reference = borewright_planner::prove::Reference::parse("plan.json", &plan.to_string()).unwrap();
    let words = sample.list("20-pocket");
    let codes = |words: &str| -> Vec<&'static str> {
        let proof = borewright_planner::prove::prove(words, None, "x.nc", &reference);
        proof
            .flaws
            .iter()
            .map(|f| f.code)
            .filter(|c| !matches!(*c, "rows" | "gap" | "numbering" | "touch_missing"))
            .collect()
    };
    assert_eq!(codes(words), ["diameter"], "the head is not set anew");
    let line = words.lines().find(|l| l.starts_with(&format!("(cylinder {other},"))).unwrap();
    let set = |diameter: f64| {
        let stop =
            format!("(step {step} - finish bar set to {diameter:.3} mm, cylinder {other})\nN91 M0\n{line}");
        words.replacen(line, &stop, 1)
    };
    // The third bore would then need the common setting again.
    assert_eq!(codes(&set(common + 0.006)), ["diameter"]);
    assert!(codes(&set(common + 0.1)).len() > 1);
}
