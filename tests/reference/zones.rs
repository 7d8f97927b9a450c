//! Minimum zone, least circumscribed and largest inscribed circles against figures from outside.

use std::fs;

use borewright_geometry::{
    ZoneCircle, fit_circle, maximum_inscribed_circle, minimum_circumscribed_circle, minimum_zone_circle,
};
use serde_json::Value;

use crate::circles::GASS_CASE_5;
use crate::nist::{number, outside};

/// The roundness of points about a centre, taken from the points alone.
fn roundness(points: &[[f64; 2]], centre: [f64; 2]) -> f64 {
    let distances = points.iter().map(|at| (at[0] - centre[0]).hypot(at[1] - centre[1]));
    let (least, most) = distances.fold((f64::MAX, 0.0f64), |(least, most), d| (least.min(d), most.max(d)));
    most - least
}

#[test]
fn the_nist_circles_have_the_computed_zones() {
    /// The points are NIST's; the figures are computed, not published, by whoever gathered the folder, each by
    /// two methods that agree to 1e-9 mm.
    const WITHIN_MM: f64 = 1e-8;
    let Some(folder) = outside("zones of the NIST circles") else { return };
    let text = fs::read_to_string(folder.join("roundness_nist_circles.json")).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    let mut worst = 0.0f64;
    for (name, set) in all["sets"].as_object().unwrap() {
        let points: Vec<[f64; 2]> = serde_json::from_value(set["points"].clone()).unwrap();
        let zone = minimum_zone_circle(&points).unwrap();
        let round = minimum_circumscribed_circle(&points).unwrap();
        let inside = maximum_inscribed_circle(&points).unwrap();
        let checks = [
            ("MZC RONt", zone.roundness_mm(), "mzc_RONt"),
            ("MCC radius", round.outer_mm, "mcc_radius"),
            ("MCC RONt", round.roundness_mm(), "mcc_RONt"),
            ("MIC radius", inside.inner_mm, "mic_radius"),
            ("MIC RONt", inside.roundness_mm(), "mic_RONt"),
        ];
        for (what, found, key) in checks {
            let off = (found - number(set, key)).abs();
            assert!(off < WITHIN_MM, "{name}: {what} {found}, off by {off:e}");
            worst = worst.max(off);
        }
        let least = fit_circle(&points).unwrap().roundness_mm;
        let others = [least, round.roundness_mm(), inside.roundness_mm()];
        assert!(others.iter().all(|other| zone.roundness_mm() <= other + 1e-12), "{name}");
        for circle in [zone, round, inside] {
            assert!((roundness(&points, circle.centre_mm) - circle.roundness_mm()).abs() < 1e-10, "{name}");
        }
    }
    eprintln!("zones: worst {worst:e} mm");
}

#[test]
fn case_five_of_gass_witzgall_and_harary_has_the_computed_zones() {
    /// The figures are given to 1e-8.
    const WITHIN: f64 = 1e-8;
    // The results were computed, not published, by enumeration.
    let points = GASS_CASE_5;
    let zone = minimum_zone_circle(&points).unwrap();
    assert!((zone.roundness_mm() - 0.003_225_16).abs() < WITHIN, "{zone:?}");
    let round: ZoneCircle = minimum_circumscribed_circle(&points).unwrap();
    assert!((round.outer_mm - 9.001_319_78).abs() < WITHIN, "{round:?}");
    let inside = maximum_inscribed_circle(&points).unwrap();
    assert!((inside.inner_mm - 8.999_153_49).abs() < WITHIN, "{inside:?}");
}
