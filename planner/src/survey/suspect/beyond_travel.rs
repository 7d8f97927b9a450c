//! Readings where the machine does not come to: taken on another machine, or by another machine's file.

use super::evidence::{figures, listed};
use super::{Asked, Suspicion};
use crate::job::{MachineReadings, ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// A table goes a little beyond its scales, mm. Common practice, no source.
const BEYOND_MM: f64 = 5.0;

/// Asks about each set-up whose readings lie farther out than the machine of the job goes, along or across.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let machine = asked.job.set_ups.iter().filter_map(|set_up| match &set_up.frame {
        ReadingFrame::Machine(readings) => Some((set_up, readings)),
        ReadingFrame::Journal => None,
    });
    machine.filter_map(|(set_up, readings)| beyond(asked, set_up, readings)).collect()
}

fn beyond(asked: &Asked<'_>, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let axis = readings.axis.iter().chain(&readings.mains).map(|a| [a.at_mm[0], a.at_mm[1]]);
    let deck = readings.deck_mm.iter().map(|p| [p[0], p[1]]);
    let bores = set_up.bores.iter().map(|b| b.centre_mm).chain(set_up.points.iter().map(|p| p.at_mm));
    let read: Vec<[f64; 2]> = axis.chain(deck).chain(bores).collect();
    let travel = asked.job.machine.travel_mm;
    let out = |k: usize, v: f64| {
        let [from, to] = travel[k];
        (from - v).max(v - to)
    };
    let worst = [(0, "x"), (1, "y")]
        .into_iter()
        .flat_map(|(k, axis)| read.iter().map(move |at| (axis, at[k], out(k, at[k]), travel[k])));
    let (axis, at, by, [from, to]) = worst.max_by(|a, b| a.2.total_cmp(&b.2)).filter(|w| w.2 > BEYOND_MM)?;
    let bank = asked.job.bank(set_up.bank);
    let cylinders: Vec<u32> = bank.sites.iter().map(|s| s.cylinder).collect();
    Some(Suspicion {
        code: "beyond_travel",
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.name),
        found: say!(
            "set-up {}: {axis} {} was read, and {} goes from {} to {}",
            plain(&set_up.name, 40),
            before_mm(at, 3),
            plain(&asked.job.machine.name, 40),
            before_mm(from, 0),
            mm(to, 0)
        ),
        likely: "readings of another machine, or the file of another: its scales, errors and limits are not those read by".into(),
        ask: say!("on which machine was cylinder {} read?", listed(&cylinders)),
        evidence: figures([("beyond", by)]),
        cylinders,
    })
}
