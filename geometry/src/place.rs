//! Bounds on where a centre may stand in the plane, each with a margin and a reserve.

use crate::distance::{closest_points, segment_to_cylinder};

/// Two centres nearer than this stand in the same place: no direction is read from rounding, mm.
///
/// A thousandth of the finest figure a machine is told (0.001 mm), and far above the rounding of
/// coordinates of a metre.
pub const SAME_PLACE_MM: f64 = 1e-6;

/// Standard uncertainty of a distance by direction: independent parts along x and y, and one that
/// counts in every direction, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// Along x.
    pub x_mm: f64,
    /// Along y.
    pub y_mm: f64,
    /// In every direction.
    pub all_mm: f64,
}

impl Spread {
    /// A spread alike in every direction: the root of the sum of squares of independent parts, mm.
    #[must_use]
    pub fn all(parts_mm: &[f64]) -> Self {
        Self { all_mm: parts_mm.iter().map(|u| u * u).sum::<f64>().sqrt(), ..Self::default() }
    }

    /// The standard uncertainty along the vector (dx, dy); without a direction the larger counts.
    ///
    /// First-order propagation of independent inputs (JCGM 100:2008, equation 10).
    #[must_use]
    pub fn along(&self, [dx, dy]: [f64; 2]) -> f64 {
        let length = dx.hypot(dy);
        let across = if length < SAME_PLACE_MM {
            self.x_mm.abs().max(self.y_mm.abs())
        } else {
            (self.x_mm * dx / length).hypot(self.y_mm * dy / length)
        };
        across.hypot(self.all_mm)
    }

    /// Standard uncertainties along x and along y, mm.
    #[must_use]
    pub fn sigma(&self) -> [f64; 2] {
        [self.x_mm.hypot(self.all_mm), self.y_mm.hypot(self.all_mm)]
    }

    /// The least standard uncertainty in any direction, mm.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.x_mm.abs().min(self.y_mm.abs()).hypot(self.all_mm)
    }

    /// How [`Self::along`] changes with the vector (dx, dy): its gradient, no unit; zero without a direction.
    #[must_use]
    pub fn gradient(&self, [dx, dy]: [f64; 2]) -> [f64; 2] {
        let length = dx.hypot(dy);
        let u = self.along([dx, dy]);
        if length < SAME_PLACE_MM || u <= 0.0 {
            return [0.0, 0.0];
        }
        // u^2 = (x^2 dx^2 + y^2 dy^2) / length^2 + all^2: only turning the vector changes it.
        let turn = (self.y_mm.powi(2) - self.x_mm.powi(2)) * dx * dy / (u * length.powi(4));
        [-turn * dy, turn * dx]
    }
}

/// A bound on a centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// Inside a circle: margin = radius - distance.
    Inside {
        /// Of the circle, mm.
        centre_mm: [f64; 2],
        /// Of the circle, mm; negative where nothing is inside.
        radius_mm: f64,
    },
    /// Outside a circle: margin = distance - radius.
    Outside {
        /// Of the circle, mm.
        centre_mm: [f64; 2],
        /// Of the circle, mm.
        radius_mm: f64,
    },
    /// Between two parallel lines: margin = half width - distance from their middle.
    Between {
        /// A point midway, mm.
        middle_mm: [f64; 2],
        /// The axis that the distance is measured along: 0 for x, 1 for y.
        axis: usize,
        /// Half the width, mm.
        half_mm: f64,
    },
    /// A segment carried by the centre clear of another segment: margin = distance - radius.
    ClearOf {
        /// Ends of the other segment, mm.
        segment_mm: [[f64; 3]; 2],
        /// Ends of the carried segment from the centre: x, y, and height, mm.
        ends_mm: [[f64; 3]; 2],
        /// How far off it must stay, mm.
        radius_mm: f64,
    },
    /// A flat recess about the centre clear of a segment above or below it: margin = distance - least.
    RecessClearOf {
        /// Ends of the segment, mm.
        segment_mm: [[f64; 3]; 2],
        /// Heights of the recess, mm; the segment stays outside them.
        heights_mm: [f64; 2],
        /// Radius of the recess, mm.
        radius_mm: f64,
        /// How far off it must stay, mm.
        least_mm: f64,
    },
}

/// A bound's margin at one centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Positive inside the bound, mm.
    pub value_mm: f64,
    /// How the margin grows with the centre: its gradient, no unit, at most 1 long.
    pub gradient: [f64; 2],
    /// The line that the margin is measured along, from the bound's centre to this one, mm.
    pub line_mm: [f64; 2],
}

fn outward([dx, dy]: [f64; 2]) -> [f64; 2] {
    let length = dx.hypot(dy);
    // On the centre itself every way out is as long; +x is taken.
    if length > 0.0 { [dx / length, dy / length] } else { [1.0, 0.0] }
}

impl Bound {
    /// Every figure of the bound bit by bit behind a number of its kind: equal for the very same bound, and
    /// ordered.
    #[must_use]
    pub fn bits(&self) -> [u64; 14] {
        let mut made = [0; 14];
        let mut at = 1;
        let mut put = |figures: &[f64]| {
            for figure in figures {
                made[at] = figure.to_bits();
                at += 1;
            }
        };
        let kind = match self {
            Self::Inside { centre_mm, radius_mm } => {
                put(centre_mm);
                put(&[*radius_mm]);
                0
            }
            Self::Outside { centre_mm, radius_mm } => {
                put(centre_mm);
                put(&[*radius_mm]);
                1
            }
            Self::Between { middle_mm, axis, half_mm } => {
                put(middle_mm);
                put(&[*half_mm]);
                if *axis == 0 { 2 } else { 3 }
            }
            Self::ClearOf { segment_mm, ends_mm, radius_mm } => {
                put(segment_mm.as_flattened());
                put(ends_mm.as_flattened());
                put(&[*radius_mm]);
                4
            }
            Self::RecessClearOf { segment_mm, heights_mm, radius_mm, least_mm } => {
                put(segment_mm.as_flattened());
                put(heights_mm);
                put(&[*radius_mm, *least_mm]);
                5
            }
        };
        made[0] = kind;
        made
    }

    /// This bound with its margin smaller by `by_mm`.
    #[must_use]
    pub fn tightened(mut self, by_mm: f64) -> Self {
        match &mut self {
            Self::Inside { radius_mm, .. } => *radius_mm -= by_mm,
            Self::Between { half_mm, .. } => *half_mm -= by_mm,
            Self::Outside { radius_mm, .. } | Self::ClearOf { radius_mm, .. } => *radius_mm += by_mm,
            Self::RecessClearOf { least_mm, .. } => *least_mm += by_mm,
        }
        self
    }

    /// The margin at `at_mm`.
    #[must_use]
    pub fn margin(&self, at_mm: [f64; 2]) -> Margin {
        let from = |c: [f64; 2]| [at_mm[0] - c[0], at_mm[1] - c[1]];
        match *self {
            Self::Inside { centre_mm, radius_mm } => {
                let line_mm = from(centre_mm);
                let out = outward(line_mm);
                Margin {
                    value_mm: radius_mm - line_mm[0].hypot(line_mm[1]),
                    gradient: [-out[0], -out[1]],
                    line_mm,
                }
            }
            Self::Outside { centre_mm, radius_mm } => {
                let line_mm = from(centre_mm);
                Margin {
                    value_mm: line_mm[0].hypot(line_mm[1]) - radius_mm,
                    gradient: outward(line_mm),
                    line_mm,
                }
            }
            Self::Between { middle_mm, axis, half_mm } => {
                let mut line_mm = [0.0, 0.0];
                line_mm[axis] = at_mm[axis] - middle_mm[axis];
                let mut gradient = [0.0, 0.0];
                gradient[axis] = if line_mm[axis] < 0.0 { 1.0 } else { -1.0 };
                Margin { value_mm: half_mm - line_mm[axis].abs(), gradient, line_mm }
            }
            Self::ClearOf { segment_mm, ends_mm, radius_mm } => {
                let carried = ends_mm.map(|[x, y, z]| [at_mm[0] + x, at_mm[1] + y, z]);
                let near = closest_points(carried, segment_mm);
                let line_mm = [0, 1].map(|k| near.on_first_mm[k] - near.on_second_mm[k]);
                let gradient = if near.distance_mm > SAME_PLACE_MM {
                    [line_mm[0] / near.distance_mm, line_mm[1] / near.distance_mm]
                } else {
                    // Where the axes meet, the way out is square to the other segment.
                    let [a, b] = segment_mm;
                    outward([b[1] - a[1], a[0] - b[0]])
                };
                Margin { value_mm: near.distance_mm - radius_mm, gradient, line_mm }
            }
            Self::RecessClearOf { segment_mm, heights_mm, radius_mm, least_mm } => {
                let (distance, near) = segment_to_cylinder(segment_mm, at_mm, radius_mm, heights_mm);
                let line_mm = from([near[0], near[1]]);
                let beside = (line_mm[0].hypot(line_mm[1]) - radius_mm).max(0.0);
                // Straight above or below the recess no move across helps.
                let share = if distance > SAME_PLACE_MM { beside / distance } else { 0.0 };
                Margin {
                    value_mm: distance - least_mm,
                    gradient: outward(line_mm).map(|component| component * share),
                    line_mm,
                }
            }
        }
    }
}

/// Two centres that must keep a distance: margin = distance - least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apart {
    /// Index of the one.
    pub first: usize,
    /// Index of the other.
    pub second: usize,
    /// The least distance, mm.
    pub least_mm: f64,
    /// Standard uncertainty of the margin.
    pub spread: Spread,
    /// How much the margin grows for each mm of easing.
    pub give: f64,
    /// How surely it must be kept: Phi(z); 0 where the margin alone counts.
    pub z: f64,
}

impl Apart {
    /// The margin between two centres, its gradient towards the first.
    #[must_use]
    pub fn margin(&self, first_mm: [f64; 2], second_mm: [f64; 2]) -> Margin {
        Bound::Outside { centre_mm: second_mm, radius_mm: self.least_mm }.margin(first_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spread_counts_by_its_component_along_the_line_and_the_larger_at_no_distance() {
        let spread = Spread { x_mm: 0.015, y_mm: 0.004, all_mm: 0.0 };
        assert!((spread.along([3.0, 0.0]) - 0.015).abs() < 1e-15);
        assert!((spread.along([0.0, -2.0]) - 0.004).abs() < 1e-15);
        assert!((spread.along([1e-8, -3e-8]) - 0.015).abs() < 1e-15);
    }

    #[test]
    fn the_gradient_of_a_spread_agrees_with_differences() {
        let spread = Spread { x_mm: 0.015, y_mm: 0.004, all_mm: 0.003 };
        let (at, h) = ([0.04, -0.07], 1e-7);
        for axis in 0..2 {
            let mut moved = at;
            moved[axis] += h;
            let slope = (spread.along(moved) - spread.along(at)) / h;
            assert!((slope - spread.gradient(at)[axis]).abs() < 1e-5);
        }
    }

    #[test]
    fn gradients_agree_with_differences() {
        let bounds = [
            Bound::Inside { centre_mm: [1.0, 2.0], radius_mm: 5.0 },
            Bound::Outside { centre_mm: [40.0, -3.0], radius_mm: 5.0 },
            Bound::ClearOf {
                segment_mm: [[46.0, -20.0, -80.0], [46.0, 20.0, -88.0]],
                ends_mm: [[0.0, 0.0, -6.0], [0.02, -0.01, -60.0]],
                radius_mm: 40.0,
            },
            Bound::Between { middle_mm: [0.0, 0.0], axis: 1, half_mm: 0.4 },
            Bound::RecessClearOf {
                segment_mm: [[49.0, -20.0, -20.0], [47.0, 20.0, -28.0]],
                heights_mm: [-6.0, 0.0],
                radius_mm: 40.0,
                least_mm: 3.0,
            },
        ];
        let (at, h) = ([0.3, -0.2], 1e-6);
        for bound in bounds {
            let margin = bound.margin(at);
            for axis in 0..2 {
                let mut moved = at;
                moved[axis] += h;
                let slope = (bound.margin(moved).value_mm - margin.value_mm) / h;
                assert!((slope - margin.gradient[axis]).abs() < 1e-5, "{bound:?}");
            }
        }
    }
}
