//! What the readings of the sample deny although each of them is right by itself: size along the block, a centre copied down.

use std::path::Path;

use borewright_planner::job::{Job, ReadingFrame};
use borewright_planner::plan::Verdict;
use borewright_planner::{load, plan_job};

fn petrel() -> Job {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks/jobs/petrel-0412"))
        .unwrap_or_else(|faults| panic!("{faults}"))
}

#[track_caller]
fn asked(job: Job, code: &str) -> Verdict {
    let planned = plan_job(job, None).unwrap();
    let found = planned.plan.findings.iter().filter(|f| f.code == code).map(|f| f.verdict).max();
    found.unwrap_or_else(|| panic!("no {code}: {:?}", planned.plan.findings))
}

/// All that was read of a block so much larger than it is at the machine's temperature; its temperatures are told as equal.
fn warmer(mut job: Job, ppm: f64) -> Job {
    let by = 1.0 + ppm * 1e-6;
    for set_up in &mut job.set_ups {
        let ReadingFrame::Machine(read) = &mut set_up.frame else {
            panic!("the sample is read in the machine")
        };
        read.along_x_mm *= by;
        let points =
            read.axis.iter_mut().chain(&mut read.mains).map(|a| &mut a.at_mm).chain(&mut read.deck_mm);
        points.flatten().for_each(|mm| *mm *= by);
        for bore in &mut set_up.bores {
            bore.centre_mm.iter_mut().for_each(|mm| *mm *= by);
            bore.diameter_mm *= by;
        }
    }
    job
}

#[test]
fn a_block_that_is_warm_without_saying_so_is_held_where_mains_and_bores_tell_it() {
    // Cast aluminium expands by some 21 in a million a kelvin: 16 and 8 K; 3 K are told alone, as before.
    for ppm in [352.0, -352.0, 176.0] {
        assert_eq!(asked(warmer(petrel(), ppm), "stretched"), Verdict::Hold, "{ppm}");
    }
    let little = plan_job(warmer(petrel(), 66.0), None).unwrap();
    assert_eq!(little.plan.verdict, Verdict::Go, "{:?}", little.plan.findings);
    // The bores alone, as where the description has their spacing wrong by 0.1 over the bank, stay a word.
    let mut bores = warmer(petrel(), 352.0);
    for (set_up, read) in bores.set_ups.iter_mut().zip(petrel().set_ups) {
        set_up.frame = read.frame;
    }
    assert_eq!(asked(bores, "stretched"), Verdict::Go);
}

#[test]
fn mains_alone_tell_a_warm_block_whose_bores_scatter() {
    let mut job = warmer(petrel(), 352.0);
    for set_up in &mut job.set_ups {
        for bore in &mut set_up.bores {
            // 0.1 and more to and fro along, as castings scatter.
            bore.centre_mm[0] += if bore.cylinder % 4 < 2 { 0.06 } else { -0.06 };
        }
    }
    assert_eq!(asked(job, "stretched"), Verdict::Hold);
}

#[test]
fn a_centre_copied_down_one_bore_is_held_and_a_coarse_scale_is_not() {
    let copied_of = |cylinders: &[u32], step: f64| {
        let mut job = petrel();
        for bore in job.set_ups.iter_mut().flat_map(|s| &mut s.bores) {
            bore.centre_mm = bore.centre_mm.map(|mm| (mm / step).round() * step);
        }
        for set_up in &mut job.set_ups {
            for n in cylinders {
                let first = set_up.bores.iter().find(|b| b.cylinder == *n).map(|b| b.centre_mm);
                let own = set_up.bores.iter_mut().filter(|b| b.cylinder == *n);
                own.for_each(|b| b.centre_mm = first.unwrap_or(b.centre_mm));
            }
        }
        plan_job(job, None).unwrap().plan.findings
    };
    let copied = |cylinders: &[u32]| copied_of(cylinders, 0.001);
    assert!(!copied_of(&[1, 3, 5], 0.01).iter().any(|f| f.code == "copied"));
    assert!(copied(&[3]).iter().any(|f| f.code == "copied" && f.subject.to_string() == "cylinder 3"));
    // All of a bank: no bore tells the gauge apart, and its step does.
    assert!(copied(&[1, 3, 5]).iter().any(|f| f.code == "copied" && f.subject.to_string().contains("left")));
    assert!(!copied(&[]).iter().any(|f| f.code == "copied"));
}
