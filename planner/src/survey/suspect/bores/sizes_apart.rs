//! One bore whose diameter two rounds of measuring do not agree on, and one whose liner stands off its own hole.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::custom::SAME_DEPTH_MM;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// The most that one size read twice differs, however it is gauged, mm. Common practice, no source.
const APART_MM: f64 = 0.06;

/// A pressed or cast liner stands less than this off its hole, mm. Common practice, no source.
const OFF_HOLE_MM: f64 = 0.4;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let sites = asked.job.block.banks.iter().flat_map(|b| &b.sites);
    let cylinders = sites.map(|s| s.cylinder).filter(|n| !asked.job.cut.contains_key(n));
    cylinders.flat_map(|n| [rounds(asked, n), off_hole(asked, n)]).flatten().collect()
}

fn rounds(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let own: Vec<_> = asked.circles.iter().filter(|c| c.cylinder == cylinder).collect();
    let mut worst: Option<(f64, f64, f64)> = None;
    for first in own.iter().filter(|c| c.planned) {
        for again in own.iter().filter(|c| !c.planned && c.surface == first.surface) {
            let apart = (again.diameter_mm - first.diameter_mm).abs();
            let here = (again.depth_mm - first.depth_mm).abs() <= SAME_DEPTH_MM;
            if here && apart > worst.map_or(APART_MM + 1e-9, |w| (w.1 - w.0).abs()) {
                worst = Some((first.diameter_mm, again.diameter_mm, first.depth_mm));
            }
        }
    }
    let (first, again, depth) = worst?;
    Some(Suspicion {
        code: Code::SetsDisagree,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!("at depth {:.1} one round reads {} and another {}", depth, mm(first, 3), mm(again, 3)),
        likely: "a wrong digit, another bore's row, or a bore that was cut between the two".into(),
        ask: say!("gauge cylinder {cylinder} again: whether the pocket cleans it up rests on the larger"),
        evidence: figures([("first", first), ("again", again)]),
        cylinders: vec![cylinder].into(),
    })
}

fn off_hole(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let middle = |surface: Surface| {
        let own =
            asked.circles.iter().filter(|c| c.planned && c.cylinder == cylinder && c.surface == surface);
        let centres: Vec<[f64; 2]> = own.map(|c| c.centre_mm).collect();
        let n = count(centres.len());
        (!centres.is_empty()).then(|| [0, 1].map(|k| centres.iter().map(|c| c[k]).sum::<f64>() / n))
    };
    let (liner, hole) = (middle(Surface::Liner)?, middle(Surface::Parent)?);
    let apart = (liner[0] - hole[0]).hypot(liner[1] - hole[1]);
    (apart > OFF_HOLE_MM + 1e-9).then(|| Suspicion {
        code: Code::SurfaceOdd,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!("its liner's circles stand {} off those of its parent hole", mm(apart, 3)),
        likely: say!(
            "one of the two is of another bore or another datum: a liner stands {} to {} off its hole",
            before_mm(0.0, 1),
            mm(OFF_HOLE_MM, 1)
        ),
        ask: say!("which of the two is cylinder {cylinder}? Read its hole and its liner again in one set-up"),
        evidence: figures([("apart", apart), ("most", OFF_HOLE_MM)]),
        cylinders: vec![cylinder].into(),
    })
}
