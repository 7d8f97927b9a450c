//! A point that one circle lacks of as many as all others have.

use std::collections::BTreeMap;

use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bores::point_groups;
use crate::survey::custom::FEWEST;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Code, Suspicion};
use borewright_geometry::sample::count;

/// A circle through fewer points than all others, which are through equally many.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let groups: Vec<_> = asked.job.set_ups.iter().flat_map(|set_up| point_groups(&set_up.points)).collect();
    let mut sizes: BTreeMap<usize, usize> = BTreeMap::new();
    for group in &groups {
        *sizes.entry(group.len()).or_default() += 1;
    }
    let Some((usual, _)) = sizes.iter().max_by_key(|(_, circles)| **circles) else { return Vec::new() };
    let few: Vec<_> = groups.iter().filter(|group| group.len() < *usual).collect();
    let [few] = few.as_slice() else { return Vec::new() };
    let Some(first) = few.first().filter(|_| groups.len() > FEWEST) else { return Vec::new() };
    let n = first.cylinder;
    vec![Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(n),
        found: say!(
            "{} points at depth {}, where every other circle has {usual} or more",
            few.len(),
            mm(first.depth_mm, 1)
        ),
        likely: "a point left out".into(),
        ask: say!("touch it again, or let the lead say why it is left out"),
        evidence: figures([("points", count(few.len())), ("usual", count(*usual))]),
        cylinders: vec![n].into(),
    }]
}
