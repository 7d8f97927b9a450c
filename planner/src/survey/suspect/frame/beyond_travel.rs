//! Readings farther apart than the machine goes: taken on another machine, or by another machine's file.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{MachineReadings, ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::ends;

/// A table goes a little beyond its scales, mm. Common practice, no source.
const BEYOND_MM: f64 = 5.0;

/// Asks about each set-up whose readings lie farther apart than the machine of the job goes, along or across: wherever its
/// zero was set.
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
    let over = |k: usize| {
        let [low, high] = ends(&read.iter().map(|at| at[k]).collect::<Vec<f64>>())?;
        let [from, to] = asked.job.machine.travel_mm[k];
        Some((high - low, to - from)).filter(|(apart, goes)| apart - goes > BEYOND_MM)
    };
    let (axis, (apart, goes)) =
        [(0, "x"), (1, "y")].into_iter().find_map(|(k, axis)| Some((axis, over(k)?)))?;
    let bank = asked.job.bank(set_up.bank);
    let cylinders: Vec<u32> = bank.sites.iter().map(|s| s.cylinder).collect();
    Some(Suspicion {
        code: Code::BeyondTravel,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.name),
        found: say!(
            "set-up {}: what was read lies {} apart along {axis}, and {} goes {}",
            plain(&set_up.name, 40),
            before_mm(apart, 1),
            plain(&asked.job.machine.name, 40),
            mm(goes, 0)
        ),
        likely: "readings of another machine, or the file of another: its scales, errors and limits are not those read by".into(),
        ask: say!("on which machine {} {} read?", if cylinders.len() == 1 { "was" } else { "were" }, cylinder_words(&cylinders)),
        evidence: figures([("apart", apart), ("travel", goes)]),
        cylinders: cylinders.into(),
    })
}
