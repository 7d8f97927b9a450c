//! Turns, speeds and feed marks: what follows of how an edge is driven alone, whatever it cuts.

use std::f64::consts::PI;

/// Speed of an edge that turns on a diameter, m/min: v = π D n / 1000, the way round once a turn, 1000 mm to the metre.
pub(super) fn speed_m_per_min(diameter_mm: f64, rpm: f64) -> f64 {
    PI * diameter_mm * rpm / 1000.0
}

/// Turns a minute for a speed, the same solved for n: n = 1000 v / (π D).
pub(super) fn turns_per_min(speed_m_per_min: f64, diameter_mm: f64) -> f64 {
    1000.0 * speed_m_per_min / (PI * diameter_mm)
}

/// Theoretical height of the feed marks of a round nose, peak to valley, µm: f² / (8 r), the sagitta of its arc
/// over one feed where the feed is small against the nose.
pub(super) fn mark_height_um(feed_mm: f64, nose_mm: f64) -> f64 {
    1000.0 * feed_mm * feed_mm / (8.0 * nose_mm)
}

/// Included angle between the two families of scratches, degrees: tan(half) = stroke speed / surface speed.
///
/// Source: Klocke, Manufacturing Processes 2, honing (from memory); stroke speed = 2 x stroke x double
/// strokes a minute.
///
/// ```
/// # use borewright_planner::passes::crosshatch_deg;
/// // D 101.6, 200 1/min, 130 mm stroke, 75 double strokes/min: 33.97 degrees.
/// assert!((crosshatch_deg(101.6, 200.0, 130.0, 75.0) - 33.9721).abs() < 1e-3);
/// ```
#[must_use]
pub fn crosshatch_deg(diameter_mm: f64, rpm: f64, stroke_mm: f64, strokes_per_min: f64) -> f64 {
    (2.0 * stroke_mm * strokes_per_min / (PI * diameter_mm * rpm)).atan().to_degrees() * 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_and_speed_are_each_others_inverse() {
        // 96 mm at 150 m/min: 150 / 0.301593 m round = 497.4 turns.
        assert!((turns_per_min(150.0, 96.0) - 497.359).abs() < 1e-3);
        assert!((speed_m_per_min(96.0, turns_per_min(150.0, 96.0)) - 150.0).abs() < 1e-9);
    }

    #[test]
    fn marks_are_as_high_as_the_arc_between_two_feeds() {
        // 0.1 mm a turn, a nose of 0.4 mm: r - √(r² - f²/4) = 3.1373 µm; the short formula gives 3.125.
        let arc = 1000.0 * (0.4 - (0.16_f64 - 0.0025).sqrt());
        assert!((mark_height_um(0.1, 0.4) - 3.125).abs() < 1e-12 && (arc / 3.125 - 1.0).abs() < 0.005);
    }
}
