//! Limits, instruments and allowances, which a job and its shop file share: the job's come first.

use super::checker::Checker;
use crate::files::{AllowancesFile, InstrumentsFile, LimitsFile};
use crate::job::{Limit, Limits};
use crate::read::given::{At, Length, LimitGiven};
use crate::read::quantity as q;

/// The limits of one file; those it leaves out are `None`.
pub(super) fn limits(c: &mut Checker<'_>, file: &LimitsFile) -> Limits {
    let mut floor =
        |name: &str, given: &Option<At<LimitGiven>>| limit(c, name, given.as_ref(), Better::Larger);
    let mut limits = Limits {
        clean_up: floor("clean_up", &file.clean_up),
        parent_wall: floor("parent_wall", &file.parent_wall),
        parent_wall_thrust: floor("parent_wall_thrust", &file.parent_wall_thrust),
        bridge: floor("bridge", &file.bridge),
        flange_gap: floor("flange_gap", &file.flange_gap),
        stud_wall: floor("stud_wall", &file.stud_wall),
        coolant_hole: floor("coolant_hole", &file.coolant_hole),
        fire_ring_cover: floor("fire_ring_cover", &file.fire_ring_cover),
        fire_ring_bore: floor("fire_ring_bore", &file.fire_ring_bore),
        ..Limits::default()
    };
    limits.position = limit(c, "position", file.position.as_ref(), Better::Smaller);
    limits.squareness = limit(c, "squareness", file.squareness.as_ref(), Better::Smaller);
    limits
}

/// Whether more or less of the limited value is better.
#[derive(Clone, Copy, PartialEq)]
enum Better {
    Larger,
    Smaller,
}

fn limit(c: &mut Checker<'_>, name: &str, given: Option<&At<LimitGiven>>, better: Better) -> Option<Limit> {
    let given = given?;
    let key = format!("limits.{name}");
    let Some(prefer) = &given.value.prefer else {
        // A bare figure has the place of the limit, a map's `least` its own.
        let place = if given.value.least.place.line == 0 { given.place } else { given.value.least.place };
        let at = At { value: given.value.least.value.clone(), place };
        return c.length(&key, &at, q::LIMIT).map(|least_mm| Limit { least_mm, prefer_mm: None });
    };
    let least_mm = c.length(&format!("{key}.least"), &given.value.least, q::LIMIT);
    let prefer_mm = c.length(&format!("{key}.prefer"), prefer, q::LIMIT);
    let (least_mm, prefer_mm) = (least_mm?, prefer_mm?);
    let (wrong, expected) = match better {
        Better::Larger => (prefer_mm < least_mm, "`prefer` no smaller than `least`"),
        Better::Smaller => {
            (prefer_mm > least_mm, "`prefer` no larger than `least`, which is the most allowed here")
        }
    };
    if wrong {
        let found = format!("prefer {prefer_mm} mm beside least {least_mm} mm");
        c.fault(prefer.place, &format!("{key}.prefer"), found, expected);
        return None;
    }
    Some(Limit { least_mm, prefer_mm: Some(prefer_mm) })
}

/// A job's limits before its shop's.
pub(super) fn first_of(job: Limits, shop: Limits) -> Limits {
    Limits {
        position: job.position.or(shop.position),
        clean_up: job.clean_up.or(shop.clean_up),
        parent_wall: job.parent_wall.or(shop.parent_wall),
        parent_wall_thrust: job.parent_wall_thrust.or(shop.parent_wall_thrust),
        bridge: job.bridge.or(shop.bridge),
        flange_gap: job.flange_gap.or(shop.flange_gap),
        stud_wall: job.stud_wall.or(shop.stud_wall),
        coolant_hole: job.coolant_hole.or(shop.coolant_hole),
        fire_ring_cover: job.fire_ring_cover.or(shop.fire_ring_cover),
        fire_ring_bore: job.fire_ring_bore.or(shop.fire_ring_bore),
        squareness: job.squareness.or(shop.squareness),
    }
}

/// The instruments of one file, each where it is given and readable.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct SomeInstruments {
    pub(super) centre: Option<f64>,
    pub(super) diameter: Option<f64>,
    pub(super) wall: Option<f64>,
    pub(super) axis: Option<f64>,
    pub(super) along: Option<f64>,
    pub(super) machine: Option<f64>,
}

pub(super) fn instruments(c: &mut Checker<'_>, file: &InstrumentsFile) -> SomeInstruments {
    let mut read = |name: &str, given: &Option<At<Length>>| {
        given.as_ref().and_then(|g| c.length(&format!("instruments.{name}"), g, q::UNCERTAINTY))
    };
    SomeInstruments {
        centre: read("centre", &file.centre),
        diameter: read("diameter", &file.diameter),
        wall: read("wall", &file.wall),
        axis: read("axis", &file.axis),
        along: read("along", &file.along),
        machine: read("machine", &file.machine),
    }
}

/// Which instruments neither file gives. What is given but faulty is not missing.
pub(super) fn missing(job: &InstrumentsFile, shop: Option<&InstrumentsFile>) -> Vec<&'static str> {
    let given = |get: fn(&InstrumentsFile) -> bool| get(job) || shop.is_some_and(get);
    [
        ("centre", given(|i| i.centre.is_some())),
        ("diameter", given(|i| i.diameter.is_some())),
        ("wall", given(|i| i.wall.is_some())),
        ("axis", given(|i| i.axis.is_some())),
        ("along", given(|i| i.along.is_some())),
        ("machine", given(|i| i.machine.is_some())),
    ]
    .into_iter()
    .filter_map(|(name, given)| (!given).then_some(name))
    .collect()
}

/// The pocket's finishing allowance of one file, mm.
pub(super) fn pocket_allowance(c: &mut Checker<'_>, file: &AllowancesFile) -> Option<f64> {
    file.pocket.as_ref().and_then(|given| c.length("allowances.pocket", given, q::ALLOWANCE))
}
