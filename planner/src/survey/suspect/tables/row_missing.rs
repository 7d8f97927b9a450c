//! A row that every other bore, circle, main or deck has and one lacks: it may be the one that speaks against the
//! cut, so leaving it out must not improve a verdict.

use std::collections::{BTreeMap, BTreeSet};

use super::evidence::figures;
use super::readings::Reading;
use super::{Asked, Suspicion};
use crate::job::{ReadingFrame, SetUp, Surface};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::bores::point_groups;
use crate::survey::custom::{CIRCLE_IN_STEAD_MM, Custom, Depths, FEWEST, SAME_DEPTH_MM, in_stead};
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// Mains that are left to say whether they lie on a line, where one is out of reach.
const REST: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = circles(asked);
    found.extend(of_banks(asked));
    found.extend(points(asked));
    found.extend((0..asked.job.set_ups.len()).filter_map(|index| main(asked, index)));
    found.extend(decks(asked));
    found
}

/// Leaves out questions of a missing row, and of scatter, about bores that are held by a better one: a depth in another unit is
/// missing where it belongs, and figures in another unit scatter less.
pub(in crate::survey::suspect) fn unless_explained(all: &mut Vec<Suspicion>) {
    let held: BTreeSet<u32> = all
        .iter()
        .filter(|s| ![Code::RowMissing, Code::NoScatter].contains(&s.code) && s.verdict != Verdict::Go)
        .flat_map(|s| s.cylinders.iter().copied())
        .collect();
    let other_unit = all.iter().any(|s| s.code == Code::WrongUnit);
    all.retain(|s| {
        if s.code == Code::NoScatter {
            return !other_unit;
        }
        s.code != Code::RowMissing
            || !match &s.subject {
                Subject::Bank(_) => s.cylinders.iter().any(|n| held.contains(n)),
                of => Subject::bores([of]).is_some_and(|own| own.iter().any(|n| held.contains(n))),
            }
    });
}

/// A surface and a round of measuring: each has its own custom.
type Look<'a> = (Surface, Option<&'a str>);

/// Depths that all other bores were read at on a surface, and one bore that was read there too was not.
fn circles(asked: &Asked<'_>) -> Vec<Suspicion> {
    // A second round may look at a few depths only.
    let mut by: BTreeMap<Look<'_>, BTreeMap<u32, Vec<f64>>> = BTreeMap::new();
    for reading in (0..asked.job.set_ups.len()).flat_map(|index| asked.readings.of_set_up(index)) {
        let Reading { surface, set, cylinder, depth_mm, .. } = reading;
        by.entry((*surface, set.as_deref())).or_default().entry(*cylinder).or_default().push(*depth_mm);
    }
    let mut found = Vec::new();
    for bores in by.into_values().filter(|bores| bores.len() > FEWEST) {
        let bores: BTreeMap<u32, Depths> =
            bores.into_iter().map(|(cylinder, read)| (cylinder, Depths::of(read))).collect();
        for (cylinder, own) in &bores {
            let others = || bores.iter().filter(|(other, _)| *other != cylinder).map(|(_, depths)| depths);
            let Some(first) = others().next().map(Depths::as_slice) else { continue };
            let customary = |at: f64| {
                Custom::Every.is_made(others().filter(|depths| depths.has(at)).count(), bores.len() - 1)
            };
            let common = first.iter().filter(|at| customary(**at)).count();
            let own_mm = own.as_slice();
            let in_stead =
                |at: f64| in_stead(own_mm, own_mm.len(), common, at, CIRCLE_IN_STEAD_MM, customary);
            let missing = first.iter().copied().find(|at| !own.has(*at) && customary(*at) && !in_stead(*at));
            found.extend(missing.map(|at| circle(*cylinder, at, own_mm.len())));
        }
    }
    found
}

/// The depths that the bores of a bank were planned by on a surface, mm.
type OfBank = BTreeMap<u32, Vec<f64>>;

/// A bank that was read nowhere near a depth at which every bore of another was, on the surface that both were planned by, and at
/// fewer depths than that.
fn of_banks(asked: &Asked<'_>) -> Vec<Suspicion> {
    let layouts = &asked.job.block.banks;
    let mut found = Vec::new();
    for surface in [Surface::Liner, Surface::Parent, Surface::Sleeve] {
        let mut banks: Vec<OfBank> = layouts.iter().map(|_| OfBank::new()).collect();
        for circle in asked.circles.iter().filter(|c| c.planned && c.surface == surface) {
            banks[circle.bank].entry(circle.cylinder).or_default().push(circle.depth_mm);
        }
        for (layout, own) in layouts.iter().zip(&banks).filter(|(_, own)| !own.is_empty()) {
            let Some(depth_mm) = banks.iter().find_map(|other| lacks(own, other)) else { continue };
            found.push(Suspicion {
                code: Code::RowMissing,
                verdict: Verdict::Hold,
                subject: Subject::bank(&layout.name),
                found: say!(
                    "no circle about depth {}, where every bore of the other bank was read",
                    mm(depth_mm, 1)
                ),
                likely: "rows left out, or their depth mistyped".into(),
                ask: "read its bores there too: what was left out may be what speaks against the cut".into(),
                evidence: figures([("depth", depth_mm)]),
                cylinders: own.keys().copied().collect(),
            });
        }
    }
    found
}

/// The depth, mm, at which every bore of another bank was read and no bore of this one anywhere near.
fn lacks(own: &OfBank, other: &OfBank) -> Option<f64> {
    let most = |bank: &OfBank| bank.values().map(Vec::len).max().unwrap_or(0);
    if most(other) <= most(own) {
        return None;
    }
    let has = |read: &[f64], at: f64, within: f64| read.iter().any(|depth| (depth - at).abs() <= within);
    let customary = |at: f64| {
        Custom::Every.is_made(other.values().filter(|read| has(read, at, SAME_DEPTH_MM)).count(), other.len())
    };
    let near = |at: f64| own.values().any(|read| has(read, at, CIRCLE_IN_STEAD_MM));
    other.values().next()?.iter().copied().find(|at| customary(*at) && !near(*at))
}

fn circle(cylinder: u32, depth_mm: f64, read: usize) -> Suspicion {
    Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!("no circle at depth {}, where every other bore was read", mm(depth_mm, 1)),
        likely: "a row left out, or its depth mistyped".into(),
        ask: say!("read cylinder {cylinder} there too: what was left out may be what speaks against the cut"),
        evidence: figures([("depth", depth_mm), ("circles", count(read))]),
        cylinders: vec![cylinder],
    }
}

/// A circle through fewer points than all others, which are through equally many.
fn points(asked: &Asked<'_>) -> Vec<Suspicion> {
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
        cylinders: vec![n],
    }]
}

/// The one main that a set-up lacks of those the block has, where more were read than a mandrel's two ends.
fn main(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let set_up = &asked.job.set_ups[index];
    let mains = &asked.job.block.journal_axis.mains;
    let has = |set_up: &SetUp, name: &str| match &set_up.frame {
        ReadingFrame::Machine(read) => read.axis.iter().chain(&read.mains).any(|p| *p.main == *name),
        ReadingFrame::Journal => false,
    };
    if !matches!(set_up.frame, ReadingFrame::Machine(_)) {
        return None;
    }
    let missing: Vec<_> = mains.iter().filter(|m| !has(set_up, &m.name)).collect();
    let [missing] = missing.as_slice() else { return None };
    // Of three mains the two ends are a mandrel's, unless another set-up has all three.
    let ends_only =
        mains.len() <= 3 && !asked.job.set_ups.iter().any(|s| mains.iter().all(|m| has(s, &m.name)));
    if ends_only || mains.len() < 3 {
        return None;
    }
    // An inner one that no set-up of several has is out of reach; three mains and more say whether they lie on a line.
    let on_machine = || asked.job.set_ups.iter().filter(|s| matches!(s.frame, ReadingFrame::Machine(_)));
    let reached = on_machine().any(|s| has(s, &missing.name));
    let is_end = [mains.first(), mains.last()].into_iter().flatten().any(|end| end.name == missing.name);
    if !reached && !is_end && on_machine().count() > 1 && mains.len() > REST {
        return None;
    }
    let name = plain(&missing.name, 20);
    Some(Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!("main {name} was not read, and every other main was"),
        likely: "a row left out".into(),
        ask: say!("read main {name} too: what was left out may be the one that stands off"),
        evidence: figures([("mains", count(mains.len())), ("missing_at", missing.x_mm)]),
        cylinders: asked.readings.cylinders(index),
    })
}

/// A deck of one point fewer than those of the other set-ups, which have equally many.
fn decks(asked: &Asked<'_>) -> Vec<Suspicion> {
    let decks: Vec<(usize, usize)> = asked
        .job
        .set_ups
        .iter()
        .enumerate()
        .filter_map(|(index, set_up)| match &set_up.frame {
            ReadingFrame::Machine(read) if !read.deck_mm.is_empty() => Some((index, read.deck_mm.len())),
            _ => None,
        })
        .collect();
    let Some(most) = decks.iter().map(|(_, points)| *points).max() else { return Vec::new() };
    let few: Vec<_> = decks.iter().filter(|(_, points)| *points < most).collect();
    let [(index, points)] = few.as_slice() else { return Vec::new() };
    if points + 1 != most {
        return Vec::new();
    }
    let set_up = &asked.job.set_ups[*index];
    vec![Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!("the deck was touched at {points} points, and that of the other bank at {most}"),
        likely: "a row left out".into(),
        ask: say!("touch the point that is missing: it may be the one that is off"),
        evidence: figures([("points", count(*points)), ("most", count(most))]),
        cylinders: asked.readings.cylinders(*index),
    }]
}
