//! Numbers as printed: fixed decimals, no exponent, no minus before nothing.

use std::fmt;

/// Larger than any length, speed or time of the trade; beyond it a value is a fault, not a number to print.
const LARGEST: f64 = 1e6;

/// A value that no control, spreadsheet or reader could use.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{0} cannot be printed as a plain decimal number")]
pub struct NotPrintable(pub f64);

/// A decimal number exactly as printed, kept as a count of its last digit.
///
/// Sums and steps on paper are made from these, never from the values behind them: whoever adds up
/// what is printed must come to the printed sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Fixed {
    last_digits: i64,
    decimals: usize,
}

impl Fixed {
    /// Rounds to so many decimals.
    ///
    /// # Errors
    /// Where the value is not finite or not below [`LARGEST`].
    pub(crate) fn new(value: f64, decimals: usize) -> Result<Self, NotPrintable> {
        if !value.is_finite() || value.abs() >= LARGEST || decimals > 9 {
            return Err(NotPrintable(value));
        }
        // Through the decimal text, so that this is the very rounding that gets printed.
        let digits: String = format!("{value:.decimals$}").chars().filter(|c| *c != '.').collect();
        let last_digits = digits.parse().map_err(|_| NotPrintable(value))?;
        Ok(Self { last_digits, decimals })
    }

    /// Nothing, with so many decimals.
    pub(crate) fn zero(decimals: usize) -> Self {
        Self { last_digits: 0, decimals }
    }

    /// Whether every printed digit is a nought.
    pub(crate) fn is_zero(self) -> bool {
        self.last_digits == 0
    }

    /// Whether a minus is printed.
    pub(crate) fn is_negative(self) -> bool {
        self.last_digits < 0
    }

    /// The sum of two numbers of equal decimals.
    pub(crate) fn plus(self, other: Self) -> Self {
        Self { last_digits: self.last_digits.saturating_add(other.last_digits), ..self }
    }

    /// The size without the sign.
    pub(crate) fn size(self) -> Self {
        Self { last_digits: self.last_digits.saturating_abs(), ..self }
    }

    /// With its sign always, as a coordinate stands on a sheet; nought is `+0.000`.
    pub(crate) fn signed(self) -> String {
        if self.is_negative() { self.to_string() } else { format!("+{self}") }
    }
}

impl fmt::Display for Fixed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let digits = format!("{:0width$}", self.last_digits.unsigned_abs(), width = self.decimals + 1);
        let (whole, part) = digits.split_at(digits.len() - self.decimals);
        let sign = if self.is_negative() { "-" } else { "" };
        if part.is_empty() { write!(f, "{sign}{whole}") } else { write!(f, "{sign}{whole}.{part}") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nought_never_carries_a_minus() {
        assert_eq!(Fixed::new(-0.0, 3).unwrap().to_string(), "0.000");
        assert_eq!(Fixed::new(-0.0004, 3).unwrap().to_string(), "0.000");
        assert_eq!(Fixed::new(-0.0004, 3).unwrap().signed(), "+0.000");
        assert_eq!(Fixed::new(-0.0006, 3).unwrap().signed(), "-0.001");
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e6, -1e300] {
            assert!(Fixed::new(value, 3).is_err(), "{value}");
        }
    }

    proptest! {
        #[test]
        fn the_printed_number_reads_back_within_half_its_last_digit(
            value in -999_999.0..999_999.0_f64,
            decimals in 0_usize..6,
        ) {
            let fixed = Fixed::new(value, decimals).unwrap();
            for text in [fixed.to_string(), fixed.signed()] {
                let half = 0.5 * 10_f64.powi(-i32::try_from(decimals).unwrap());
                let back: f64 = text.parse().unwrap();
                prop_assert!((back - value).abs() <= half * (1.0 + 1e-6) + 1e-9);
                prop_assert!(!text.contains(['e', 'E', 'n', 'N']));
                prop_assert!(!(back == 0.0 && text.contains('-')));
            }
        }
    }
}
