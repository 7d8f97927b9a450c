//! The first bore read again at the end of the table: the difference says whether something moved meanwhile.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::readings::Reading;
use super::{Asked, Suspicion};
use crate::plan::sentence::{before_mm, mm, signed_before_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::sample::count;

/// A closing difference up to this is good, mm. Common practice, no source.
const CLOSES_MM: f64 = 0.008;

/// Asks about each set-up whose first bore, read again at the end, stands elsewhere in the mean of its circles.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let rows: Vec<&Reading> =
            asked.readings.of_set_up(index).into_iter().filter(|r| !r.from_points).collect();
        let pairs = pairs(&rows);
        let n = count(pairs.len());
        if pairs.is_empty() {
            continue;
        }
        let mean = |k: usize| pairs.iter().map(|(a, b)| b.at_mm[k] - a.at_mm[k]).sum::<f64>() / n;
        let (x, y) = (mean(0), mean(1));
        let apart = x.hypot(y);
        // Three standard uncertainties of the mean difference, so that a coarse instrument raises no false alarm.
        let allowed = CLOSES_MM.max(3.0 * asked.job.instruments.centre_mm * (2.0 / n).sqrt());
        if apart <= allowed {
            continue;
        }
        let cylinder = pairs[0].0.cylinder;
        found.push(Suspicion {
            code: Code::NotClosed,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found: say!("cylinder {cylinder}, read again at the end, stands {} from where it stood first (x {}, y {}); \
             {} is allowed", mm(apart, 3), signed_before_mm(x, 3), signed_before_mm(y, 3), before_mm(allowed, 3)),
            likely: "the block, the clamps or the spindle moved, or warmed up, between the first bore and the last".into(),
            ask: "find what moved, sweep the journal axis again, and map the bank again".into(),
            evidence: figures([("closing_difference", apart), ("x_apart", x), ("y_apart", y), ("allowed", allowed)]),
            cylinders: asked.readings.cylinders(index).into(),
        });
    }
    found
}

/// Circles of the first bore and the same ones read again in the last rows, other bores between; set by set.
pub(super) fn pairs<'r>(rows: &[&'r Reading]) -> Vec<(&'r Reading, &'r Reading)> {
    let mut order: Vec<Option<&str>> = Vec::new();
    let mut sets: BTreeMap<Option<&str>, Vec<&'r Reading>> = BTreeMap::new();
    for &row in rows {
        let set = row.set.as_deref();
        let of_set = sets.entry(set).or_insert_with(|| {
            order.push(set);
            Vec::new()
        });
        of_set.push(row);
    }
    order.iter().filter_map(|set| sets.get(set)).flat_map(|of_set| pairs_of_set(of_set)).collect()
}

fn pairs_of_set<'r>(rows: &[&'r Reading]) -> Vec<(&'r Reading, &'r Reading)> {
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else { return Vec::new() };
    let own = |r: &&&Reading| r.cylinder == first.cylinder;
    if last.cylinder != first.cylinder || rows.iter().all(|r| r.cylinder == first.cylinder) {
        return Vec::new();
    }
    // The rows are of one set and, at either end, of one cylinder: what is left of a circle is its depth and surface.
    let circle = |r: &Reading| (r.depth_mm.to_bits(), r.surface);
    // Of several the first in the table.
    let closing: BTreeMap<_, &Reading> = rows.iter().rev().take_while(own).map(|r| (circle(r), *r)).collect();
    let opening = rows.iter().take_while(own);
    opening.filter_map(|a| closing.get(&circle(a)).map(|b| (*a, *b))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Surface;

    fn reading(cylinder: u32, depth_mm: f64) -> Reading {
        Reading {
            set_up: 0,
            bank: 0,
            cylinder,
            depth_mm,
            surface: Surface::Liner,
            set: None,
            raw_mm: [0.0; 2],
            at_mm: [0.0; 2],
            diameter_mm: 96.0,
            from_points: false,
        }
    }

    fn paired(rows: &[Reading]) -> usize {
        pairs(&rows.iter().collect::<Vec<_>>()).len()
    }

    #[test]
    fn only_the_first_bore_read_again_after_others_closes_a_table() {
        let (one, deep, three) = (reading(1, 20.0), reading(1, 125.0), reading(3, 20.0));
        let rows = [one.clone(), deep.clone(), three.clone(), one.clone(), deep.clone()];
        assert_eq!(paired(&rows), 2);
        assert_eq!(paired(&rows[..3]), 0);
        assert_eq!(paired(&[one.clone(), deep.clone(), one.clone()]), 0);
        assert_eq!(paired(&[one, three, deep]), 0);
        assert_eq!(paired(&[]), 0);
    }
}
