//! A datum read with nothing to spare, among which a slip would not show.

use crate::survey::suspect::Code;
use std::collections::BTreeSet;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{MachineReadings, ReadingFrame};
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::mandrel;
use borewright_geometry::sample::count;

/// Points that lie on one plane whatever they are.
const A_PLANE: usize = 3;

/// Mains that lie on one line whatever they are.
const A_LINE: usize = 2;

/// Asks for a fourth point of each deck that was touched at three, and for a third main where the block has one.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for set_up in &asked.job.set_ups {
        let ReadingFrame::Machine(readings) = &set_up.frame else { continue };
        let suspicion = |code, said: Sentence, likely: &str, ask: &str, points: usize| Suspicion {
            code,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found: said,
            likely: likely.into(),
            ask: ask.into(),
            evidence: figures([("read", count(points))]),
            cylinders: asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect(),
        };
        if readings.deck_mm.len() == A_PLANE {
            found.push(suspicion(
                Code::DeckUnchecked,
                say!("its deck was touched at {} points, which lie on a plane whatever they are", A_PLANE),
                "no slip, but one of 0.03 in a point would tilt the whole bank unseen",
                "touch a fourth point, at the corner that is left",
                A_PLANE,
            ));
        }
        let mains: BTreeSet<&str> = readings.axis.iter().chain(&readings.mains).map(|p| &*p.main).collect();
        // A mandrel swept twice at each end, a half turn between, shows a slip at either.
        let swept = is_swept(asked, readings, &mains);
        if mains.len() == A_LINE && !swept && asked.job.block.journal_axis.mains.len() > A_LINE {
            found.push(suspicion(
                Code::AxisUnchecked,
                say!("the journal axis was read at {} mains, which lie on a line whatever they are", A_LINE),
                "no slip, but one in a main would turn the whole bank unseen",
                "read a third main, or sweep the mandrel at each of the two again, turned by half",
                A_LINE,
            ));
        }
    }
    found
}

/// Sweeps of one end agree within so many of their standard uncertainty.
const AGREE: f64 = 3.0;

/// Whether every main was read twice and more, alike and not to the last digit, or apart as a mandrel's run-out leaves them: a row
/// that stands there again is one reading.
fn is_swept(asked: &Asked<'_>, readings: &MachineReadings, mains: &BTreeSet<&str>) -> bool {
    let u_mm = asked.job.instruments.axis_mm;
    let all = || readings.axis.iter().chain(&readings.mains);
    if mandrel::pairs(all().map(|p| (&*p.main, p.line, p.at_mm)))
        .is_some_and(|p| mandrel::is_half_turn(&p, u_mm))
    {
        return true;
    }
    let read =
        |main: &str| -> Vec<[f64; 3]> { all().filter(|p| &*p.main == main).map(|p| p.at_mm).collect() };
    let swept: Vec<Vec<[f64; 3]>> = mains.iter().map(|main| read(main)).collect();
    let extent = |own: &[[f64; 3]], k: usize| {
        let ends = own
            .iter()
            .map(|at| at[k])
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)]);
        ends[1] - ends[0]
    };
    let alike =
        |own: &Vec<[f64; 3]>| own.len() > 1 && [1, 2].into_iter().all(|k| extent(own, k) <= AGREE * u_mm);
    let again = |own: &Vec<[f64; 3]>| own.iter().all(|at| at.map(f64::to_bits) == own[0].map(f64::to_bits));
    swept.iter().all(|own| alike(own) && !again(own))
}
