//! The window of a reading as it is printed: its limits rounded inwards, once, and both its forms from these.

use borewright_planner::plan::sentence::{Grid, Window as Printed};
use borewright_planner::read::inch::MM_PER_INCH;

use crate::said::number::{Fixed, NotPrintable};
use crate::said::units::{Digits, Units};

/// The limits of a reading, mm, and what is expected of it where that is told with them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Window {
    /// What is expected, where it stands beside the window.
    pub(crate) expected: Option<f64>,
    pub(crate) least: Option<f64>,
    pub(crate) most: Option<f64>,
}

impl Units {
    /// A window in these units, the second in brackets; empty where it has no limit. "± 0.006" where it reaches as far to either side
    /// of what is expected as printed, else "3.2280 to 3.2287".
    ///
    /// # Errors
    /// Where a limit is no printable number.
    pub(crate) fn window(self, window: Window) -> Result<String, NotPrintable> {
        let parts = [(1.0, Digits::Fine.mm()), (MM_PER_INCH, Digits::Fine.inch())];
        let mut told: Vec<String> = Vec::new();
        for ((unit, decimals), shown) in parts.into_iter().zip([self.has_mm(), self.has_inch()]) {
            if shown {
                told.push(window.told(unit, decimals)?);
            }
        }
        if self.is_inch_first() {
            told.reverse();
        }
        let [first, second] = match told.as_slice() {
            [first, second] if !first.is_empty() => [first.as_str(), second.as_str()],
            [first, ..] => return Ok(first.clone()),
            [] => return Ok(String::new()),
        };
        // Each figure with its own in the other unit, where both are told in one form.
        let starts = |word: &str| second.strip_prefix(word).filter(|_| first.starts_with(word));
        let same = ["\u{b1} ", "at least ", "at most "].into_iter().find_map(starts);
        Ok(match (same, first.split_once(" to ").zip(second.split_once(" to "))) {
            (Some(second), _) => format!("{first} ({second})"),
            (None, Some(((low, high), (second_low, second_high)))) => {
                format!("{low} ({second_low}) to {high} ({second_high})")
            }
            (None, None) => format!("{first} ({second})"),
        })
    }
}

impl Window {
    /// In units of so many mm.
    fn told(self, unit_mm: f64, decimals: usize) -> Result<String, NotPrintable> {
        let grid = Grid { unit_mm, decimals };
        let fixed = |digits: f64| Fixed::new(digits * grid.step(), decimals);
        let limits = match (self.least, self.most) {
            (Some(least), Some(most)) => [least, most],
            (Some(least), None) => return Ok(format!("at least {}", fixed(grid.up(least))?)),
            (None, Some(most)) => return Ok(format!("at most {}", fixed(grid.down(most))?)),
            (None, None) => return Ok(String::new()),
        };
        Ok(match grid.window(self.expected, limits) {
            Printed::Either(digits) => format!("\u{b1} {}", fixed(digits)?),
            Printed::Limits([least, most]) => format!("{} to {}", fixed(least)?, fixed(most)?),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use borewright_planner::job::SheetUnits;

    fn told(units: SheetUnits, expected: Option<f64>, least: f64, most: f64) -> String {
        Units::of(units).window(Window { expected, least: Some(least), most: Some(most) }).unwrap()
    }

    #[test]
    fn limits_are_rounded_inwards_and_both_forms_come_from_them() {
        // 81.990 and 82.010 mm are 3.227953 and 3.228740 in, 82.000 are 3.228346: told 3.2283, 3.2280 to 3.2287.
        assert_eq!(told(SheetUnits::In, None, 81.99, 82.01), "3.2280 to 3.2287");
        assert_eq!(told(SheetUnits::In, Some(82.0), 81.99, 82.01), "3.2280 to 3.2287");
        assert_eq!(told(SheetUnits::Mm, Some(82.0), 81.99, 82.01), "\u{b1} 0.010");
        assert_eq!(told(SheetUnits::Both, Some(82.0), 81.99, 82.01), "\u{b1} 0.010 (3.2280 to 3.2287)");
        assert_eq!(told(SheetUnits::Both, None, 81.99, 82.01), "81.990 (3.2280) to 82.010 (3.2287)");
        assert_eq!(told(SheetUnits::Both, Some(101.6), 101.59, 101.61), "\u{b1} 0.010 (0.0003)");
        // 101.6 mm are 4 in: 101.5900 and 101.6100 are 3.999606 and 4.000394.
        assert_eq!(told(SheetUnits::In, Some(101.6), 101.59, 101.61), "\u{b1} 0.0003");
        // A wide one about a figure that no last digit tells.
        assert_eq!(told(SheetUnits::Mm, Some(0.7489), 0.6989, 0.7989), "\u{b1} 0.050");
        assert_eq!(told(SheetUnits::In, None, 0.0001, 0.0002), "0.0000 to 0.0000");
    }

    #[test]
    fn no_printed_limit_lies_outside_the_one_behind_it() {
        for n in 0..4000 {
            let middle = 60.0 + f64::from(n) * 0.013_7;
            let (least, most) = (middle - 0.006, middle + 0.006);
            let inch = told(SheetUnits::In, Some(middle), least, most);
            let [low, high]: [f64; 2] = match inch.strip_prefix("\u{b1} ") {
                Some(either) => {
                    let middle = (middle / 25.4 * 10_000.0).round() / 10_000.0;
                    let either: f64 = either.parse().unwrap();
                    [middle - either, middle + either]
                }
                None => {
                    let (low, high) = inch.split_once(" to ").unwrap();
                    [low.parse().unwrap(), high.parse().unwrap()]
                }
            };
            assert!(low * 25.4 >= least - 1e-6 && high * 25.4 <= most + 1e-6, "{middle}: {inch}");
        }
    }
}
