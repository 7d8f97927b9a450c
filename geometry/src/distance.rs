//! Distances between segments in space.

use nalgebra::Vector3;

/// The closest points of two segments, and how far apart they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosestPoints {
    /// On the first segment, mm.
    pub on_first_mm: [f64; 3],
    /// On the second segment, mm.
    pub on_second_mm: [f64; 3],
    /// Between the two, mm.
    pub distance_mm: f64,
}

/// The closest points of segments `first` and `second`, each given by its two ends, mm.
///
/// The unconstrained minimum of the squared distance of two lines, clamped to each segment in turn
/// (Ericson, Real-Time Collision Detection, 2005, section 5.1.9). Segments of no length count as points;
/// for parallel segments any closest pair is returned. Accurate to rounding for finite input.
///
/// ```
/// use borewright_geometry::closest_points;
/// let upright = [[0.0, 0.0, 0.0], [0.0, 0.0, -100.0]];
/// let across = [[50.0, -20.0, -30.0], [50.0, 20.0, -30.0]];
/// assert_eq!(closest_points(upright, across).distance_mm, 50.0);
/// ```
#[must_use]
pub fn closest_points(first: [[f64; 3]; 2], second: [[f64; 3]; 2]) -> ClosestPoints {
    let [p1, q1] = first.map(Vector3::from);
    let [p2, q2] = second.map(Vector3::from);
    let (d1, d2, r) = (q1 - p1, q2 - p2, p1 - p2);
    let (a, e, f) = (d1.dot(&d1), d2.dot(&d2), d2.dot(&r));
    let (b, c) = (d1.dot(&d2), d1.dot(&r));
    let share = |over: f64, under: f64| if under > 0.0 { (over / under).clamp(0.0, 1.0) } else { 0.0 };
    let denominator = a * e - b * b;
    // Parallel within rounding: any start along the first will do.
    let parallel = denominator <= 1e-14 * a * e;
    let start = if parallel { 0.0 } else { share(b * f - c * e, denominator) };
    let t = if e > 0.0 { ((b * start + f) / e).clamp(0.0, 1.0) } else { 0.0 };
    let s = share(b * t - c, a);
    let (on_first, on_second) = (p1 + d1 * s, p2 + d2 * t);
    ClosestPoints {
        on_first_mm: on_first.into(),
        on_second_mm: on_second.into(),
        distance_mm: (on_first - on_second).norm(),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn coordinate() -> impl Strategy<Value = f64> {
        -100.0..100.0_f64
    }

    fn end() -> impl Strategy<Value = [f64; 3]> {
        [coordinate(), coordinate(), coordinate()]
    }

    proptest! {
        #[test]
        fn no_sampled_pair_is_closer_than_the_closest_points(a in end(), b in end(), c in end(), d in end()) {
            let found = closest_points([a, b], [c, d]).distance_mm;
            let at = |p: [f64; 3], q: [f64; 3], s: f64| Vector3::from(p).lerp(&Vector3::from(q), s);
            for i in 0..=20_u8 {
                for j in 0..=20_u8 {
                    let (s, t) = (f64::from(i) / 20.0, f64::from(j) / 20.0);
                    prop_assert!((at(a, b, s) - at(c, d, t)).norm() >= found - 1e-9);
                }
            }
        }
    }

    #[test]
    fn crossing_segments_touch_and_points_are_segments_without_length() {
        let cross = closest_points([[-1.0, 0.0, 0.0], [1.0, 0.0, 0.0]], [[0.0, -1.0, 0.0], [0.0, 1.0, 0.0]]);
        assert!(cross.distance_mm < 1e-15);
        let point = closest_points([[3.0, 4.0, 0.0]; 2], [[0.0, 0.0, 0.0]; 2]);
        assert!((point.distance_mm - 5.0).abs() < 1e-15);
    }

    #[test]
    fn the_far_end_of_a_parallel_segment_is_clamped() {
        let found = closest_points([[0.0, 0.0, 0.0], [0.0, 0.0, -10.0]], [[3.0, 0.0, 14.0], [3.0, 0.0, 4.0]]);
        assert!((found.distance_mm - 5.0).abs() < 1e-12);
    }
}
