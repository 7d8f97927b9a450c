//! Least-squares lines against figures of other programs.

use borewright_geometry::fit_line;

#[test]
// The printed direction, not a constant written short.
#[allow(clippy::approx_constant)]
fn the_four_points_of_the_openindy_line_test_give_its_direction_and_residuals() {
    // Source: the OpenIndy project, unit test `testBestFitLine_residuals`; direction printed to six decimals,
    // residuals to four.
    let points = [
        [999.9916, 999.9958, 999.9917],
        [2000.0015, 2000.0008, 999.9970],
        [3000.0270, 3000.0247, 1000.0083],
        [4999.9732, 4999.9797, 1000.0041],
    ];
    let line = fit_line(&points).unwrap();
    for (found, printed) in line.direction.iter().zip([0.707_106, 0.707_107, 0.000_002]) {
        assert!((found - printed).abs() < 1e-6, "{line:?}");
    }
    for (&at, printed) in points.iter().zip([0.0040, 0.0017, 0.0079, 0.0039]) {
        let found = line.distance_mm(at);
        assert!((found - printed).abs() < 1e-4, "{found} for {printed}");
    }
}
