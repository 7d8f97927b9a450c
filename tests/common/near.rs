//! Figures compared within a tolerance.

/// Fails where a figure is farther from the expected one than the tolerance.
#[track_caller]
pub fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "found {found}, expected {expected} within {tolerance}");
}
