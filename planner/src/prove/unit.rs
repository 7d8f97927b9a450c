//! The unit of a list, by its plan: how many digits its words have, what they are in mm, and what rounding may have
//! done.

/// Exact (NIST SP 811, appendix B.8). Its own on purpose: the second reader shares no figure with the writer of lists.
const MM_PER_INCH: f64 = 25.4;
/// Room for the last bits of a figure that was rounded to a nanometre, mm.
const NANOMETRES_MM: f64 = 2e-6;

/// Millimetres or inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Mm,
    Inch,
}

impl Unit {
    /// One of it, mm.
    fn mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Inch => MM_PER_INCH,
        }
    }

    /// Decimals of a length.
    pub(super) fn places(self) -> usize {
        match self {
            Self::Mm => 3,
            Self::Inch => 4,
        }
    }

    /// Decimals of a feed.
    pub(super) fn feed_places(self) -> usize {
        match self {
            Self::Mm => 1,
            Self::Inch => 3,
        }
    }

    /// A count of a length's last digit, mm.
    pub(super) fn length(self, count: i64) -> f64 {
        match self {
            Self::Mm => small(count) / 1000.0,
            Self::Inch => small(count) * MM_PER_INCH / 10_000.0,
        }
    }

    /// A count of a feed's last digit, mm/min.
    pub(super) fn feed(self, count: i64) -> f64 {
        match self {
            Self::Mm => small(count) / 10.0,
            Self::Inch => small(count) * MM_PER_INCH / 1000.0,
        }
    }

    /// The last digit of a length, mm: what a centre's coordinate may differ from the plan.
    pub(super) fn step(self) -> f64 {
        match self {
            Self::Mm => 0.001,
            Self::Inch => 0.002_54,
        }
    }

    /// What a figure written to the last digit may differ from the plan's, which is rounded to a nanometre, mm.
    pub(super) fn rounded(self) -> f64 {
        self.step() / 2.0 + NANOMETRES_MM
    }

    /// What a figure written to the last digit may differ from one that was worked out and not rounded before, mm.
    pub(super) fn written(self) -> f64 {
        self.step() * 0.6
    }

    /// How far the start and the end of an arc may differ in their distance from its centre, mm: both are written to
    /// the last digit in X and Y, which is 0.7 of it each.
    pub(super) fn arc(self) -> f64 {
        1.5 * self.step()
    }

    /// The last digit of a feed, which is the slowest that a list tells, mm/min.
    pub(super) fn feed_step(self) -> f64 {
        match self {
            Self::Mm => 0.1,
            Self::Inch => 0.001 * MM_PER_INCH,
        }
    }

    /// The unit as it stands behind a figure.
    pub(super) fn short(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Inch => "in",
        }
    }

    /// The unit as a head names it.
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Inch => "inch",
        }
    }

    /// A figure of this unit, mm.
    pub(super) fn told(self, figure: f64) -> f64 {
        figure * self.mm()
    }

    /// A length in mm as the list would have it.
    pub(super) fn show(self, mm: f64) -> String {
        format!("{:.*}", self.places(), mm / self.mm())
    }

    /// A length in mm as the list would have it, always with a sign.
    pub(super) fn signed(self, mm: f64) -> String {
        format!("{:+.*}", self.places(), mm / self.mm())
    }

    /// A length that is no coordinate, with a digit or more less.
    pub(super) fn coarse(self, mm: f64) -> String {
        format!("{:.*}", self.places() - 2, mm / self.mm())
    }

    /// A margin, with a digit more.
    pub(super) fn fine(self, mm: f64) -> String {
        format!("{:.*}", self.places() + 1, mm / self.mm())
    }

    /// A feed in mm/min as the list would have it.
    pub(super) fn show_feed(self, mm_per_min: f64) -> String {
        format!("{:.*}", self.feed_places(), mm_per_min / self.mm())
    }
}

/// A count of digits as a number; none has more than ten of them.
fn small(count: i64) -> f64 {
    f64::from(i32::try_from(count).unwrap_or(i32::MAX))
}
