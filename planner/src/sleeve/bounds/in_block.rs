//! A sleeve against this block and its pocket: ends that hang free, a ledge or rings at the jacket, a flange height
//! that the tolerances do not give. Each is a hold; O-ring grooves that run into each other are a stop.

use super::{Missed, holds};
use crate::job::{BoreReading, Flange, Job, Sleeve, Surface, WallReading};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{before_mm, mm, signed_before_mm, signed_mm};
use crate::plan::{SleeveFit, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

/// How far a sleeve's last edge, chamfered and thinner than its body, may hang below the pocket, mm. Common
/// practice, no source.
const EDGE_MM: f64 = 1.5;
/// A flange that is to stand higher than this is a wrong unit or digit, mm: gaskets want 0.02 to 0.15. Common
/// practice, no source.
const MOST_PROUD_MM: f64 = 0.15;
/// Flanges that may stand farther apart than this leave the gasket loose on one and crushed on the next, mm. Common
/// practice, no source.
const APART_MM: f64 = 0.10;
/// A wet length may end this far beyond the jacket as it is described, mm: the floor of a casting is no plane.
/// Common practice, no source.
const BEYOND_JACKET_MM: f64 = 5.0;
/// The least clearance with which coolant runs round a sleeve, mm on diameter. Common practice, no source.
const WET_MM: f64 = 0.2;
/// An O-ring looser than this on its groove's floor rolls out of it as it goes in, a share. Common practice, no source.
const LOOSEST: f64 = -0.01;

/// Every such misfit of the sleeve with the block.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    limits.extend(past_the_pocket(sleeve));
    limits.extend(past_the_bore(job, sleeve));
    limits.extend(flange_height(job, sleeve, fit));
    limits.extend(over_the_jacket(job, sleeve));
    limits.extend(wet_in_metal(job, sleeve));
    limits.extend(wet_short(job, sleeve));
    limits.extend(wet_tight(sleeve));
    limits.extend(wet_last(sleeve));
    limits.extend(jacket_beside(job, sleeve));
    limits.extend(rings(job, sleeve, fit));
    limits
}

/// A length in coolant with no room for any.
fn wet_tight(sleeve: &Sleeve) -> Option<SleeveLimit> {
    let step = sleeve.body.iter().find(|step| step.wet && -step.interference_mm < WET_MM - SAME)?;
    let room = -step.interference_mm;
    let text = say!(
        "{} is given {} of clearance on diameter in the coolant, under {}: none runs round it, or the figure is in another unit",
        plain(&step.name, 40),
        mm(room, 3),
        mm(WET_MM, 1)
    );
    Some(holds("wet_tight", &step.name, Missed::length(room, WET_MM), text))
}

/// What of the sleeve no pocket is cut for.
fn past_the_pocket(sleeve: &Sleeve) -> Option<SleeveLimit> {
    let end = sleeve.body.last()?.to_mm;
    let past = sleeve.length_mm - end;
    (past > EDGE_MM + SAME).then(|| {
        let text = say!(
            "the sleeve is {} long and its body, for which the pocket is cut, ends at {}: nothing is cut for the last {}",
            mm(sleeve.length_mm, 2),
            mm(end, 2),
            mm(past, 2)
        );
        holds("past_the_pocket", "lower end", Missed::length(past, EDGE_MM), text)
    })
}

/// So far a sleeve may stand past its bore for a skimmed deck, mm. Common practice, no source.
const SKIM_MM: f64 = 0.5;

/// A lower end that stands in the crankcase: nothing here knows how near rod and crank come.
fn past_the_bore(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let end = job.end_mm(sleeve);
    let bore = job.block.parent.bore_length_mm;
    // A deck that is skimmed comes down on the sleeve and moves the bore's lower end nowhere: a sleeve that ended with the bore then
    // stands past it by the skim, within the room that a tool has there.
    let skimmed = job.engine.deck.cut_mm.min(SKIM_MM).min(job.block.parent.room_below_mm / 2.0).max(0.0);
    // A length typed in inches comes out a rounding longer.
    (end > bore + skimmed + 1e-3).then(|| {
        let text = say!(
            "the sleeve ends {} below the deck and the bore at {}: its end stands in the crankcase, and whether rod and \
             crank clear it is not known here",
            mm(end, 2),
            mm(bore, 2)
        );
        holds("past_the_bore", "lower end", Missed::length(end, bore), text)
    })
}

/// The flange's height as the tolerances give it against what the sleeve asks, and whether that is to be believed.
fn flange_height(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Option<SleeveLimit> {
    let flange = sleeve.flange()?;
    let (least, most) = (flange.protrusion_min_mm, flange.protrusion_max_mm);
    // Cut with the sleeves in, a flange ends flush, which has its own limit.
    if job.engine.deck.after_fit && job.engine.deck.cut_mm > 0.0 {
        return None;
    }
    if least < -SAME || f64::midpoint(least, most) <= SAME {
        let text = say!(
            "the sleeve asks for a flange {} to {} above the deck: one that may end below it leaves the gasket's ring without \
             its seat",
            signed_before_mm(least, 3),
            signed_mm(most, 3)
        );
        return Some(holds("protrusion_sunk", "flange", Missed::length(least, 0.0), text));
    }
    if most > MOST_PROUD_MM + SAME {
        let text = say!(
            "the sleeve asks for a flange up to {} above the deck, more than {} lifts the head off its gasket: a slip of unit \
             or digit?",
            mm(most, 3),
            mm(MOST_PROUD_MM, 2)
        );
        return Some(holds("protrusion_high", "flange", Missed::length(most, MOST_PROUD_MM), text));
    }
    if most - least > APART_MM + SAME {
        let text = say!(
            "the sleeve asks for a flange {} to {} above the deck: neighbours may stand {} apart, more than {} under one gasket",
            signed_before_mm(least, 3),
            signed_mm(most, 3),
            mm(most - least, 3),
            mm(APART_MM, 2)
        );
        return Some(holds("protrusion_wide", "flange", Missed::length(most - least, APART_MM), text));
    }
    // A ledge that is cut to a measured flange varies by its own tolerance alone.
    let ends = if fit.assigned.is_empty() {
        fit.protrusion.as_ref().map(|found| [found.least, found.most])?
    } else {
        let (middle, ledge) = (f64::midpoint(least, most), job.allowances.ledge_depth_mm);
        [middle - ledge, middle + ledge]
    };
    let short = (least - ends[0]).max(ends[1] - most);
    // Held only beyond the window by the window's own width: tolerances seldom all lie at their ends.
    (short > most - least + SAME).then(|| {
        let text = say!(
            "flange and ledge at the ends of their tolerances stand {} to {} above the deck, {} to {} are asked: closer \
             tolerances, or measure the sleeves and cut each ledge to its flange",
            signed_before_mm(ends[0], 3),
            signed_mm(ends[1], 3),
            before_mm(least, 3),
            mm(most, 3)
        );
        holds("protrusion_missed", "flange", Missed::length(short, most - least), text)
    })
}

/// A wet length that goes on where the block's description has metal: no wall is judged behind what stands in coolant.
fn wet_in_metal(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let Some(jacket) = job.block.parent.jacket else { return Vec::new() };
    let cut = job.engine.deck.cut_mm;
    let above = std::iter::once(0.0).chain(sleeve.body.iter().map(|step| step.to_mm));
    let wet = above.zip(&sleeve.body).filter(|(_, step)| step.wet);
    wet.filter_map(|(above, step)| {
        let [from, to] = [above, step.to_mm].map(|depth| depth + cut);
        let beyond = (to - jacket.to_mm).max(jacket.from_mm - from);
        (beyond > BEYOND_JACKET_MM + SAME).then(|| {
            let text = say!(
                "{} is told to stand in coolant from {} to {}, and the jacket goes from {} to {}: where it stands in metal its wall is                  not judged. Is `wet`, its length or `parent.jacket` wrong?",
                plain(&step.name, 40),
                before_mm(from, 2),
                mm(to, 2),
                before_mm(jacket.from_mm, 2),
                mm(jacket.to_mm, 2)
            );
            holds("wet_in_metal", &step.name, Missed::length(beyond, BEYOND_JACKET_MM), text)
        })
    })
    .collect()
}

/// The next register may begin this far above the jacket's floor, mm: what is described as the jacket is its lowest place, and a
/// register reaches a little into it. Common practice, no source.
const INTO_JACKET_MM: f64 = 24.0;

/// A wet length that ends high in the jacket: what follows would be bored to a register's size beside coolant, where the sleeve is
/// no register.
fn wet_short(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let jacket = job.block.parent.jacket?;
    let last = sleeve.body.iter().rposition(|step| step.wet)?;
    let (wet, next) = (sleeve.body.get(last)?, sleeve.body.get(last + 1)?);
    let end = wet.to_mm + job.engine.deck.cut_mm;
    let left = jacket.to_mm - end;
    (left > INTO_JACKET_MM + SAME).then(|| {
        let text = say!(
            "{} ends {} below the deck and the jacket goes down to {}: {} would be bored {} above its floor. Check where the wet length ends, and \
             `parent.jacket`",
            plain(&wet.name, 40),
            mm(end, 1),
            mm(jacket.to_mm, 1),
            plain(&next.name, 40),
            mm(left, 1)
        );
        holds("wet_short", &wet.name, Missed::length(left, INTO_JACKET_MM), text)
    })
}

/// A sleeve that ends in coolant: nothing seals it from the crankcase.
fn wet_last(sleeve: &Sleeve) -> Option<SleeveLimit> {
    let last = sleeve.body.last().filter(|step| step.wet)?;
    let text = say!(
        "{} stands in coolant and is the sleeve's last length: no register below it keeps coolant out of the crankcase",
        plain(&last.name, 40)
    );
    Some(holds("wet_last", &last.name, Missed::NO_FIGURE, text))
}

/// Metal under a ledge thinner than this breaks into the jacket, mm. Common practice, no source.
const UNDER_LEDGE_MM: f64 = 0.7;
/// A jacket that begins no farther out than this beyond the recess lies under its ledge, mm. Common practice, no source.
const OUTSIDE_MM: f64 = 1.0;

/// A jacket just below the ledge, and by the walls as they were read within the recess's width: the ledge's outer part stands on
/// next to nothing.
fn jacket_beside(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let (flange, jacket) = (sleeve.flange()?, job.block.parent.jacket?);
    let left = jacket.from_mm - ledge_mm(job, flange);
    if !(-SAME..UNDER_LEDGE_MM - SAME).contains(&left) {
        return None;
    }
    let recess = (flange.diameter_mm + flange.clearance_mm) / 2.0;
    // Of the parent where no hole was read: what its liner is outside.
    let radius = |wall: &WallReading| {
        let own = |b: &&BoreReading| b.cylinder == wall.cylinder && b.surface == wall.surface;
        let bores = job.set_ups.iter().flat_map(|s| &s.bores).filter(own);
        let liner = job.block.parent.liner.as_ref().filter(|_| wall.surface == Surface::Parent);
        bores.map(|b| b.diameter_mm / 2.0).reduce(f64::min).or(liner.map(|l| l.outside_mm / 2.0))
    };
    // Only a wall that was read beside the jacket ends at it.
    let beside =
        |w: &&WallReading| (jacket.from_mm..=jacket.to_mm).contains(&(w.depth_mm + job.engine.deck.cut_mm));
    let walls = job.set_ups.iter().flat_map(|s| &s.walls).filter(beside);
    let reaches = walls.filter_map(|w| Some((w.cylinder, radius(w)? + w.wall_mm?)));
    let text = match reaches.min_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((_, out)) if out >= recess + OUTSIDE_MM => return None,
        Some((cylinder, out)) => say!(
            "the jacket begins {} under the ledge, and by the walls of cylinder {cylinder} {} from the bore's axis, where the recess \
             reaches {}: the ledge's outer part would stand on that",
            mm(left, 2),
            mm(out, 2),
            mm(recess, 2)
        ),
        None => say!(
            "the jacket begins {} under the ledge, and no wall was read beside it: nobody knows whether it lies under the ledge. Read \
             walls between {} and {} deep",
            mm(left, 2),
            before_mm(jacket.from_mm, 1),
            mm(jacket.to_mm, 1)
        ),
    };
    Some(holds("ledge_over_jacket", "ledge", Missed::length(left, UNDER_LEDGE_MM), text))
}

/// How deep the ledge is cut below the deck as it is, mm.
fn ledge_mm(job: &Job, flange: &Flange) -> f64 {
    let middle = f64::midpoint(flange.protrusion_min_mm, flange.protrusion_max_mm);
    flange.thickness_mm - middle + job.engine.deck.cut_mm
}

/// A ledge with coolant right below it.
fn over_the_jacket(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let (flange, jacket) = (sleeve.flange()?, job.block.parent.jacket?);
    let floor = ledge_mm(job, flange);
    (jacket.from_mm < floor - SAME).then(|| {
        let text = say!(
            "the ledge is cut {} deep and the water jacket begins at {}: no metal carries the flange",
            mm(floor, 3),
            mm(jacket.from_mm, 2)
        );
        holds("ledge_over_jacket", "ledge", Missed::length(jacket.from_mm, floor), text)
    })
}

/// Rings that stand in the jacket, hang loose in their grooves, or share one.
fn rings(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    for ring in &fit.o_rings {
        let place = say!("at {} in {}", mm(ring.depth, 1), plain(&ring.feature, 40));
        // A ring above the jacket seals towards the deck and is not judged by the jacket's floor.
        let below = job.block.parent.jacket.is_some_and(|j| ring.depth + job.engine.deck.cut_mm > j.from_mm);
        if let Some(gap) = ring.from_jacket.filter(|gap| below && *gap < -SAME) {
            let text = say!(
                "O-ring {}: it stands {} above the jacket's floor, and seals nothing there",
                place,
                mm(-gap, 1)
            );
            limits.push(holds("o_ring_in_jacket", place.clone(), Missed::length(gap, 0.0), text));
        }
        if ring.stretch < LOOSEST - SAME {
            let text = say!(
                "O-ring {}: {:.1} % wider than its groove's floor, it rolls out",
                place,
                -100.0 * ring.stretch
            );
            limits.push(holds("o_ring_loose", place, Missed::plain(ring.stretch, LOOSEST), text));
        }
    }
    let mut grooves: Vec<(f64, f64)> =
        sleeve.body.iter().flat_map(|s| &s.o_rings).map(|o| (o.depth_mm, o.groove_width_mm)).collect();
    grooves.sort_by(|a, b| a.0.total_cmp(&b.0));
    for pair in grooves.windows(2) {
        let land = pair[1].0 - pair[0].0 - f64::midpoint(pair[0].1, pair[1].1);
        if land < SAME {
            let text =
                say!("the grooves at {} and {} run into each other", mm(pair[0].0, 2), mm(pair[1].0, 2));
            let held = holds("grooves_meet", "O-rings", Missed::length(land, 0.0), text);
            limits.push(SleeveLimit { verdict: Verdict::Stop, ..held });
        }
    }
    limits
}
