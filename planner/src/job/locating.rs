//! The locating matrix of a fixture, or the motions it leaves the block where it does not hold it.

use borewright_geometry::{FreeMotion, Locating, LocatingError, Locator};

use super::Fixture;

/// The locating matrix of a fixture.
///
/// # Errors
/// A set that does not hold the block in all six directions.
pub fn locating(fixture: &Fixture) -> Result<Locating, LocatingError> {
    let locators: Vec<Locator> =
        fixture.locators.iter().map(|l| Locator { at_mm: l.at_mm, inward: l.inward }).collect();
    Locating::new(&locators)
}

/// What a free motion is, in words: "sliding along (0.00, 1.00, 0.00)".
#[must_use]
pub fn free_words(free: &[FreeMotion]) -> String {
    let vector = |v: [f64; 3]| format!("({:.2}, {:.2}, {:.2})", v[0] + 0.0, v[1] + 0.0, v[2] + 0.0);
    let word = |motion: &FreeMotion| match motion {
        FreeMotion::Along { direction } => format!("sliding along {}", vector(*direction)),
        FreeMotion::About { direction, point_mm, .. } => {
            format!("turning about {} through {} mm", vector(*direction), vector(*point_mm))
        }
    };
    free.iter().map(word).collect::<Vec<_>>().join("; ")
}
