//! Traps of the trade that cost a block: a main line that a fit hides, one axis flipped, a tilted deck. Sums: the
//! trade's own, on the Kittiwake; common practice.

use borewright_planner::plan::Verdict;
use borewright_planner::report::{SurveyReport, report};
use borewright_planner::{Planning, load, plan_job};

use crate::bench::{Bench, LEFT, near, off_true};

/// The left bank off the machine: the foot of the along datum and the journal axis in machine coordinates.
const ORIGIN: [f64; 3] = [-210.0, 18.0, -195.0];
const MAINS: [f64; 5] = [17.0, 127.0, 237.0, 347.0, 457.0];

/// The left bank read off the machine: how the mains stand off a straight line, the deck and the bores, from ORIGIN.
struct Machined {
    mains: [[f64; 2]; 5],
    deck: fn(f64) -> f64,
    bore: fn(f64, f64) -> [f64; 2],
}

impl Machined {
    fn folder(&self) -> tempfile::TempDir {
        let [ox, oy, oz] = ORIGIN;
        let mut axis = String::from("main,x,y,z\n");
        for (main, (x, [y, z])) in (1..).zip(MAINS.into_iter().zip(self.mains)) {
            axis.push_str(&format!("{main},{},{:.4},{:.4}\n", ox + x, oy + y, oz + z));
        }
        let mut deck = String::from("x,y,z\n");
        for x in [20.0, 160.0, 300.0, 440.0] {
            for y in [-75.0, 75.0] {
                deck.push_str(&format!("{},{},{:.5}\n", ox + x, oy + y, oz + 235.0 + (self.deck)(y)));
            }
        }
        let mut bores = String::from("cylinder,depth,x,y,diameter\n");
        for (n, x) in [1, 3, 5, 7].into_iter().zip(LEFT) {
            for depth in [20.0, 70.0, 125.0] {
                // A scale shows its last digit.
                let digit = 0.000_01 * ((13.0 * (depth + 7.0 * f64::from(n))) % 11.0);
                let [dx, dy] = (self.bore)(x, depth).map(|off| off + digit);
                bores.push_str(&format!("{n},{depth},{:.5},{:.5},96.0\n", ox + x + dx, oy + dy));
            }
        }
        let bench = Bench {
            instruments:
                "centre: 0.003, diameter: 0.004, wall: 0.05, axis: 0.002, along: 0.004, machine: 0.004".into(),
            ..Bench::default().bore(1, [0.0, 0.0])
        };
        let dir = bench.write();
        for (name, text) in [("axis.csv", axis), ("deck.csv", deck), ("machined.csv", bores)] {
            std::fs::write(dir.path().join(name), text).unwrap();
        }
        let path = dir.path().join("job.yaml");
        let job = std::fs::read_to_string(&path).unwrap();
        let head = job.split("readings:").next().unwrap();
        let readings = "readings:\n  - set_up: left up\n    bank: left\n    frame: machine\n    axis: axis.csv\n    \
                        deck: deck.csv\n    along: { x: -210 }\n    bores: machined.csv\n";
        std::fs::write(&path, format!("{head}{readings}")).unwrap();
        dir
    }

    fn survey(&self) -> SurveyReport {
        report(&load(self.folder().path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
    }

    fn plan(&self) -> Planning {
        plan_job(load(self.folder().path()).unwrap_or_else(|faults| panic!("{faults}")), None).unwrap()
    }
}

#[test]
fn a_main_line_that_is_out_stops_everything_although_a_fitted_line_hides_the_step() {
    // Up 0, .004, .031, .006, 0 and across 0, .002, -.003, .001, 0 at five mains.
    let out = Machined {
        mains: [[0.0, 0.0], [0.002, 0.004], [-0.003, 0.031], [0.001, 0.006], [0.0, 0.0]],
        deck: |_| 0.0,
        bore: |_, _| [0.0, 0.0],
    };
    let report = out.survey();
    let axis = &report.journal_axis[0];
    // The fitted line leaves main 3 only .023 off: inside a limit of .025 for all mains together.
    let third = axis.mains.iter().find(|m| m.main == "3").unwrap();
    near(third.z, 0.031 - (0.004 + 0.031 + 0.006) / 5.0, 0.000_2);
    // The step from 2 to 3 is .027 up and .005 across.
    near(axis.largest_step, 0.027_f64.hypot(0.005), 0.000_3);
    assert!(
        axis.straightness > 0.025,
        "the thinnest cylinder is wider than the residual: {}",
        axis.straightness
    );
    let step = report.findings.iter().find(|f| f.code == "journal_step").unwrap();
    assert!(step.verdict == Verdict::Stop && step.text.contains("align the mains first"), "{step:?}");
    // Whatever was mapped from that axis is void once it is bored: nothing is listed.
    assert!(step.text.contains("every reading taken from this axis is void after that"), "{step:?}");
    assert!(out.plan().lists.is_empty());
}

#[test]
fn an_axis_raised_by_the_align_bore_moves_both_banks_and_the_deck_height() {
    // Lifted .100 in the block: along a bank at 45 degrees .0707 nearer the deck, and .0707 across.
    let lift = 0.100 * 45.0_f64.to_radians().cos();
    let height = 235.0 - lift;
    near(height, 234.929, 0.000_5);
    // In the new axis' frame the right bank's bores stand +.071, the left bank's -.071 across.
    let mut off = [[0.0, 0.0]; 8];
    for (i, at) in off.iter_mut().enumerate() {
        at[1] = if i % 2 == 1 { lift } else { -lift };
    }
    let bench = Bench {
        instruments: "centre: 0.003, diameter: 0.004, wall: 0.05, axis: 0.004, along: 0.004, machine: 0.004"
            .into(),
        ..Bench::default().block_of(off)
    };
    let report = report(&load(bench.write().path()).unwrap()).unwrap();
    // One motion explains all of it, an upward shift of the axis: the old bores stand .100 lower.
    let motion = &report.as_bored.motion;
    assert!(motion.residual_rms < 1e-6, "{motion:?}");
    let text = crate::bench::lines(&report.as_bored.text);
    assert!(text.contains("the banks stand 0.141 apart"), "{text}");
}

#[test]
fn with_the_front_at_the_right_both_axes_turn_about_and_never_one() {
    // Correction (+.10, -.20) from the bore that is there: X -.10, Y +.20.
    let listed = |front: &'static str| {
        let mut bench = Bench { front, ..Bench::default() };
        for n in 1..=8 {
            bench = bench.bore(n, if n == 3 { [-0.10, 0.20] } else { [0.0, 0.0] });
        }
        bench.plan()
    };
    let (left, right) = (listed("left"), listed("right"));
    for planning in [&left, &right] {
        for (found, wanted) in off_true(planning, 3).into_iter().zip([0.0, 0.0]) {
            near(found, wanted, 1e-9);
        }
    }
    let shift = |planning: &Planning| {
        let c = planning.plan.cylinders.iter().find(|c| c.cylinder == 3).unwrap();
        [c.shift.x, c.shift.y]
    };
    // In the bank the shift is the same whichever way the block stands.
    assert_eq!(shift(&left), shift(&right));
    near(shift(&left)[0], 0.10, 1e-9);
    near(shift(&left)[1], -0.20, 1e-9);
    // At the machine every place of the one list is the other's turned about.
    let places = |planning: &Planning| -> Vec<[f64; 2]> {
        let list = planning
            .lists
            .iter()
            .find(|l| l.bank == "left" && l.stage == borewright_planner::plan::Stage::Pocket);
        let bores = list.unwrap().moves.iter().filter_map(|m| Some([m.x_mm?, m.y_mm?]));
        bores.collect()
    };
    let (one, other) = (places(&left), places(&right));
    assert!(!one.is_empty() && one.len() == other.len());
    for (a, b) in one.iter().zip(&other) {
        near(a[0], -b[0], 1e-9);
        near(a[1], -b[1], 1e-9);
    }
}

#[test]
fn a_bank_levelled_on_a_tilted_deck_is_named_with_what_it_would_cost() {
    // The deck .05 over 150 out of square, the bores true to the spindle and the journal axis.
    let tilted = Machined { mains: [[0.0; 2]; 5], deck: |y| y * 0.05 / 150.0, bore: |_, _| [0.0, 0.0] };
    let report = tilted.survey();
    let s = crate::suspicions::only(&report);
    assert_eq!((s.code.word(), s.verdict), ("deck_tilted", Verdict::Go));
    // 235 x .05 / 150 = .078: the whole bank would be bored off by it.
    near(s.evidence["across_at_deck"].abs(), 0.0783, 0.000_5);
    near(s.evidence["lean_over_150"].abs(), 0.05, 0.000_1);
    assert!(s.ask.contains("bored off"), "{s:?}");
    // The same deck square, bores that merely stand off alike: no turn, no question.
    let shifted = Machined { mains: [[0.0; 2]; 5], deck: |_| 0.0, bore: |_, _| [0.0, 0.078] };
    assert!(
        crate::suspicions::scattering(&shifted.survey()).is_empty(),
        "{:#?}",
        shifted.survey().suspicions
    );
}
