//! Limits, instruments and allowances, which a job and its shop file share: the job's come first.

use super::checker::Checker;
use crate::files::{AllowancesFile, InstrumentsFile, LimitsFile};
use crate::job::limits::{POSITION, POSITION_ACROSS, POSITION_ALONG};
use crate::job::{Allowances, Instruments, LEAN, Limit, Limits};
use crate::limits::{self, Better, Kind, Stated};
use crate::read::given::{At, Length, LimitGiven, Number};
use crate::read::position::PositionGiven;
use crate::read::quantity as q;

/// An instrument that the job states so many times better than the shop does is asked about. Common practice, no
/// source.
const FAR_BETTER: f64 = 3.0;

/// The limits of one file.
pub(super) fn limits(c: &mut Checker<'_>, file: &LimitsFile) -> Limits {
    let mut limits = Limits::default();
    for (stated, given) in &file.limits {
        let read = match stated.kind {
            Kind::Share => share(c, stated, given),
            Kind::Length | Kind::Zone => limit(c, stated.name, given, stated.better),
        };
        limits.set(stated.name, read);
    }
    match file.position.as_ref().map(|given| (&given.value, given.place)) {
        Some((PositionGiven::Round(value), place)) => {
            let given = At { value: value.clone(), place };
            limits.set(POSITION, limit(c, POSITION, &given, Better::Smaller));
        }
        Some((PositionGiven::Parallel { across, along }, _)) => {
            for (name, given) in [(POSITION_ACROSS, across), (POSITION_ALONG, along)] {
                limits.set(name, given.as_ref().and_then(|given| limit(c, name, given, Better::Smaller)));
            }
        }
        None => {}
    }
    limits
}

/// A largest share: a plain number, no length.
fn share(c: &mut Checker<'_>, stated: &Stated, given: &At<LimitGiven>) -> Option<Limit> {
    read(c, stated.name, given, (stated.better, ""), |c, key, at| {
        let number = At { value: Number(at.value.0.clone()), place: at.place };
        c.number(key, &number, q::SHARE)
    })
}

fn limit(c: &mut Checker<'_>, name: &str, given: &At<LimitGiven>, better: Better) -> Option<Limit> {
    read(c, name, given, (better, " mm"), |c, key, at| c.length(key, at, q::LIMIT))
}

/// One limit as `figure` reads it, with what is preferred of it; `None` where a value is wrong or the preferred one
/// worse than the limit, which is told. `unit` is written behind the figures.
fn read(
    c: &mut Checker<'_>,
    name: &str,
    given: &At<LimitGiven>,
    (better, unit): (Better, &str),
    figure: impl Fn(&mut Checker<'_>, &str, &At<Length>) -> Option<f64>,
) -> Option<Limit> {
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

/// A limit of a job over this many times looser than its shop's is asked about. Common practice, no source.
const FAR_LOOSER: f64 = 2.0;

/// Limits that a job states far looser than its shop does: name, the job's figure and the shop's.
pub(super) fn loosened(own: &Limits, shop: &Limits) -> Vec<(&'static str, [f64; 2])> {
    let zones = [POSITION, POSITION_ACROSS, POSITION_ALONG].map(|name| (name, Better::Smaller));
    let others = limits::ALL.iter().map(|stated| (stated.name, stated.better));
    let both = |(name, better): (&'static str, Better)| {
        let least = |limits: &Limits, name: &str| limits.get(name).map(|l| l.least_mm);
        // Zones across and along stand in the place of the shop's round one.
        let asked =
            least(shop, name).or_else(|| name.starts_with(POSITION).then(|| least(shop, POSITION)).flatten());
        let (own, shop) = (least(own, name)?, asked?);
        let looser = match better {
            Better::Smaller => own > FAR_LOOSER * shop + 1e-9,
            Better::Larger => own * FAR_LOOSER < shop - 1e-9,
        };
        looser.then_some((name, [own, shop]))
    };
    zones.into_iter().chain(others).filter_map(both).collect()
}

/// The instruments of a job and of its shop: the job's come first.
#[derive(Debug, Clone, Copy)]
pub(super) struct BothInstruments {
    pub(super) own: SomeInstruments,
    pub(super) shop: SomeInstruments,
}

impl BothInstruments {
    /// Every instrument's uncertainty, the job's own before the shop's; `None` where one is missing.
    pub(super) fn figures(&self) -> Option<Instruments> {
        let of = |get: fn(&SomeInstruments) -> Option<f64>| get(&self.own).or(get(&self.shop));
        Some(Instruments {
            centre_mm: of(|i| i.centre)?,
            diameter_mm: of(|i| i.diameter)?,
            wall_mm: of(|i| i.wall)?,
            axis_mm: of(|i| i.axis)?,
            along_mm: of(|i| i.along)?,
            machine_mm: of(|i| i.machine)?,
            deck_mm: of(|i| i.deck).or(of(|i| i.centre))?,
            lean: of(|i| i.lean).unwrap_or(LEAN),
        })
    }

    /// Instruments that the job states far better than its shop does: name, the job's figure and the shop's, mm.
    pub(super) fn bettered(&self) -> Vec<(&'static str, [f64; 2])> {
        let both = |name: &'static str, get: fn(&SomeInstruments) -> Option<f64>| {
            let (own, shop) = (get(&self.own)?, get(&self.shop)?);
            (own * FAR_BETTER < shop).then_some((name, [own, shop]))
        };
        let all = [
            both("centre", |i| i.centre),
            both("diameter", |i| i.diameter),
            both("wall", |i| i.wall),
            both("axis", |i| i.axis),
            both("along", |i| i.along),
            both("machine", |i| i.machine),
        ];
        all.into_iter().flatten().collect()
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
    sleeve_wall: Option<f64>,
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
            sleeve_wall_mm: self.sleeve_wall.or(shop.sleeve_wall).unwrap_or(usual.sleeve_wall_mm),
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
        sleeve_wall: read("sleeve_wall", &file.sleeve_wall, q::SLEEVE_WALL),
    }
}
