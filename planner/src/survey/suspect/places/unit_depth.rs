//! A depth in the wrong unit: it tilts the axis of its bore.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::{FACTORS, figures, near, unit_cause, unit_words};
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;

/// The other bores are read at the same depths within this, mm; an inch scale rounds to it. Common practice.
const SAME_MM: f64 = 0.6;

/// Bores that must agree on a depth before one that differs is asked about.
const FEWEST: usize = 2;

/// Share of a bore's length below which at least one of its depths is read, where it is read at two or more; a
/// table with none so deep is in another unit.
const SHALLOW: f64 = 0.1;

/// All depths of a set-up's table of bores in inches, or in another unit that leaves them all near the deck.
fn whole(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let length = asked.job.block.parent.bore_length_mm;
    let depths: Vec<f64> = asked.readings.of_set_up(index).iter().map(|r| r.depth_mm).collect();
    let walls = asked.job.set_ups[index].walls.iter().map(|w| w.depth_mm);
    let deepest = depths.iter().copied().fold(0.0, f64::max);
    let shallowest = depths.iter().copied().fold(f64::INFINITY, f64::min);
    let factor = FACTORS[0];
    let spread = deepest - shallowest > 0.5;
    // A wall read deeper shows that the depths of the circles are the wrong ones.
    let walls_deeper = walls.fold(0.0, f64::max) > 4.0 * deepest;
    let inches = deepest * factor <= length;
    // A single depth near the deck may be meant; it is asked about only where walls contradict it and inches
    // explain it.
    if deepest >= SHALLOW * length || !(spread || (walls_deeper && inches)) || deepest <= 0.0 {
        return None;
    }
    let bank = &asked.job.bank(asked.job.set_ups[index].bank).name;
    Some(Suspicion {
        code: Code::WrongUnit,
        verdict: Verdict::Hold,
        subject: Subject::bank(bank),
        found: if inches {
            say!(
                "all its circles were read within {} of the deck of a bore of {length:.0}; {} they go down to \
                 {:.1}",
                mm(deepest, 3),
                unit_words(factor),
                deepest * factor
            )
        } else {
            say!("all its circles were read within {} of the deck of a bore of {length:.0}", mm(deepest, 3))
        },
        likely: if inches {
            say!("all depths of the table {}", unit_cause(factor))
        } else {
            "all depths of the table in another unit, as in cm, or a point slipped".into()
        },
        ask: say!("in which unit were the depths of the bank {bank} written?"),
        evidence: figures([
            ("deepest", deepest),
            ("deepest_in_the_other_unit", deepest * factor),
            ("factor", factor),
        ]),
        cylinders: asked.readings.cylinders(index).into(),
    })
}

/// Asks about depths of a set-up in the other unit: all of them, else each that no other bore was read at, where
/// the other unit makes it the depth of all others.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for index in 0..asked.job.set_ups.len() {
        if let Some(all) = whole(asked, index) {
            found.push(all);
            continue;
        }
        let rows = asked.readings.of_set_up(index);
        let cylinders = asked.readings.cylinders(index);
        let mut depths: BTreeMap<(u32, Surface), Vec<f64>> = BTreeMap::new();
        for reading in &rows {
            depths.entry((reading.cylinder, reading.surface)).or_default().push(reading.depth_mm);
        }
        depths.values_mut().for_each(|of| of.sort_by(f64::total_cmp));
        for reading in &rows {
            let read_at = |cylinder: u32, depth: f64| {
                depths.get(&(cylinder, reading.surface)).is_some_and(|of| near(of, depth, SAME_MM))
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
                code: Code::WrongUnit,
                verdict: Verdict::Hold,
                subject: Subject::cylinder(cylinder),
                found: say!("a depth of {} at which no other bore of the bank was read; {} it is {:.1}, at which all others \
             were", mm(depth, 3), unit_words(factor), depth * factor),
                likely: say!("the depth {}", unit_cause(factor)),
                ask: say!("at which depth was cylinder {cylinder} read, and in which unit was that written?"),
                evidence: figures([("depth_as_typed", depth), ("depth_in_the_other_unit", depth * factor), ("factor", factor)]),
                cylinders: vec![cylinder].into(),
            });
        }
    }
    found
}
