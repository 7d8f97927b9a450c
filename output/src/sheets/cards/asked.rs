//! A reading in words: where it is taken, what is expected, within what.

use borewright_planner::plan::Measure;
use borewright_planner::plan::check::{Asked, Of};
use borewright_planner::plan::sentence::{before_mm, half_away};
use borewright_planner::say;

use crate::OutputError;
use crate::said::number::Fixed;
use crate::said::sides::Sides;
use crate::said::units::{Digits, Units};
use crate::said::window::Window;

/// Where a reading is taken: "57.00 deep, across", "clock 0° rear": no card but the set-up's shows the clock.
pub(super) fn place((units, sides): (Units, Sides), reading: &Asked) -> Result<String, OutputError> {
    let mut parts = Vec::new();
    if let Some(depth) = reading.depth {
        parts.push(format!("{} deep", deep(units, depth)));
    }
    if let Some(clock) = reading.clock {
        if reading.of == Of::Diameter {
            parts.push(match way(clock)?.split_once(' ') {
                Some((_, word)) => word.to_owned(),
                None => way(clock)?,
            });
        } else {
            parts.push(format!("clock {}° {}", Fixed::new(clock, 0)?, sides.clock(clock)));
        }
    }
    Ok(parts.join(", "))
}

/// A depth at which something is read, to 0.1 mm or 0.001 in, as the record asks for it: a gauge stands no finer.
pub(super) fn deep(units: Units, depth_mm: f64) -> String {
    units.say(&say!("{}", before_mm(half_away(depth_mm, 1), 1)))
}

/// Which way a diameter is taken: a gauge with two feet has no front.
pub(super) fn way(clock: f64) -> Result<String, OutputError> {
    let degrees = Fixed::new(clock, 0)?.to_string();
    Ok(match degrees.as_str() {
        "0" => "0° along".to_owned(),
        "90" => "90° across".to_owned(),
        _ => format!("{degrees}°"),
    })
}

/// What is expected, and within what: in the sheet's units, without a unit behind lengths (the card's head has it).
pub(super) fn told((units, sides): (Units, Sides), reading: &Asked) -> Result<(String, String), OutputError> {
    let figure = |value: f64| -> Result<String, OutputError> {
        Ok(match reading.unit {
            Measure::Angle => format!("{}°", Fixed::new(value, 0)?),
            Measure::Roughness => format!("{} µm", Fixed::new(value, 2)?),
            Measure::Length | Measure::Look => {
                units.length(value, Digits::Fine)?.stacked().replace('\n', " ")
            }
        })
    };
    let mut expected = reading.expected.map(figure).transpose()?.unwrap_or_default();
    if let Some(clock) = reading.expected.filter(|_| reading.of == Of::Clock) {
        expected = format!("{expected} {}", sides.clock(clock));
    }
    let Asked { least, most, .. } = *reading;
    let window = match (reading.unit, least, most) {
        (Measure::Length | Measure::Look, ..) => {
            units.window(Window { expected: reading.expected, least, most })?
        }
        (_, Some(least), Some(most)) => match reading.expected {
            Some(middle) if ((most - middle) - (middle - least)).abs() < 1e-6 => {
                format!("± {}", figure(most - middle)?)
            }
            _ => format!("{} to {}", figure(least)?, figure(most)?),
        },
        (_, None, Some(most)) => format!("at most {}", figure(most)?),
        (_, Some(least), None) => format!("at least {}", figure(least)?),
        (_, None, None) => String::new(),
    };
    Ok((expected, window))
}
