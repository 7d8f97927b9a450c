//! Off-centre stock against brute force: the old hole as a polygon, cut by rays from the new centre.

use borewright_geometry::eccentric_stock;

/// Where the ray from the origin at an angle first leaves a polygon round it, mm; 0 where the origin is outside.
fn reach(polygon: &[[f64; 2]], angle: f64) -> f64 {
    let (sin, cos) = angle.sin_cos();
    let mut farthest = 0.0_f64;
    for (i, a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        let (ex, ey) = (b[0] - a[0], b[1] - a[1]);
        let across = cos * ey - sin * ex;
        if across.abs() < 1e-15 {
            continue;
        }
        let along = (a[0] * ey - a[1] * ex) / across;
        let share = (a[0] * sin - a[1] * cos) / across;
        if (0.0..=1.0).contains(&share) && along > farthest {
            farthest = along;
        }
    }
    farthest
}

#[test]
fn least_most_and_share_agree_with_a_polygon_difference() {
    const CORNERS: u32 = 2000;
    const RAYS: u32 = 3000;
    // Old radius, cut radius, distance of the centres; the last cuts on one side only.
    for (old, cut, apart) in [(48.0, 48.8, 0.38), (50.5, 50.2, 0.38), (41.0, 44.3, 1.2), (43.0, 42.7, 0.5)] {
        let corner = |k: u32| {
            let angle = std::f64::consts::TAU * f64::from(k) / f64::from(CORNERS);
            [apart + old * angle.cos(), old * angle.sin()]
        };
        let hole: Vec<[f64; 2]> = (0..CORNERS).map(corner).collect();
        let (mut least, mut most, mut touched, mut removed) = (f64::INFINITY, 0.0_f64, 0_u32, 0.0);
        for ray in 0..RAYS {
            let angle = std::f64::consts::TAU * f64::from(ray) / f64::from(RAYS);
            let wall = reach(&hole, angle);
            let stock = cut - wall;
            least = least.min(stock);
            most = most.max(stock);
            if stock > 0.0 {
                touched += 1;
                removed += (cut * cut - wall * wall) / 2.0 * std::f64::consts::TAU / f64::from(RAYS);
            }
        }
        let found = eccentric_stock(old, cut, apart);
        assert!((found.least_mm - least).abs() < 2e-4, "{old} {cut} {apart}: {found:?}, by rays {least}");
        assert!((found.most_mm - most).abs() < 2e-4, "{old} {cut} {apart}: {found:?}, by rays {most}");
        let share = f64::from(touched) / f64::from(RAYS);
        assert!((found.in_cut - share).abs() < 2.0 / f64::from(RAYS), "{found:?}, by rays {share}");
        if found.in_cut >= 1.0 {
            let rings = std::f64::consts::PI * (cut * cut - old * old);
            assert!((removed / rings - 1.0).abs() < 1e-4, "{removed} of {rings}");
        }
    }
}
