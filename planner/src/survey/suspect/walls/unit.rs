//! Wall readings in the wrong unit, some or the whole table, and those that no casting has.

use crate::survey::suspect::Code;
use std::collections::{BTreeMap, BTreeSet};

use borewright_geometry::clock::clocks_apart_deg;
use borewright_geometry::sample::{count, ends, median};

use super::evidence::{FACTORS, Others, figures, unit_cause, unit_words};
use super::unread::whole as degrees;
use super::{Asked, Suspicion};
use crate::job::WallReading;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;

/// Walls that must agree before one that differs is asked about.
const FEWEST: usize = 4;

/// A wall is asked about where it is this many times thicker or thinner than all others: walls of one casting
/// differ by less. Common practice.
const OUTSIDE: f64 = 4.0;

/// A wall that is so many times the thickest of all others, and thicker by so many mm, is no wall of the same
/// casting: a digit slipped, or an echo of the wall behind. Common practice, no source.
const TWICE: f64 = 2.0;
const THICKER_MM: f64 = 5.0;

/// Walls are believed by no other that is so many times the middle one of its bank at its depth, and thicker by `THICKER_MM`: two that
/// slipped alike would else bear each other out. Common practice, no source.
const TIMES: f64 = 3.0;

/// Where more than this share of the walls at a depth are so thick, or the other bores have half of it at the same clock, the casting is.
/// Common practice, no source.
const CASTING: f64 = 1.0 / 3.0;

/// Clocks are one place within this, whole degrees.
const SAME_DEG: i32 = 2;

/// Fewer walls at a depth have no middle of their own; all of the bank then have.
const AT_DEPTH: usize = 6;

/// In the other unit it lies among the others within this factor. Common practice, no source.
const AMONG: f64 = 1.5;

/// The thinnest cast wall round a bore, mm: a table with half its walls thinner is not in mm. Common practice, no
/// source.
const THINNEST_MM: f64 = 0.8;

/// The thickest wall round a bore that a gauge reads, mm. Common practice, no source.
const THICKEST_MM: f64 = 45.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(|s| whole(asked, s).map_or_else(|| single(s), |w| vec![w])).collect()
}

/// The suspicion of a set-up's whole table of walls, where the median is no wall of a casting as typed and is one
/// in the other unit.
fn whole(asked: &Asked<'_>, set_up: &crate::job::SetUp) -> Option<Suspicion> {
    let walls: Vec<f64> = set_up.walls.iter().filter_map(|w| w.wall_mm).filter(|w| *w > 0.0).collect();
    let middle = median(walls.clone());
    let wrong = walls.len() >= FEWEST && !(THINNEST_MM..=THICKEST_MM).contains(&middle);
    let factor = FACTORS
        .into_iter()
        .find(|f| wrong && (2.0 * THINNEST_MM..=THICKEST_MM / 2.0).contains(&(middle * f)))?;
    let bank = &asked.job.bank(set_up.bank).name;
    let mut cylinders: Vec<u32> = set_up.walls.iter().map(|w| w.cylinder).collect();
    cylinders.sort_unstable();
    cylinders.dedup();
    Some(Suspicion {
        code: Code::WrongUnit,
        verdict: Verdict::Hold,
        subject: Subject::bank(bank),
        found: say!(
            "half of the walls are {} than {}, which no casting has; {} that is {}",
            if factor > 1.0 { "thinner" } else { "thicker" },
            mm(middle, 3),
            unit_words(factor),
            mm(middle * factor, 2)
        ),
        likely: say!("the whole table of walls {}", unit_cause(factor)),
        ask: say!("in which unit were the walls of the bank {bank} read?"),
        evidence: figures([
            ("median_as_typed", middle),
            ("median_in_the_other_unit", middle * factor),
            ("factor", factor),
        ]),
        cylinders: cylinders.into(),
    })
}

/// Asks about each wall of a set-up that stands far outside all the others that are believed: in the other unit where it then falls
/// among them, else as a digit or a point that slipped.
fn single(set_up: &crate::job::SetUp) -> Vec<Suspicion> {
    let mut found = Vec::new();
    if set_up.walls.iter().filter(|w| w.wall_mm.is_some()).count() <= FEWEST {
        return found;
    }
    let huge = huge(&set_up.walls);
    let believed = set_up.walls.iter().enumerate().filter(|(at, _)| !huge.contains(at));
    let believed: Vec<f64> = believed.filter_map(|(_, w)| w.wall_mm).collect();
    let all = ends(&believed);
    let others = Others::of(believed);
    for (at, reading) in set_up.walls.iter().enumerate() {
        let Some(wall) = reading.wall_mm else { continue };
        let slipped = huge.contains(&at);
        let of_others = if slipped { all } else { others.ends_without(wall) };
        let Some([least, most]) = of_others else { continue };
        let outside = wall * OUTSIDE < least || wall > OUTSIDE * most;
        // The range is widened, since this wall may be the thinnest or the thickest of its casting.
        let among = least / AMONG..=most * AMONG;
        let cylinder = reading.cylinder;
        let Some(factor) = FACTORS.into_iter().find(|f| outside && among.contains(&(wall * f))) else {
            // A thin wall may be real and holds its bore by itself; one typed ten times too thick would raise a
            // margin.
            let tenth = outside && among.contains(&(wall * 10.0));
            let over = wall > OUTSIDE * most || (wall > TWICE * most && wall > most + THICKER_MM);
            if tenth || over || slipped {
                found.push(odd(reading, wall, [least, most], (tenth, slipped)));
            }
            continue;
        };
        found.push(Suspicion {
            code: Code::WrongUnit,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found: say!(
                "a wall of {} at depth {}, clock {:.0}, where the others are {} to {}; {} it \
             is {}",
                mm(wall, 3),
                mm(reading.depth_mm, 1),
                reading.clock_deg,
                before_mm(least, 2),
                mm(most, 2),
                unit_words(factor),
                mm(wall * factor, 2)
            ),
            likely: say!("the wall {}", unit_cause(factor)),
            ask: say!("in which unit was that wall of cylinder {cylinder} read? Read it again if in doubt"),
            evidence: figures([
                ("wall_as_typed", wall),
                ("wall_in_the_other_unit", wall * factor),
                ("others_least", least),
                ("others_most", most),
                ("factor", factor),
            ]),
            cylinders: vec![cylinder].into(),
        });
    }
    found
}

/// Which rows are so far over the middle of their depth that no casting has them, by their place in the table.
fn huge(walls: &[WallReading]) -> BTreeSet<usize> {
    let mut depths: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
    let read: Vec<(usize, f64)> =
        walls.iter().enumerate().filter_map(|(at, w)| Some((at, w.wall_mm?))).collect();
    for (at, _) in &read {
        depths.entry(walls[*at].depth_mm.to_bits()).or_default().push(*at);
    }
    let wall = |at: &usize| walls[*at].wall_mm.unwrap_or_default();
    let of_all = median(read.iter().map(|(_, wall)| *wall).collect());
    let cylinders = || walls.iter().map(|w| w.cylinder);
    let ends = [cylinders().min(), cylinders().max()];
    let mut huge = BTreeSet::new();
    for rows in depths.values() {
        let middle = if rows.len() < AT_DEPTH { of_all } else { median(rows.iter().map(wall).collect()) };
        let thick: Vec<usize> = rows
            .iter()
            .copied()
            .filter(|at| wall(at) > TIMES * middle && wall(at) > middle + THICKER_MM)
            .collect();
        if rows.len() >= AT_DEPTH && count(thick.len()) > CASTING * count(rows.len()) {
            continue;
        }
        let mut places: BTreeMap<(i32, u32), Vec<f64>> = BTreeMap::new();
        for at in rows {
            let place = (degrees(walls[*at].clock_deg), walls[*at].cylinder);
            places.entry(place).or_default().push(wall(at));
        }
        let places: BTreeMap<(i32, u32), f64> =
            places.into_iter().map(|(place, read)| (place, median(read))).collect();
        // The same place of the other bores, where the thick ones may all stand.
        let own_place = |at: &usize| {
            let own = degrees(walls[*at].clock_deg);
            let clocks = (own - SAME_DEG..=own + SAME_DEG).map(|clock| clock.rem_euclid(360));
            let there = clocks.flat_map(|clock| places.range((clock, 0)..=(clock, u32::MAX)));
            let there = there.filter(|((_, cylinder), _)| *cylinder != walls[*at].cylinder);
            let there: Vec<f64> = there.map(|(_, wall)| *wall).collect();
            there.len() >= 2 && 2.0 * median(there) > wall(at)
        };
        huge.extend(thick.into_iter().filter(|at| !own_place(at) && !is_end_wall(ends, &walls[*at])));
    }
    huge
}

/// The solid wall at an end of a block is no thicker than this, mm, and stands this near the row of bores, degrees. Common practice,
/// no source.
const END_WALL_MM: f64 = 25.0;
const END_DEG: f64 = 45.0;

/// Whether a wall may be the block's own end: of the first or the last bore (`ends`), along the row.
fn is_end_wall(ends: [Option<u32>; 2], of: &WallReading) -> bool {
    let is_end = ends.contains(&Some(of.cylinder));
    let along = [0.0, 180.0].into_iter().any(|end| clocks_apart_deg(of.clock_deg, end) <= END_DEG + 1e-9);
    is_end && along && of.wall_mm.is_some_and(|wall| wall <= END_WALL_MM)
}

/// A wall that no unit explains: ten times thinner, or beyond all others.
fn odd(
    reading: &WallReading,
    wall: f64,
    [least, most]: [f64; 2],
    (tenth, slipped): (bool, bool),
) -> Suspicion {
    let cylinder = reading.cylinder;
    Suspicion {
        code: Code::WallOdd,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!(
            "a wall of {} at depth {}, clock {:.0}, where {} others are {} to {}",
            mm(wall, 3),
            mm(reading.depth_mm, 1),
            reading.clock_deg,
            if slipped { "most" } else { "the" },
            before_mm(least, 2),
            mm(most, 2)
        ),
        likely: if tenth {
            "a digit slipped, one nought too many behind the point".into()
        } else {
            "a digit slipped, or an echo of the wall behind".into()
        },
        ask: say!("read that wall of cylinder {cylinder} again"),
        evidence: figures([("wall", wall), ("others_least", least), ("others_most", most)]),
        cylinders: vec![cylinder].into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Front, ReadingFrame, SetUp, Surface, WallReading};

    fn set_up(walls: &[f64]) -> SetUp {
        let wall = |wall: &f64| WallReading {
            cylinder: 1,
            depth_mm: 70.0,
            clock_deg: 90.0,
            wall_mm: Some(*wall),
            surface: Surface::Parent,
            line: 0,
        };
        SetUp {
            clamps_mm: None,
            name: "left up".into(),
            bank: 0,
            front: Front::Left,
            frame: ReadingFrame::Journal,
            bores: Vec::new(),
            points: Vec::new(),
            walls: walls.iter().map(wall).collect(),
            heights: Vec::new(),
            shape: Vec::new(),
            witness: Vec::new(),
            files: std::collections::BTreeMap::new(),
        }
    }

    #[test]
    fn one_wall_in_inches_is_named_and_a_thin_one_is_believed() {
        assert_eq!(single(&set_up(&[5.2, 4.9, 0.205, 6.1, 5.5])).len(), 1);
        assert_eq!(single(&set_up(&[5.2, 4.9, 132.0, 6.1, 5.5])).len(), 1);
        assert!(single(&set_up(&[5.2, 4.9, 1.2, 6.1, 5.5])).is_empty());
        assert!(single(&set_up(&[5.2, 4.9, 0.05, 6.1, 5.5])).is_empty());
        assert!(single(&set_up(&[5.2, 0.205, 5.1])).is_empty());
        // Two that slipped alike do not bear each other out; three of seven are the casting.
        let two = single(&set_up(&[5.2, 4.9, 31.0, 6.1, 30.0, 5.5, 5.8]));
        assert_eq!(two.iter().map(|s| s.evidence["wall"]).collect::<Vec<_>>(), [31.0, 30.0]);
        assert!(single(&set_up(&[5.2, 4.9, 31.0, 6.1, 30.0, 5.5, 29.0])).is_empty());
    }
}
