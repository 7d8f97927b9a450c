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
        if let Some(last_digits) = plainly(value, decimals) {
            return Ok(Self { last_digits, decimals });
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

/// The count of last digits where a product tells it for certain: so far off the half between two that no error of the product
/// reaches it. Sheets and lists are thousands of numbers, and the text of one costs twenty times as much.
fn plainly(value: f64, decimals: usize) -> Option<i64> {
    const TENS: [f64; 7] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];
    let scaled = value * TENS.get(decimals)?;
    // Below this the product is right to 2e-7.
    let small = scaled.abs() < 1e9;
    let clear = (scaled.abs().fract() - 0.5).abs() > 1e-6;
    #[expect(clippy::cast_possible_truncation, reason = "a whole number below a thousand millions")]
    let rounded = || scaled.round() as i64;
    (small && clear).then(rounded)
}

impl fmt::Display for Fixed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ten =
            u32::try_from(self.decimals).ok().and_then(|decimals| 10_u64.checked_pow(decimals)).unwrap_or(1);
        let (whole, part) = (self.last_digits.unsigned_abs() / ten, self.last_digits.unsigned_abs() % ten);
        if self.is_negative() {
            f.write_str("-")?;
        }
        f.write_str(itoa::Buffer::new().format(whole))?;
        if self.decimals > 0 { write!(f, ".{part:0width$}", width = self.decimals) } else { Ok(()) }
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
        fn a_number_is_rounded_as_its_exact_value_is(
            thousandths in -9_999_999_i32..9_999_999,
            off in -3_i32..=3,
            decimals in 0_usize..=6,
        ) {
            // Halves of the last digit and their neighbours are where two ways of rounding could differ.
            let half = f64::from(thousandths) / 2.0 / 10_f64.powi(i32::try_from(decimals).unwrap());
            let value = f64::from_bits(half.to_bits().wrapping_add_signed(i64::from(off)));
            prop_assume!(value.abs() < LARGEST);
            let said = format!("{value:.decimals$}");
            let nought = said.chars().all(|c| "-0.".contains(c));
            let exact = if nought { said.trim_start_matches('-') } else { &said };
            prop_assert_eq!(Fixed::new(value, decimals).unwrap().to_string(), exact);
        }

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
