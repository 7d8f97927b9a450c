//! What the figures of a reading are, and so their unit.

use std::fmt;

use serde::{Deserialize, Serialize};

/// What a figure is; in a plan it is written as the word of its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Measure {
    /// A length, mm.
    #[serde(rename = "mm")]
    Length,
    /// An angle, degrees.
    #[serde(rename = "degrees")]
    Angle,
    /// A mean roughness, micrometres.
    #[serde(rename = "um")]
    Roughness,
    /// No figure: as asked or not.
    #[serde(rename = "")]
    Look,
}

impl Measure {
    /// The word of its unit; empty where there is no figure.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Angle => "degrees",
            Self::Roughness => "um",
            Self::Look => "",
        }
    }

    /// Whether it is a length, and so told in the shop's unit.
    #[must_use]
    pub const fn is_length(self) -> bool {
        matches!(self, Self::Length)
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.unit())
    }
}

#[cfg(test)]
mod tests {
    use super::Measure;

    #[test]
    fn each_is_written_as_its_unit_and_read_back() {
        for measure in [Measure::Length, Measure::Angle, Measure::Roughness, Measure::Look] {
            let written = serde_json::to_value(measure).unwrap();
            assert_eq!(written, measure.unit());
            assert_eq!(serde_json::from_value::<Measure>(written).unwrap(), measure);
        }
    }
}
