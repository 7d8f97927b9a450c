//! The lobes of a bore: Fourier amplitudes and phases of its radius against clock.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

/// The highest order looked for: oval, three and four lobes come from clamping and bolts, up to eight from
/// the bolts between two bores and from hones; higher ones are waviness.
const MOST_ORDER: u8 = 8;
/// The sums needed: products of two orders make their sum and difference.
const SUMS: usize = 2 * MOST_ORDER as usize + 1;
/// An order is told where no mixture of the terms up to it has a mean square below this at the clocks read:
/// a full, even set has 1/2, and at 1/50 the noise of a reading counts five times as much as there.
const LEAST_MEAN_SQUARE: f64 = 0.02;

/// One lobe pattern of a radius: `amplitude`·cos(order·(clock - phase)).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harmonic {
    /// How many lobes go round.
    pub order: u8,
    /// Half of peak to valley, mm; never negative.
    pub amplitude_mm: f64,
    /// The clock of the first maximum, degrees from 0 up to, not including, 360/order.
    pub phase_deg: f64,
}

/// The radius against clock as a sum of lobe patterns.
#[derive(Debug, Clone, PartialEq)]
pub struct Harmonics {
    /// Order 0: the mean radius, mm.
    pub mean_mm: f64,
    /// The orders that the clocks can tell, rising from 1. Order 1 is not form: the centre that the radii
    /// were measured from is off by its amplitude, and the true one lies from it at its phase.
    pub told: Vec<Harmonic>,
    /// The orders up to 8 that these clocks cannot tell, rising.
    pub untold: Vec<u8>,
    /// The root mean square of what the told orders leave of the readings, mm.
    pub rms_left_mm: f64,
}

/// Why there are no harmonics.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum HarmonicsError {
    /// Nothing was read.
    #[error("no radius to take the harmonics of")]
    NothingRead,
    /// A number that is not finite.
    #[error("a clock or radius is not a finite number")]
    NotFinite,
}

impl Harmonics {
    /// One of the told orders.
    #[must_use]
    pub fn order(&self, order: u8) -> Option<Harmonic> {
        self.told.iter().copied().find(|harmonic| harmonic.order == order)
    }
}

/// The harmonics of readings `(clock in degrees, radius in mm)`, in any order and at any spacing.
///
/// Method: linear least squares for a mean and a cosine and a sine of each order up to K, by normal equations
/// whose sums are taken from those of single angles (cos a cos b = (cos(a - b) + cos(a + b))/2), with K the
/// highest order up to 8 for which the least eigenvalue of the mean matrix is 0.02 or more. So n even clocks
/// tell orders up to (n - 1)/2 rounded down, fewer different clocks than 2 K + 1 never tell order K, and short
/// arcs tell few or none. A lobing above K is not left out but folds into the orders below: from 12 even
/// clocks 8 lobes look like 4.
///
/// Accuracy: rounding, about 1e-15 of the radius, times 50 at the worst spacing that is still told. With noise
/// of standard deviation s in n even readings an amplitude is known to s·sqrt(2/n).
///
/// # Errors
/// No reading; a number that is not finite.
///
/// ```
/// // An oval of 0.02 with its long axis at 30°, read at eight clocks.
/// let readings: Vec<(f64, f64)> = (0..8)
///     .map(|i| f64::from(i) * 45.0)
///     .map(|clock: f64| (clock, 50.0 + 0.02 * (2.0 * (clock - 30.0).to_radians()).cos()))
///     .collect();
/// let harmonics = borewright_geometry::fit_harmonics(&readings)?;
/// let oval = harmonics.order(2).unwrap();
/// assert!((oval.amplitude_mm - 0.02).abs() < 1e-12 && (oval.phase_deg - 30.0).abs() < 1e-9);
/// assert_eq!(harmonics.untold, [4, 5, 6, 7, 8]);
/// # Ok::<(), borewright_geometry::HarmonicsError>(())
/// ```
pub fn fit_harmonics(readings: &[(f64, f64)]) -> Result<Harmonics, HarmonicsError> {
    let &(_, base_mm) = readings.first().ok_or(HarmonicsError::NothingRead)?;
    if !readings.iter().all(|(clock_deg, radius_mm)| clock_deg.is_finite() && radius_mm.is_finite()) {
        return Err(HarmonicsError::NotFinite);
    }
    // The first radius is taken off, so that microns are not lost beside it.
    let sums = Sums::of(readings, base_mm);
    let most = (0..=MOST_ORDER).rev().find(|&order| sums.tell(order)).unwrap_or(0);
    let parts = sums.solved(most);
    let left = |&(clock_deg, radius_mm): &(f64, f64)| {
        let terms = turns(clock_deg, 2 * usize::from(most) + 1);
        let sum: f64 = terms.zip(&parts).map(|(term, part)| term * part).sum();
        radius_mm - base_mm - sum
    };
    let squares: f64 = readings.iter().map(|reading| left(reading).powi(2)).sum();
    let harmonic = |order: u8| {
        let (cos, sin) = (parts[2 * usize::from(order) - 1], parts[2 * usize::from(order)]);
        let pitch_deg = 360.0 / f64::from(order);
        let phase_deg = (sin.atan2(cos).to_degrees() / f64::from(order)).rem_euclid(pitch_deg);
        // The remainder of a tiny negative number rounds up to the pitch itself.
        let phase_deg = if phase_deg < pitch_deg { phase_deg } else { 0.0 };
        Harmonic { order, amplitude_mm: cos.hypot(sin), phase_deg }
    };
    Ok(Harmonics {
        mean_mm: base_mm + parts[0],
        told: (1..=most).map(harmonic).collect(),
        untold: (most + 1..=MOST_ORDER).collect(),
        rms_left_mm: (squares / sums.number()).sqrt(),
    })
}

/// 1, cos a, sin a, cos 2a, sin 2a, … of a clock: `number` of them.
fn turns(clock_deg: f64, number: usize) -> impl Iterator<Item = f64> {
    // Whole turns are taken off first: a large angle in radians would lose digits.
    let (sin, cos) = (clock_deg % 360.0).to_radians().sin_cos();
    let mut at = (1.0, 0.0);
    let pairs = std::iter::from_fn(move || {
        at = (at.0 * cos - at.1 * sin, at.0 * sin + at.1 * cos);
        Some([at.0, at.1])
    });
    std::iter::once(1.0).chain(pairs.flatten()).take(number)
}

/// Sums over the readings.
struct Sums {
    /// Of cos k a and sin k a.
    turns: [[f64; 2]; SUMS],
    /// Sums of the radius above the base, mm, times 1, cos a, sin a, cos 2a, …
    radii: [f64; SUMS],
}

impl Sums {
    fn of(readings: &[(f64, f64)], base_mm: f64) -> Self {
        let mut sums = Self { turns: [[0.0; 2]; SUMS], radii: [0.0; SUMS] };
        for &(clock_deg, radius_mm) in readings {
            let above = radius_mm - base_mm;
            sums.turns[0][0] += 1.0;
            let mut terms = turns(clock_deg, 2 * SUMS);
            sums.radii[0] += above * terms.next().unwrap_or(1.0);
            for order in 1..SUMS {
                let pair = [terms.next().unwrap_or(0.0), terms.next().unwrap_or(0.0)];
                for (part, term) in pair.into_iter().enumerate() {
                    sums.turns[order][part] += term;
                    if let Some(radii) = sums.radii.get_mut(2 * order - 1 + part) {
                        *radii += above * term;
                    }
                }
            }
        }
        sums
    }

    fn number(&self) -> f64 {
        self.turns[0][0]
    }

    /// The mean product of two of the terms 1, cos a, sin a, cos 2a, …
    fn product(&self, i: usize, j: usize) -> f64 {
        let split = |i: usize| (i.div_ceil(2), i > 0 && i.is_multiple_of(2));
        let ((a, a_sine), (b, b_sine)) = (split(i), split(j));
        let sign = if a >= b { 1.0 } else { -1.0 };
        let ([cos_less, sin_less], [cos_more, sin_more]) = (self.turns[a.abs_diff(b)], self.turns[a + b]);
        let twice = match (a_sine, b_sine) {
            (false, false) => cos_less + cos_more,
            (true, true) => cos_less - cos_more,
            (true, false) => sin_more + sign * sin_less,
            (false, true) => sin_more - sign * sin_less,
        };
        twice / (2.0 * self.number())
    }

    fn matrix(&self, order: u8) -> DMatrix<f64> {
        let size = 2 * usize::from(order) + 1;
        DMatrix::from_fn(size, size, |i, j| self.product(i, j))
    }

    /// Whether the clocks tell all orders up to this one.
    fn tell(&self, order: u8) -> bool {
        SymmetricEigen::new(self.matrix(order)).eigenvalues.min() >= LEAST_MEAN_SQUARE
    }

    /// The parts of the terms up to an order that is told.
    fn solved(&self, order: u8) -> Vec<f64> {
        let size = 2 * usize::from(order) + 1;
        let right = DVector::from_fn(size, |i, _| self.radii[i] / self.number());
        let solved = self.matrix(order).cholesky().map(|factor| factor.solve(&right));
        // Told orders have a positive matrix; order 0 has the matrix 1.
        solved.map_or_else(|| vec![0.0; size], |parts| parts.iter().copied().collect())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn radius(mean: f64, lobes: &[(f64, f64)], clock_deg: f64) -> f64 {
        let lobe = |(&(size, phase), order): (&(f64, f64), i32)| {
            size * (f64::from(order) * (clock_deg - phase).to_radians()).cos()
        };
        mean + lobes.iter().zip(1..).map(lobe).sum::<f64>()
    }

    #[test]
    fn even_clocks_tell_orders_below_half_their_number_however_often_they_are_read() {
        for (clocks, most) in
            [(1u32, 0), (2, 0), (3, 1), (4, 1), (5, 2), (8, 3), (12, 5), (16, 7), (17, 8), (360, 8)]
        {
            let readings: Vec<(f64, f64)> = (0..3 * clocks)
                .map(|i| (f64::from(i) * 360.0 / f64::from(clocks), 40.0 + f64::from(i % clocks)))
                .collect();
            let harmonics = fit_harmonics(&readings).unwrap();
            assert_eq!(harmonics.told.len(), most, "{clocks}");
            assert_eq!(harmonics.untold.len(), 8 - most, "{clocks}");
        }
    }

    #[test]
    fn a_short_arc_tells_no_lobes() {
        let readings: Vec<(f64, f64)> = (0..200).map(|i| (f64::from(i) * 0.2, 40.0)).collect();
        let harmonics = fit_harmonics(&readings).unwrap();
        assert!(harmonics.told.is_empty() && (harmonics.mean_mm - 40.0).abs() < 1e-12);
    }

    #[test]
    fn eight_lobes_read_at_twelve_even_clocks_fold_into_four() {
        let readings: Vec<(f64, f64)> = (0..12)
            .map(|i| f64::from(i) * 30.0)
            .map(|clock: f64| (clock, 40.0 + 0.01 * (8.0 * clock.to_radians()).cos()))
            .collect();
        let harmonics = fit_harmonics(&readings).unwrap();
        assert!((harmonics.order(4).unwrap().amplitude_mm - 0.01).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_reading_is_refused() {
        assert_eq!(fit_harmonics(&[]), Err(HarmonicsError::NothingRead));
        assert_eq!(fit_harmonics(&[(f64::NAN, 1.0)]), Err(HarmonicsError::NotFinite));
        assert_eq!(fit_harmonics(&[(0.0, f64::INFINITY)]), Err(HarmonicsError::NotFinite));
    }

    proptest! {
        #[test]
        fn planted_lobes_come_back_from_uneven_clocks(
            mean in 10.0..200.0f64,
            lobes in prop::collection::vec((1e-4..0.1f64, 0.0..360.0f64), 8),
            aside in prop::collection::vec(-4.0..4.0f64, 36),
            turns in -3i32..4,
        ) {
            let clocks = aside.iter().zip(0i32..).map(|(a, i)| f64::from(i) * 10.0 + a + f64::from(turns) * 360.0);
            let readings: Vec<(f64, f64)> = clocks.map(|clock| (clock, radius(mean, &lobes, clock))).collect();
            let found = fit_harmonics(&readings).unwrap();
            prop_assert!((found.mean_mm - mean).abs() < 1e-11 && found.rms_left_mm < 1e-11);
            prop_assert!(found.untold.is_empty());
            for (harmonic, &(size, phase)) in found.told.iter().zip(&lobes) {
                let pitch = 360.0 / f64::from(harmonic.order);
                prop_assert!((0.0..pitch).contains(&harmonic.phase_deg));
                let apart = (harmonic.phase_deg - phase).rem_euclid(pitch);
                prop_assert!(apart.min(pitch - apart) < 1e-7 / (size / 1e-4), "{harmonic:?} {phase}");
                prop_assert!((harmonic.amplitude_mm - size).abs() < 1e-11);
            }
        }
    }
}
