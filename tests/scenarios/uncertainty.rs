//! The stated uncertainty of a margin against a Monte Carlo run of the same margin (JCGM 101:2008).

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use crate::bench::{Bench, limit};

const CENTRE: f64 = 0.003;
const DIAMETER: f64 = 0.004;
const WALL: f64 = 0.05;
const AXIS: f64 = 0.004;
const ALONG: f64 = 0.015;
const MACHINE: f64 = 0.004;

/// 200 000 draws put the standard deviation within 0.5 % at three sigma; first order adds the curvature.
const DRAWS: usize = 200_000;
const WITHIN: f64 = 0.015;

fn bench() -> Bench {
    let mut bench = Bench::default().block_of([[0.1, 0.2]; 8]).wall(4, 70.0, 65.0, 5.1);
    bench.limits = "position: 0.3, clean_up: 0.1, parent_wall: 2.0, bridge: 2.0, stud_wall: 2.0".into();
    bench.block = vec![("    - { name: \"5\", x: 457.0 }\n", "    - { name: \"5\", x: 457.0 }\n".into())];
    bench.block_more =
        "studs:\n  - { bank: right, x: 140.0, y: 60.0, diameter: 12.0, from: 0.0, to: 90.0 }\n".into();
    bench.instruments = format!(
        "centre: {CENTRE}, diameter: {DIAMETER}, wall: {WALL}, axis: {AXIS}, along: {ALONG}, machine: {MACHINE}"
    );
    bench
}

/// Standard deviation of a function of standard normal draws.
fn spread(draws: usize, of: impl Fn(&mut dyn FnMut(f64) -> f64) -> f64) -> f64 {
    let mut rng = ChaCha8Rng::seed_from_u64(20);
    let normal = Normal::new(0.0, 1.0).unwrap();
    let mut draw = |sigma: f64| sigma * normal.sample(&mut rng);
    let values: Vec<f64> = (0..draws).map(|_| of(&mut draw)).collect();
    let n = f64::from(u32::try_from(draws).unwrap());
    let mean = values.iter().sum::<f64>() / n;
    (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt()
}

#[track_caller]
fn agrees(stated: f64, drawn: f64) {
    assert!((stated / drawn - 1.0).abs() < WITHIN, "stated {stated}, drawn {drawn}");
}

#[test]
fn the_uncertainty_of_a_wall_agrees_with_a_monte_carlo_run() {
    let planning = bench().plan();
    let stated = limit(&planning, 4, "parent_wall").u;
    let clock = 65.0_f64.to_radians();
    let drawn = spread(DRAWS, |draw| {
        let c = [draw(MACHINE), draw(MACHINE)];
        // The radius is the described liner's outside: no diameter enters.
        let far = 50.5 + 5.1 + draw(WALL);
        let p = [0.1 + draw(CENTRE) + far * clock.cos(), 0.2 + draw(CENTRE) + far * clock.sin()];
        (p[0] - c[0]).hypot(p[1] - c[1])
    });
    agrees(stated, drawn);
}

#[test]
fn the_uncertainty_of_clean_up_agrees_with_a_monte_carlo_run() {
    let planning = bench().plan();
    let drawn = spread(DRAWS, |draw| {
        // The axis through centres at 20 and 125, carried down to 138.
        let mut end = |at: f64| {
            let (upper, lower) = (at + draw(CENTRE), at + draw(CENTRE));
            upper + (lower - upper) * (138.0 - 20.0) / (125.0 - 20.0) - draw(MACHINE)
        };
        let e = [end(0.1), end(0.2)];
        52.5 - e[0].hypot(e[1]) - 50.5
    });
    agrees(limit(&planning, 4, "clean_up").u, drawn);
    // Bored in the parent metal, half a diameter's uncertainty enters.
    let mut bare = bench();
    bare.block = vec![(
        "  liner: { bore: 96.0, outside: 101.0, length: 138.0, material: grey iron }\n",
        String::new(),
    )];
    let planning = bare.plan();
    let drawn = spread(DRAWS, |draw| {
        let mut end = |at: f64| {
            let (upper, lower) = (at + draw(CENTRE), at + draw(CENTRE));
            upper + (lower - upper) * (138.0 - 20.0) / (125.0 - 20.0) - draw(MACHINE)
        };
        let e = [end(0.1), end(0.2)];
        52.5 - e[0].hypot(e[1]) - (48.0 + draw(DIAMETER) / 2.0)
    });
    agrees(limit(&planning, 4, "clean_up").u, drawn);
}

#[test]
fn the_uncertainty_of_a_stud_wall_and_a_bridge_agree_with_a_monte_carlo_run() {
    let planning = bench().plan();
    // The stud at (140, 60) from cylinder 4 at (194, 0); the journal axis and the along datum carry the bore.
    let drawn = spread(DRAWS, |draw| {
        let c = [194.0 + draw(ALONG) + draw(MACHINE), draw(AXIS) + draw(MACHINE)];
        (c[0] - 140.0).hypot(c[1] - 60.0)
    });
    agrees(limit(&planning, 4, "stud_wall").u, drawn);
    let drawn = spread(DRAWS, |draw| {
        let (a, b) = ([draw(MACHINE), draw(MACHINE)], [110.0 + draw(MACHINE), draw(MACHINE)]);
        (a[0] - b[0]).hypot(a[1] - b[1])
    });
    agrees(limit(&planning, 4, "bridge").u, drawn);
}
