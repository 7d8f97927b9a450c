//! A bore of which the first depth's centre was written at all depths, while the same gauge tells others apart.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use crate::job::SetUp;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Two depths may read alike by chance.
const FEWEST: usize = 3;

/// The centre's x and y in turn at each depth, by bore, surface and round.
type Depths<'j> = BTreeMap<(u32, &'static str, Option<&'j str>), Vec<[u64; 2]>>;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // A gauge that steps by more than it is uncertain by reads a bore that hardly leans alike at all depths.
    let fine = |set_up: &&SetUp| {
        let centres: Vec<f64> = set_up.bores.iter().flat_map(|b| b.centre_mm).collect();
        let unit = read_unit_mm(asked.job);
        grid_mm(&centres, unit).is_none_or(|step| step < COARSE * asked.job.instruments.centre_mm)
    };
    asked.job.set_ups.iter().filter(fine).flat_map(of_set_up).collect()
}

/// Steps of reading so many times their uncertainty say nothing of so small a lean: two depths of an upright bore then read alike in
/// every second bore and more.
const COARSE: f64 = 0.6;

/// Asks about each bore of a set-up with one centre to the last digit at three depths or more, unless as many bores
/// are so as are not.
fn of_set_up(set_up: &SetUp) -> Vec<Suspicion> {
    let mut bores: Depths<'_> = BTreeMap::new();
    for bore in &set_up.bores {
        let own = bores.entry((bore.cylinder, bore.surface.word(), bore.set.as_deref())).or_default();
        own.push(bore.centre_mm.map(f64::to_bits));
    }
    bores.retain(|_, depths| depths.len() >= FEWEST);
    let (same, others): (Vec<_>, Vec<_>) =
        bores.iter().partition(|(_, depths)| depths.windows(2).all(|two| two[0] == two[1]));
    // A gauge that tells no bore's depths apart reads too coarsely to say it of one.
    if same.len() >= others.len() {
        return Vec::new();
    }
    let told = same.into_iter().filter_map(|((cylinder, ..), depths)| {
        let [x, y] = depths.first()?.map(f64::from_bits);
        Some(Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(*cylinder),
            found: say!(
                "its centre is x {}, y {} at all {} depths, to the last digit, where others of its bank differ",
                before_mm(x, 3),
                mm(y, 3),
                depths.len()
            ),
            likely: "the first depth's reading written at the others: a lean would not show".into(),
            ask: "read this bore again at each depth: what do they say?".into(),
            evidence: figures([("depths", count(depths.len()))]),
            cylinders: vec![*cylinder].into(),
        })
    });
    told.collect()
}
