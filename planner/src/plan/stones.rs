//! The stones of a hone, one behind the other.

/// Which stones are in the hone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stones {
    /// They take most of the stock.
    Rough,
    /// They take out the rough ones' scratches.
    Middle,
    /// They end at the size.
    Last,
    /// They take next to nothing.
    Plateau,
}

impl Stones {
    /// In the order of work.
    pub const ALL: [Self; 4] = [Self::Rough, Self::Middle, Self::Last, Self::Plateau];

    /// What a pass with them does, as printed.
    #[must_use]
    pub const fn feature(self) -> &'static str {
        match self {
            Self::Rough => "hone rough",
            Self::Middle => "hone middle",
            Self::Last => "hone",
            Self::Plateau => "hone plateau",
        }
    }
}
