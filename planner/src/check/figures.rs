//! Limits, instruments and allowances, which a job and its shop file share: the job's come first.

use super::checker::Checker;
use crate::files::{AllowancesFile, InstrumentsFile, LimitsFile};
use crate::job::{Allowances, Limit, Limits};
use crate::read::given::{At, Length, LimitGiven, Number};
use crate::read::position::PositionGiven;
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
    limits.sleeve_wall = limit(c, "sleeve_wall", file.sleeve_wall.as_ref(), Better::Larger);
    limits.ring_on_flange = limit(c, "ring_on_flange", file.ring_on_flange.as_ref(), Better::Larger);
    limits.ring_hold = limit(c, "ring_hold", file.ring_hold.as_ref(), Better::Larger);
    limits.protrusion_spread =
        limit(c, "protrusion_spread", file.protrusion_spread.as_ref(), Better::Smaller);
    limits.skirt_out = limit(c, "skirt_out", file.skirt_out.as_ref(), Better::Smaller);
    limits.seat_ratio = share(c, "seat_ratio", file.seat_ratio.as_ref());
    limits.hoop_ratio = share(c, "hoop_ratio", file.hoop_ratio.as_ref());
    match file.position.as_ref().map(|given| (&given.value, given.place)) {
        Some((PositionGiven::Round(value), place)) => {
            let given = At { value: value.clone(), place };
            limits.position = limit(c, "position", Some(&given), Better::Smaller);
        }
        Some((PositionGiven::Parallel { across, along }, _)) => {
            limits.position_across = limit(c, "position.across", across.as_ref(), Better::Smaller);
            limits.position_along = limit(c, "position.along", along.as_ref(), Better::Smaller);
        }
        None => {}
    }
    limits.squareness = limit(c, "squareness", file.squareness.as_ref(), Better::Smaller);
    limits
}

/// Whether more or less of the limited value is better.
#[derive(Clone, Copy, PartialEq)]
enum Better {
    Larger,
    Smaller,
}

/// A largest share: a plain number, no length.
fn share(c: &mut Checker<'_>, name: &str, given: Option<&At<LimitGiven>>) -> Option<Limit> {
    read(c, name, given, (Better::Smaller, ""), |c, key, at| {
        let number = At { value: Number(at.value.0.clone()), place: at.place };
        c.number(key, &number, q::SHARE)
    })
}

fn limit(c: &mut Checker<'_>, name: &str, given: Option<&At<LimitGiven>>, better: Better) -> Option<Limit> {
    read(c, name, given, (better, " mm"), |c, key, at| c.length(key, at, q::LIMIT))
}

fn read(
    c: &mut Checker<'_>,
    name: &str,
    given: Option<&At<LimitGiven>>,
    (better, unit): (Better, &str),
    figure: impl Fn(&mut Checker<'_>, &str, &At<Length>) -> Option<f64>,
) -> Option<Limit> {
    let given = given?;
    let key = format!("limits.{name}");
    let Some(prefer) = &given.value.prefer else {
        // A bare figure has the place of the limit, a map's `least` its own.
        let place = if given.value.least.place.line == 0 { given.place } else { given.value.least.place };
        let at = At { value: given.value.least.value.clone(), place };
        return figure(c, &key, &at).map(|least_mm| Limit { least_mm, prefer_mm: None });
    };
    let least_mm = figure(c, &format!("{key}.least"), &given.value.least);
    let prefer_mm = figure(c, &format!("{key}.prefer"), prefer);
    let (least_mm, prefer_mm) = (least_mm?, prefer_mm?);
    let (wrong, expected) = match better {
        Better::Larger => (prefer_mm < least_mm, "`prefer` no smaller than `least`"),
        Better::Smaller => {
            (prefer_mm > least_mm, "`prefer` no larger than `least`, which is the most allowed here")
        }
    };
    if wrong {
        let found = format!("prefer {prefer_mm}{unit} beside least {least_mm}{unit}");
        c.fault(prefer.place, &format!("{key}.prefer"), found, expected);
        return None;
    }
    Some(Limit { least_mm, prefer_mm: Some(prefer_mm) })
}

/// A job's limits before its shop's.
pub(super) fn first_of(job: Limits, shop: Limits) -> Limits {
    Limits {
        // One statement: a job's zones stand in place of its shop's, round or parallel.
        position: if job.states_position() { job.position } else { shop.position },
        position_across: if job.states_position() { job.position_across } else { shop.position_across },
        position_along: if job.states_position() { job.position_along } else { shop.position_along },
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
        sleeve_wall: job.sleeve_wall.or(shop.sleeve_wall),
        ring_on_flange: job.ring_on_flange.or(shop.ring_on_flange),
        protrusion_spread: job.protrusion_spread.or(shop.protrusion_spread),
        ring_hold: job.ring_hold.or(shop.ring_hold),
        skirt_out: job.skirt_out.or(shop.skirt_out),
        seat_ratio: job.seat_ratio.or(shop.seat_ratio),
        hoop_ratio: job.hoop_ratio.or(shop.hoop_ratio),
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
    pub(super) deck: Option<f64>,
    pub(super) lean: Option<f64>,
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
        deck: read("deck", &file.deck),
        lean: file.lean.as_ref().and_then(|g| c.number("instruments.lean", g, q::BORE_LEAN)),
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

/// The allowances of one file, each where it is given and readable.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct SomeAllowances {
    pocket: Option<f64>,
    pocket_size: Option<f64>,
    ledge_depth: Option<f64>,
    ledge_chamfer: Option<f64>,
}

impl SomeAllowances {
    /// The pocket's, where either file states it, mm.
    pub(super) fn pocket_mm(self, shop: Self) -> Option<f64> {
        self.pocket.or(shop.pocket)
    }

    /// A job's before its shop's, and the usual where neither states one.
    pub(super) fn before(self, shop: Self) -> Allowances {
        let usual = Allowances::default();
        Allowances {
            pocket_mm: self.pocket.or(shop.pocket).unwrap_or(usual.pocket_mm),
            pocket_size_mm: self.pocket_size.or(shop.pocket_size).unwrap_or(usual.pocket_size_mm),
            ledge_depth_mm: self.ledge_depth.or(shop.ledge_depth).unwrap_or(usual.ledge_depth_mm),
            ledge_chamfer_mm: self.ledge_chamfer.or(shop.ledge_chamfer).unwrap_or(usual.ledge_chamfer_mm),
        }
    }
}

pub(super) fn allowances(c: &mut Checker<'_>, file: &AllowancesFile) -> SomeAllowances {
    let mut read = |name: &str, given: &Option<At<Length>>, quantity: q::Quantity| {
        given.as_ref().and_then(|g| c.length(&format!("allowances.{name}"), g, quantity))
    };
    SomeAllowances {
        pocket: read("pocket", &file.pocket, q::ALLOWANCE),
        pocket_size: read("pocket_size", &file.pocket_size, q::TOLERANCE),
        ledge_depth: read("ledge_depth", &file.ledge_depth, q::TOLERANCE),
        ledge_chamfer: read("ledge_chamfer", &file.ledge_chamfer, q::EDGE),
    }
}
