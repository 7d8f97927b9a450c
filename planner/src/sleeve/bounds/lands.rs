//! Lands: the metal that holds an O-ring in its groove, and a groove too wide to hold it.

use super::{Missed, holds};
use crate::job::{Job, ORing, Sleeve, Step};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{Sentence, mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

/// A land thinner than this breaks out, or is cut by the pocket's edge as the sleeve goes in, mm. Common practice, no source.
const LAND_MM: f64 = 2.0;
/// A groove wider than so many cords lets its ring roll and twist. Common practice, no source.
const CORDS: f64 = 2.0;

/// Every land that is too thin and every groove that is too wide, each a hold.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut from_mm = sleeve.flange().map_or(0.0, |f| f.thickness_mm);
    let mut limits = Vec::new();
    for step in &sleeve.body {
        limits.extend(of_step(step, from_mm));
        limits.extend(step.o_rings.iter().filter_map(|ring| below_jacket(job, step, ring)));
        limits.extend(step.o_rings.iter().filter_map(|ring| wide(step, ring)));
        from_mm = step.to_mm;
    }
    limits
}

/// A groove's upper and lower edge, mm below the deck.
fn edges_mm(ring: &ORing) -> [f64; 2] {
    [ring.depth_mm - ring.groove_width_mm / 2.0, ring.depth_mm + ring.groove_width_mm / 2.0]
}

/// The lands of a step that begins at a depth: to its ends, and between its grooves. Grooves that meet have a word of their own.
fn of_step(step: &Step, from_mm: f64) -> Vec<SleeveLimit> {
    let mut grooves: Vec<[f64; 2]> = step.o_rings.iter().map(edges_mm).collect();
    grooves.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (Some(first), Some(last)) = (grooves.first(), grooves.last()) else { return Vec::new() };
    let ends = [
        (first[0] - from_mm, first[0], "the step's upper end"),
        (step.to_mm - last[1], last[1], "the step's lower end"),
    ];
    let between = grooves.windows(2).map(|pair| (pair[1][0] - pair[0][1], pair[1][0], "the groove above"));
    let meet = |land: f64, to: &str| to == "the groove above" && land < SAME;
    ends.into_iter()
        .chain(between)
        .filter(|(land, _, to)| *land < LAND_MM - SAME && !meet(*land, to))
        .map(|(land, at, to)| thin(step, land, at, to))
        .collect()
}

/// A groove just below the jacket: coolant is held by what is left above it.
fn below_jacket(job: &Job, step: &Step, ring: &ORing) -> Option<SleeveLimit> {
    let jacket = job.block.parent.jacket?;
    let [top, _] = edges_mm(ring);
    let land = top + job.engine.deck.cut_mm - jacket.to_mm;
    (-SAME..LAND_MM - SAME).contains(&land).then(|| thin(step, land, top, "the jacket's floor"))
}

fn thin(step: &Step, land_mm: f64, at_mm: f64, to: &str) -> SleeveLimit {
    let text = say!(
        "{}: {} of metal between the edge at {} of an O-ring's groove and {}, under {}: it breaks out or cuts the ring",
        plain(&step.name, 40),
        mm(land_mm, 2),
        mm(at_mm, 2),
        to,
        mm(LAND_MM, 1)
    );
    holds("o_ring_land", place(step, at_mm), Missed::length(land_mm, LAND_MM), text)
}

/// A groove in which the ring has too much room.
fn wide(step: &Step, ring: &ORing) -> Option<SleeveLimit> {
    let most = CORDS * ring.cord_mm;
    (ring.groove_width_mm > most + SAME).then(|| {
        let text = say!(
            "{}: the groove at {} is {} wide for a cord of {}: the ring rolls in it",
            plain(&step.name, 40),
            mm(ring.depth_mm, 2),
            mm(ring.groove_width_mm, 2),
            mm(ring.cord_mm, 2)
        );
        holds("groove_wide", place(step, ring.depth_mm), Missed::length(ring.groove_width_mm, most), text)
    })
}

fn place(step: &Step, at_mm: f64) -> Sentence {
    say!("at {} in {}", mm(at_mm, 1), plain(&step.name, 40))
}
