//! The locating of a body by six locators: which way it can still move, and where an error at a locator sends a
//! point.

use nalgebra::{DMatrix, Matrix3, Matrix6, SMatrix, Vector3, Vector6};

/// Singular values this much smaller than the largest, with lengths counted in the reach of the locators, let
/// the body slip: a microradian or a nanometre at a locator would be a millimetre at the body, while six good
/// locators stay above 1e-2.
const RANK_TOLERANCE: f64 = 1e-6;
/// A turn this much smaller than the shift that goes with it, over the reach of the locators, is rounding: a
/// hundred roundings of the decomposition.
const NO_TURN: f64 = 1e-10;
/// A direction may differ from length 1 by this, as one given with nine digits does.
const UNIT: f64 = 1e-8;
/// Sweeps of the decomposition of six columns; a few suffice.
const SVD_STEPS: usize = 300;

/// A place that holds a body in one direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Locator {
    /// Where, mm.
    pub at_mm: [f64; 3],
    /// The direction in which it pushes the body, of length 1: square to the surface, into the body.
    pub inward: [f64; 3],
}

/// A motion that a set of locators leaves free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FreeMotion {
    /// A straight slide.
    Along {
        /// The way, of length 1; its largest component is positive.
        direction: [f64; 3],
    },
    /// A turn about an axis, or a screw along it.
    About {
        /// The axis' direction, of length 1; its largest component is positive.
        direction: [f64; 3],
        /// The point of the axis nearest to the middle of the locators, mm.
        point_mm: [f64; 3],
        /// How far it goes along the axis in a full turn, mm; 0 for a plain turn.
        pitch_mm: f64,
    },
}

/// Why locators do not locate.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LocatingError {
    /// The body can still move.
    #[error("{locators} locators leave the body {} way(s) to move", free.len())]
    Free {
        /// How many locators there are.
        locators: usize,
        /// The ways: slides first. Two or more of a kind are a choice among all their mixtures.
        free: Vec<FreeMotion>,
    },
    /// More than six locators contradict each other.
    #[error("a body is held by 6 locators, found {found}")]
    TooMany {
        /// How many there are.
        found: usize,
    },
    /// A number that is not finite.
    #[error("a number of locator {index} (counted from 0) is not finite")]
    NotFinite {
        /// Which locator.
        index: usize,
    },
    /// A direction that is not of length 1.
    #[error("the direction of locator {index} (counted from 0) is not of length 1")]
    NotUnit {
        /// Which locator.
        index: usize,
    },
}

/// A body held by six locators.
#[derive(Debug, Clone, PartialEq)]
pub struct Locating {
    /// From errors at the locators, mm, to shift of the middle, mm, and turn, radians.
    inverse: Matrix6<f64>,
    middle_mm: Vector3<f64>,
}

impl Locating {
    /// The locating by six locators, in any order.
    ///
    /// Method: locator i at p with direction n and an error e along it asks of a small shift t and turn ω that
    /// n·t + (p × n)·ω = e: six rows of a 6 × 6 matrix, after H. Asada and A. B. By ("Kinematic analysis of
    /// workpart fixturing for flexible assembly with automatically reconfigurable fixtures", IEEE J. Robotics
    /// and Automation 1, 1985). Places are taken from the middle of the locators in units of their reach, so
    /// that the rank does not hang on where the origin is. The motions left free are the null vectors, by
    /// singular values; pure slides are parted from the turns. Accuracy: rounding times the condition of the
    /// matrix; to first order in the errors, so that errors of 0.05 mm on supports 300 mm apart leave some
    /// 1e-5 mm out.
    ///
    /// # Errors
    /// Fewer than six locators, or six that do not hold the body, with the motions left free; more than six;
    /// numbers not finite; directions not of length 1.
    ///
    /// ```
    /// use borewright_geometry::{FreeMotion, Locating, LocatingError, Locator};
    /// let held = |at_mm, inward| Locator { at_mm, inward };
    /// let (x, y, z) = ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]);
    /// let mut locators = vec![
    ///     held([0.0, 0.0, 0.0], z), held([400.0, 0.0, 0.0], z), held([200.0, 150.0, 0.0], z),
    ///     held([50.0, 0.0, 60.0], y), held([350.0, 0.0, 60.0], y), held([0.0, 75.0, 60.0], x),
    /// ];
    /// // A shim of 0.03 under the third support: 0.03/150 of roll, and 200 up that moves y by -0.04.
    /// let there = Locating::new(&locators)?.displacement_mm([0.0, 0.0, 260.0], [0.0, 0.0, 0.03, 0.0, 0.0, 0.0]);
    /// assert!((there[1] + 0.03 / 150.0 * 200.0).abs() < 1e-12);
    /// // Without the end stop the body slides along x.
    /// locators.pop();
    /// let Err(LocatingError::Free { free, .. }) = Locating::new(&locators) else { unreachable!() };
    /// assert!(matches!(free[..], [FreeMotion::Along { direction: [x, ..] }] if (x - 1.0).abs() < 1e-12));
    /// # Ok::<(), LocatingError>(())
    /// ```
    pub fn new(locators: &[Locator]) -> Result<Self, LocatingError> {
        if locators.len() > 6 {
            return Err(LocatingError::TooMany { found: locators.len() });
        }
        for (index, locator) in locators.iter().enumerate() {
            if !locator.at_mm.iter().chain(&locator.inward).all(|part| part.is_finite()) {
                return Err(LocatingError::NotFinite { index });
            }
            if (Vector3::from(locator.inward).norm() - 1.0).abs() > UNIT {
                return Err(LocatingError::NotUnit { index });
            }
        }
        let places: Vec<Vector3<f64>> = locators.iter().map(|locator| locator.at_mm.into()).collect();
        let number = crate::sample::count(places.len()).max(1.0);
        let middle_mm = places.iter().sum::<Vector3<f64>>() / number;
        let reach_mm = places.iter().map(|at| (at - middle_mm).norm()).fold(0.0, f64::max);
        // With one locator, or all in one place, any length will do.
        let reach_mm = if reach_mm > 0.0 { reach_mm } else { 1.0 };
        let mut matrix = Matrix6::zeros();
        for (i, (at, locator)) in places.iter().zip(locators).enumerate() {
            let inward = Vector3::from(locator.inward);
            let turn = ((at - middle_mm) / reach_mm).cross(&inward);
            matrix.fixed_view_mut::<1, 3>(i, 0).copy_from(&inward.transpose());
            matrix.fixed_view_mut::<1, 3>(i, 3).copy_from(&turn.transpose());
        }
        let free = free_motions(&matrix, middle_mm, reach_mm);
        match matrix.try_inverse() {
            Some(mut inverse) if free.is_empty() => {
                let mut turns = inverse.fixed_view_mut::<3, 6>(3, 0);
                turns /= reach_mm;
                Ok(Self { inverse, middle_mm })
            }
            _ => Err(LocatingError::Free { locators: locators.len(), free }),
        }
    }

    /// Where a point of the body goes when each locator is off by an error along its direction, mm, to first
    /// order.
    #[must_use]
    pub fn displacement_mm(&self, at_mm: [f64; 3], errors_mm: [f64; 6]) -> [f64; 3] {
        (self.by_locator(at_mm) * Vector6::from(errors_mm)).into()
    }

    /// How the body turns when each locator is off by an error along its direction, radians about x, y, z, to
    /// first order.
    #[must_use]
    pub fn turn_rad(&self, errors_mm: [f64; 6]) -> [f64; 3] {
        (self.inverse.fixed_view::<3, 6>(3, 0) * Vector6::from(errors_mm)).into()
    }

    /// How far a point goes along x, y and z for each mm of error at each locator.
    #[must_use]
    pub fn sensitivity(&self, at_mm: [f64; 3]) -> [[f64; 6]; 3] {
        let by_locator = self.by_locator(at_mm);
        [0, 1, 2].map(|k| by_locator.row(k).transpose().into())
    }

    /// The standard uncertainty of a point along x, y and z, mm, from those of the locators, which are
    /// independent: the root of the sum of squares (JCGM 100:2008, equation 10).
    #[must_use]
    pub fn standard_uncertainty_mm(&self, at_mm: [f64; 3], u_mm: [f64; 6]) -> [f64; 3] {
        self.sensitivity(at_mm)
            .map(|row| row.iter().zip(u_mm).map(|(share, u)| (share * u).powi(2)).sum::<f64>().sqrt())
    }

    /// Rows x, y, z: displacement of the point by locator errors.
    fn by_locator(&self, at_mm: [f64; 3]) -> SMatrix<f64, 3, 6> {
        let away: Matrix3<f64> = (Vector3::from(at_mm) - self.middle_mm).cross_matrix();
        // ω × p = -p × ω.
        self.inverse.fixed_view::<3, 6>(0, 0) - away * self.inverse.fixed_view::<3, 6>(3, 0)
    }
}

/// The motions that the scaled rows of a locating matrix leave free.
fn free_motions(matrix: &Matrix6<f64>, middle_mm: Vector3<f64>, reach_mm: f64) -> Vec<FreeMotion> {
    // Rows of finite numbers of size 1 always come apart.
    let Some((values, vectors)) = matrix
        .try_svd(false, true, f64::EPSILON, SVD_STEPS)
        .and_then(|parts| Some((parts.singular_values, parts.v_t?.transpose())))
    else {
        return Vec::new();
    };
    let largest = values.max();
    let loose: Vec<usize> = (0..6).filter(|&i| values[i] <= RANK_TOLERANCE * largest).collect();
    if loose.is_empty() {
        return Vec::new();
    }
    let shifts = DMatrix::from_fn(3, loose.len(), |row, k| vectors[(row, loose[k])]);
    let turns = DMatrix::from_fn(3, loose.len(), |row, k| vectors[(row + 3, loose[k])]);
    // Mixtures of the loose motions, those that turn least first: the slides.
    let turning = (turns.transpose() * &turns).symmetric_eigen();
    let mut mixtures: Vec<usize> = (0..loose.len()).collect();
    mixtures.sort_by(|&a, &b| turning.eigenvalues[a].total_cmp(&turning.eigenvalues[b]));
    let motion = |&k: &usize| {
        let mixture = turning.eigenvectors.column(k);
        let three = |parts: &DMatrix<f64>| {
            let mixed = parts * mixture;
            Vector3::new(mixed[0], mixed[1], mixed[2])
        };
        let (shift, turn) = (three(&shifts), three(&turns));
        named(shift, turn, middle_mm, reach_mm)
    };
    mixtures.iter().map(motion).collect()
}

/// The slide, turn or screw of a small motion: a shift of the middle in units of the reach, and a turn.
fn named(shift: Vector3<f64>, turn: Vector3<f64>, middle_mm: Vector3<f64>, reach_mm: f64) -> FreeMotion {
    if turn.norm() <= RANK_TOLERANCE * shift.norm() {
        return FreeMotion::Along { direction: clean(shift) };
    }
    let squared = turn.norm_squared();
    let along = shift.dot(&turn) / squared;
    let aside = turn.cross(&shift) / squared * reach_mm;
    let pitch_mm = along * std::f64::consts::TAU * reach_mm;
    FreeMotion::About {
        direction: clean(turn),
        point_mm: (middle_mm + aside).into(),
        pitch_mm: if along.abs() <= NO_TURN { 0.0 } else { pitch_mm },
    }
}

/// The direction brought to length 1, its largest component positive, without the dust of rounding.
fn clean(way: Vector3<f64>) -> [f64; 3] {
    let unit = way.normalize();
    let sign = unit[unit.iamax()].signum();
    unit.map(|part| if part.abs() <= NO_TURN { 0.0 } else { part * sign }).into()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const X: [f64; 3] = [1.0, 0.0, 0.0];
    const Y: [f64; 3] = [0.0, 1.0, 0.0];
    const Z: [f64; 3] = [0.0, 0.0, 1.0];

    fn held(at_mm: [f64; 3], inward: [f64; 3]) -> Locator {
        Locator { at_mm, inward }
    }

    fn block() -> Vec<Locator> {
        vec![
            held([0.0, 0.0, 0.0], Z),
            held([400.0, 0.0, 0.0], Z),
            held([200.0, 150.0, 0.0], Z),
            held([50.0, 0.0, 60.0], Y),
            held([350.0, 0.0, 60.0], Y),
            held([0.0, 75.0, 60.0], X),
        ]
    }

    fn free(locators: &[Locator]) -> Vec<FreeMotion> {
        match Locating::new(locators) {
            Err(LocatingError::Free { free, .. }) => free,
            other => panic!("{other:?}"),
        }
    }

    fn near(a: [f64; 3], b: [f64; 3]) -> bool {
        a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9)
    }

    #[test]
    fn a_missing_side_stop_leaves_a_turn_about_an_upright_through_the_other_two_normals_meeting() {
        // Left: the side stop at x = 50 holds y, the end stop at y = 75 holds x: they meet at (50, 75).
        let mut locators = block();
        locators.remove(4);
        let [FreeMotion::About { direction, point_mm, pitch_mm }] = free(&locators)[..] else { panic!() };
        assert!(near(direction, Z) && pitch_mm == 0.0);
        assert!((point_mm[0] - 50.0).abs() < 1e-9 && (point_mm[1] - 75.0).abs() < 1e-9);
    }

    #[test]
    fn a_mandrel_leaves_a_slide_along_it_and_a_roll_about_it() {
        let mandrel = [held([0.0, 0.0, 30.0], Y), held([0.0, 0.0, 30.0], Z)];
        let far = mandrel.map(|locator| Locator { at_mm: [500.0, 0.0, 30.0], ..locator });
        let [FreeMotion::Along { direction }, FreeMotion::About { direction: about, point_mm, pitch_mm }] =
            free(&[mandrel, far].concat())[..]
        else {
            panic!()
        };
        assert!(near(direction, X) && near(about, X) && pitch_mm == 0.0);
        assert!(near([0.0, point_mm[1], point_mm[2]], [0.0, 0.0, 30.0]));
    }

    #[test]
    fn three_supports_in_a_row_leave_a_roll_about_the_row() {
        let mut locators = block();
        locators[2].at_mm = [200.0, 0.0, 0.0];
        let [FreeMotion::About { direction, .. }] = free(&locators)[..] else { panic!() };
        assert!((direction[0] - 1.0).abs() < 1e-9, "{direction:?}");
    }

    #[test]
    fn nothing_holds_nothing_and_three_supports_leave_three_ways() {
        assert_eq!(free(&[]).len(), 6);
        let ways = free(&block()[..3]);
        let slides = ways.iter().filter(|way| matches!(way, FreeMotion::Along { .. })).count();
        assert_eq!((slides, ways.len()), (2, 3));
    }

    #[test]
    fn what_is_no_set_of_locators_is_refused() {
        let seven = [block(), vec![held([0.0; 3], X)]].concat();
        assert_eq!(Locating::new(&seven), Err(LocatingError::TooMany { found: 7 }));
        let mut locators = block();
        locators[3].inward = [0.0, 1.1, 0.0];
        assert_eq!(Locating::new(&locators), Err(LocatingError::NotUnit { index: 3 }));
        locators[2].at_mm[1] = f64::NAN;
        assert_eq!(Locating::new(&locators), Err(LocatingError::NotFinite { index: 2 }));
    }

    proptest! {
        #[test]
        fn each_locator_gets_its_own_error_back_and_a_moved_origin_changes_nothing(
            errors in prop::array::uniform6(-0.1..0.1f64),
            moved in prop::array::uniform3(-2000.0..2000.0f64),
            at in prop::array::uniform3(-300.0..300.0f64),
        ) {
            let locating = Locating::new(&block()).unwrap();
            for (locator, error) in block().iter().zip(errors) {
                let there = Vector3::from(locating.displacement_mm(locator.at_mm, errors));
                prop_assert!((there.dot(&Vector3::from(locator.inward)) - error).abs() < 1e-12);
            }
            let by = |place: [f64; 3]| [0, 1, 2].map(|k| place[k] + moved[k]);
            let elsewhere: Vec<Locator> =
                block().iter().map(|locator| held(by(locator.at_mm), locator.inward)).collect();
            let again = Locating::new(&elsewhere).unwrap();
            let (one, two) = (locating.displacement_mm(at, errors), again.displacement_mm(by(at), errors));
            prop_assert!((0..3).all(|k| (one[k] - two[k]).abs() < 1e-11));
        }

        #[test]
        fn a_free_motion_moves_no_locator_along_its_direction(
            places in prop::array::uniform5(prop::array::uniform3(-300.0..300.0f64)),
            ways in prop::array::uniform5(prop::array::uniform3(-1.0..1.0f64)),
        ) {
            prop_assume!(ways.iter().all(|way| Vector3::from(*way).norm() > 0.1));
            let locators: Vec<Locator> = places.iter().zip(ways)
                .map(|(&at_mm, way)| held(at_mm, Vector3::from(way).normalize().into())).collect();
            for way in free(&locators) {
                for locator in &locators {
                    let at = Vector3::from(locator.at_mm);
                    let motion = match way {
                        FreeMotion::Along { direction } => Vector3::from(direction),
                        FreeMotion::About { direction, point_mm, pitch_mm } => {
                            let turn = Vector3::from(direction);
                            turn.cross(&(at - Vector3::from(point_mm))) + turn * (pitch_mm / std::f64::consts::TAU)
                        }
                    };
                    let along = motion.dot(&Vector3::from(locator.inward));
                    prop_assert!(along.abs() < 1e-7 * (1.0 + motion.norm()), "{way:?} {along}");
                }
            }
        }
    }
}
