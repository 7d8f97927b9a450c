//! An axis that a question names.

use std::fmt;

/// An axis of the machine; of a bank, X is along it and Y across.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Along a bank.
    X,
    /// Across it.
    Y,
    /// Up: the deck's.
    Z,
}

impl Axis {
    /// Those of the machine.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];
    /// Those that a bore stands by.
    pub const OF_BORE: [Self; 2] = [Self::X, Self::Y];

    /// Its letter as a card and a machine have it.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Self::X => "X",
            Self::Y => "Y",
            Self::Z => "Z",
        }
    }

    /// The axis of a word as it is typed, in small letters.
    pub(super) fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|axis| axis.to_string() == word)
    }

    /// Its figure of three.
    pub(super) fn of_three(self, [x, y, z]: [f64; 3]) -> f64 {
        match self {
            Self::X => x,
            Self::Y => y,
            Self::Z => z,
        }
    }
}

impl fmt::Display for Axis {
    /// As it is typed in a question.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
        })
    }
}
