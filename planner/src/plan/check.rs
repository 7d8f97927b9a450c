//! Checks made while the work goes on, and the readings that they ask for.

use serde::{Deserialize, Serialize};

use super::rounding::plan as round;
use super::sentence::{Sentence, before_mm};
use super::worked::Figure;
use super::{Measure, Stage};
use crate::say;

/// What a check is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    /// The scales against two bores and the deck, before the first chip of a list.
    Touch,
    /// The first cut's depth on either side.
    Position,
    /// What is left of the old liner after a cut.
    Witness,
    /// Something to look at and no figure.
    Look,
    /// A bore's size.
    Size,
    /// A ledge's depth.
    Ledge,
    /// A flange's height against the deck.
    Protrusion,
    /// A deck after its cut.
    Deck,
    /// The finished bore all over.
    Bore,
}

impl What {
    /// What the check is for, as printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Touch => "touch check",
            Self::Position => "first touch",
            Self::Witness => "witness",
            Self::Look => "look",
            Self::Size => "size",
            Self::Ledge => "ledge depth",
            Self::Protrusion => "protrusion",
            Self::Deck => "deck",
            Self::Bore => "finished bore",
        }
    }
}

/// One check: a number, and what it asks of each bore.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Check {
    /// Its number, as on lists, sheets and in the record.
    pub check: u32,
    /// What it is for.
    pub what: What,
    /// The stage it belongs to.
    pub stage: Stage,
    /// The bank.
    pub bank: String,
    /// The step that it comes after; `None` of a touch check, which comes before all of its stage.
    pub step: Option<u32>,
    /// The part of the pocket, or what is done.
    pub feature: String,
    /// What it asks, bore by bore in the order of work.
    pub cylinders: Vec<AtCylinder>,
}

/// What a check asks of one bore.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AtCylinder {
    /// The cylinder; `None` where it is of the whole bank.
    pub cylinder: Option<u32>,
    /// The readings, numbered from 1.
    pub readings: Vec<Asked>,
}

impl Check {
    /// What the check asks of a bore; of the whole bank where it asks nothing of single bores.
    #[must_use]
    pub fn at(&self, cylinder: Option<u32>) -> Option<&AtCylinder> {
        self.cylinders.iter().find(|c| c.cylinder == cylinder)
    }

    /// The check's name apart from its number, which a plan made anew may change.
    ///
    /// `pocket, left, lower register, size`; two cuts of one part are told apart by the size that they end at.
    #[must_use]
    pub fn name(&self) -> String {
        format!("{}/{}/{}/{}", self.stage.word(), self.bank, self.feature, self.what.words())
    }
}

/// The two ways that a size is taken: along the journal axis and across it, degrees.
pub const WAYS_DEG: [f64; 2] = [0.0, 90.0];

/// What a reading is a reading of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Of {
    /// A diameter.
    Diameter,
    /// A depth below the deck.
    Depth,
    /// A height: of a flange above the deck, of a deck above the journal axis.
    Height,
    /// How deep the first cut is on one side.
    Cut,
    /// X of the list.
    X,
    /// Y of the list.
    Y,
    /// Z of the list.
    Z,
    /// What the head was set to.
    Set,
    /// Flatness.
    Flatness,
    /// A direction, degrees.
    Clock,
    /// Part of a circle, degrees.
    Arc,
    /// Mean roughness, micrometres.
    Roughness,
    /// As asked or not.
    Look,
    /// A diameter of the bare hole once the old liner is out.
    Parent,
    /// A diameter of the finished bore with the torque plate off again.
    Off,
    /// Whether a bore holds pressure, tight or not.
    Tight,
}

impl Of {
    /// Every kind of reading.
    pub const ALL: [Self; 16] = [
        Self::Diameter,
        Self::Depth,
        Self::Height,
        Self::Cut,
        Self::X,
        Self::Y,
        Self::Z,
        Self::Set,
        Self::Flatness,
        Self::Clock,
        Self::Arc,
        Self::Roughness,
        Self::Look,
        Self::Parent,
        Self::Off,
        Self::Tight,
    ];

    /// What is measured, as printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Diameter => "diameter",
            Self::Depth => "depth",
            Self::Height => "height",
            Self::Cut => "step from old wall to new",
            Self::X => "X",
            Self::Y => "Y",
            Self::Z => "Z",
            Self::Set => "head set to",
            Self::Flatness => "flatness",
            Self::Clock => "thickest at clock",
            Self::Arc => "arc",
            Self::Roughness => "Ra",
            Self::Look => "as asked",
            Self::Parent => "bare hole",
            Self::Off => "plate off",
            Self::Tight => "tight",
        }
    }

    /// What its figures are.
    #[must_use]
    pub fn measure(self) -> Measure {
        match self {
            Self::Clock | Self::Arc => Measure::Angle,
            Self::Roughness => Measure::Roughness,
            Self::Look | Self::Tight => Measure::Look,
            Self::Diameter | Self::Parent | Self::Off => Measure::Length,
            Self::Depth | Self::Height | Self::Cut | Self::Flatness => Measure::Length,
            Self::X | Self::Y | Self::Z | Self::Set => Measure::Length,
        }
    }

    /// Whether such a reading is answered with a yes or a no.
    #[must_use]
    pub fn is_look(self) -> bool {
        self.measure() == Measure::Look
    }

    /// Whether such a reading is a diameter, of whatever and whenever.
    #[must_use]
    pub fn is_diameter(self) -> bool {
        matches!(self, Self::Diameter | Self::Parent | Self::Off)
    }

    /// The word before its value in the record, of what the work does not wait for: `set 89.762`.
    #[must_use]
    pub fn spoken(self) -> Option<&'static str> {
        match self {
            Self::Set => Some("set"),
            Self::X => Some("x"),
            Self::Y => Some("y"),
            Self::Roughness => Some("ra"),
            Self::Parent => Some("parent"),
            Self::Off => Some("off"),
            Self::Tight => Some("tight"),
            Self::Diameter | Self::Depth | Self::Height | Self::Cut | Self::Z => None,
            Self::Flatness | Self::Clock | Self::Arc | Self::Look => None,
        }
    }

    /// Whether a reading must be named to be recorded: without its name it would be taken for another of the same
    /// place.
    #[must_use]
    pub fn wants_its_name(self) -> bool {
        matches!(self, Self::Set | Self::Parent | Self::Off | Self::Tight)
    }

    /// Whether it is read off the machine's display, in the unit of its lists, and not by hand.
    #[must_use]
    pub fn is_on_display(self) -> bool {
        matches!(self, Self::X | Self::Y | Self::Z)
    }

    /// Whether such a reading has a sign of its own, so that a `+` before it is no deviation.
    #[must_use]
    pub fn is_signed(self) -> bool {
        matches!(self, Self::Height | Self::X | Self::Y | Self::Z | Self::Clock | Self::Arc | Self::Flatness)
    }
}

/// One reading that is asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Asked {
    /// Its number on the check and the bore.
    pub reading: u32,
    /// What it is of.
    pub of: Of,
    /// Below the deck, mm, where it has a place.
    pub depth: Option<f64>,
    /// Where round the bore, degrees, where it has a place.
    pub clock: Option<f64>,
    /// What is expected, in `unit`.
    pub expected: Option<f64>,
    /// The least that is as asked, in `unit`.
    pub least: Option<f64>,
    /// The most that is as asked, in `unit`.
    pub most: Option<f64>,
    /// What its figures are: `mm`, `degrees`, `um`, or nothing where it is no figure.
    pub unit: Measure,
    /// Whether the work waits for it; else it may be written too.
    pub waits: bool,
    /// What is expected, and the window, as they were worked out: `expected` and `within`.
    #[serde(skip)]
    pub worked: Vec<Figure>,
}

impl Asked {
    /// A reading that the work waits for, not yet numbered.
    pub(crate) fn new(of: Of, expected: Option<f64>, window: [Option<f64>; 2]) -> Self {
        Self {
            reading: 0,
            of,
            depth: None,
            clock: None,
            expected: expected.map(round),
            least: window[0].map(round),
            most: window[1].map(round),
            unit: of.measure(),
            waits: true,
            worked: Vec::new(),
        }
    }

    /// A reading that is expected at a figure, with a window of `within` either side of it.
    pub(crate) fn within(of: Of, expected: f64, within: f64) -> Self {
        Self::new(of, Some(expected), [Some(expected - within), Some(expected + within)])
    }

    pub(crate) fn look() -> Self {
        Self::new(Of::Look, None, [None, None])
    }

    pub(crate) fn at(mut self, depth: Option<f64>, clock: Option<f64>) -> Self {
        self.depth = depth.map(round);
        self.clock = clock.map(round);
        self
    }

    pub(crate) fn optional(mut self) -> Self {
        self.waits = false;
        self
    }

    /// Where the reading is taken, in words: "depth 57.0, clock 90".
    #[must_use]
    pub fn place(&self) -> Sentence {
        let depth = self.depth.map(|d| say!("depth {}", before_mm(d, 1)));
        let clock = self.clock.map(|c| say!("clock {:.0}", c));
        Sentence::join(depth.into_iter().chain(clock), ", ")
    }
}

/// Numbers readings from 1, those that the work waits for first.
pub(crate) fn numbered(mut readings: Vec<Asked>) -> Vec<Asked> {
    readings.sort_by_key(|r| !r.waits);
    for (reading, number) in readings.iter_mut().zip(1..) {
        reading.reading = number;
    }
    readings
}

#[cfg(test)]
mod tests {
    use super::Of;

    #[test]
    fn all_kinds_of_reading_are_among_all_and_no_two_are_spoken_alike() {
        // In their order, the last of them last: one that is left out moves all behind it.
        for (at, of) in Of::ALL.into_iter().enumerate() {
            assert_eq!(of as usize, at, "{of:?}");
        }
        assert_eq!(Of::Tight as usize + 1, Of::ALL.len());
        let mut spoken: Vec<&str> = Of::ALL.into_iter().filter_map(Of::spoken).collect();
        let many = spoken.len();
        spoken.sort_unstable();
        spoken.dedup();
        assert_eq!(spoken.len(), many);
        // What must be named can be.
        assert!(Of::ALL.into_iter().all(|of| !of.wants_its_name() || of.spoken().is_some()));
    }
}
