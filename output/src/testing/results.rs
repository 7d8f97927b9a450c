//! A plan made by hand: cylinders and passes with figures that look like a real job's.

use super::BankSpec;
use borewright_planner::job::{Bank, Job, Site};
use borewright_planner::plan;
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::plan::{Stage, Subject, Verdict, Xy};
use borewright_planner::say;

/// A plan at go for a made-up job, each figure given and none worked out.
pub(super) fn plan_of(job: &Job, banks: &[BankSpec]) -> plan::Plan {
    let mut cylinders = Vec::new();
    let mut passes = Vec::new();
    for bank in &job.block.banks {
        for site in &bank.sites {
            let cylinder = cylinder(bank, *site);
            passes.extend(passes_of(&cylinder));
            cylinders.push(cylinder);
        }
    }
    plan::Plan {
        format: plan::FORMAT,
        job: job.number.clone(),
        units: "mm",
        fingerprint: "3fa291bc77de0a14c5b8e6f20d9347aa11c06b5e8f7d2a93e4c01b6f5d8a7e20".to_owned(),
        verdict: Verdict::Go,
        release: None,
        findings: vec![
            plan::Finding {
                code: "together",
                verdict: Verdict::Go,
                subject: Subject::whole("right bank"),
                text: say!(
                    "all bores of the bank stand off true by one and the same shift, {} outwards: the way a \
                     fixture error of the first boring looks. Each is brought back to true.",
                    mm(0.28, 2)
                ),
            },
            plan::Finding {
                code: "thin_wall",
                verdict: Verdict::Hold,
                subject: Subject::whole("cylinder 3"),
                text: say!(
                    "parent wall at 90 degrees, {} deep: {} is left, {} is preferred, {} decides.",
                    before_mm(30.0, 1),
                    mm(2.31, 2),
                    before_mm(2.5, 2),
                    before_mm(2.0, 2)
                ),
            },
        ],
        journal_axis: vec![plan::JournalAxis {
            set_up: "right bank up".to_owned(),
            mains: vec![plan::MainOffset {
                main: "1".to_owned(),
                y: 0.001,
                z: -0.002,
                diameter: None,
                roundness: None,
            }],
            straightness: 0.006,
            largest_step: 0.004,
            squareness: Xy { x: 0.004, y: -0.003 },
            deck_height: None,
        }],
        as_bored: plan::AsBored {
            shift: plan::Xyz { x: 0.03, y: 0.19, z: 0.0 },
            turn: plan::Turn { roll: 0.04, pitch: 0.0, yaw: 0.01 },
            undetermined: vec!["z"],
            residual_rms: 0.008,
            f: Some(91.0),
            p: Some(0.0001),
            pattern: plan::Pattern::Together,
        },
        banks: banks
            .iter()
            .map(|spec| plan::BankPattern {
                bank: spec.0.to_owned(),
                angle: spec.1,
                shift: Xy { x: -0.03, y: 0.28 },
                rotation: 0.012,
                residual_rms: 0.006,
            })
            .collect(),
        cylinders,
        checks: Vec::new(),
        passes,
        sleeves: vec![plan::SleeveChoice {
            sleeve: "W90".to_owned(),
            chosen: true,
            verdict: Verdict::Go,
            largest_pocket: 89.98,
            why: "the smallest pocket of the sleeves that end at go".into(),
            worst: None,
            fit: Default::default(),
        }],
        times: vec![],
        prior: None,
        record_sum: None,
        lists: vec![],
        files: Vec::new(),
        seal: String::new(),
        inputs: vec![plan::Input { file: "job.yaml".to_owned(), sha256: "ab".repeat(32) }],
    }
}

pub(super) fn offset(x: f64, y: f64) -> plan::Offset {
    plan::Offset { x, y, distance: x.hypot(y), clock: y.atan2(x).to_degrees().rem_euclid(360.0) }
}

/// A bore's results, off its true position by figures that hang on its number alone.
pub(super) fn cylinder(bank: &Bank, site: Site) -> plan::Cylinder {
    let n = f64::from(site.cylinder);
    let off = (0.011 * (n * 1.7).sin() - 0.02, 0.26 + 0.03 * (n * 2.3).cos());
    let limit = |limit, feature: &str, depth, clock, margin, u, least| plan::LimitResult {
        limit,
        feature: feature.to_owned(),
        depth,
        clock,
        margin,
        u,
        p: 1.0,
        verdict: Verdict::Go,
        least,
        prefer: (limit == "parent_wall").then_some(2.5),
        told_only: false,
    };
    plan::Cylinder {
        cylinder: site.cylinder,
        bank: bank.name.clone(),
        sleeve: "W90".to_owned(),
        verdict: Verdict::Go,
        fingerprint: "0".repeat(12),
        withheld: false,
        measured: plan::Measured {
            x: site.x_mm + off.0,
            y: off.1,
            diameter: 82.04,
            tilt: Xy { x: 0.0001, y: -0.0002 },
            roundness: None,
        },
        true_position: Xy { x: site.x_mm, y: 0.0 },
        planned: Xy { x: site.x_mm, y: 0.0 },
        off_true: offset(off.0, off.1),
        shift: offset(-off.0, -off.1),
        why: "true to the journal axis; nothing holds it back".into(),
        limits: vec![
            limit("clean_up", "lower register", Some(139.0), None, 0.838, 0.005, 0.15),
            limit("parent_wall", "wet length", Some(30.0), Some(90.0), 0.31, 0.051, 2.0),
            limit(
                "bridge",
                "upper register against the next cylinder's upper register",
                Some(8.0),
                None,
                0.52,
                0.006,
                1.5,
            ),
            limit("flange_gap", "flange", None, None, 0.1, 0.006, 0.0),
            limit(
                "stud_wall",
                "upper register against the stud at 0.0, 52.0",
                Some(8.0),
                None,
                16.71,
                0.016,
                2.0,
            ),
            limit("coolant_hole", "wet length against bridge", Some(34.0), None, 0.224, 0.016, 1.0),
            limit("fire_ring_cover", "flange", None, None, 2.75, 0.016, 0.5),
            limit("fire_ring_bore", "finished bore", None, None, 0.85, 0.016, 0.4),
            limit("position", "bore axis", None, None, 0.025, 0.0158, 0.05),
        ],
    }
}

/// The twelve passes of a bore, from the old liner to the hone.
pub(super) fn passes_of(cylinder: &plan::Cylinder) -> Vec<plan::Pass> {
    type Line = (Stage, &'static str, &'static str, f64, f64, f64, f64, f64, Option<&'static str>);
    let lines: [Line; 12] = [
        (Stage::Rough, "old liner", "rough head", 83.4, 0.0, 138.0, 0.68, 0.4, None),
        (
            Stage::Rough,
            "old liner",
            "rough head",
            84.6,
            0.0,
            138.0,
            0.6,
            1.0,
            Some(
                "Measure the bore across and along at 20, 70 and 120 deep. It must stand where planned within 0.02.",
            ),
        ),
        (
            Stage::Rough,
            "old liner and parent",
            "rough head",
            86.2,
            0.0,
            138.0,
            0.8,
            1.0,
            Some("Look where iron is left: write the clock and the width of the arc."),
        ),
        (Stage::Rough, "parent", "rough head", 88.17, 0.0, 139.0, 0.985, 1.0, None),
        (
            Stage::Pocket,
            "flange pocket",
            "step cutter",
            95.1,
            0.0,
            7.965,
            3.5,
            1.0,
            Some("Ledge depth at four places: 7.965, spread within 0.010."),
        ),
        (Stage::Pocket, "upper register", "rough head", 89.98, 7.965, 18.0, 0.9, 1.0, None),
        (Stage::Pocket, "wet length", "rough head", 89.6, 18.0, 52.0, 0.7, 0.3, None),
        (
            Stage::Pocket,
            "lower register",
            "rough head",
            88.57,
            52.0,
            139.0,
            0.2,
            1.0,
            Some(
                "Pocket diameter at three depths, two ways: 88.570 within 0.006. Block at most 2 degrees over the shop.",
            ),
        ),
        (
            Stage::Fit,
            "sleeve W90",
            "",
            0.0,
            0.0,
            139.0,
            0.0,
            0.0,
            Some("Feeler 0.02 must not enter under the flange; protrusion at four places 0.02 to 0.05."),
        ),
        (Stage::Deck, "deck and flanges", "", 0.0, 0.0, 0.0, 0.0, 0.0, None),
        (
            Stage::Finish,
            "bore",
            "rough head",
            81.94,
            0.0,
            139.0,
            0.22,
            1.0,
            Some("First bore only: size and place before the others."),
        ),
        (
            Stage::Hone,
            "bore",
            "",
            82.0,
            0.0,
            139.0,
            0.03,
            1.0,
            Some("Plate on: 82.000 within 0.010 at five depths."),
        ),
    ];
    let skew = 0.26 + 0.03 * (f64::from(cylinder.cylinder) * 2.3).cos();
    lines
        .iter()
        .zip(1_u32..)
        .map(|(&(stage, feature, tool, diameter, from, to, stock, in_cut, stop), n)| {
            let skew = if n <= 2 { skew } else { 0.0 };
            let turns = !tool.is_empty();
            plan::Pass {
                step: n * 10,
                stage,
                bank: cylinder.bank.clone(),
                cylinder: cylinder.cylinder,
                feature: feature.to_owned(),
                kind: plan::PassKind::Plain,
                tool: turns.then(|| tool.to_owned()),
                x: cylinder.planned.x,
                y: cylinder.planned.y,
                diameter,
                from,
                to,
                stock: plan::Stock { min: (stock - skew).max(0.0), max: stock + skew },
                in_cut,
                material: "grey iron".to_owned(),
                rpm: if turns { 324.0 } else { 0.0 },
                feed_per_rev: if turns { 0.15 } else { 0.0 },
                feed: if turns { 48.6 } else { 0.0 },
                minutes: if turns { 2.9 } else { 20.0 },
                flat_end: false,
                shell: None,
                mill: None,
                load: None,
                binds: None,
                ledge: false,
                touch: None,
                stop_number: None,
                stop: stop.map(Into::into),
                worked: Vec::new(),
            }
        })
        .collect()
}
