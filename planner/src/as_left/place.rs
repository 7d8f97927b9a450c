//! Every reading that is asked for, with what was read there.

use serde::Serialize;

use super::Bench;
use crate::plan::check::{Asked, Check, Of, What};
use crate::plan::{Measure, Stage};
use crate::record::answer::{self, Say};
use crate::record::judge::lies_at;
use crate::record::{Heard, Lies, Reading, released};

/// One reading that the plan asks for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Place {
    /// Number of its check.
    pub check: u32,
    /// What the check is for.
    pub what: What,
    /// Its stage.
    pub stage: Stage,
    /// Its bank.
    pub bank: String,
    /// Its cylinder; `None` of a whole bank.
    pub cylinder: Option<u32>,
    /// The part of the pocket, or what was done.
    pub feature: String,
    /// Which reading of the check.
    pub reading: u32,
    /// What it is of.
    pub of: Of,
    /// Below the deck, mm, where it has a place.
    pub depth: Option<f64>,
    /// Where round the bore, degrees.
    pub clock: Option<f64>,
    /// What was expected when it was read, in `unit`.
    pub expected: Option<f64>,
    /// The least that is as asked, in `unit`.
    pub least: Option<f64>,
    /// The most that is as asked, in `unit`.
    pub most: Option<f64>,
    /// `mm`, `degrees`, `um`, or nothing.
    pub unit: Measure,
    /// Whether the work waited for it.
    pub waits: bool,
    /// What was found, in `unit`: the mean where it was read more than once.
    pub found: Option<f64>,
    /// Its standard uncertainty, in `unit`.
    pub u: Option<f64>,
    /// Found less expected, in `unit`.
    pub off: Option<f64>,
    /// How many times it was read.
    pub readings: u32,
    /// Whether those agree.
    pub agree: bool,
    /// How it lies.
    pub lies: Lay,
    /// Who let it through as it is, where it is not as asked.
    pub released_by: Option<String>,
    /// Lines of the record.
    pub lines: Vec<usize>,
    /// Who read it last.
    pub by: String,
    /// When.
    pub at: String,
    /// With what.
    pub instrument: String,
}

impl Place {
    /// Whether the reading is not as asked.
    #[must_use]
    pub fn is_wrong(&self) -> bool {
        matches!(self.lies, Lay::Under | Lay::Over | Lay::NotAsAsked)
    }

    /// Whether the work waited for it in vain.
    #[must_use]
    pub fn is_unread(&self) -> bool {
        self.waits && matches!(self.lies, Lay::NoReading | Lay::NotRead)
    }
}

/// How a reading lay, or the readings of a size together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Lay {
    /// In the window, or as asked.
    Within,
    /// Under the window.
    Under,
    /// Over the window.
    Over,
    /// Not as asked; of a size: one of its places.
    NotAsAsked,
    /// Nobody said what it should be.
    Open,
    /// Written down as not read.
    NoReading,
    /// Not read.
    NotRead,
}

impl From<Lies> for Lay {
    fn from(lies: Lies) -> Self {
        match lies {
            Lies::Within => Self::Within,
            Lies::Under(_) => Self::Under,
            Lies::Over(_) => Self::Over,
            Lies::Wrong => Self::NotAsAsked,
            Lies::Open => Self::Open,
            Lies::None => Self::NoReading,
        }
    }
}

/// Every reading that the plan asks for, in the order of work, with what was read there.
pub(super) fn places(bench: &Bench<'_>) -> Vec<Place> {
    let mut places = Vec::new();
    for check in &bench.paper.checks {
        for at in &check.cylinders {
            let last = bench.standing.of_check(check.check, at.cylinder).map(|r| r.line).max().unwrap_or(0);
            let by = released(&bench.standing, at.cylinder, last);
            let by = by.map(|(who, why)| format!("{who}: {why}"));
            for asked in &at.readings {
                let mut place = one(bench, check, at.cylinder, asked);
                let what = (check, at.cylinder, asked);
                let stops =
                    || answer::answer(Some(bench.job), bench.paper, &bench.standing, what).say == Say::Stop;
                place.released_by = by.clone().filter(|_| (place.is_wrong() || !place.agree) && !stops());
                places.push(place);
            }
        }
    }
    places
}

/// One reading that a check asks for at a cylinder (`None`: of the bank or the block), with the figure that stands
/// for it in the record and where that lies in its window.
fn one(bench: &Bench<'_>, check: &Check, cylinder: Option<u32>, asked: &Asked) -> Place {
    let own: Vec<&Reading> =
        bench.standing.of_check(check.check, cylinder).filter(|r| r.reading == asked.reading).collect();
    let last = own.last();
    let asked = as_asked_then(asked, last.copied());
    let what = (check, cylinder, &asked);
    let found = answer::found(Some(bench.job), bench.paper, &bench.standing, what);
    let lies = match (found, last.map(|r| r.heard)) {
        (Some(found), _) => lies_at(&asked, found.figure).into(),
        (None, Some(Heard::Look(true))) => Lay::Within,
        (None, Some(Heard::Look(false))) => Lay::NotAsAsked,
        (None, Some(_)) => Lay::NoReading,
        (None, None) => Lay::NotRead,
    };
    let said = |column: &str| last.map_or_else(String::new, |r| r.fields.get(column).to_owned());
    let figure = found.map(|f| f.figure);
    Place {
        check: check.check,
        what: check.what,
        stage: check.stage,
        bank: check.bank.clone(),
        cylinder,
        feature: check.feature.clone(),
        reading: asked.reading,
        of: asked.of,
        depth: asked.depth,
        clock: asked.clock,
        expected: asked.expected,
        least: asked.least,
        most: asked.most,
        unit: asked.unit,
        waits: asked.waits,
        found: figure,
        u: found.map(|f| f.u),
        off: figure.zip(asked.expected).map(|(found, expected)| found - expected),
        readings: u32::try_from(own.len()).unwrap_or(u32::MAX),
        agree: found.is_none_or(|f| f.agree),
        lies,
        released_by: None,
        lines: own.iter().map(|r| r.line).collect(),
        by: said("by"),
        at: said("at"),
        instrument: said("instrument"),
    }
}

/// What was asked when it was read: a later plan may ask otherwise.
fn as_asked_then(asked: &Asked, last: Option<&Reading>) -> Asked {
    let Some(last) = last else { return asked.clone() };
    let figure = |column: &str| last.fields.get(column).parse::<f64>().ok().filter(|v| v.is_finite());
    match figure("expected") {
        Some(expected) => Asked {
            expected: Some(expected),
            least: figure("least").or(asked.least.filter(|_| figure("most").is_none())),
            most: figure("most").or(asked.most.filter(|_| figure("least").is_none())),
            ..asked.clone()
        },
        None => asked.clone(),
    }
}

/// What nobody measured, of one check at one bore.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Unread {
    /// Number of the check.
    pub check: u32,
    /// What it is for.
    pub what: What,
    /// Its stage.
    pub stage: Stage,
    /// Its bank.
    pub bank: String,
    /// Its cylinder; `None` of a whole bank.
    pub cylinder: Option<u32>,
    /// The part of the pocket, or what was done.
    pub feature: String,
    /// How many readings are missing.
    pub missing: u32,
    /// How many of them were written down as no reading.
    pub no_reading: u32,
    /// How many the check asks for.
    pub asked: u32,
}

/// What the work waited for and nobody read, check by check.
pub(super) fn unread(places: &[Place]) -> Vec<Unread> {
    let mut all: Vec<Unread> = Vec::new();
    for p in places.iter().filter(|p| p.waits) {
        let same = |u: &&mut Unread| u.check == p.check && u.cylinder == p.cylinder;
        let (missing, no_reading) = (u32::from(p.is_unread()), u32::from(p.lies == Lay::NoReading));
        match all.iter_mut().rev().find(same) {
            Some(own) => {
                own.missing += missing;
                own.no_reading += no_reading;
                own.asked += 1;
            }
            None => all.push(Unread {
                check: p.check,
                what: p.what,
                stage: p.stage,
                bank: p.bank.clone(),
                cylinder: p.cylinder,
                feature: p.feature.clone(),
                missing,
                no_reading,
                asked: 1,
            }),
        }
    }
    all.retain(|u| u.missing > 0);
    all
}
