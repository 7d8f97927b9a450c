//! A known shift, roll, tilt and noise are planted in the readings and demanded back.

use std::fmt::Write;

use borewright_planner::plan::Pattern;
use borewright_planner::{Planning, load, plan_job};
use proptest::prelude::*;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use crate::bench::{Bench, cylinder, edit, near, site};

/// Where the bank frame lies in the machine, and how the bores of the block were moved in it.
#[derive(Debug, Clone)]
pub struct Planted {
    /// Machine coordinates of the datum on the journal axis.
    pub origin: [f64; 3],
    /// Small turns of the set-up about X, Y, Z, radians.
    pub set_up: [f64; 3],
    /// Shift of the bores in the bank, mm, and tilt of their axes, mm per mm.
    pub shift: [f64; 2],
    pub tilt: [f64; 2],
    /// Standard deviation of every reading, mm.
    pub noise: f64,
    pub seed: u64,
    pub front_right: bool,
}

prop_compose! {
    fn planted()(
        origin in [-300.0..300.0_f64, -60.0..60.0_f64, -300.0..-100.0_f64],
        set_up in [-2e-3..2e-3_f64, -2e-3..2e-3_f64, -4e-3..4e-3_f64],
        shift in [-0.4..0.4_f64, -0.4..0.4_f64],
        tilt in [-1e-3..1e-3_f64, -1e-3..1e-3_f64],
        seed in any::<u64>(),
        front_right in any::<bool>(),
    ) -> Planted {
        Planted { origin, set_up, shift, tilt, noise: 0.002, seed, front_right }
    }
}

type Axes = [[f64; 3]; 3];

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn unit(v: [f64; 3]) -> [f64; 3] {
    let length = v.iter().map(|c| c * c).sum::<f64>().sqrt();
    v.map(|c| c / length)
}

impl Planted {
    /// The bank's axes in the machine.
    fn axes(&self) -> Axes {
        let [roll, pitch, yaw] = self.set_up;
        let turn = if self.front_right { -1.0 } else { 1.0 };
        let x = unit([turn, turn * yaw, -turn * pitch]);
        let up = [pitch, -roll, 1.0];
        let along: f64 = (0..3).map(|k| up[k] * x[k]).sum();
        let z = unit([0, 1, 2].map(|k| up[k] - along * x[k]));
        [x, cross(z, x), z]
    }

    /// A place in the bank frame, in the machine.
    pub fn to_machine(&self, p: [f64; 3]) -> [f64; 3] {
        let axes = self.axes();
        [0, 1, 2].map(|k| self.origin[k] + (0..3).map(|i| p[i] * axes[i][k]).sum::<f64>())
    }

    fn plan(&self) -> Planning {
        let job = load(self.write().path()).unwrap_or_else(|faults| panic!("{faults}"));
        plan_job(job, None).unwrap()
    }

    fn write(&self) -> tempfile::TempDir {
        let mut rng = ChaCha8Rng::seed_from_u64(self.seed);
        let normal = Normal::new(0.0, self.noise).unwrap();
        let mut read = |p: [f64; 3]| {
            let m = self.to_machine(p);
            m.map(|c| c + normal.sample(&mut rng))
        };
        let dir = Bench::default().bore(1, [0.0, 0.0]).write();
        let put = |name: &str, text: String| std::fs::write(dir.path().join(name), text).unwrap();
        let mut axis = String::from("main,x,y,z\n");
        for (main, x) in [(1, 17.0), (2, 127.0), (3, 237.0), (4, 347.0), (5, 457.0)] {
            let p = read([x, 0.0, 0.0]);
            writeln!(axis, "{main},{},{},{}", p[0], p[1], p[2]).unwrap();
        }
        let mut deck = String::from("x,y,z\n");
        for x in [20.0, 160.0, 300.0, 440.0] {
            for y in [-70.0, 70.0] {
                let p = read([x, y, 235.0]);
                writeln!(deck, "{},{},{}", p[0], p[1], p[2]).unwrap();
            }
        }
        let mut bores = String::from("cylinder,depth,x,y,diameter\n");
        for n in [1, 3, 5, 7] {
            for depth in [20.0, 70.0, 125.0] {
                let (x, _) = site(n);
                let off = [0, 1].map(|k| self.shift[k] + self.tilt[k] * depth);
                let p = read([x + off[0], off[1], 235.0 - depth]);
                writeln!(bores, "{n},{depth},{},{},96.0", p[0], p[1]).unwrap();
            }
        }
        put("axis.csv", axis);
        put("deck.csv", deck);
        put("bores.csv", bores);
        let job = std::fs::read_to_string(dir.path().join("job.yaml")).unwrap();
        let head = job
            .split("readings:")
            .next()
            .unwrap()
            .replace("clean_up: 0.05", "clean_up: 0.05, squareness: 0.15");
        put(
            "job.yaml",
            format!(
                "{head}readings:\n  - set_up: left up\n    bank: left\n    frame: machine\n    front: {}\n    \
                 axis: axis.csv\n    deck: deck.csv\n    along: {{ x: {} }}\n    bores: bores.csv\n    walls: walls-left.csv\n",
                if self.front_right { "right" } else { "left" },
                self.origin[0]
            ),
        );
        dir
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn bores_read_off_a_machine_come_back_where_they_were_planted(planted in planted()) {
        let planning = planted.plan();
        // Noise of the axis' ends reaches the bores; the deck's tilt reaches them over its height: six sigma.
        let within = 6.0 * planted.noise * 2.5;
        for n in [1, 3, 5, 7] {
            let c = cylinder(&planning, n);
            prop_assert!((c.off_true.x - planted.shift[0]).abs() < within, "{:?} {planted:?}", c.off_true);
            prop_assert!((c.off_true.y - planted.shift[1]).abs() < within, "{:?} {planted:?}", c.off_true);
            prop_assert!((c.measured.tilt.x - planted.tilt[0]).abs() < within / 50.0);
            prop_assert!((c.measured.tilt.y - planted.tilt[1]).abs() < within / 50.0);
        }
        let bank = &planning.plan.banks[0];
        prop_assert!((bank.shift.x - planted.shift[0] - planted.tilt[0] * 71.67).abs() < within);
        // Squareness over the bore length is the planted lean of the set-up.
        let z = planted.axes()[2];
        let lean = 140.0 * (z[0] * z[0] + z[1] * z[1]).sqrt();
        let axis = &planning.plan.journal_axis[0];
        let found = axis.squareness.x.hypot(axis.squareness.y);
        prop_assert!((found - lean).abs() < within, "{found} {lean}");
    }

    #[test]
    fn a_motion_of_the_whole_block_comes_back_with_its_parts(
        shift in [-0.3..0.3_f64, -0.3..0.3_f64, -0.3..0.3_f64],
        turn in [-1e-3..1e-3_f64, -6e-4..6e-4_f64, -6e-4..6e-4_f64],
        seed in any::<u64>(),
    ) {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let normal = Normal::new(0.0, 0.002).unwrap();
        let mut bench = Bench::default();
        for n in 1..=8 {
            let (x, bank) = site(n);
            let angle = if bank == "left" { -45.0_f64 } else { 45.0 }.to_radians();
            for depth in [20.0, 70.0, 125.0] {
                let z = 235.0 - depth;
                let p = [x, z * angle.sin(), z * angle.cos()];
                let by = cross(turn, p);
                let d = [0, 1, 2].map(|k| shift[k] + by[k]);
                let across = d[1] * angle.cos() - d[2] * angle.sin();
                let off = [d[0] + normal.sample(&mut rng), across + normal.sample(&mut rng)];
                bench = bench.circle(n, depth, off, 96.0);
            }
        }
        bench.limits = "clean_up: 0.05".into();
        bench.instruments = bench.instruments.replace("centre: 0.0001", "centre: 0.002");
        let planning = bench.plan();
        let found = &planning.plan.as_bored;
        // 48 values of sigma 0.002 over arms of 235 and 350 mm: a part is known to about 0.001 mm at the bores.
        for (got, want) in [(found.shift.x, shift[0]), (found.shift.y, shift[1]), (found.shift.z, shift[2])] {
            prop_assert!((got - want).abs() < 0.02, "{found:?} {shift:?}");
        }
        let turns = [found.turn.roll, found.turn.pitch, found.turn.yaw];
        for (got, want) in turns.into_iter().zip(turn) {
            prop_assert!((got.to_radians() - want).abs() < 6e-5, "{found:?} {turn:?}");
        }
        let size = found.residual_rms;
        // 42 degrees of freedom: five sigma about 0.0019.
        prop_assert!((0.0008..0.0031).contains(&size), "{size}");
        let still = shift.iter().all(|s| s.abs() < 0.01) && turn.iter().all(|t| t.abs() < 1e-4);
        prop_assert!(still || found.pattern == Pattern::Together, "{found:?}");
    }
}

#[test]
fn displacements_no_larger_than_the_probe_scatters_are_within_measuring() {
    let mut rng = ChaCha8Rng::seed_from_u64(7);
    let normal = Normal::new(0.0, 0.002).unwrap();
    let mut within = 0;
    for _ in 0..40 {
        let mut bench = Bench::default();
        for n in 1..=8 {
            for depth in [20.0, 70.0, 125.0] {
                bench = bench.circle(n, depth, [normal.sample(&mut rng), normal.sample(&mut rng)], 96.0);
            }
        }
        bench.instruments = bench.instruments.replace("centre: 0.0001", "centre: 0.002");
        within += usize::from(bench.plan().plan.as_bored.pattern == Pattern::WithinMeasuring);
    }
    // 95 % are expected: 38 of 40; fewer than 33 has a chance of about 1 in 1000.
    assert!(within >= 33, "{within} of 40");
}

#[test]
fn a_leaning_set_up_moves_the_listed_places_so_that_the_bore_is_right_at_the_deck() {
    let planted = Planted {
        origin: [-210.0, 12.0, -200.0],
        set_up: [0.4e-3, -0.2e-3, 2.0e-3],
        shift: [0.05, 0.1],
        tilt: [0.0, 0.0],
        noise: 1e-6,
        seed: 1,
        front_right: false,
    };
    let planning = planted.plan();
    assert!(!planning.lists.is_empty(), "{:?}", planning.plan.findings);
    let rough = &planning.lists[0];
    for (n, x) in [(1, 60.0), (7, 390.0)] {
        let told = rough.moves.iter().find(|m| m.cylinder == Some(n) && m.x_mm.is_some()).unwrap();
        let at = planted.to_machine([x, 0.0, 235.0]);
        near(told.x_mm.unwrap(), at[0] - planted.origin[0], 0.0006);
        near(told.y_mm.unwrap(), at[1] - planted.origin[1], 0.0006);
    }
}

#[test]
fn raw_points_on_the_housing_bores_make_the_axis_and_tell_their_size_and_roundness() {
    let planted = Planted {
        origin: [-210.0, 12.0, -200.0],
        set_up: [0.0, 0.0, 1.0e-4],
        shift: [0.0, 0.0],
        tilt: [0.0, 0.0],
        noise: 1e-7,
        seed: 1,
        front_right: false,
    };
    let dir = planted.write();
    // Main 3 stands 0.031 off across, and main 4 is oval by 0.020.
    let mut rows = String::from("main,x,y,z\n");
    for (main, x) in [(1, 17.0), (2, 127.0), (3, 237.0), (4, 347.0), (5, 457.0)] {
        for step in 0..8_u8 {
            let a = std::f64::consts::FRAC_PI_4 * f64::from(step);
            let r = 34.005 + if main == 4 { 0.010 * (2.0 * a).cos() } else { 0.0 };
            let off = if main == 3 { 0.031 } else { 0.0 };
            let p = planted.to_machine([x, off + r * a.cos(), r * a.sin()]);
            writeln!(rows, "{main},{:.6},{:.6},{:.6}", p[0], p[1], p[2]).unwrap();
        }
    }
    std::fs::write(dir.path().join("mains.csv"), rows).unwrap();
    edit(dir.path(), "job.yaml", "axis: axis.csv", "mains: mains.csv");
    let planning = plan_job(load(dir.path()).unwrap_or_else(|faults| panic!("{faults}")), None).unwrap();
    let axis = &planning.plan.journal_axis[0];
    near(axis.mains[0].diameter.unwrap(), 68.010, 1e-4);
    near(axis.mains[3].roundness.unwrap(), 0.020, 1e-4);
    near(axis.mains[0].roundness.unwrap(), 0.0, 1e-4);
    // The step from main 2 to 3, 0.031, is over the 0.020 allowed: a stop, and no list.
    near(axis.largest_step, 0.031, 1e-4);
    let code = |code: &str| planning.plan.findings.iter().find(|f| f.code == code);
    assert_eq!(code("journal_step").unwrap().verdict, borewright_planner::plan::Verdict::Stop);
    assert!(code("journal_roundness").unwrap().text.contains("main 4"));
    assert!(planning.lists.is_empty());
}
