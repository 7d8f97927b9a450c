//! The same bores read in several rounds: block or set-up, how well a clamping comes back, and what the plan uses.
//! Sums: worked by hand on the Kittiwake, common practice.

use borewright_planner::plan::Verdict;
use borewright_planner::survey::{Lean, Whose};
use borewright_planner::{load, plan_job};
use proptest::prelude::*;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use crate::bench::{Bench, cylinder, near, off_true, shop, survey};

/// The Kittiwake's deck height.
const HEIGHT: f64 = 235.0;
const DEPTHS: [f64; 2] = [20.0, 125.0];

/// Eight bores in a set, each bank off across by so much at the deck: as a roll does, less the deeper.
fn rolled(mut bench: Bench, set: &str, left: f64, right: f64) -> Bench {
    for n in 1..=8 {
        let at_deck = if n % 2 == 1 { left } else { right };
        for depth in DEPTHS {
            bench = bench.circle_in(set, n, depth, [0.0, at_deck * (HEIGHT - depth) / HEIGHT]);
        }
    }
    bench
}

/// Machine Y means of right and left bank at the deck, front left and turned end for end.
fn reversed(right: [f64; 2], left: [f64; 2]) -> Bench {
    // Turned end for end the bank's Y runs against the machine's.
    rolled(rolled(shop(), "first", left[0], right[0]), "turned", -left[1], -right[1])
}

#[test]
fn a_reversal_tells_the_set_up_from_the_block_and_names_the_shim() {
    // Front left R +.21, L +.20; turned R +.17, L +.18: sums .38 and .38.
    let report = survey(&reversed([0.21, 0.17], [0.20, 0.18]));
    let r = report.reversal.as_ref().unwrap();
    assert!(r.closes);
    near(r.closure.unwrap(), 0.0, 2e-6);
    near(r.set_up, 0.19, 2e-6);
    near(r.roll.abs(), 0.0463, 0.0001);
    near(r.shim, 0.16, 1e-9);
    assert_eq!((r.kind, r.answer), (Lean::Roll, Whose::Both));
    let block = |name: &str| r.banks.iter().find(|b| b.bank == name).unwrap().block;
    near(block("right"), 0.02, 2e-6);
    near(block("left"), 0.01, 2e-6);
    let text = crate::bench::lines(&r.text);
    assert!(
        text.contains("not the block") && text.contains("shim 0.16 mm under the rail on the +Y side"),
        "{text}"
    );
    // 0.19 - 0.16 / 200 x 235 = 0.002 is left.
    assert!(text.contains("0.002 mm is left after the shim"), "{text}");
    // Nothing is cut on it before the set-up is mended.
    let s = report.suspicions.iter().find(|s| s.code.word() == "set_up_off").unwrap();
    assert_eq!((s.verdict, s.cylinders.named().len()), (Verdict::Hold, 8));
    assert!(s.ask.contains("do not cut it as a correction"), "{s:?}");
    assert_eq!(report.suspicions.len(), 1, "{:#?}", report.suspicions);
}

#[test]
fn a_set_up_that_is_off_alike_at_all_depths_is_no_roll_and_wants_no_shim() {
    let mut bench = shop();
    for (set, by) in [("first", 0.05), ("turned", -0.05)] {
        for n in 1..=8 {
            for depth in DEPTHS {
                bench = bench.circle_in(set, n, depth, [0.0, by]);
            }
        }
    }
    let r = survey(&bench).reversal.unwrap();
    near(r.set_up, 0.05, 2e-6);
    assert_eq!((r.kind, r.answer, r.shim), (Lean::Shift, Whose::SetUp, 0.0));
    assert!(crate::bench::lines(&r.text).contains("turn the mandrel half round"), "{:?}", r.text);
}

#[test]
fn sums_that_do_not_close_are_a_wrong_reading_and_nothing_is_concluded() {
    let report = survey(&reversed([0.21, 0.17], [0.20, 0.05]));
    let r = report.reversal.as_ref().unwrap();
    assert!(!r.closes && r.answer == Whose::NotClosed);
    near(r.closure.unwrap().abs(), 0.13, 2e-6);
    assert_eq!(r.text.len(), 1);
    assert!(r.text[0].contains("read again"), "{:?}", r.text);
    assert!(report.suspicions.iter().any(|s| s.code.word() == "not_closed" && s.verdict == Verdict::Hold));
}

#[test]
fn an_index_that_opens_each_bank_looks_like_the_block_until_the_span_is_read() {
    // 0.02 degrees a bank: R +.082, L -.082 the first way, and the same of the block's sign when turned.
    let mut bench = reversed([0.082, -0.082], [-0.082, 0.082]);
    let untold = survey(&bench);
    let r = untold.reversal.as_ref().unwrap();
    near(r.set_up, 0.0, 2e-6);
    let text = crate::bench::lines(&r.text);
    assert!(text.contains("index span") && text.contains("read the span"), "{text}");
    assert!(text.contains("bank right: the block's own part is +0.082"), "{text}");
    let angle = untold.included_angle.unwrap();
    near(angle.as_read.degrees, 0.04, 0.0001);
    assert!(angle.index.is_none() && angle.block.is_none());
    assert!(angle.text.contains("0.0400 degrees open") && angle.text.contains("too short"), "{}", angle.text);
    // The span read 0.04 short: the index, not the block.
    bench.job_more = "index_span: { angle: 89.96, u: 0.003 }\n".into();
    let angle = survey(&bench).included_angle.unwrap();
    near(angle.index.unwrap().degrees, -0.04, 1e-9);
    near(angle.block.unwrap().degrees, 0.0, 0.0001);
    assert!(
        angle.text.contains("turns 0.0400 degrees too short")
            && angle.text.contains("included angle is true within"),
        "{}",
        angle.text
    );
    // The span read true: the block, not the index.
    bench.job_more = "index_span: { angle: 90, u: 0.003 }\n".into();
    let angle = survey(&bench).included_angle.unwrap();
    near(angle.block.unwrap().degrees, 0.04, 0.0001);
    assert!(angle.text.contains("the block's included angle is 0.0400 degrees open"), "{}", angle.text);
}

#[test]
fn one_round_says_what_a_second_one_would_settle() {
    let report = survey(&shop().block_of([[0.0, 0.01]; 8]));
    assert!(report.reversal.is_none() && report.sets.banks.is_empty());
    let text = crate::bench::lines(&report.sets.text);
    assert!(
        text.contains("read once only") && text.contains("turned end for end") && text.contains("index span"),
        "{text}"
    );
}

#[test]
fn the_plan_rests_on_the_first_round_and_a_second_one_moves_nothing() {
    // No two bores stand alike to the last digit.
    let off = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0].map(|n: f64| [0.03, 0.04 + 0.004 * (n * n).sin()]);
    let own = |n: u32| off[n as usize - 1];
    let place = |planning: &borewright_planner::Planning| -> Vec<[f64; 2]> {
        (1..=8).map(|n| cylinder(planning, n).measured).map(|m| [m.x, m.y]).collect()
    };
    let mut once = shop();
    for n in 1..=8_u32 {
        for depth in DEPTHS {
            once = once.circle_in("a", n, depth, own(n));
        }
    }
    let mut twice = once.clone();
    for n in 1..=8_u32 {
        for depth in DEPTHS {
            twice = twice.circle_in("clamped", n, depth, [own(n)[0] + 0.005, own(n)[1] - 0.006]);
        }
    }
    let (once, twice) = (once.gauged(), twice.gauged());
    let (one, two) = (once.plan(), twice.plan());
    assert_eq!(place(&one), place(&two));
    assert_eq!(one.plan.as_bored.shift.y, two.plan.as_bored.shift.y);
    for n in 1..=8 {
        assert_eq!(off_true(&one, n), off_true(&two, n));
    }
    assert_eq!(two.plan.verdict, one.plan.verdict);
    let report = survey(&twice);
    assert!(report.suspicions.is_empty(), "{:#?}", report.suspicions);
    let bank = &report.sets.banks[0];
    assert_eq!(bank.planned.set.as_deref(), Some("a"));
    near(bank.others[0].shift[1], -0.006, 1e-9);
    assert!(bank.others[0].text.contains("within what can be measured"), "{}", bank.others[0].text);
}

#[test]
fn a_bank_that_stands_elsewhere_after_clamping_is_held_and_so_is_one_bore_that_differs() {
    let set = |mut bench: Bench, set: &str, by: [f64; 2], odd: f64| {
        for n in 1..=8_u32 {
            let own = if n == 3 { odd } else { 0.0 };
            let by = if n % 2 == 1 { by } else { [0.0, 0.0] };
            for depth in DEPTHS {
                bench = bench.circle_in(set, n, depth, [by[0], 0.05 + by[1] + own]);
            }
        }
        bench
    };
    let first = set(shop(), "first", [0.0, 0.0], 0.0);
    let bench = set(first.clone(), "clamped", [0.0, 0.03], 0.0);
    let report = survey(&bench);
    let [s] = report.suspicions.as_slice() else { panic!("{:#?}", report.suspicions) };
    assert_eq!(
        (s.code.word(), s.subject.to_string().as_str(), s.verdict),
        ("sets_disagree", "bank left", Verdict::Hold)
    );
    near(s.evidence["across"], 0.03, 1e-9);
    let dir = bench.write();
    let planning = plan_job(load(dir.path()).unwrap(), None).unwrap();
    let held = |n: u32| cylinder(&planning, n).verdict == Verdict::Hold;
    assert!((1..=8).all(|n| held(n) == (n % 2 == 1)));
    let report = survey(&set(first, "second", [0.0, 0.0], 0.04));
    let [s] = report.suspicions.as_slice() else { panic!("{:#?}", report.suspicions) };
    assert_eq!((s.code.word(), s.cylinders.named()), ("sets_disagree", [3].as_slice()));
}

/// Source: upper 5 % points as printed in the NIST/SEMATECH e-Handbook of statistical methods, 1.3.6.7.3 and 1.3.6.7.4 (from
/// memory): of F with 1 and 10, 2 and 20, 3 and 30 degrees of freedom, and of chi-squared with 1, 2 and 3.
#[test]
fn rounds_at_the_printed_points_of_f_and_chi_squared_come_so_by_chance_in_one_of_twenty() {
    const NAMES: [&str; 4] = ["first", "second", "third", "fourth"];
    /// The stated uncertainty of a centre, mm.
    const CENTRE: f64 = 0.003;
    // How far each round stands off, and how its own readings scatter: neither adds up to anything.
    let two: (&[f64], &[f64]) = (&[1.0, -1.0], &[1.0, -1.0]);
    let three: (&[f64], &[f64]) = (&[1.0, 0.0, -1.0], &[1.0, -2.0, 1.0]);
    let four: (&[f64], &[f64]) = (&[1.0, 0.0, 0.0, -1.0], &[1.0, -1.0, -1.0, 1.0]);
    for ((off, own), f, chi_squared) in [(two, 4.965, 3.841), (three, 3.493, 5.991), (four, 2.922, 7.815)] {
        let squares = |figures: &[f64]| figures.iter().map(|x| x * x).sum::<f64>();
        // Eleven circles, ten of them scattered: between rounds 11 a² Σoff², left 10 k² Σown² over ten times the freedom.
        let between = chi_squared * CENTRE * CENTRE;
        let a = (between / 11.0 / squares(off)).sqrt();
        let k = (between / f / squares(own)).sqrt();
        let mut bench = shop();
        for ((set, off), own) in NAMES.iter().zip(off).zip(own) {
            for circle in 0..11_u32 {
                let depth = [20.0, 70.0, 125.0][usize::try_from(circle / 4).unwrap()];
                let sign = if circle == 10 { 0.0 } else { 1.0 - 2.0 * f64::from(circle % 2) };
                bench = bench.circle_in(set, 1 + 2 * (circle % 4), depth, [0.0, a * off + k * own * sign]);
            }
        }
        let report = survey(&bench);
        let [again] = report.sets.banks[0].repeats.as_slice() else { panic!("{:?}", report.sets) };
        assert_eq!((again.handled, again.rounds, again.circles), ("again", off.len(), 11));
        near(again.across.f.unwrap(), f, 0.01);
        near(again.across.p.unwrap(), 0.05, 5e-4);
        near(again.across.instruments_p.unwrap(), 0.05, 5e-4);
    }
}

#[test]
fn a_whole_bank_typed_as_full_swings_is_named_where_another_round_tells_it() {
    let off = [
        [0.05, 0.08],
        [0.0, 0.0],
        [-0.07, 0.06],
        [0.0, 0.0],
        [0.02, -0.09],
        [0.0, 0.0],
        [0.06, 0.03],
        [0.0, 0.0],
    ];
    for (first, second, named) in [(2.0, 1.0, "set `a`"), (1.0, 2.0, "set `b`")] {
        let mut bench = shop();
        for (set, times) in [("a", first), ("b", second)] {
            for (n, [x, y]) in (1_u32..).zip(off) {
                for depth in DEPTHS {
                    bench = bench.circle_in(set, n, depth, [times * x, times * y]);
                }
            }
        }
        let report = survey(&bench);
        let [s] = report.suspicions.as_slice() else { panic!("{:#?}", report.suspicions) };
        assert_eq!(
            (s.code.word(), s.subject.to_string().as_str(), s.verdict),
            ("full_swing", "bank left", Verdict::Hold)
        );
        assert!(s.found.contains(named), "{s:?}");
    }
}

/// A planted block and set-up, read with noise both ways round.
fn planted(seed: u64, block: [f64; 2], roll: f64, index: f64, noise: f64) -> Bench {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let normal = Normal::new(0.0, noise).unwrap();
    let mut bench = shop();
    for (set, sign) in [("first", 1.0), ("turned", -1.0)] {
        for n in 1..=8_u32 {
            let right = n % 2 == 0;
            let own = block[usize::from(right)];
            // Turned, each bank stands at the other's station.
            let station = if right == (sign > 0.0) { index } else { -index };
            let at_deck = own + sign * (roll + station);
            for depth in [20.0, 70.0, 125.0] {
                let read = at_deck * (HEIGHT - depth) / HEIGHT + normal.sample(&mut rng);
                bench = bench.circle_in(set, n, depth, [normal.sample(&mut rng), read]);
            }
        }
    }
    bench
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_planted_set_up_and_block_come_back_within_their_uncertainty(
        seed in any::<u64>(), left in -0.3..0.3_f64, right in -0.3..0.3_f64, roll in -0.3..0.3_f64, index in -0.1..0.1_f64,
    ) {
        let mut bench = planted(seed, [left, right], roll, index, 0.003);
        // The right bank's station stands `index` outwards: the index turns short by twice that over the height.
        let span = 90.0 - 2.0 * (index / HEIGHT).atan().to_degrees();
        bench.job_more = format!("index_span: {{ angle: {span:.6}, u: 0.0005 }}\n");
        let report = survey(&bench);
        let r = report.reversal.unwrap();
        // No pick-up error was planted: five of the probe's share alone, which is under u.
        prop_assert!((r.set_up - roll).abs() < 5.0 * r.set_up_u, "{r:?}");
        for (bank, own, station) in [(&r.banks[0], left, -index), (&r.banks[1], right, index)] {
            prop_assert!((bank.block - own - station).abs() < 5.0 * r.u, "{bank:?}");
        }
        prop_assert!(r.closes);
        let opened = 2.0 * ((right - left) / 2.0 / HEIGHT).atan().to_degrees();
        let found = report.included_angle.unwrap().block.unwrap();
        prop_assert!((found.degrees - opened).abs() < 5.0 * found.u, "{found:?} {opened}");
    }

    #[test]
    fn rounds_of_a_block_that_did_not_move_agree(seed in any::<u64>(), off in -0.2..0.2_f64, handled in 0..3_usize) {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let normal = Normal::new(0.0, 0.003).unwrap();
        let mut bench = shop();
        for set in ["first", ["second", "clamped", "indexed"][handled]] {
            for n in 1..=8_u32 {
                for depth in [20.0, 70.0, 125.0] {
                    bench = bench.circle_in(set, n, depth, [normal.sample(&mut rng), off + normal.sample(&mut rng)]);
                }
            }
        }
        let report = survey(&bench);
        prop_assert!(report.suspicions.is_empty(), "{:#?}", report.suspicions);
        let scatter = report.sets.banks[0].others[0].scatter.unwrap();
        // Of some twenty freedoms: a quarter to either side is usual, twice too much is not seen.
        prop_assert!((0.0012..0.006).contains(&scatter), "{scatter}");
    }
}
