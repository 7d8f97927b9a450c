//! A wall that was read twice with different figures.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::WallReading;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;

/// Standard uncertainties of a difference, as of a circle read twice.
const SIGMAS: f64 = 4.0;

/// Asks about each place of a wall that was read more than once, in one table or in those of several set-ups, where its least
/// and most are farther apart than reading explains.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let allowed = SIGMAS * std::f64::consts::SQRT_2 * asked.job.instruments.wall_mm;
    let mut found = Vec::new();
    // Least and most of each place that was read more than once.
    let mut places: BTreeMap<_, (&WallReading, [f64; 2])> = BTreeMap::new();
    for wall in asked.job.set_ups.iter().flat_map(|set_up| &set_up.walls) {
        let Some(read) = wall.wall_mm else { continue };
        let clock = wall.clock_deg.rem_euclid(360.0);
        let key = (wall.cylinder, wall.depth_mm.to_bits(), clock.to_bits(), wall.surface);
        let ends = &mut places.entry(key).or_insert((wall, [read, read])).1;
        *ends = [ends[0].min(read), ends[1].max(read)];
    }
    for (wall, [least, most]) in places.into_values().filter(|(_, [a, b])| b - a > allowed) {
        let n = wall.cylinder;
        found.push(Suspicion {
            code: Code::ReadTwice,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(n),
            found: say!(
                "the wall at depth {}, clock {:.0} was read twice, {} and {}",
                mm(wall.depth_mm, 1),
                wall.clock_deg,
                before_mm(least, 3),
                mm(most, 3)
            ),
            likely: "a wall of another clock, depth or bore, or a wrong digit".into(),
            ask: say!("read that wall of cylinder {n} again, in the place of both rows: which is right, and where was the other read?"),
            evidence: figures([("least", least), ("most", most), ("allowed", allowed)]),
            cylinders: vec![n].into(),
        });
    }
    found
}
