//! The fixture that holds the block, and the turn of its index.

/// How far the block turns from one bank up to the other, as read (sine bar, or the circle closed).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IndexSpan {
    /// The turn as read, degrees.
    pub angle_deg: f64,
    /// Its standard uncertainty, degrees.
    pub u_deg: f64,
}

/// What holds the block.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixture {
    /// What holds the block, in words.
    pub held_by: String,
    /// Whether its combined error enters the limits measured from the journal axis.
    pub feeds_limits: bool,
    /// Whether the job says so, or that it does not.
    pub feeds_told: bool,
    /// The six locators.
    pub locators: Vec<FixtureLocator>,
}

/// One locator.
#[derive(Debug, Clone, PartialEq)]
pub struct FixtureLocator {
    /// Its name.
    pub name: String,
    /// Where, in the block frame, mm.
    pub at_mm: [f64; 3],
    /// The direction in which it pushes the block, of length 1.
    pub inward: [f64; 3],
    /// Standard uncertainty of its place along that direction, mm.
    pub u_mm: f64,
}
