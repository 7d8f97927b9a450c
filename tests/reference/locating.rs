//! The 3-2-1 locator model against a case constructed and computed outside the project: both the linear
//! answer, which is a fraction, and the exact one of the rigid body.

use borewright_geometry::{Locating, Locator};

/// Three supports, two side stops and an end stop, mm, with the error of each along its direction.
///
/// Source: constructed, not published. The linear answer is exact in fractions; the exact rigid-body one was
/// computed with a general root finder to the digits given.
const LOCATORS: [([f64; 3], [f64; 3], f64); 6] = [
    ([0.0, 0.0, 0.0], [0.0, 0.0, 1.0], 0.020),
    ([400.0, 0.0, 0.0], [0.0, 0.0, 1.0], -0.010),
    ([200.0, 150.0, 0.0], [0.0, 0.0, 1.0], 0.030),
    ([50.0, 0.0, 60.0], [0.0, 1.0, 0.0], 0.010),
    ([350.0, 0.0, 60.0], [0.0, 1.0, 0.0], 0.040),
    ([0.0, 75.0, 60.0], [1.0, 0.0, 0.0], -0.020),
];

fn locating() -> Locating {
    Locating::new(&LOCATORS.map(|(at_mm, inward, _)| Locator { at_mm, inward })).unwrap()
}

fn assert_near(found: [f64; 3], expected: [f64; 3], within: f64) {
    assert!((0..3).all(|k| (found[k] - expected[k]).abs() < within), "{found:?}, expected {expected:?}");
}

#[test]
fn the_constructed_case_moves_as_its_fractions_say() {
    let (locating, errors) = (locating(), LOCATORS.map(|(.., error)| error));
    assert_near(locating.turn_rad(errors), [1.0 / 6000.0, 7.5e-5, 1e-4], 1e-15);
    assert_near(locating.displacement_mm([0.0; 3], errors), [-0.017, 0.015, 0.020], 1e-12);
    let cases = [
        ([100.0, 75.0, 200.0], [-0.0095, -0.025 / 3.0, 0.025]),
        ([350.0, 75.0, 200.0], [-0.0095, 0.05 / 3.0, 0.00625]),
        ([150.0, 60.0, 0.0], [-0.023, 0.03, 0.01875]),
    ];
    for (at, expected) in cases {
        assert_near(locating.displacement_mm(at, errors), expected, 1e-12);
    }
}

#[test]
fn the_exact_rigid_body_is_within_a_hundredth_of_a_micrometre_of_the_linear_answer() {
    let (locating, errors) = (locating(), LOCATORS.map(|(.., error)| error));
    let cases = [
        ([100.0, 75.0, 200.0], [-0.009_498_84, -0.008_338_08, 0.025_002_66]),
        ([350.0, 75.0, 200.0], [-0.009_500_80, 0.016_665_04, 0.006_256_83]),
    ];
    for (at, exact) in cases {
        assert_near(locating.displacement_mm(at, errors), exact, 1e-5);
        assert_near(rigid(at), exact, 1e-8);
    }
}

#[test]
fn five_micrometres_at_each_locator_make_the_computed_uncertainty() {
    let locating = locating();
    let cases = [
        ([100.0, 75.0, 200.0], [0.005_578_98, 0.007_121_95, 0.003_535_53]),
        ([350.0, 75.0, 200.0], [0.005_578_98, 0.007_593_86, 0.004_050_46]),
    ];
    for (at, expected) in cases {
        assert_near(locating.standard_uncertainty_mm(at, [0.005; 6]), expected, 5.1e-9);
    }
}

type Three = [f64; 3];

fn dot(a: Three, b: Three) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// `at` turned about the direction of `by`, by its length (Rodrigues' formula).
fn turned(at: Three, by: Three) -> Three {
    let angle = dot(by, by).sqrt();
    if angle == 0.0 {
        return at;
    }
    let axis = by.map(|part| part / angle);
    let cross = [
        axis[1] * at[2] - axis[2] * at[1],
        axis[2] * at[0] - axis[0] * at[2],
        axis[0] * at[1] - axis[1] * at[0],
    ];
    let along = dot(axis, at) * (1.0 - angle.cos());
    [0, 1, 2].map(|k| at[k] * angle.cos() + cross[k] * angle.sin() + axis[k] * along)
}

/// Where a point of the body goes when its six flat faces, turned and shifted with it, touch the locators that
/// have moved by their errors. Found by correcting the motion with the linear answer until nothing is left.
fn rigid(at: Three) -> Three {
    let locating = locating();
    let (mut turn, mut shift) = ([0.0; 3], [0.0; 3]);
    for _ in 0..50 {
        // By how much each locator stands off its face, along its direction.
        let left = LOCATORS.map(|(place, inward, error)| {
            let normal = turned(inward, turn);
            let face = turned(place, turn);
            let away = [0, 1, 2].map(|k| place[k] + error * inward[k] - face[k] - shift[k]);
            dot(normal, away)
        });
        let (more, by) = (locating.turn_rad(left), locating.displacement_mm([0.0; 3], left));
        (turn, shift) = ([0, 1, 2].map(|k| turn[k] + more[k]), [0, 1, 2].map(|k| shift[k] + by[k]));
    }
    let there = turned(at, turn);
    [0, 1, 2].map(|k| there[k] + shift[k] - at[k])
}
