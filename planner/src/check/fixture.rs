//! Checks a fixture: six locators, each with a direction and an error, that hold the block altogether.

use borewright_geometry::LocatingError;

use super::checker::Checker;
use crate::files::{FixtureFile, IndexSpanFile, LocatorFile};
use crate::job::locating::{free_words, locating};
use crate::job::{Fixture, FixtureLocator, IndexSpan};
use crate::read::quantity as q;

/// A play of which nothing is known but its ends has a standard uncertainty of its width over this (JCGM
/// 100:2008, 4.3.7).
const PLAY_TO_U: f64 = 3.464_101_615_137_754_6;

/// The turn from one bank up to the other, `Some(None)` where it was not read; or `None` with its faults told.
pub(super) fn index_span(c: &mut Checker<'_>, file: Option<&IndexSpanFile>) -> Option<Option<IndexSpan>> {
    let Some(span) = file else { return Some(None) };
    let angle = c.angle("index_span.angle", &span.angle, q::BANK_ANGLE);
    let u = c.angle("index_span.u", &span.u, q::ANGLE_UNCERTAINTY);
    angle.zip(u).map(|(angle_deg, u_deg)| Some(IndexSpan { angle_deg, u_deg }))
}

/// A fixture in mm, or `None` with its faults told.
pub(super) fn check(c: &mut Checker<'_>, file: &FixtureFile) -> Option<Fixture> {
    let held_by = c.name("fixture.held_by", &file.held_by);
    let given = &file.locators;
    if given.value.len() != 6 {
        c.fault(
            given.place,
            "fixture.locators",
            format!("{} locators", given.value.len()),
            "six, one for each way to move",
        );
    }
    let locators: Vec<Option<FixtureLocator>> =
        given.value.iter().enumerate().map(|(i, l)| locator(c, i, l)).collect();
    let fixture = Fixture {
        held_by: held_by?,
        feeds_limits: file.feeds_limits.unwrap_or_default(),
        feeds_told: file.feeds_limits.is_some(),
        locators: locators.into_iter().collect::<Option<_>>()?,
    };
    match locating(&fixture) {
        Ok(_) => Some(fixture),
        Err(LocatingError::Free { free, .. }) if fixture.locators.len() == 6 => {
            let found = format!("locators that leave the block {}", free_words(&free));
            c.fault(given.place, "fixture.locators", found, "locators that hold it in all six directions");
            None
        }
        Err(_) => None,
    }
}

/// One locator of the fixture, its direction brought to length 1; `None` where a value is wrong, which is told.
fn locator(c: &mut Checker<'_>, index: usize, file: &LocatorFile) -> Option<FixtureLocator> {
    let key = format!("fixture.locators[{index}]");
    let at = |field: &str| format!("{key}.{field}");
    let name = c.name(&at("name"), &file.name);
    let place: Vec<Option<f64>> = file
        .at
        .iter()
        .enumerate()
        .map(|(k, v)| c.length(&format!("{}[{k}]", at("at")), v, q::ALONG))
        .collect();
    let normal: Vec<Option<f64>> = file
        .normal
        .iter()
        .enumerate()
        .map(|(k, v)| c.number(&format!("{}[{k}]", at("normal")), v, q::DIRECTION))
        .collect();
    let u = match (&file.clearance, &file.u) {
        (Some(play), None) => c.length(&at("clearance"), play, q::CLEARANCE).map(|play| play / PLAY_TO_U),
        (None, Some(u)) => c.length(&at("u"), u, q::UNCERTAINTY),
        _ => {
            c.fault(file.name.place, &key, "both or neither of clearance and u".into(), "one of them");
            None
        }
    };
    let normal = [normal[0]?, normal[1]?, normal[2]?];
    let length = normal.iter().map(|n| n * n).sum::<f64>().sqrt();
    if length < 1e-9 {
        c.fault(
            file.normal[0].place,
            &at("normal"),
            "no direction".into(),
            "a direction square to the surface, into the block",
        );
        return None;
    }
    Some(FixtureLocator {
        name: name?,
        at_mm: [place[0]?, place[1]?, place[2]?],
        inward: normal.map(|n| n / length),
        u_mm: u?,
    })
}
