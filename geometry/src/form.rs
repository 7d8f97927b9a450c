//! The shape of a bore along its depth: taper, and barrel or waist.

use nalgebra::{DMatrix, DVector};

use crate::axis::ONE_DEPTH_MM;

/// A barrel is fitted only where 1 - s² reaches this at some depth, s running from -1 to 1: 1 % of the length off
/// both ends, where the noise of a diameter counts 25 times as much as half-way.
const LEAST_BOW: f64 = 0.04;

/// A value with its standard uncertainty, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Told {
    /// The value, mm.
    pub mm: f64,
    /// Its standard uncertainty, mm.
    pub u_mm: f64,
}

/// A diameter against depth: straight between its ends, and how far the middle is off that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BarrelShape {
    /// The least and the greatest depth measured, mm.
    pub depths_mm: [f64; 2],
    /// The diameter half-way on the straight line between the ends, mm.
    pub middle: Told,
    /// The diameter at the greatest depth less that at the least, mm: positive where the bore opens downwards.
    pub taper: Told,
    /// The diameter half-way less that of the straight line there, mm: positive for a barrel, negative for a
    /// waist. `None` where fewer than three depths, or only depths near the ends, were measured: the shape is
    /// then taken to be straight.
    pub barrel: Option<Told>,
    /// The root mean square of what the shape leaves of the diameters, mm.
    pub rms_left_mm: f64,
}

/// Why a bore has no such shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BarrelShapeError {
    /// No taper without two depths.
    #[error("a taper needs diameters at 2 or more depths, found {found}")]
    TooFewDepths {
        /// How many different depths there were.
        found: usize,
    },
    /// A number that is not finite, or an uncertainty below zero.
    #[error("a depth, a diameter or its uncertainty is not a finite number, or the uncertainty is negative")]
    NotFinite,
}

impl BarrelShape {
    /// The diameter of the fitted shape at a depth, mm.
    #[must_use]
    pub fn diameter_mm(&self, depth_mm: f64) -> f64 {
        let share = Span::of(self.depths_mm).share(depth_mm);
        let bow = self.barrel.map_or(0.0, |barrel| barrel.mm);
        self.middle.mm + self.taper.mm / 2.0 * share + bow * (1.0 - share * share)
    }
}

/// The stretch of depths, counted from -1 to 1.
#[derive(Clone, Copy)]
struct Span {
    middle_mm: f64,
    half_mm: f64,
}

impl Span {
    fn of([least_mm, most_mm]: [f64; 2]) -> Self {
        let half_mm = (most_mm - least_mm) / 2.0;
        Self { middle_mm: least_mm + half_mm, half_mm }
    }

    fn share(&self, depth_mm: f64) -> f64 {
        (depth_mm - self.middle_mm) / self.half_mm
    }
}

/// The shape through readings `(depth, diameter)`, mm, each diameter with the standard uncertainty `u_mm`, all
/// independent.
///
/// Method: least squares of d = m + t/2·s + b·(1 - s²), s running from -1 at the least depth to 1 at the
/// greatest; without the last term where the depths cannot tell it. The uncertainties are those of the
/// coefficients, u²·(XᵀX)⁻¹ (JCGM 100:2008, H.3, with a known variance), and do not take the scatter left into
/// account: `rms_left_mm` well above u says that the bore has another shape. Accuracy: rounding.
///
/// # Errors
/// Fewer than two depths; numbers that are not finite.
///
/// ```
/// use borewright_geometry::fit_barrel_shape;
/// // 0.02 wider at the bottom, and in the middle 0.01 wider than half-way between.
/// let shape = fit_barrel_shape(&[(10.0, 92.0), (70.0, 92.02), (130.0, 92.02)], 0.002)?;
/// assert!((shape.taper.mm - 0.02).abs() < 1e-12);
/// assert!((shape.taper.u_mm - 0.002 * 2f64.sqrt()).abs() < 1e-12);
/// let barrel = shape.barrel.unwrap();
/// // The middle counts once, each end half: u·sqrt(1 + 1/4 + 1/4).
/// assert!((barrel.mm - 0.01).abs() < 1e-12 && (barrel.u_mm - 0.002 * 1.5f64.sqrt()).abs() < 1e-12);
/// # Ok::<(), borewright_geometry::BarrelShapeError>(())
/// ```
pub fn fit_barrel_shape(readings: &[(f64, f64)], u_mm: f64) -> Result<BarrelShape, BarrelShapeError> {
    let finite = |(depth_mm, diameter_mm): &(f64, f64)| depth_mm.is_finite() && diameter_mm.is_finite();
    if !(readings.iter().all(finite) && u_mm.is_finite() && u_mm >= 0.0) {
        return Err(BarrelShapeError::NotFinite);
    }
    let mut depths_mm: Vec<f64> = readings.iter().map(|reading| reading.0).collect();
    depths_mm.sort_by(f64::total_cmp);
    depths_mm.dedup_by(|next, kept| *next - *kept < ONE_DEPTH_MM);
    let [least_mm, .., _] = depths_mm[..] else {
        return Err(BarrelShapeError::TooFewDepths { found: depths_mm.len() });
    };
    let most_mm = readings.iter().map(|reading| reading.0).fold(least_mm, f64::max);
    let span = Span::of([least_mm, most_mm]);
    let shares: Vec<f64> = readings.iter().map(|reading| span.share(reading.0)).collect();
    let bowed = depths_mm.len() > 2 && shares.iter().any(|share| 1.0 - share * share >= LEAST_BOW);
    let columns = if bowed { 3 } else { 2 };
    let (_, base_mm) = readings[0];
    let terms = DMatrix::from_fn(readings.len(), columns, |i, j| match j {
        0 => 1.0,
        1 => shares[i] / 2.0,
        _ => 1.0 - shares[i] * shares[i],
    });
    let above = DVector::from_iterator(readings.len(), readings.iter().map(|reading| reading.1 - base_mm));
    let normal = terms.tr_mul(&terms);
    // Depths apart and off the ends leave no zero among the eigenvalues.
    let inverse =
        normal.cholesky().ok_or(BarrelShapeError::TooFewDepths { found: depths_mm.len() })?.inverse();
    let parts = &inverse * terms.tr_mul(&above);
    let left = &above - &terms * &parts;
    let told = |i: usize| Told { mm: parts[i], u_mm: u_mm * inverse[(i, i)].sqrt() };
    let middle = told(0);
    Ok(BarrelShape {
        depths_mm: [least_mm, most_mm],
        middle: Told { mm: base_mm + middle.mm, ..middle },
        taper: told(1),
        barrel: bowed.then(|| told(2)),
        rms_left_mm: (left.norm_squared() / crate::sample::count(readings.len())).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn two_depths_tell_a_taper_and_no_barrel() {
        let shape = fit_barrel_shape(&[(130.0, 92.03), (10.0, 92.0), (10.0, 92.01)], 0.002).unwrap();
        assert!((shape.taper.mm - 0.025).abs() < 1e-12 && shape.barrel.is_none());
        assert!((shape.taper.u_mm - 0.002 * 1.5f64.sqrt()).abs() < 1e-12);
        assert!((shape.rms_left_mm - 0.005 * (2.0f64 / 3.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn depths_only_near_the_ends_tell_no_barrel() {
        let shape = fit_barrel_shape(&[(0.0, 92.0), (0.5, 92.0), (100.0, 92.1)], 0.002).unwrap();
        assert!(shape.barrel.is_none());
    }

    #[test]
    fn one_depth_tells_nothing() {
        let found = |readings: &[(f64, f64)], u_mm| fit_barrel_shape(readings, u_mm).unwrap_err();
        assert_eq!(found(&[], 0.0), BarrelShapeError::TooFewDepths { found: 0 });
        let one = [(10.0, 92.0), (10.0002, 92.1)];
        assert_eq!(found(&one, 0.0), BarrelShapeError::TooFewDepths { found: 1 });
        assert_eq!(found(&[(0.0, 1.0), (f64::NAN, 1.0)], 0.0), BarrelShapeError::NotFinite);
        assert_eq!(found(&[(0.0, 1.0), (9.0, 1.0)], -1.0), BarrelShapeError::NotFinite);
    }

    proptest! {
        #[test]
        fn a_planted_shape_comes_back_and_its_uncertainty_is_that_of_its_readings(
            (middle, taper, barrel) in (60.0..150.0f64, -0.1..0.1f64, -0.1..0.1f64),
            inside in prop::collection::vec(0.2..0.8f64, 1..8),
            (from, length, u) in (-50.0..50.0f64, 20.0..200.0f64, 1e-4..0.01f64),
        ) {
            let shares: Vec<f64> = inside.iter().copied().chain([0.0, 1.0]).collect();
            let place = |share: f64| from + share * length;
            let at = |share: f64| {
                let s = 2.0 * share - 1.0;
                middle + taper / 2.0 * s + barrel * (1.0 - s * s)
            };
            let readings: Vec<(f64, f64)> = shares.iter().map(|&s| (place(s), at(s))).collect();
            let shape = fit_barrel_shape(&readings, u).unwrap();
            let bow = shape.barrel.unwrap();
            prop_assert!((shape.middle.mm - middle).abs() < 1e-10);
            prop_assert!((shape.taper.mm - taper).abs() < 1e-10 && (bow.mm - barrel).abs() < 1e-10);
            prop_assert!((shape.diameter_mm(place(0.3)) - at(0.3)).abs() < 1e-10 && shape.rms_left_mm < 1e-11);
            // Each reading raised by u in turn: the root of the sum of squares.
            let (mut for_taper, mut for_bow) = (0.0, 0.0);
            for i in 0..readings.len() {
                let mut raised = readings.clone();
                raised[i].1 += u;
                let moved = fit_barrel_shape(&raised, u).unwrap();
                for_taper += (moved.taper.mm - taper).powi(2);
                for_bow += (moved.barrel.unwrap().mm - barrel).powi(2);
            }
            prop_assert!((shape.taper.u_mm - for_taper.sqrt()).abs() < 1e-8);
            prop_assert!((bow.u_mm - for_bow.sqrt()).abs() < 1e-8);
        }
    }
}
