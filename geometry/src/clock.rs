//! Places about a middle: how far from it, and at which clock; clocks in degrees from x towards y.

/// How far two places of a plane are apart.
#[must_use]
pub fn distance_mm(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// The clock that a way points to, from 0 up to 360; 0 of no way at all.
#[must_use]
pub fn clock_deg([dx, dy]: [f64; 2]) -> f64 {
    dy.atan2(dx).to_degrees().rem_euclid(360.0)
}

/// How far two clocks are apart, the shorter way round; either may have gone round more than once.
#[must_use]
pub fn clocks_apart_deg(a: f64, b: f64) -> f64 {
    let turn = (a - b).rem_euclid(360.0);
    turn.min(360.0 - turn)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_and_clocks_are_worked_by_hand() {
        assert_eq!(distance_mm([1.0, 2.0], [4.0, -2.0]), 5.0);
        assert_eq!(
            [[2.0, 0.0], [0.0, 0.5], [-1.0, 0.0], [0.0, -3.0]].map(clock_deg),
            [0.0, 90.0, 180.0, 270.0]
        );
        assert_eq!(
            [clocks_apart_deg(350.0, 20.0), clocks_apart_deg(20.0, -10.0), clocks_apart_deg(90.0, 270.0)],
            [30.0, 30.0, 180.0]
        );
    }
}
