//! A search for the least of a sum of squares, by Newton steps that are never allowed to climb.

use nalgebra::{SMatrix, SVector};

/// Half a unit in the last place for each coordinate, as much for centring, and room for the rounding of
/// whoever computed the points.
pub(crate) const ROUNDING: f64 = 16.0 * f64::EPSILON;

/// Takes one residual, its slope by the N moves of the model, and the bend of the residual as a sum of
/// weighted squares: a weight and a direction among the moves each.
pub(crate) type Take<'a, const N: usize> = dyn FnMut(f64, [f64; N], &[(f64, [f64; N])]) + 'a;

/// The state of a least-squares search at one model: JᵀJ, Jᵀr, rᵀr, and what the bends of the residuals add
/// to JᵀJ.
pub(crate) struct Slope<const N: usize> {
    hessian: SMatrix<f64, N, N>,
    bend: SMatrix<f64, N, N>,
    gradient: SVector<f64, N>,
    squares: f64,
    /// The sum of squares that rounding alone makes.
    floor: f64,
}

impl<const N: usize> Slope<N> {
    fn at<M>(model: &M, look: &impl Fn(&M, &mut Take<N>)) -> Self {
        let mut slope = Self {
            hessian: SMatrix::zeros(),
            bend: SMatrix::zeros(),
            gradient: SVector::zeros(),
            squares: 0.0,
            floor: 0.0,
        };
        look(model, &mut |residual, row, bends| {
            let row = SVector::from(row);
            slope.hessian += row * row.transpose();
            slope.gradient += row * residual;
            slope.squares += residual * residual;
            slope.floor += ROUNDING * ROUNDING;
            for &(weight, along) in bends {
                let along = SVector::from(along);
                slope.bend += along * along.transpose() * (weight * residual);
            }
        });
        slope
    }

    /// The step downhill with `damping` on the diagonal: Newton's where the sum of squares is a bowl, and
    /// Gauss's elsewhere.
    fn step(&self, damping: f64) -> Option<SVector<f64, N>> {
        let mut gauss = self.hessian;
        (0..N).for_each(|i| gauss[(i, i)] *= 1.0 + damping);
        let bowl = (gauss + self.bend).cholesky().or_else(|| gauss.cholesky())?;
        let step = -bowl.solve(&self.gradient);
        step.iter().all(|part| part.is_finite()).then_some(step)
    }
}

/// The most steps of a search. A quick one takes five to ten; points far from round take some hundreds.
pub(crate) const MOST_STEPS: usize = 1000;

/// A step this short, for points of unit reach, is the end: 1e-13 of a 100 mm bore is 1e-11 mm, and a step's
/// own rounding is of that size.
pub(crate) const REST: f64 = 1e-13;

/// A step this short that no longer shrinks or no longer pays is rounding, and the end too.
pub(crate) const NEAR_REST: f64 = 1e-10;

/// Where a search ended.
pub(crate) struct End<M> {
    pub(crate) model: M,
    /// The sum of its squared residuals.
    pub(crate) squares: f64,
    /// Whether the search came to rest there, and was not cut off or stuck.
    pub(crate) at_rest: bool,
}

/// Walks from `start` downhill to the model with the least sum of squared residuals near it, for a problem of
/// unit size.
///
/// `look` hands each residual to its second argument; `shifted` makes the moves. Damped Gauss–Newton, or
/// Newton where bends are given, with the damping in proportion to the diagonal (Marquardt 1963).
pub(crate) fn settle<M, const N: usize>(
    start: M,
    most_steps: usize,
    look: impl Fn(&M, &mut Take<N>),
    shifted: impl Fn(&M, &SVector<f64, N>) -> M,
) -> End<M> {
    let mut slope = Slope::at(&start, &look);
    let mut model = start;
    let mut damping = 1e-4;
    let mut last_length = f64::INFINITY;
    let mut at_rest = false;
    for _ in 0..most_steps {
        let tried = slope.step(damping).map(|step| (step.norm(), shifted(&model, &step)));
        let length = tried.as_ref().map_or(f64::INFINITY, |(length, _)| *length);
        // Residuals are off by rounding, and their squares' sum by its product with them.
        let slack = slope.floor + 2.0 * (slope.floor * slope.squares).sqrt();
        let better = tried
            .map(|(_, trial)| (Slope::at(&trial, &look), trial))
            .filter(|(there, _)| there.squares <= slope.squares + slack);
        let paid = better.is_some();
        if let Some(trial) = better {
            (slope, model) = trial;
        }
        let stuck = !paid || length > last_length * 0.5;
        // Strong damping makes any step short.
        if damping <= 1.0 && (length <= REST || (length <= NEAR_REST && stuck)) {
            at_rest = true;
            break;
        }
        if paid {
            last_length = length;
            damping = if damping < 1e-9 { 0.0 } else { damping / 10.0 };
        } else {
            damping = (damping * 10.0).max(1e-6);
        }
        if damping > 1e12 {
            break;
        }
    }
    End { model, squares: slope.squares, at_rest }
}
