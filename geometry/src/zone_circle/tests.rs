use proptest::prelude::*;

use super::*;
use crate::clock::distance_mm;

type Points = Vec<[f64; 2]>;

fn width_at(points: &[[f64; 2]], at: [f64; 2]) -> (f64, f64) {
    let distances = points.iter().map(|p| distance_mm(*p, at));
    distances.fold((f64::INFINITY, 0.0), |(least, most), d| (least.min(d), most.max(d)))
}

/// x with |x - a| = |x - b| and |x - c| = |x - d|.
fn meet(a: [f64; 2], b: [f64; 2], c: [f64; 2], d: [f64; 2]) -> Option<[f64; 2]> {
    let row = |a: [f64; 2], b: [f64; 2]| {
        let right = (b[0] * b[0] + b[1] * b[1] - a[0] * a[0] - a[1] * a[1]) / 2.0;
        [b[0] - a[0], b[1] - a[1], right]
    };
    let ([p, q, r], [s, t, u]) = (row(a, b), row(c, d));
    let det = p * t - q * s;
    (det.abs() > 1e-9).then(|| [(r * t - q * u) / det, (p * u - r * s) / det])
}

/// All centres through three points, and all with two pairs each equally far.
fn candidates(points: &[[f64; 2]], pairs: bool) -> Points {
    let n = points.len();
    let mut all = Vec::new();
    for i in 0..n {
        for j in 0..i {
            for k in 0..j {
                all.extend(meet(points[i], points[j], points[i], points[k]));
            }
            for k in (0..n).filter(|_| pairs) {
                for l in 0..k {
                    all.extend(meet(points[i], points[j], points[k], points[l]));
                }
            }
        }
    }
    all
}

fn in_hull(points: &[[f64; 2]], at: [f64; 2]) -> bool {
    let unit: Vec<Vector2<f64>> = points.iter().map(|&p| p.into()).collect();
    ring::hull(&unit).iter().all(|wall| wall.inside_by(at.into()) > 0.0)
}

/// Points round a circle at the given clocks (shares of `span`), off it by `noise`.
fn ring_of(centre: [f64; 2], radius: f64, span: f64, noise: &[(f64, f64)], size: f64) -> Points {
    noise
        .iter()
        .zip(0u32..)
        .map(|(&(aside, off), i)| {
            let share = (f64::from(i) + aside) / f64::from(u32::try_from(noise.len()).unwrap());
            let (sin, cos) = (share * span).sin_cos();
            let r = radius * (1.0 + off * size);
            [centre[0] + r * cos, centre[1] + r * sin]
        })
        .collect()
}

fn polygon(corners: u32, radius: f64) -> Points {
    ring_of([0.0; 2], radius, std::f64::consts::TAU, &vec![(0.0, 0.0); corners as usize], 0.0)
}

#[test]
fn regular_polygons_have_all_circles_about_their_centre() {
    for corners in [3, 4, 5, 6, 8, 12, 37, 360] {
        let points = polygon(corners, 50.0);
        for circle in [
            minimum_circumscribed_circle(&points).unwrap(),
            minimum_zone_circle(&points).unwrap(),
            maximum_inscribed_circle(&points).unwrap(),
        ] {
            assert!((circle.inner_mm - 50.0).abs() < 1e-12, "{corners}: {circle:?}");
            assert!((circle.outer_mm - 50.0).abs() < 1e-12 && circle.roundness_mm() < 1e-12);
        }
    }
}

#[test]
fn an_obtuse_and_a_right_angled_triangle_and_a_half_turn_are_open_to_a_circle_inside() {
    for points in [
        vec![[0.0, 0.0], [8.0, 0.0], [3.0, 1.0]],
        vec![[0.0, 0.0], [8.0, 0.0], [0.0, 6.0]],
        ring_of([3.0, 4.0], 50.0, 3.0, &[(0.0, 0.0); 40], 0.0),
        ring_of([3.0, 4.0], 50.0, 3.1, &[(0.0, 0.0); 4000], 0.0),
        ring_of([3.0, 4.0], 50.0, 0.1, &[(0.0, 0.0); 40], 0.0),
    ] {
        assert_eq!(maximum_inscribed_circle(&points), Err(ZoneCircleError::OpenArc));
        minimum_zone_circle(&points).unwrap();
        minimum_circumscribed_circle(&points).unwrap();
    }
}

#[test]
fn a_little_more_than_half_a_turn_holds_a_circle() {
    let points = ring_of([3.0, 4.0], 50.0, 3.4, &[(0.0, 0.0); 41], 0.0);
    let circle = maximum_inscribed_circle(&points).unwrap();
    assert!((circle.inner_mm - 50.0).abs() < 1e-11 && (circle.centre_mm[0] - 3.0).abs() < 1e-9, "{circle:?}");
}

#[test]
fn duplicates_change_nothing() {
    let mut points = ring_of(
        [0.0; 2],
        40.0,
        std::f64::consts::TAU,
        &[(0.0, 1.0), (0.2, -0.4), (0.1, 0.3), (0.3, -1.0), (0.0, 0.8), (0.2, 0.1), (0.1, -0.7)],
        1e-3,
    );
    let once = [minimum_zone_circle, maximum_inscribed_circle, minimum_circumscribed_circle]
        .map(|fit| fit(&points).unwrap());
    let again = points.clone();
    (0..9).for_each(|_| points.extend(&again));
    let often = [minimum_zone_circle, maximum_inscribed_circle, minimum_circumscribed_circle]
        .map(|fit| fit(&points).unwrap());
    for (a, b) in once.iter().zip(&often) {
        assert!((a.inner_mm - b.inner_mm).abs() < 1e-11 && (a.outer_mm - b.outer_mm).abs() < 1e-11);
    }
}

#[test]
fn points_that_fix_no_circle_are_refused() {
    let line = [[0.0, 0.0], [1.0, 1.0], [2.0, 2.0], [5.0, 5.0]];
    for fit in [minimum_zone_circle, maximum_inscribed_circle, minimum_circumscribed_circle] {
        assert_eq!(fit(&line), Err(CircleError::Collinear.into()));
        assert_eq!(fit(&[[1.0, 2.0]; 5]), Err(CircleError::Coincident.into()));
        assert_eq!(fit(&line[..2]), Err(CircleError::TooFewPoints { found: 2 }.into()));
        assert_eq!(fit(&[[0.0, f64::NAN], [1.0, 0.0], [0.0, 1.0]]), Err(CircleError::NotFinite.into()));
    }
}

#[test]
fn many_readings_at_few_clocks_come_to_an_end() {
    // Twelve clocks read four hundred times each: the thinnest zone lies in a nearly level valley.
    let mut seed = 1u64;
    let mut next = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(seed >> 33).unwrap()) / f64::from(1u32 << 30) - 1.0
    };
    for size in [1e-6, 1e-4, 1e-2] {
        let points: Points = (0..4800u32)
            .map(|i| {
                let (sin, cos) = (f64::from(i % 12) * std::f64::consts::TAU / 12.0).sin_cos();
                let r = 46.0 * (1.0 + size * next());
                [5.0 + r * cos, 7.0 + r * sin]
            })
            .collect();
        let zone = minimum_zone_circle(&points).unwrap();
        assert!(zone.roundness_mm() < 46.0 * size * 2.001, "{zone:?}");
        maximum_inscribed_circle(&points).unwrap();
    }
}

#[test]
fn a_cloud_that_is_no_ring_is_answered_or_refused_and_comes_to_an_end() {
    let mut seed = 3u64;
    let mut next = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(seed >> 33).unwrap()) / f64::from(1u32 << 30) - 1.0
    };
    for number in [5, 30, 300, 3000] {
        let points: Points = (0..number).map(|_| [next(), next()]).collect();
        let round = minimum_circumscribed_circle(&points).unwrap();
        assert!(points.iter().all(|at| distance_mm(*at, round.centre_mm) <= round.outer_mm + 1e-14));
        if let Ok(inside) = maximum_inscribed_circle(&points) {
            assert!((width_at(&points, inside.centre_mm).0 - inside.inner_mm).abs() < 1e-14);
        }
        let _ = minimum_zone_circle(&points);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]
    #[test]
    fn on_few_points_no_candidate_of_all_is_better(
        noise in prop::collection::vec((0.0..0.9f64, -1.0..1.0f64), 4..14),
        exponent in -9.0..-0.7f64,
        span in 3.3..std::f64::consts::TAU,
        far in prop::array::uniform2(-500.0..500.0f64),
    ) {
        let size = 10f64.powf(exponent);
        let near = ring_of([0.0, 0.0], 50.0, span, &noise, size);
        let points: Points = near.iter().map(|p| [p[0] + far[0], p[1] + far[1]]).collect();
        // Enumerated about the centre, so that squares keep their digits.
        let near: Points = points.iter().map(|p| [p[0] - far[0], p[1] - far[1]]).collect();
        let all = candidates(&near, true);

        let least = candidates(&near, false).into_iter()
            .chain((0..near.len()).flat_map(|i| (0..i).map(move |j| (i, j)))
                .map(|(i, j)| [(near[i][0] + near[j][0]) / 2.0, (near[i][1] + near[j][1]) / 2.0]))
            .map(|at| width_at(&near, at).1).fold(f64::INFINITY, f64::min);
        let round = minimum_circumscribed_circle(&points).unwrap();
        prop_assert!((round.outer_mm - least).abs() < 1e-11 * 50.0, "{round:?} {least}");

        // A centre far off is no roundness.
        let close = |at: &[f64; 2]| at[0].hypot(at[1]) < 20.0;
        let thinnest = all.iter().filter(|at| close(at))
            .map(|&at| { let (least, most) = width_at(&near, at); most - least })
            .fold(f64::INFINITY, f64::min);
        let zone = minimum_zone_circle(&points);
        match zone {
            Ok(zone) => prop_assert!(zone.roundness_mm() <= thinnest + 1e-11, "{zone:?} {thinnest}"),
            Err(error) => prop_assert!(size > 1e-2, "{error} {size}"),
        }
        if let Ok(zone) = zone {
            let (least, most) = width_at(&points, zone.centre_mm);
            prop_assert!((least - zone.inner_mm).abs() < 1e-11 && (most - zone.outer_mm).abs() < 1e-11);
            prop_assert!(!close(&[zone.centre_mm[0] - far[0], zone.centre_mm[1] - far[1]])
                || zone.roundness_mm() > thinnest - 1e-11);
        }

        let widest = all.iter().filter(|&&at| in_hull(&near, at))
            .map(|&at| width_at(&near, at).0)
            .fold(0.0, f64::max);
        match maximum_inscribed_circle(&points) {
            Ok(inside) => prop_assert!((inside.inner_mm - widest).abs() < 1e-10, "{inside:?} {widest}"),
            Err(ZoneCircleError::OpenArc) => {}
            Err(error) => prop_assert!(false, "{error}"),
        }
    }

    #[test]
    fn a_square_thinned_loses_no_point_that_is_nearest_or_farthest_from_any_of_its_places(
        noise in prop::collection::vec((0.0..0.9f64, -1.0..1.0f64), 30..300),
        exponent in -6.0..0.0f64,
        half in 1e-6..0.4f64,
        x in -0.3..0.3f64, y in -0.3..0.3f64,
        places in prop::collection::vec((-1.0..1.0f64, -1.0..1.0f64), 20),
    ) {
        let points = ring_of([0.0; 2], 1.0, std::f64::consts::TAU, &noise, 10f64.powf(exponent));
        let points: Vec<Vector2<f64>> = points.into_iter().map(Vector2::from).collect();
        let square = lists::Square { centre: Vector2::new(x, y), half };
        let near = lists::thinned(&points, &square, lists::Side::Near);
        let far = lists::thinned(&points, &square, lists::Side::Far);
        for (u, v) in places {
            let at = square.centre + Vector2::new(u, v) * half;
            prop_assert_eq!(lists::nearest(&near, at).map(|n| n.1), lists::nearest(&points, at).map(|n| n.1));
            prop_assert_eq!(farthest(&far, at).map(|n| n.1), farthest(&points, at).map(|n| n.1));
        }
    }
}

#[test]
#[ignore = "a measurement of time: run in release"]
fn a_million_points_take_well_under_a_second() {
    let mut seed = 7u64;
    let mut next = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(seed >> 33).unwrap()) / f64::from(1u32 << 30) - 1.0
    };
    for (name, span, noise, clocks) in [
        ("full turn", std::f64::consts::TAU, 1e-4, 1_000_000),
        ("full turn, 1000 clocks", std::f64::consts::TAU, 1e-4, 1000),
        ("exact circle", std::f64::consts::TAU, 0.0, 1_000_000),
        ("coarse", std::f64::consts::TAU, 1e-2, 1_000_000),
        ("220 degrees", 3.84, 1e-4, 1_000_000),
        ("90 degrees", 1.57, 1e-5, 1_000_000),
    ] {
        let points: Points = (0..1_000_000u32)
            .map(|i| {
                let angle = f64::from(i % clocks) / f64::from(clocks) * span;
                let r = 50.0 + 50.0 * noise * (next() + 0.5 * (3.0 * angle).cos());
                [400.0 + r * angle.cos(), -30.0 + r * angle.sin()]
            })
            .collect();
        let time = |what: &str, fit: &dyn Fn() -> String| {
            let start = std::time::Instant::now();
            let result = fit();
            eprintln!("{name}: {what}: {:?} {result}", start.elapsed());
        };
        time("scaling", &|| format!("{:?}", Patch::sound(&points).map(|p| p.reach_mm)));
        time("LSC", &|| format!("{:?}", fit_circle(&points)));
        time("MCC", &|| format!("{:?}", minimum_circumscribed_circle(&points)));
        time("MZC", &|| format!("{:?}", minimum_zone_circle(&points)));
        let readings: Vec<(f64, f64)> = points
            .iter()
            .map(|p| (p[0] - 400.0, p[1] + 30.0))
            .map(|(x, y)| (y.atan2(x).to_degrees(), x.hypot(y)))
            .collect();
        time("harmonics", &|| format!("{:?}", crate::fit_harmonics(&readings)));
        time("MIC", &|| format!("{:?}", maximum_inscribed_circle(&points)));
    }
}
