//! Least-squares circles against figures of books and pages.

use borewright_geometry::{Circle, fit_circle};

/// Case 5 of S. I. Gass, C. Witzgall, H. H. Harary, "Fitting circles and spheres to coordinate measuring machine data",
/// Int. J. Flexible Manufacturing Systems 10 (1998), as kept in a published model file.
pub(crate) const GASS_CASE_5: [[f64; 2]; 6] =
    [[7.7949, 4.5], [0.0, 8.996], [-7.7953, 4.4987], [-7.7963, -4.4998], [0.0, -9.0031], [7.7939, -4.5001]];

/// Where a result was "computed, not published": by Newton's method on the sum of squares with its full
/// second derivatives, in decimal arithmetic of 50 digits, apart from this project's code. Our rounding is
/// about 1e-13.
const COMPUTED: f64 = 1e-12;

/// Asserts centre and radius within `within`.
fn assert_circle(found: &Circle, centre: [f64; 2], radius: f64, within: f64) {
    let errors = [found.centre_mm[0] - centre[0], found.centre_mm[1] - centre[1], found.radius_mm - radius];
    assert!(errors.iter().all(|error| error.abs() < within), "{found:?}, off by {errors:?}");
}

#[test]
fn the_six_points_of_gander_golub_and_strebel_give_their_geometric_circle_not_the_algebraic_one() {
    // Source: W. Gander, G. H. Golub, R. Strebel, "Least-squares fitting of circles and ellipses", BIT 34
    // (1994); points and the printed digits from memory. The further digits were computed, not published.
    let points = [[1.0, 7.0], [2.0, 6.0], [5.0, 8.0], [7.0, 7.0], [9.0, 5.0], [3.0, 7.0]];
    let circle = fit_circle(&points).unwrap();
    assert_circle(&circle, [4.7398, 2.9835], 4.7142, 1e-4);
    assert_circle(&circle, [4.739_782_410_906_074, 2.983_532_699_292_475], 4.714_226_037_792_11, COMPUTED);
    // The norm of the residuals: computed, not published.
    assert!((circle.rms_mm * 6.0f64.sqrt() - 1.107_970_702_764_137).abs() < COMPUTED);
}

#[test]
fn the_full_circle_of_the_scipy_cookbook_comes_back() {
    // Source: the SciPy Cookbook, "Least squares circle", full-circle data; points from memory. The result
    // was computed, not published.
    let points = [[9.0, 34.0], [35.0, 10.0], [-13.0, 6.0], [10.0, -14.0], [23.0, 27.0], [0.0, -10.0]];
    let circle = fit_circle(&points).unwrap();
    assert_circle(&circle, [10.500_086_213_944_377, 9.659_949_505_836_43], 23.333_527_646_182_877, COMPUTED);
}

#[test]
fn the_arc_of_the_scipy_cookbook_comes_back_though_its_algebraic_circle_is_far_off() {
    // Source: the SciPy Cookbook, "Least squares circle", arc data; points from memory. The result was
    // computed, not published.
    let points = [[36.0, 14.0], [36.0, 10.0], [19.0, 28.0], [18.0, 31.0], [33.0, 18.0], [26.0, 26.0]];
    let circle = fit_circle(&points).unwrap();
    assert_circle(&circle, [9.887_566_567_477_387, 3.687_497_309_784_12], 27.350_443_168_133_744, COMPUTED);
    let squares: f64 = circle.residuals_mm(&points).iter().map(|residual| residual * residual).sum();
    assert!((squares - 4.042_521_898_319).abs() < COMPUTED, "{squares}");
}

#[test]
fn case_five_of_gass_witzgall_and_harary_comes_back() {
    // The least-squares results were computed, not published.
    let points = GASS_CASE_5;
    let circle = fit_circle(&points).unwrap();
    assert_circle(&circle, [-0.000_469_222_216_824, -0.002_466_757_524_465], 9.000_236_579_336_485, COMPUTED);
    assert!((circle.roundness_mm - 0.003_754_523_540).abs() < 1e-10);
    assert!((circle.rms_mm - 0.001_271_507_942).abs() < 1e-10);
}
