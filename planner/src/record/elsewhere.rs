//! A reading that says of itself that it was taken at another place than was asked for.

use crate::plan::check::Asked;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::read::fault::plain;
use crate::read::given::{Scalar, Units};
use crate::read::measure::{angle_deg, length_mm};
use crate::say;

/// A depth that is told is the one asked for within this, mm: a gauge is held to a rule. Common practice, no source.
const DEPTH_MM: f64 = 1.0;

/// A clock that is told is the one asked for within this, degrees. Common practice, no source.
const CLOCK_DEG: f64 = 20.0;

/// What a place that was told with a reading is held against: where it was asked, in words; nothing where it is that place, where
/// nothing was told, or where no place is asked. A depth without a unit may be in mm, as it is asked, or in the job's unit.
#[must_use]
pub fn elsewhere(asked: &Asked, [depth, clock]: [&str; 2], units: Units) -> Option<Sentence> {
    if let Some(own) = asked.depth.filter(|_| !depth.trim().is_empty()) {
        let told = [depth.trim().parse::<f64>().ok(), length_mm(&Scalar::Text(depth.to_owned()), units).ok()];
        if !told.into_iter().flatten().any(|told| (told - own).abs() <= DEPTH_MM) {
            return Some(say!(
                "a depth within {} of {}, where reading {} is asked",
                before_mm(DEPTH_MM, 1),
                mm(own, 1),
                asked.reading
            ));
        }
    }
    let own = asked.clock.filter(|_| !clock.trim().is_empty())?;
    // A diameter is the same from either side.
    let turn = if asked.of.is_diameter() { 180.0 } else { 360.0 };
    let near = |told: &f64| {
        let by = (told - own).rem_euclid(turn);
        by.min(turn - by) <= CLOCK_DEG
    };
    (!clocks(clock).iter().any(near)).then(|| {
        say!(
            "a clock within {:.0} degrees of {:.0}, where reading {} is asked",
            CLOCK_DEG,
            own,
            asked.reading
        )
    })
}

/// The directions that a clock may mean: which side of a bore the valley is on is the bank's, so either.
fn clocks(text: &str) -> Vec<f64> {
    match text.trim().to_ascii_lowercase().as_str() {
        "rear" => vec![0.0],
        "front" => vec![180.0],
        "valley" | "outer" => vec![90.0, 270.0],
        other => angle_deg(&Scalar::Text(other.to_owned())).into_iter().collect(),
    }
}

/// Why a line that a hand typed is no reading of the place it stands for; what cannot be read as a place says nothing.
pub(super) fn of_hand(asked: &Asked, [depth, clock]: [&str; 2], units: Units) -> Option<Sentence> {
    if depth.is_empty() && clock.is_empty() {
        return None;
    }
    let is_depth = |text: &&str| length_mm(&Scalar::Text((*text).to_owned()), units).is_ok();
    let is_clock = |text: &&str| !clocks(text).is_empty();
    let told = [Some(depth).filter(is_depth), Some(clock).filter(is_clock)].map(Option::unwrap_or_default);
    let expected = elsewhere(asked, told, units)?;
    let place = [("depth", told[0]), ("clock", told[1])];
    let place: Vec<String> = place
        .into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(word, text)| format!("{word} `{}`", plain(text, 20)))
        .collect();
    Some(say!("read at {}, and asked is {}: it does not count", place.join(" and "), expected))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::check::Of;

    #[test]
    fn a_place_told_with_a_reading_is_the_one_asked_or_is_told() {
        let size = Asked { reading: 3, ..Asked::within(Of::Diameter, 88.57, 0.006) };
        let size = size.at(Some(57.0), Some(90.0));
        for told in
            [["", ""], ["57", ""], ["56.2 mm", "90"], ["2.25 in", "270"], ["58", "valley"], ["", "75"]]
        {
            assert_eq!(elsewhere(&size, told, Units::Mm), None, "{told:?}");
        }
        assert_eq!(elsewhere(&size, ["2.244", "90"], Units::In), None);
        for told in
            [["5", ""], ["58.1", "90"], ["57", "0"], ["", "rear"], ["2.244", ""], ["top", ""], ["", "up"]]
        {
            assert!(elsewhere(&size, told, Units::Mm).is_some(), "{told:?}");
        }
        let ledge = Asked { reading: 1, ..Asked::within(Of::Depth, 7.965, 0.01) }.at(None, Some(180.0));
        assert_eq!(elsewhere(&ledge, ["7.9", "front"], Units::Mm), None, "no depth is asked");
        assert!(elsewhere(&ledge, ["", "0"], Units::Mm).is_some());
        // A hand may write anything into the cell.
        assert_eq!(of_hand(&size, ["near the top", "?"], Units::Mm), None);
        assert!(of_hand(&size, ["5.0", "?"], Units::Mm).is_some());
    }
}
