//! Proportions that no sleeve, seat, ring, piston or engine has: a figure left out, a digit slipped, or a part that
//! cannot last. Each is a hold. All bounds here are common practice without a source, set beyond where any part of
//! an engine lies.

use super::{holds, holds_plain, piston};
use crate::job::{Job, Sleeve, SleeveKind};
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{before_mm, celsius, mm, signed_mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::limit::{SAME, thinnest};

/// A ledge or step narrower than this carries nothing, mm.
const LEDGE_MM: f64 = 1.0;
/// A flange thinner than this breaks off under the clamp, mm.
const FLANGE_MM: f64 = 3.0;
/// A register shorter than this locates nothing, mm.
const REGISTER_MM: f64 = 3.0;
/// A step of the parent lower than this breaks under a plain sleeve, mm.
const STEP_MM: f64 = 1.5;
/// A ledge narrower than this at the flats lets the flange down between two bores, mm.
const FLATS_MM: f64 = 0.5;
/// Old liner that reaches farther below the pocket than this is left there as a ring, mm.
const LINER_LEFT_MM: f64 = 0.5;
/// A finish bore runs out of the sleeve by this, a hone by no less, mm: else a step stays at its end.
pub(crate) const RUN_OUT_MM: f64 = 2.0;
/// The thinnest wall of a finished sleeve, whatever limit a shop sets itself, mm.
const WALL_MM: f64 = 0.6;
/// A sleeve that ends more than this above the bore's end leaves a length of the old bore in the stroke, mm.
const SHORT_MM: f64 = 10.0;
/// A combustion seal narrower than this, or with less than this on the sleeve, seals nothing, mm.
const RING_MM: f64 = 1.0;
/// The coldest that an engine is at work, degrees Celsius.
pub(super) const COLDEST_AT_WORK_C: f64 = 60.0;
/// A finish bore that takes less than this a side does not reach all round the sleeve's own bore, mm.
const FINISH_MM: f64 = 0.10;
/// The least stock with which a hone takes off the marks of the finish bore, mm on diameter: bored to Ra 1.6 they
/// are some 0.008 deep.
const HONE_MM: f64 = 0.02;
/// A torque plate thinner than this bends where a head would not, mm, in iron; one of aluminium wants 50.
const PLATE_MM: f64 = 40.0;
/// Oiled or dry, iron does not hold in a bore with more friction than this.
const FRICTION: f64 = 0.2;
/// A recess stays this far from the finished bore beside it, mm.
const BESIDE_MM: f64 = 1.0;
/// The most stock that is left for a hone, mm on diameter: more is bored.
const HONE_MOST_MM: f64 = 0.25;
/// A sleeve with a smaller gap than this sticks as it goes in, mm on diameter.
const DROP_MM: f64 = 0.05;
/// A block that may get no hotter than this may not be heated at all, degrees Celsius.
const HEATED_C: f64 = 60.0;
/// The thinnest wall of a sleeve in coolant, which nothing backs, mm.
const WET_WALL_MM: f64 = 2.5;
/// A sleeve goes in no warmer than a hot shop, degrees Celsius.
const WARMEST_C: f64 = 45.0;

/// Every proportion that is out of bounds, each a hold.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    limits.extend(jacket(job, sleeve));
    limits.extend(short(job, sleeve));
    limits.extend(liner_left(job, sleeve));
    limits.extend(run_out(job, sleeve));
    limits.extend(seat(job, sleeve, fit));
    limits.extend(flange_reaches(job, sleeve));
    limits.extend(registers(sleeve));
    limits.extend(wall(job, sleeve));
    limits.extend(wet_wall(job, sleeve));
    limits.extend(piston::limits(job, fit));
    limits.extend(finish(job, sleeve));
    limits.extend(at_work(job, sleeve));
    limits.extend(ring(job, sleeve));
    limits.extend(drop(job, fit));
    limits.extend(unheated(job, fit));
    limits.extend(warm(job, fit));
    limits
}

/// Wet lengths and O-rings rest on where the jacket is.
fn jacket(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let sealed = sleeve.kind == SleeveKind::Wet;
    let wet = sleeve.body.iter().find(|step| step.wet || (sealed && !step.o_rings.is_empty()))?;
    job.block.parent.jacket.is_none().then(|| {
        let text = say!(
            "{} stands in coolant or seals against it, and the block's description has no jacket: whether metal stands where \
             it is cut, and whether its rings seal, rests on `parent.jacket`",
            plain(&wet.name, 40)
        );
        holds("jacket_not_described", &wet.name, [None, None], text)
    })
}

/// A sleeve that ends in the stroke.
fn short(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let end = job.end_mm(sleeve);
    let left = job.block.parent.bore_length_mm - end;
    (sleeve.foot().is_none() && left > SHORT_MM + SAME).then(|| {
        let text = say!(
            "the sleeve ends {} below the deck and the bore at {}: {} of the old bore stay below it, off the new axis, and \
             rings or skirt run over its edge",
            mm(end, 1),
            mm(job.block.parent.bore_length_mm, 1),
            mm(left, 1)
        );
        holds("sleeve_short", "lower end", [Some(left), Some(SHORT_MM)], text)
    })
}

/// An old liner that reaches below the pocket: what is left of it is a loose ring over the crank.
fn liner_left(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let liner = job.block.parent.liner.as_ref()?;
    let end = job.end_mm(sleeve);
    let left = liner.length_mm - end;
    (sleeve.foot().is_none() && left > LINER_LEFT_MM + SAME).then(|| {
        let text = say!(
            "the old liner reaches {} below the deck and the pocket ends at {}: {} of it stay below as a thin loose ring. Is \
             `liner.length` or the sleeve's length right?",
            mm(liner.length_mm, 1),
            mm(end, 1),
            mm(left, 1)
        );
        holds("liner_left", "lower end", [Some(left), Some(LINER_LEFT_MM)], text)
    })
}

/// No room for the finish bore and the hone to run out below the sleeve.
fn run_out(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let room = job.block.parent.floor_mm() - sleeve.length_mm - job.engine.deck.cut_mm;
    (sleeve.foot().is_none() && room < RUN_OUT_MM - SAME).then(|| {
        let text = say!(
            "{} are free below the sleeve, under {}: finish bore and hone do not run out, and leave a step or a narrow end. Is \
             `parent.room_below` right?",
            mm(room.max(0.0), 1),
            mm(RUN_OUT_MM, 1)
        );
        holds("run_out", "lower end", [Some(room), Some(RUN_OUT_MM)], text)
    })
}

/// What of ledge, flange and step is too thin to carry a sleeve, each a hold.
fn seat(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let width = fit.seat.width;
    let on = sleeve.seat_word();
    if width > 0.0 && width < LEDGE_MM - SAME {
        let text =
            say!("the {on} is {} wide, under {}: the sleeve drops through it", mm(width, 2), mm(LEDGE_MM, 1));
        limits.push(holds("ledge_narrow", on, [Some(width), Some(LEDGE_MM)], text));
    }
    let flats = sleeve.flange().and_then(|f| f.flats_mm).zip(sleeve.body.first());
    if let Some((flats, body)) = flats {
        let width = (flats - body.diameter_mm) / 2.0;
        if width < FLATS_MM - SAME {
            let text = say!(
                "at the flats the {on} is {} wide, under {}: nothing carries the flange between two bores",
                signed_mm(width, 2),
                mm(FLATS_MM, 1)
            );
            limits.push(holds("ledge_narrow", "at the flats", [Some(width), Some(FLATS_MM)], text));
        }
    }
    if let Some(flange) = sleeve.flange().filter(|f| f.thickness_mm < FLANGE_MM - SAME) {
        let text = say!(
            "the flange is {} thick, under {}: it breaks off under the clamp",
            mm(flange.thickness_mm, 2),
            mm(FLANGE_MM, 1)
        );
        limits.push(holds("flange_thin", "flange", [Some(flange.thickness_mm), Some(FLANGE_MM)], text));
    }
    if let Some(foot) = sleeve.foot() {
        let height = job.left_below_mm(sleeve).min(foot.height_mm);
        if height < STEP_MM - SAME {
            let text = say!(
                "the step under the sleeve may be {} high, under {}: it breaks",
                mm(height, 2),
                mm(STEP_MM, 1)
            );
            limits.push(holds("step_low", "below the sleeve", [Some(height), Some(STEP_MM)], text));
        }
    }
    limits
}

/// How near two neighbouring bores are described, mm.
fn spacing_mm(job: &Job) -> Option<f64> {
    let between = job.block.banks.iter().flat_map(|bank| bank.sites.windows(2));
    between.map(|pair| (pair[1].x_mm - pair[0].x_mm).abs()).reduce(f64::min)
}

/// A recess that reaches into the finished bore beside it: flats part the flanges, and what is cut for them is round.
fn flange_reaches(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let flange = sleeve.flange()?;
    let spacing = spacing_mm(job)?;
    let recess = flange.diameter_mm + flange.clearance_mm;
    let (left, bore) = (spacing - recess / 2.0, job.finish.bore_mm / 2.0 + BESIDE_MM);
    (left < bore - SAME).then(|| {
        let text = say!(
            "a recess of {} is cut round to {} from the next bore's axis, which is {} away: it would stand in that bore or its gasket's \
             ring. Is `flange.diameter` a digit off?",
            mm(recess, 2),
            mm(left, 2),
            mm(spacing, 2)
        );
        holds("flange_reaches", "flange", [Some(left), Some(bore)], text)
    })
}

/// Registers too short to locate anything.
fn registers(sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut from = sleeve.flange().map_or(0.0, |f| f.thickness_mm);
    let mut limits = Vec::new();
    for step in &sleeve.body {
        let length = step.to_mm - from;
        if !step.wet && length < REGISTER_MM - SAME {
            let text = say!(
                "{} is {} long, under {}: it locates nothing",
                plain(&step.name, 40),
                mm(length, 2),
                mm(REGISTER_MM, 1)
            );
            limits.push(holds("register_short", &step.name, [Some(length), Some(REGISTER_MM)], text));
        }
        from = step.to_mm;
    }
    limits
}

/// A wall that no allowance makes whole.
fn wall(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    // A shop's own larger limit is told where the limits are.
    let (name, wall) = thinnest(job, sleeve).filter(|(_, wall)| *wall < WALL_MM - SAME)?;
    (job.allowances.sleeve_wall_mm <= wall + SAME).then(|| {
        let text = say!(
            "{}: the finished sleeve's wall is {} at the least, under {}, whatever `allowances.sleeve_wall` says",
            plain(name, 40),
            mm(wall, 3),
            mm(WALL_MM, 1)
        );
        holds("sleeve_thin", name, [Some(wall), Some(WALL_MM)], text)
    })
}

/// A wall in coolant that nothing backs: it rings, and is eaten through.
fn wet_wall(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let walls = sleeve.body.iter().filter(|step| step.wet).map(|step| {
        let wall = (step.diameter_mm - step.tolerance_mm - job.finish.bore_mm) / 2.0;
        (step.name.as_str(), wall)
    });
    let (name, wall) =
        walls.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, wall)| *wall < WET_WALL_MM - SAME)?;
    let text = say!(
        "{}: the finished sleeve's wall is {} in the coolant, under {}: nothing backs it there",
        plain(name, 40),
        mm(wall, 3),
        mm(WET_WALL_MM, 1)
    );
    Some(holds("sleeve_thin", name, [Some(wall), Some(WET_WALL_MM)], text))
}

/// A finish bore that does not reach all round, and a hone with nothing to take.
fn finish(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let stock = (job.finish.bore_mm - job.finish.hone_stock_mm - sleeve.bore_mm) / 2.0;
    // Stock too small for an edge to cut has a hold of its own.
    if stock.abs() <= SAME || (crate::sleeve::LEAST_CUT_MM - SAME..FINISH_MM - SAME).contains(&stock) {
        let text = say!(
            "the finish bore takes {} a side off the sleeve's own bore, under {}: it does not clean up all round, and the bore \
             stays where the sleeve's maker put it",
            signed_mm(stock, 3),
            mm(FINISH_MM, 2)
        );
        limits.push(holds("finish_stock", "finish bore", [Some(stock), Some(FINISH_MM)], text));
    }
    let hone = job.finish.hone_stock_mm;
    if hone < HONE_MM - SAME {
        let text = say!(
            "{} on diameter are left for the hone, under {}: the marks of the finish bore stay",
            mm(hone, 3),
            mm(HONE_MM, 2)
        );
        limits.push(holds("hone_stock", "hone", [Some(hone), Some(HONE_MM)], text));
    }
    if hone > HONE_MOST_MM + SAME {
        let text = say!(
            "{} on diameter are left for the hone, over {}: that is bored, and a hone would follow what is out of place",
            mm(hone, 3),
            mm(HONE_MOST_MM, 2)
        );
        limits.push(holds("hone_stock", "hone", [Some(hone), Some(HONE_MOST_MM)], text));
    }
    if let Some(plate) = job.finish.plate_mm.filter(|plate| *plate < PLATE_MM - SAME) {
        let text = say!(
            "a torque plate of {} gives way where a head would not, under {} of iron (50 of aluminium): what is bored and honed \
             round under it is not round under the head",
            mm(plate, 1),
            mm(PLATE_MM, 0)
        );
        limits.push(holds("plate_thin", "torque plate", [Some(plate), Some(PLATE_MM)], text));
    }
    limits
}

/// Temperatures and friction of no engine.
fn at_work(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let at = &job.engine.running;
    let coldest = at.block_c.min(at.sleeve_c);
    if at.stated && coldest < COLDEST_AT_WORK_C - SAME {
        let text = say!(
            "block and sleeve are said to be at {} and {} at work; no engine runs under {}, and what heat takes of a fit is not \
             judged so",
            celsius(at.block_c, 0),
            celsius(at.sleeve_c, 0),
            celsius(COLDEST_AT_WORK_C, 0)
        );
        limits.push(holds_plain(
            "running_cold",
            "at work, °C",
            [Some(coldest), Some(COLDEST_AT_WORK_C)],
            text,
        ));
    }
    if let Some(foot) = sleeve.foot().filter(|f| f.friction > FRICTION + SAME) {
        let text = say!(
            "the sleeve is said to hold with a friction of {:.2}, over {FRICTION}: nothing proves that, and it may creep",
            foot.friction
        );
        limits.push(holds_plain(
            "friction_odd",
            "sleeve in its bore",
            [Some(foot.friction), Some(FRICTION)],
            text,
        ));
    }
    limits
}

/// The hold of a combustion seal too narrow to seal or as wide as the bores are apart, or one that stands on the joint of a plain
/// sleeve.
fn ring(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let ring = job.block.fire_ring?;
    let width = (ring.outside_mm - ring.inside_mm) / 2.0;
    if width < RING_MM - SAME {
        let text = say!(
            "the gasket's ring is {} in {}, {} wide: a digit slipped?",
            before_mm(ring.inside_mm, 2),
            mm(ring.outside_mm, 2),
            mm(width, 2)
        );
        return Some(holds("ring_odd", "fire ring", [Some(width), Some(RING_MM)], text));
    }
    if let Some(spacing) = spacing_mm(job).filter(|spacing| ring.outside_mm > spacing - SAME) {
        let text = say!(
            "the gasket's ring is {} outside, and bores are {} apart: rings of two bores would lie in each other",
            mm(ring.outside_mm, 2),
            mm(spacing, 2)
        );
        return Some(holds("ring_odd", "fire ring", [Some(ring.outside_mm), Some(spacing)], text));
    }
    let top = sleeve.body.first().filter(|_| sleeve.foot().is_some())?;
    let on_sleeve = (top.diameter_mm - ring.inside_mm).min(ring.outside_mm - ring.inside_mm) / 2.0;
    (on_sleeve < RING_MM - SAME).then(|| {
        let text = say!(
            "of the gasket's ring, {} inside, {} stand on the sleeve of {}: its joint with the block lies under the ring or \
             inside it, and gas gets behind the sleeve",
            mm(ring.inside_mm, 2),
            signed_mm(on_sleeve, 2),
            mm(top.diameter_mm, 2)
        );
        holds("ring_over_joint", "fire ring", [Some(on_sleeve), Some(RING_MM)], text)
    })
}

/// A sleeve that is warmed before it goes in has grown, and its gap with it.
fn warm(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let at = job.engine.going_in.sleeve_c;
    (!fit.going_in.gaps.is_empty() && at > WARMEST_C + SAME).then(|| {
        let text = say!(
            "the sleeve is said to go in at {}, over {}: it is the block that is heated",
            celsius(at, 0),
            celsius(WARMEST_C, 0)
        );
        holds_plain("sleeve_warm", "going in, °C", [Some(at), Some(WARMEST_C)], text)
    })
}

/// A block that must be heated and may not.
fn unheated(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let hottest = job.engine.going_in.hottest_c;
    (fit.going_in.reheat_below.is_some() && hottest < HEATED_C - SAME).then(|| {
        let text = say!(
            "the block may get no hotter than {}, under {}: in which unit is `going_in.hottest` written? No block is heated for a sleeve so",
            celsius(hottest, 0),
            celsius(HEATED_C, 0)
        );
        holds_plain("unheated", "going in, °C", [Some(hottest), Some(HEATED_C)], text)
    })
}

/// A gap with which a sleeve sticks on its way.
fn drop(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let gap = job.engine.going_in.clearance_mm;
    (!fit.going_in.gaps.is_empty() && gap < DROP_MM - SAME).then(|| {
        let text = say!(
            "sleeves are to drop in with a gap of {}, under {}: one sticks on its way",
            mm(gap, 3),
            mm(DROP_MM, 2)
        );
        holds("drop_gap", "going in", [Some(gap), Some(DROP_MM)], text)
    })
}
