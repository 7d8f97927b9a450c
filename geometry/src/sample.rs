//! A sample of figures: how many, their middle, their ends.

/// The median of the distances from the middle, times this, is the standard deviation of normal scatter: 1 /
/// 0.6745, from the quartile of the normal distribution.
pub const MAD_TO_SIGMA: f64 = 1.482_6;

/// A number of figures as a real number. No job holds more than 2³² of anything; they would count as that.
#[must_use]
pub fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(f64::from(u32::MAX), f64::from)
}

/// The mean, in the figures' unit; none of none.
#[must_use]
pub fn mean(figures: &[f64]) -> Option<f64> {
    (!figures.is_empty()).then(|| figures.iter().sum::<f64>() / count(figures.len()))
}

/// The middle figure, or the mean of the two in the middle; 0 of none.
#[must_use]
pub fn median(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    let n = figures.len();
    if n == 0 { 0.0 } else { f64::midpoint(figures[(n - 1) / 2], figures[n / 2]) }
}

/// Least and most; none of none.
#[must_use]
pub fn ends(figures: &[f64]) -> Option<[f64; 2]> {
    let wider = |[least, most]: [f64; 2], figure: &f64| [least.min(*figure), most.max(*figure)];
    (!figures.is_empty()).then(|| figures.iter().fold([f64::INFINITY, f64::NEG_INFINITY], wider))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sample_is_worked_by_hand() {
        let figures = [4.0, 1.0, 7.0, 2.0];
        assert_eq!((mean(&figures), ends(&figures)), (Some(3.5), Some([1.0, 7.0])));
        assert_eq!((median(figures.to_vec()), median(vec![5.0, 9.0, 1.0])), (3.0, 5.0));
        assert_eq!((mean(&[]), ends(&[]), median(Vec::new())), (None, None, 0.0));
    }

    #[test]
    fn the_deviation_of_normal_scatter_is_told_by_its_quartile() {
        // Quartile of the standard normal distribution, 0.674490: NIST/SEMATECH e-Handbook of Statistical Methods,
        // 1.3.6.7.1.
        assert!((MAD_TO_SIGMA * 0.674_490 - 1.0).abs() < 1e-4);
    }
}
