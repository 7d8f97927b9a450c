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

/// The golden section ends at this share of the segment, below the rounding of any length.
const GOLDEN_SHARE: f64 = 1e-12;

/// The point of a segment closest to an upright solid cylinder, and how far off it is, mm.
///
/// The cylinder stands about `centre_mm` with `radius_mm` between two heights. The distance of a point to
/// a convex body is a convex function along a segment, so a golden section finds its least (Kiefer 1953,
/// from memory). Zero where the segment enters the cylinder.
///
/// ```
/// use borewright_geometry::segment_to_cylinder;
/// // A hole's axis 5 mm below the floor of a recess of radius 56.
/// let hole = [[55.0, -20.0, -11.0], [55.0, 20.0, -11.0]];
/// let (distance, _) = segment_to_cylinder(hole, [0.0, 0.0], 56.0, [-6.0, 0.0]);
/// assert!((distance - 5.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn segment_to_cylinder(
    segment_mm: [[f64; 3]; 2],
    centre_mm: [f64; 2],
    radius_mm: f64,
    heights_mm: [f64; 2],
) -> (f64, [f64; 3]) {
    let [a, b] = segment_mm.map(Vector3::from);
    let (low, high) = (heights_mm[0].min(heights_mm[1]), heights_mm[0].max(heights_mm[1]));
    let distance = |share: f64| {
        let p = a.lerp(&b, share);
        let beside = ((p.x - centre_mm[0]).hypot(p.y - centre_mm[1]) - radius_mm).max(0.0);
        let above = (p.z - high).max(low - p.z).max(0.0);
        beside.hypot(above)
    };
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut from, mut to) = (0.0, 1.0);
    // One of the two inner points is used again in the next step.
    let (mut left, mut right) = (to - golden, from + golden);
    let (mut at_left, mut at_right) = (distance(left), distance(right));
    while to - from > GOLDEN_SHARE {
        if at_left <= at_right {
            (to, right, at_right) = (right, left, at_left);
            left = to - golden * (to - from);
            at_left = distance(left);
        } else {
            (from, left, at_left) = (left, right, at_right);
            right = from + golden * (to - from);
            at_right = distance(right);
        }
    }
    let share = (from + to) / 2.0;
    (distance(share), a.lerp(&b, share).into())
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

    proptest! {
        #[test]
        fn no_sampled_point_is_closer_to_the_cylinder(a in end(), b in end(), radius in 5.0..60.0_f64) {
            let (found, _) = segment_to_cylinder([a, b], [3.0, -4.0], radius, [-30.0, 0.0]);
            for i in 0..=400_u16 {
                let p = Vector3::from(a).lerp(&Vector3::from(b), f64::from(i) / 400.0);
                let beside = ((p.x - 3.0).hypot(p.y + 4.0) - radius).max(0.0);
                let above = p.z.max(-30.0 - p.z).max(0.0);
                prop_assert!(beside.hypot(above) >= found - 1e-9);
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
