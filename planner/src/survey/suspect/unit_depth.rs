//! A depth in the wrong unit: it tilts the axis of its bore.

use super::evidence::{FACTORS, figures, unit_cause, unit_words};
use super::{Asked, Suspicion};
use crate::plan::Verdict;

/// The other bores are read at the same depths within this, mm; an inch scale rounds to it. Common practice.
const SAME_MM: f64 = 0.6;

/// Bores that must agree on a depth before one that differs is asked about.
const FEWEST: usize = 2;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for index in 0..asked.job.set_ups.len() {
        let rows = asked.readings.of_set_up(index);
        let cylinders = asked.readings.cylinders(index);
        for reading in &rows {
            let read_at = |cylinder: u32, depth: f64| {
                rows.iter().any(|r| {
                    r.cylinder == cylinder
                        && r.surface == reading.surface
                        && (r.depth_mm - depth).abs() <= SAME_MM
                })
            };
            let others = || cylinders.iter().copied().filter(|c| *c != reading.cylinder);
            let factor = FACTORS.into_iter().find(|factor| {
                let other = reading.depth_mm * factor;
                others().count() >= FEWEST
                    && others().all(|c| read_at(c, other))
                    && !others().any(|c| read_at(c, reading.depth_mm))
                    && !read_at(reading.cylinder, other)
            });
            let Some(factor) = factor else { continue };
            let (cylinder, depth) = (reading.cylinder, reading.depth_mm);
            found.push(Suspicion {
                code: "wrong_unit",
                verdict: Verdict::Hold,
                subject: format!("cylinder {cylinder}"),
                found: format!(
                    "a depth of {depth:.3} mm at which no other bore of the bank was read; {} it is {:.1}, at which all others were",
                    unit_words(factor),
                    depth * factor
                ),
                likely: format!("the depth {}", unit_cause(factor)),
                ask: format!("at which depth was cylinder {cylinder} read, and in which unit was that written?"),
                evidence: figures([("depth_as_typed", depth), ("depth_in_the_other_unit", depth * factor), ("factor", factor)]),
                cylinders: vec![cylinder],
            });
        }
    }
    found
}
