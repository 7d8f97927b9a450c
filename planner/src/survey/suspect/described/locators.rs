//! Locators of a fixture that stand nowhere near the block: what they leave of its place is then told smaller than it is.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;

/// A locator stands no farther beyond the outermost bores and mains along the block than this, mm: a cradle is longer than the block
/// by no more. Common practice, no source.
const ALONG_MM: f64 = 400.0;

/// A locator stands no farther from the crankshaft's axis, across and up, than these shares of the deck's height: a block is no wider,
/// and its feet stand lower. Common practice, no source.
const HEIGHTS: [f64; 2] = [1.2, 2.5];

/// The first locator off the block.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // Where its error enters no limit nothing hangs on it.
    let Some(fixture) = asked.job.fixture.as_ref().filter(|fixture| fixture.feeds_limits) else {
        return Vec::new();
    };
    let block = &asked.job.block;
    let bores = block.banks.iter().flat_map(|bank| &bank.sites).map(|site| site.x_mm);
    let along = bores.chain(block.journal_axis.mains.iter().map(|main| main.x_mm));
    let [from, to] = along.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], x| [a.min(x), b.max(x)]);
    let high = block.banks.iter().map(|bank| bank.deck_height_mm).fold(0.0, f64::max);
    let off = |[x, y, z]: [f64; 3]| {
        let [across, up] = HEIGHTS.map(|share| share * high);
        ((from - x).max(x - to) - ALONG_MM).max(y.abs() - across).max(z.abs() - up)
    };
    let worst = fixture.locators.iter().map(|locator| (locator, off(locator.at_mm)));
    let odd = worst.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, off)| *off > 1e-9);
    let told = odd.map(|(locator, off)| Suspicion {
        code: Code::LocatorOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("fixture"),
        found: say!(
            "locator {} stands at {}, {}, {}: {} farther from the block than any fixture's does",
            plain(&locator.name, 30),
            mm(locator.at_mm[0], 0),
            mm(locator.at_mm[1], 0),
            mm(locator.at_mm[2], 0),
            mm(off, 0)
        ),
        likely:
            "a digit slipped or another unit: typed so far apart, they seem to tilt the block less than they do"
                .into(),
        ask: "where does it stand (`fixture.locators`: x from where the block's x begins, y and z from the crankshaft's axis)?".into(),
        evidence: figures([
            ("x", locator.at_mm[0]),
            ("y", locator.at_mm[1]),
            ("z", locator.at_mm[2]),
            ("off", off),
        ]),
        cylinders: block.cylinders().into(),
    });
    told.into_iter().collect()
}
