//! Parent holes that all stand off their liners' centres alike: something moved between the two rounds of reading.

use super::evidence::{figures, robust, spread};
use super::{Asked, Suspicion};
use crate::job::{Bank, Surface};
use crate::plan::sentence::{mm, signed_before_mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, median};

/// Holes of a bank that stand alike and farther off than this are explained before a pocket is cut, mm. Common
/// practice, no source.
const ALIKE_MM: f64 = 0.10;

/// One hole farther off its own liner than this was read in another bore or after something moved, mm: a liner's wall is not so
/// uneven. Common practice, no source.
const ONE_MM: f64 = 0.25;

/// So far from the middle of its bank's, mm, and so many times farther than the block's scatter about theirs, one of them is as well. Common practice, no source.
const BESIDE_MM: f64 = 0.15;
const TIMES: f64 = 5.0;

/// The least that holes of a bank are taken to scatter, mm. Common practice, no source.
const LEAST_SCATTER_MM: f64 = 0.02;

/// Of so many holes the others say how one should stand.
const FEWEST: usize = 4;

/// How far a hole stands from the liner that was in it.
struct Off {
    cylinder: u32,
    by_mm: [f64; 2],
}

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let of_bank = |bank: &Bank| {
        let cut = |cylinder: &u32| asked.job.cut.contains_key(cylinder);
        let sites = bank.sites.iter().map(|s| s.cylinder).filter(|n| !cut(n));
        let all: Vec<Off> = sites.filter_map(|n| off(asked, n)).collect();
        let middle = [0, 1].map(|k| median(all.iter().map(|o| o.by_mm[k]).collect()));
        (plain(&bank.name, 40), all, middle)
    };
    let banks: Vec<(String, Vec<Off>, [f64; 2])> = asked.job.block.banks.iter().map(of_bank).collect();
    // How holes stand about the middle of their bank's, of all banks.
    let beside = |o: &Off, middle: &[f64; 2]| [0, 1].map(|k| o.by_mm[k] - middle[k]);
    let about: Vec<[f64; 2]> =
        banks.iter().flat_map(|(_, all, middle)| all.iter().map(move |o| beside(o, middle))).collect();
    let scatter = [0, 1].map(|k| robust(&about.iter().map(|by| by[k]).collect::<Vec<_>>(), 0.0));
    let least = BESIDE_MM.max(TIMES * scatter[0].max(scatter[1]).max(LEAST_SCATTER_MM));
    let mut found = Vec::new();
    for (name, all, middle) in &banks {
        let size = middle[0].hypot(middle[1]);
        let apart = |k: usize| spread(&all.iter().map(|o| o.by_mm[k]).collect::<Vec<_>>(), middle[k]);
        if all.len() > 1 && size > ALIKE_MM && apart(0).hypot(apart(1)) < size / 2.0 {
            found.push(alike(name, all, *middle));
            continue;
        }
        let stands_out = |o: &Off| {
            let [x, y] = beside(o, middle);
            about.len() >= FEWEST && x.hypot(y) > least
        };
        let odd = all.iter().filter(|o| o.by_mm[0].hypot(o.by_mm[1]) > ONE_MM || stands_out(o));
        found.extend(odd.map(alone));
    }
    found
}

/// How far a bore's hole stands from its liner, the mean over the hole's depths, mm, following the liner's line
/// where it was read at two depths; `None` where either was not read.
fn off(asked: &Asked<'_>, cylinder: u32) -> Option<Off> {
    let on = |surface: Surface| -> Vec<_> {
        asked.circles.iter().filter(|c| c.planned && c.cylinder == cylinder && c.surface == surface).collect()
    };
    let (liner, hole) = (on(Surface::Liner), on(Surface::Parent));
    if liner.is_empty() || hole.is_empty() {
        return None;
    }
    let n = count(liner.len());
    let depth = liner.iter().map(|c| c.depth_mm).sum::<f64>() / n;
    let square: f64 = liner.iter().map(|c| (c.depth_mm - depth).powi(2)).sum();
    let at = |k: usize, d: f64| {
        let middle = liner.iter().map(|c| c.centre_mm[k]).sum::<f64>() / n;
        let lean = liner.iter().map(|c| (c.depth_mm - depth) * c.centre_mm[k]).sum::<f64>();
        middle + if square > 1.0 { lean / square * (d - depth) } else { 0.0 }
    };
    let by =
        |k: usize| hole.iter().map(|c| c.centre_mm[k] - at(k, c.depth_mm)).sum::<f64>() / count(hole.len());
    Some(Off { cylinder, by_mm: [by(0), by(1)] })
}

fn alone(hole: &Off) -> Suspicion {
    let [x, y] = hole.by_mm;
    Suspicion {
        code: Code::ParentOff,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(hole.cylinder),
        found: say!(
            "its parent hole stands {} (x {}, y {}) from the liner that was in it",
            mm(x.hypot(y), 3),
            signed_before_mm(x, 3),
            signed_before_mm(y, 3)
        ),
        likely: "another bore's rows, a slipped digit, or a block that moved between the two".into(),
        ask: say!("probe the hole of cylinder {} again: does it stand so?", hole.cylinder),
        evidence: figures([("off", x.hypot(y)), ("x", x), ("y", y)]),
        cylinders: vec![hole.cylinder].into(),
    }
}

fn alike(bank: &str, all: &[Off], by: [f64; 2]) -> Suspicion {
    Suspicion {
        code: Code::ParentOff,
        verdict: Verdict::Hold,
        subject: Subject::bank(bank),
        found: say!(
            "its parent holes all stand {} (x {}, y {}) from the liners that were in them",
            mm(by[0].hypot(by[1]), 3),
            signed_before_mm(by[0], 3),
            signed_before_mm(by[1], 3)
        ),
        likely: "a block or a zero that moved between the two passes of mapping".into(),
        ask: say!(
            "sweep the journal axis of the bank {bank} again and probe one hole: explain it before a pocket is cut"
        ),
        evidence: figures([("off", by[0].hypot(by[1])), ("x", by[0]), ("y", by[1])]),
        cylinders: all.iter().map(|o| o.cylinder).collect(),
    }
}
