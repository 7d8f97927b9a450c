//! Measures as typed, turned into numbers in the one unit used inside.

use crate::read::inch::MM_PER_INCH;

use super::given::{Scalar, Units};

/// Why typed text is no quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// What is expected instead.
    pub expected: &'static str,
    /// What may help.
    pub help: Option<String>,
}

const A_LENGTH: &str = "a length such as 96.0, `0.05 mm`, `12 um`, `0.002 in` or `2 thou`";

fn unreadable(expected: &'static str) -> Unreadable {
    Unreadable { expected, help: None }
}

/// A typed number and the unit after it.
fn number_and_unit(text: &str, expected: &'static str) -> Result<(f64, String), Unreadable> {
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | '/' | ' ' | ',')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    if number.contains(',') {
        let meant = number.trim().replacen(',', ".", 1);
        let help = Some(match mixed_number(&meant) {
            Some(_) => format!("write the decimal mark as a point, not a comma: {meant}"),
            None => "write the decimal mark as a point, not a comma".to_owned(),
        });
        return Err(Unreadable { expected, help });
    }
    let value = mixed_number(number.trim()).ok_or_else(|| unreadable(expected))?;
    Ok((value, unit.trim().to_ascii_lowercase()))
}

/// `1.5`, `.0035`, `+3`, `-.0015`, `1/2`, `3 1/2`.
fn mixed_number(text: &str) -> Option<f64> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let plain = |digits: &str| {
        let dots = digits.matches('.').count();
        let proper = digits.chars().all(|c| c.is_ascii_digit() || c == '.') && dots <= 1;
        (proper && digits.len() > dots && digits.len() <= 30).then(|| digits.parse::<f64>().ok()).flatten()
    };
    // "89.78/1" is a slip, no fraction.
    let whole = |digits: &str| plain(digits).filter(|_| !digits.contains('.'));
    let fraction = |text: &str| {
        let (over, under) = text.split_once('/')?;
        let (over, under) = (whole(over)?, whole(under)?);
        (under > 0.0).then(|| over / under)
    };
    let value = match text.split_once(' ') {
        Some((before, rest)) => whole(before)? + fraction(rest.trim())?,
        None if text.contains('/') => fraction(text)?,
        None => plain(text)?,
    };
    Some(sign * value)
}

/// A length in mm.
///
/// # Errors
/// Text that is no length, or a unit that is not known.
pub fn length_mm(given: &Scalar, units: Units) -> Result<f64, Unreadable> {
    let per_unit = match units {
        Units::Mm => 1.0,
        Units::In => MM_PER_INCH,
    };
    match given {
        Scalar::Number(number) if number.is_finite() => Ok(number * per_unit),
        Scalar::Number(_) => Err(unreadable("a finite number")),
        Scalar::Text(text) => {
            let (value, unit) = number_and_unit(text, A_LENGTH)?;
            let factor = match unit.as_str() {
                "" => per_unit,
                "mm" => 1.0,
                "um" | "µm" | "μm" | "micron" | "microns" => 1e-3,
                "in" | "inch" | "inches" | "\"" => MM_PER_INCH,
                "thou" | "tho" => MM_PER_INCH / 1000.0,
                "tenth" | "tenths" => {
                    let help =
                        "a tenth is 0.0001 in in an inch shop and 0.1 mm in a metric one: write `in` or `mm`";
                    return Err(Unreadable { expected: A_LENGTH, help: Some(help.into()) });
                }
                _ => return Err(unreadable(A_LENGTH)),
            };
            Ok(value * factor)
        }
    }
}

/// An angle in degrees.
///
/// # Errors
/// Text that is no angle.
pub fn angle_deg(given: &Scalar) -> Result<f64, Unreadable> {
    const AN_ANGLE: &str = "an angle in degrees";
    match given {
        Scalar::Number(number) if number.is_finite() => Ok(*number),
        Scalar::Number(_) => Err(unreadable("a finite number")),
        Scalar::Text(text) => match number_and_unit(text, AN_ANGLE)? {
            (value, unit) if matches!(unit.as_str(), "" | "deg" | "degrees" | "°") => Ok(value),
            _ => Err(unreadable(AN_ANGLE)),
        },
    }
}

/// A temperature in degrees Celsius.
///
/// # Errors
/// Text that is no temperature.
pub fn celsius(given: &Scalar) -> Result<f64, Unreadable> {
    const A_TEMPERATURE: &str = "a temperature such as 20.0 (°C) or `75 F`";
    match given {
        Scalar::Number(number) if number.is_finite() => Ok(*number),
        Scalar::Number(_) => Err(unreadable("a finite number")),
        Scalar::Text(text) => {
            let (value, unit) = number_and_unit(text, A_TEMPERATURE)?;
            match unit.trim_start_matches('°') {
                "" | "c" => Ok(value),
                "f" => Ok((value - 32.0) / 1.8),
                _ => Err(unreadable(A_TEMPERATURE)),
            }
        }
    }
}

/// A cutting speed in m/min.
///
/// # Errors
/// Text that is no cutting speed.
pub fn metres_per_minute(given: &Scalar) -> Result<f64, Unreadable> {
    const A_SPEED: &str = "a cutting speed such as 90 (m/min) or `300 ft/min`";
    match given {
        Scalar::Number(number) if number.is_finite() => Ok(*number),
        Scalar::Number(_) => Err(unreadable("a finite number")),
        Scalar::Text(text) => match number_and_unit(text, A_SPEED)? {
            (value, unit) if unit.is_empty() || unit == "m/min" => Ok(value),
            (value, unit) if unit == "ft/min" => Ok(value * 0.3048),
            _ => Err(unreadable(A_SPEED)),
        },
    }
}

/// A number without a unit.
///
/// # Errors
/// Anything that is not one finite number.
pub fn plain_number(given: &Scalar) -> Result<f64, Unreadable> {
    match given {
        Scalar::Number(number) if number.is_finite() => Ok(*number),
        _ => Err(unreadable("a finite number without a unit")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(text: &str, units: Units) -> Result<f64, Unreadable> {
        length_mm(&Scalar::Text(text.to_owned()), units)
    }

    #[test]
    fn what_a_machinist_types_is_understood() {
        let cases = [
            ("0.05 mm", 0.05),
            ("12 um", 0.012),
            ("12 µm", 0.012),
            ("0.002 in", 0.0508),
            ("2 thou", 0.0508),
            ("2.5 tho", 0.0635),
            ("3 1/2 thou", 0.0889),
            ("1/4 in", 6.35),
            ("4\"", 101.6),
            ("101.00 mm", 101.0),
            (".0035", 0.0035),
            ("-.0015", -0.0015),
            ("+3", 3.0),
        ];
        for (text, mm) in cases {
            assert!((length(text, Units::Mm).unwrap() - mm).abs() < 1e-12, "{text}");
        }
        assert!((length_mm(&Scalar::Number(3.9764), Units::In).unwrap() - 101.000_56).abs() < 1e-9);
        assert!((celsius(&Scalar::Text("68 F".into())).unwrap() - 20.0).abs() < 1e-12);
        assert!((metres_per_minute(&Scalar::Text("300 ft/min".into())).unwrap() - 91.44).abs() < 1e-9);
    }

    #[test]
    fn what_could_mean_two_things_is_refused() {
        for text in ["15 tenths", "0,279", "1e3", "", "mm", "--1", "1.2.3", "1/0", "5 m", "inf", "1 2 3"] {
            assert!(length(text, Units::Mm).is_err(), "{text}");
        }
        assert!(length("15 tenths", Units::In).unwrap_err().help.is_some());
        assert!(length_mm(&Scalar::Number(f64::NAN), Units::Mm).is_err());
    }
}
