//! A window as it is printed: its limits rounded inwards, whether boxes or words tell it.

/// A window that reaches so many last digits and more to either side of its middle is printed as `±`, rounded to the nearest; a
/// narrower one by its limits, rounded inwards.
pub const WIDE_DIGITS: f64 = 15.0;
/// Of a last digit, what binary fractions lose of a limit that lies on it.
const ON_IT: f64 = 1e-4;

/// A window as printed, in last digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Window {
    /// As far to either side of what is expected as printed.
    Either(f64),
    /// From one limit to the other.
    Limits([f64; 2]),
}

/// The unit that a figure is printed in, mm, and its decimals.
#[derive(Debug, Clone, Copy)]
pub struct Grid {
    /// The unit, mm.
    pub unit_mm: f64,
    /// How many decimals of it are printed.
    pub decimals: usize,
}

impl Grid {
    /// One of the last digit, in the unit.
    #[must_use]
    pub fn step(self) -> f64 {
        10_f64.powi(-i32::try_from(self.decimals).unwrap_or(4))
    }

    fn digits(self, mm: f64) -> f64 {
        mm / self.unit_mm / self.step()
    }

    /// The least that may be printed for a lower limit, in last digits.
    #[must_use]
    pub fn up(self, mm: f64) -> f64 {
        (self.digits(mm) - ON_IT).ceil()
    }

    /// The most that may be printed for an upper limit, in last digits.
    #[must_use]
    pub fn down(self, mm: f64) -> f64 {
        (self.digits(mm) + ON_IT).floor()
    }

    /// A window by its limits, mm, about what is expected where that stands beside it: `Either` where it reaches as far to both sides as
    /// printed; limits that lie inside its own, but where it is narrower than a last digit.
    #[must_use]
    pub fn window(self, expected: Option<f64>, [low, high]: [f64; 2]) -> Window {
        let [least, most] = [self.up(low), self.down(high)];
        if let Some(expected) = expected {
            let either = self.digits((high - low) / 2.0);
            let is_even = ((high - expected) - (expected - low)).abs() < 1e-6;
            if is_even && either >= WIDE_DIGITS {
                return Window::Either(either.round());
            }
            let middle = self.digits(expected).round();
            if (most - middle - (middle - least)).abs() < 0.5 {
                return Window::Either(most - middle);
            }
        }
        // Narrower than a last digit, it is told as it is.
        if least <= most {
            Window::Limits([least, most])
        } else {
            Window::Limits([low, high].map(|mm| self.digits(mm).round()))
        }
    }
}
