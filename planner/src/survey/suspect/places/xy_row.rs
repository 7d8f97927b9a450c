//! x and y of one row or one bore exchanged: in a table off the machine every figure is a place.

use super::evidence::{EXPLAINED_MM, figures};
use super::unit_bore::FAR_MM;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// Asks about each bore with circles far off as typed and near their true place with x and y exchanged.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for index in 0..asked.job.set_ups.len() {
        let cylinders = asked.readings.cylinders(index);
        for cylinder in &cylinders {
            let own: Vec<_> =
                asked.readings.of_set_up(index).into_iter().filter(|r| r.cylinder == *cylinder).collect();
            let wrong: Vec<_> = own
                .iter()
                .filter(|r| {
                    let size = |off: [f64; 2]| off[0].hypot(off[1]);
                    let [x, y] = r.raw_mm;
                    size(asked.readings.off_if_mm(r, r.raw_mm)) > FAR_MM
                        && size(asked.readings.off_if_mm(r, [y, x])) < EXPLAINED_MM
                })
                .collect();
            let Some(first) = wrong.first() else { continue };
            let off = asked.readings.off_if_mm(first, first.raw_mm);
            found.push(Suspicion {
                code: Code::XyExchanged,
                verdict: Verdict::Hold,
                subject: Subject::cylinder(*cylinder),
                found: say!("at depth {} it stands {} off true as typed, and right with x and y exchanged ({} of its {} \
             circles so)", mm(first.depth_mm, 1), mm(off[0].hypot(off[1]), 3), wrong.len(), own.len()),
                likely: "x and y exchanged".into(),
                ask: say!("which of the two figures of cylinder {cylinder} is x?"),
                evidence: figures([("off_as_typed", off[0].hypot(off[1])), ("circles", count(wrong.len()))]),
                cylinders: vec![*cylinder].into(),
            });
        }
    }
    found
}
