//! Fits, tails and lobes against figures recorded from SciPy and NumPy: `scipy/figures.json`, made by the script
//! beside it, which says with which versions and seed.

use borewright_geometry::{fit_circle, fit_cylinder_along, fit_harmonics, minimum_zone_cylinder_along};
use serde_json::Value;
use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor};

fn recorded() -> Value {
    serde_json::from_str(include_str!("scipy/figures.json")).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn rows<const N: usize>(value: &Value) -> Vec<[f64; N]> {
    let row = |r: &Value| -> [f64; N] { std::array::from_fn(|k| number(&r[k])) };
    value.as_array().unwrap().iter().map(row).collect()
}

#[test]
fn circles_come_back_as_recorded_and_their_uncertainty_is_the_one_that_is_counted_with() {
    /// The recorded search ends some 1e-9 short of its rest where an arc leaves the centre loose.
    const WITHIN_MM: f64 = 1e-8;
    for (name, set) in recorded()["circles"].as_object().unwrap() {
        let points = rows::<2>(&set["points"]);
        let circle = fit_circle(&points).unwrap();
        for k in 0..2 {
            let off = (circle.centre_mm[k] - number(&set["centre"][k])).abs();
            assert!(off < WITHIN_MM, "{name}: {off:e}");
        }
        assert!((circle.radius_mm - number(&set["radius"])).abs() < WITHIN_MM, "{name}");
        assert!((circle.roundness_mm - number(&set["peak_to_valley"])).abs() < WITHIN_MM, "{name}");
        // A centre has the root of 2/n of a point's uncertainty where the points stand all round.
        if name.ends_with("all round") {
            let n = f64::from(u32::try_from(points.len()).unwrap());
            for k in 0..2 {
                let variance = number(&set["covariance"][k][k]);
                assert!((variance * n / 2.0 - 1.0).abs() < 1e-3, "{name}: {variance}");
            }
        }
    }
}

#[test]
fn cylinders_come_back_as_recorded_by_least_squares_and_by_the_minimum_zone() {
    const WITHIN_MM: f64 = 1e-8;
    /// The recorded zone is the best of eight runs of a general optimiser, which ends some 1e-8 above the least.
    const ZONE_WITHIN_MM: f64 = 1e-6;
    for (name, set) in recorded()["cylinders"].as_object().unwrap() {
        let points = rows::<3>(&set["points"]);
        let found = fit_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap();
        let [dx, dy, dz] = found.axis.direction;
        let slope = [dx / dz, dy / dz];
        for k in 0..2 {
            let at_z_0 = found.axis.point_mm[k] - found.axis.point_mm[2] * slope[k];
            assert!((at_z_0 - number(&set["at_z_0"][k])).abs() < WITHIN_MM, "{name}");
            assert!((slope[k] - number(&set["slope"][k])).abs() < WITHIN_MM / 100.0, "{name}");
        }
        assert!((found.radius_mm - number(&set["radius"])).abs() < WITHIN_MM, "{name}");
        assert!((found.cylindricity_mm - number(&set["cylindricity"])).abs() < WITHIN_MM, "{name}");
        let zone = minimum_zone_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap().cylindricity_mm();
        assert!((zone - number(&set["zone"])).abs() < ZONE_WITHIN_MM, "{name}: {zone} {}", set["zone"]);
        // Never above it: the program's zone is the least.
        assert!(zone <= number(&set["zone"]) + WITHIN_MM, "{name}");
        assert!(zone < found.cylindricity_mm, "{name}");
    }
}

#[test]
fn lobes_at_uneven_clocks_come_back_as_recorded() {
    let set = &recorded()["harmonics"];
    let readings: Vec<(f64, f64)> = rows::<2>(&set["readings"]).into_iter().map(|[c, r]| (c, r)).collect();
    let found = fit_harmonics(&readings).unwrap();
    assert!((found.mean_mm - number(&set["mean"])).abs() < 1e-11);
    for told in set["told"].as_array().unwrap() {
        let order = u8::try_from(told["order"].as_u64().unwrap()).unwrap();
        let lobe = found.order(order).unwrap();
        assert!((lobe.amplitude_mm - number(&told["amplitude"])).abs() < 1e-11, "{order}");
        let pitch = 360.0 / f64::from(order);
        let off = (lobe.phase_deg - number(&told["clock"])).rem_euclid(pitch);
        assert!(off.min(pitch - off) < 1e-5, "{order}: {off}");
    }
}

#[test]
fn the_tails_that_verdicts_of_the_survey_rest_on_are_as_recorded() {
    let tails = &recorded()["tails"];
    let near = |found: f64, wanted: f64| (found / wanted - 1.0).abs() < 1e-8;
    for [f, a, b, wanted] in rows::<4>(&tails["f"]) {
        let found = FisherSnedecor::new(a, b).unwrap().sf(f);
        assert!(near(found, wanted), "F {f} {a} {b}: {found} {wanted}");
    }
    for [x, n, wanted] in rows::<3>(&tails["chi_squared"]) {
        let found = ChiSquared::new(n).unwrap().sf(x);
        assert!(near(found, wanted), "chi-squared {x} {n}: {found} {wanted}");
    }
    for [n, wanted] in rows::<2>(&tails["chi_squared_95"]) {
        assert!(near(ChiSquared::new(n).unwrap().inverse_cdf(0.95), wanted), "{n}");
    }
    for [a, b, wanted] in rows::<3>(&tails["f_95"]) {
        let found = FisherSnedecor::new(a, b).unwrap().inverse_cdf(0.95);
        assert!((found / wanted - 1.0).abs() < 1e-6, "{a} {b}: {found} {wanted}");
    }
}
