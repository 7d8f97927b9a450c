//! The small rigid motion that best explains measured displacements, and what cannot be told of it.

use nalgebra::{DMatrix, DVector};

/// Columns this much smaller than the largest, after scaling, carry no information: well above rounding
/// (1e-15 of coordinates of a metre), well below any real difference of depth or height.
const RANK_TOLERANCE: f64 = 1e-9;

const SVD_STEPS: usize = 1_000;

/// One measured component of a displacement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observed {
    /// Where, mm.
    pub at_mm: [f64; 3],
    /// Along which unit direction.
    pub direction: [f64; 3],
    /// How much, mm.
    pub by_mm: f64,
}

/// A part of a small rigid motion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Shift along X.
    X,
    /// Shift along Y.
    Y,
    /// Shift along Z.
    Z,
    /// Turn about X.
    Roll,
    /// Turn about Y.
    Pitch,
    /// Turn about Z.
    Yaw,
}

impl Part {
    const ALL: [Self; 6] = [Self::X, Self::Y, Self::Z, Self::Roll, Self::Pitch, Self::Yaw];

    /// In which order parts that cannot be told are left out.
    const LEFT_OUT_FIRST: [Self; 6] = [Self::Z, Self::Roll, Self::Pitch, Self::Yaw, Self::Y, Self::X];

    /// The part's name.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
            Self::Roll => "roll",
            Self::Pitch => "pitch",
            Self::Yaw => "yaw",
        }
    }
}

/// A fitted motion: displacement = shift + turn x place, to first order.
#[derive(Debug, Clone, PartialEq)]
pub struct Motion {
    /// Shift, mm; zero where undetermined.
    pub shift_mm: [f64; 3],
    /// Turn about X, Y, Z, radians; zero where undetermined.
    pub turn_rad: [f64; 3],
    /// The parts that the readings cannot tell, in the order they were left out.
    pub undetermined: Vec<Part>,
    /// Sum of squares of the displacements, mm2.
    pub before_mm2: f64,
    /// Sum of squares that the motion leaves, mm2.
    pub after_mm2: f64,
    /// How many parts were told.
    pub told: usize,
    /// How many components were observed.
    pub observed: usize,
}

/// Why no motion could be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum MotionError {
    /// Nothing was observed.
    #[error("no displacement to fit a motion to")]
    NothingObserved,
    /// A number that is not finite.
    #[error("a displacement or place is not a finite number")]
    NotFinite,
    /// The decomposition did not end; not seen on finite input.
    #[error("the fit of the motion did not converge")]
    NotConverged,
}

/// Fits T + Omega x P to observed components by linear least squares (singular value decomposition).
///
/// In the order z, roll, pitch, yaw, y, x a part that can be left out without lowering the rank of the
/// fit is left out, set to zero and named.
///
/// # Errors
/// Nothing observed, or numbers that are not finite.
///
/// ```
/// use borewright_geometry::{Observed, fit_motion};
/// let observed = [0.0, 100.0, 200.0].map(|x| Observed {
///     at_mm: [x, 0.0, 200.0], direction: [0.0, 1.0, 0.0], by_mm: 0.14,
/// });
/// let motion = fit_motion(&observed)?;
/// assert!((motion.shift_mm[1] - 0.14).abs() < 1e-12);
/// # Ok::<(), borewright_geometry::MotionError>(())
/// ```
pub fn fit_motion(observed: &[Observed]) -> Result<Motion, MotionError> {
    if observed.is_empty() {
        return Err(MotionError::NothingObserved);
    }
    let finite = |o: &Observed| {
        o.by_mm.is_finite() && o.at_mm.iter().chain(&o.direction).all(|component| component.is_finite())
    };
    if !observed.iter().all(finite) {
        return Err(MotionError::NotFinite);
    }
    // Turns are scaled to a displacement at the farthest place, so that all columns are of one size.
    let scale_mm = observed.iter().flat_map(|o| o.at_mm).map(f64::abs).fold(1.0, f64::max);
    let rows: Vec<[f64; 6]> = observed.iter().map(|o| row(o, scale_mm)).collect();
    let rank_of = |parts: &[Part]| rank(&matrix(&rows, parts));
    let mut kept = Part::ALL.to_vec();
    let full = rank_of(&kept)?;
    let mut undetermined = Vec::new();
    for part in Part::LEFT_OUT_FIRST {
        let without: Vec<Part> = kept.iter().copied().filter(|p| *p != part).collect();
        if !without.is_empty() && rank_of(&without)? == full {
            kept = without;
            undetermined.push(part);
        }
    }
    let by = DVector::from_iterator(observed.len(), observed.iter().map(|o| o.by_mm));
    let a = matrix(&rows, &kept);
    let svd = a.clone().try_svd(true, true, f64::EPSILON, SVD_STEPS).ok_or(MotionError::NotConverged)?;
    let x = svd.solve(&by, 0.0).map_err(|_| MotionError::NotConverged)?;
    let left = &by - a * &x;
    let mut motion = Motion {
        shift_mm: [0.0; 3],
        turn_rad: [0.0; 3],
        undetermined,
        before_mm2: by.norm_squared(),
        after_mm2: left.norm_squared(),
        told: kept.len(),
        observed: observed.len(),
    };
    for (part, value) in kept.iter().zip(x.iter()) {
        match part {
            Part::X => motion.shift_mm[0] = *value,
            Part::Y => motion.shift_mm[1] = *value,
            Part::Z => motion.shift_mm[2] = *value,
            Part::Roll => motion.turn_rad[0] = value / scale_mm,
            Part::Pitch => motion.turn_rad[1] = value / scale_mm,
            Part::Yaw => motion.turn_rad[2] = value / scale_mm,
        }
    }
    Ok(motion)
}

/// (T + Omega x P) . n = T . n + Omega . (P x n).
fn row(o: &Observed, scale_mm: f64) -> [f64; 6] {
    let ([x, y, z], [a, b, c]) = (o.at_mm, o.direction);
    let turn = [y * c - z * b, z * a - x * c, x * b - y * a].map(|t| t / scale_mm);
    [a, b, c, turn[0], turn[1], turn[2]]
}

fn matrix(rows: &[[f64; 6]], parts: &[Part]) -> DMatrix<f64> {
    let column = |part: Part| Part::ALL.iter().position(|p| *p == part).unwrap_or(0);
    DMatrix::from_fn(rows.len(), parts.len(), |i, j| rows[i][column(parts[j])])
}

fn rank(a: &DMatrix<f64>) -> Result<usize, MotionError> {
    let svd = a.clone().try_svd(false, false, f64::EPSILON, SVD_STEPS).ok_or(MotionError::NotConverged)?;
    let largest = svd.singular_values.max();
    Ok(svd.singular_values.iter().filter(|s| **s > RANK_TOLERANCE * largest).count())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Components along x and across, of a 90 degree V, at two depths.
    fn pattern(shift: [f64; 3], turn: [f64; 3], depths: &[f64]) -> Vec<Observed> {
        let mut observed = Vec::new();
        for angle in [-std::f64::consts::FRAC_PI_4, std::f64::consts::FRAC_PI_4] {
            let (sin, cos) = angle.sin_cos();
            for x in [46.0, 138.0, 230.0] {
                for depth in depths {
                    let z = 221.0 - depth;
                    let p = [x + angle, z * sin, z * cos];
                    for n in [[1.0, 0.0, 0.0], [0.0, cos, -sin]] {
                        let cross = [
                            turn[1] * p[2] - turn[2] * p[1],
                            turn[2] * p[0] - turn[0] * p[2],
                            turn[0] * p[1] - turn[1] * p[0],
                        ];
                        let by = (0..3).map(|k| (shift[k] + cross[k]) * n[k]).sum();
                        observed.push(Observed { at_mm: p, direction: n, by_mm: by });
                    }
                }
            }
        }
        observed
    }

    proptest! {
        #[test]
        fn a_planted_motion_comes_back(
            shift in [-0.5..0.5_f64, -0.5..0.5_f64, -0.5..0.5_f64],
            turn in [-1e-3..1e-3_f64, -1e-3..1e-3_f64, -1e-3..1e-3_f64],
        ) {
            let motion = fit_motion(&pattern(shift, turn, &[20.0, 125.0])).unwrap();
            prop_assert!(motion.undetermined.is_empty());
            for k in 0..3 {
                prop_assert!((motion.shift_mm[k] - shift[k]).abs() < 1e-10);
                prop_assert!((motion.turn_rad[k] - turn[k]).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn one_depth_cannot_tell_roll_from_a_shift_across() {
        let motion = fit_motion(&pattern([0.0, 0.1, 0.0], [0.0; 3], &[20.0])).unwrap();
        assert_eq!(motion.undetermined, [Part::Roll]);
        assert!((motion.shift_mm[1] - 0.1).abs() < 1e-10);
    }

    #[test]
    fn one_upright_bank_cannot_tell_height() {
        let observed: Vec<Observed> = [(48.0, 20.0), (48.0, 120.0), (146.0, 20.0), (146.0, 120.0)]
            .iter()
            .flat_map(|(x, depth)| {
                [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]].map(|direction| Observed {
                    at_mm: [*x, 0.0, 225.0 - depth],
                    direction,
                    by_mm: 0.01,
                })
            })
            .collect();
        assert_eq!(fit_motion(&observed).unwrap().undetermined, [Part::Z]);
    }
}
