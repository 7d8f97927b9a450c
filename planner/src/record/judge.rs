//! A reading against its window.

use super::value::Heard;
use crate::plan::check::Asked;

/// Where a reading lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lies {
    /// In the window, or as asked.
    Within,
    /// Under the window by this, in the reading's unit.
    Under(f64),
    /// Over the window by this, in the reading's unit.
    Over(f64),
    /// Not as asked.
    Wrong,
    /// Nobody said what it should be.
    Open,
    /// No reading.
    None,
}

/// Less than this is rounding: figures are kept to a millionth.
pub(super) const NOTHING: f64 = 1e-6;

/// Where what was heard lies.
#[must_use]
pub fn lies(asked: &Asked, heard: Heard) -> Lies {
    let value = match heard {
        Heard::None => return Lies::None,
        Heard::Look(true) => return Lies::Within,
        Heard::Look(false) => return Lies::Wrong,
        Heard::Figure { value, .. } => value,
    };
    lies_at(asked, value)
}

/// Where a figure lies.
#[must_use]
pub fn lies_at(asked: &Asked, value: f64) -> Lies {
    let value = turned(asked, value);
    match (asked.least, asked.most) {
        (Some(least), _) if value < least - NOTHING => Lies::Under(least - value),
        (_, Some(most)) if value > most + NOTHING => Lies::Over(value - most),
        (None, None) => Lies::Open,
        _ => Lies::Within,
    }
}

/// A direction brought to within half a turn of what is expected.
fn turned(asked: &Asked, value: f64) -> f64 {
    match asked.expected {
        Some(expected) if asked.of == crate::plan::check::Of::Clock => {
            expected + (value - expected + 180.0).rem_euclid(360.0) - 180.0
        }
        _ => value,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Measure;
    use crate::plan::check::Of;
    use crate::record::value::As;

    #[test]
    fn a_direction_just_past_nought_is_near_one_just_before_it() {
        let asked = Asked {
            reading: 1,
            of: Of::Clock,
            depth: None,
            clock: None,
            expected: Some(355.0),
            least: Some(335.0),
            most: Some(375.0),
            unit: Measure::Angle,
            waits: true,
            worked: Vec::new(),
        };
        let figure = |value| Heard::Figure { value, taken: As::Figure };
        assert_eq!(lies(&asked, figure(10.0)), Lies::Within);
        assert_eq!(lies(&asked, figure(20.0)), Lies::Over(5.0));
    }
}
