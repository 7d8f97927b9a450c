//! Shrink fits against finite elements, and limits of size against a table made by others.

use borewright_planner::job::iso286::Code;
use borewright_planner::sleeve::rings::{Ring, contact_pressures};

/// Written by fem/press_fit.py with scikit-fem 12.0.2; its head says how.
const FEM: &str = include_str!("fem/press_fit.csv");

#[test]
fn contact_pressure_stress_and_growth_agree_with_axisymmetric_finite_elements() {
    let mut cases = 0;
    for line in FEM.lines().skip(1) {
        let (name, figures) = line.rsplit_once('"').unwrap();
        let f: Vec<f64> = figures.trim_start_matches(',').split(',').map(|v| v.parse().unwrap()).collect();
        let ring = |inside_mm, outside_mm, elastic_mpa, poisson| Ring {
            inside_mm,
            outside_mm,
            elastic_mpa,
            poisson,
        };
        let (inner, outer) = (ring(f[0], f[1], f[3], f[4]), ring(f[1], f[2], f[5], f[6]));
        let p = contact_pressures(&[inner, outer], &[f[7]], 0.0, 0.0)[0];
        let face = f[1] / 2.0;
        for (found, expected, what) in [
            (p, f[8], "pressure"),
            (outer.hoop_mpa(face, p, 0.0), f[9], "hoop of the outer ring"),
            (inner.hoop_mpa(face, 0.0, p), f[10], "hoop of the inner ring"),
            (outer.growth_mm(f[2] / 2.0, p, 0.0), f[11], "growth of the outside"),
            (inner.growth_mm(f[0] / 2.0, 0.0, p), f[12], "growth of the bore"),
        ] {
            let error = (found / expected - 1.0).abs();
            assert!(error < 1e-6, "{name}: {what} {found}, by finite elements {expected}");
        }
        cases += 1;
    }
    assert_eq!(cases, 4);
}

#[test]
fn more_of_the_textbooks_press_fits_come_out() {
    let ring =
        |inside_mm, outside_mm, elastic_mpa, poisson| Ring { inside_mm, outside_mm, elastic_mpa, poisson };
    // Hollow steel shaft 25/50 in a cast-iron hub to 125 whose hoop stress is 30 MPa: p = 21.7241 MPa and a radial
    // interference of 0.0323768 mm. Inputs a public textbook example (A. Ugural), outputs computed.
    let (shaft, hub) = (ring(50.0, 100.0, 210e3, 0.3), ring(100.0, 250.0, 70e3, 0.25));
    let p = contact_pressures(&[shaft, hub], &[2.0 * 0.032_376_8], 0.0, 0.0)[0];
    assert!((p - 21.7241).abs() < 1e-3, "{p}");
    assert!((hub.hoop_mpa(50.0, p, 0.0) - 30.0).abs() < 2e-3);
    // Steel ring 127/101.6 on a brass ring 101.651/50.8: a public exercise, outputs computed.
    let (brass, steel) = (ring(50.8, 101.6, 103.4e3, 0.32), ring(101.6, 127.0, 206.7e3, 0.29));
    let p = contact_pressures(&[brass, steel], &[0.051], 0.0, 0.0)[0];
    assert!((p / 13.7653 - 1.0).abs() < 1e-3, "{p}");
    // Solid shaft 100 in a hub of 150, the same steel, 0.1 on diameter: printed 58.3 and 151.7 MPa.
    let (shaft, hub) = (ring(0.0, 100.0, 210e3, 0.3), ring(100.0, 150.0, 210e3, 0.3));
    let p = contact_pressures(&[shaft, hub], &[0.1], 0.0, 0.0)[0];
    assert!((p - 58.333).abs() < 1e-2 && (hub.hoop_mpa(50.0, p, 0.0) - 151.667).abs() < 1e-2);
}

#[test]
fn fits_of_iso_286_agree_with_a_table_made_by_others() {
    // Least and most clearance, micrometres: PyPI pressfit 0.1.0, recomputed from ISO 286-1 and -2.
    for (size, code, least, most) in [
        (60.0, "H7/f7", 30.0, 90.0),
        (60.0, "H7/g6", 10.0, 59.0),
        (60.0, "H7/h6", 0.0, 49.0),
        (60.0, "H7/k6", -21.0, 28.0),
        (90.0, "H7/p6", -59.0, -2.0),
        (90.0, "H7/n6", -45.0, 12.0),
        (90.0, "H7/g6", 12.0, 69.0),
        (110.0, "H7/s6", -101.0, -44.0),
        (130.0, "H7/p6", -68.0, -3.0),
    ] {
        let fit = Code::parse(code).unwrap();
        let (hole, shaft) = (fit.hole.deviations(size).unwrap(), fit.shaft.deviations(size).unwrap());
        let clearance = [hole.lower_mm - shaft.upper_mm, hole.upper_mm - shaft.lower_mm];
        for (found, expected) in clearance.iter().zip([least, most]) {
            assert!((found * 1000.0 - expected).abs() < 1e-6, "{size} {code}: {found}");
        }
    }
}
