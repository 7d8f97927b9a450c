//! The limits: each a file that turns the job into clauses on a bore's centre.

mod bridge;
mod clean_up;
mod coolant_hole;
mod fire_ring;
mod flange_gap;
mod parent_wall;
mod position;
mod squareness;
mod stud_wall;

use borewright_geometry::{Apart, Bound, Constraint, Spread};

use crate::job::{Job, Limit, Site};
use crate::pocket::Pocket;
use crate::survey::{CylinderSurvey, RadiusSource, Survey};

/// What a limit is asked about: one cylinder, with one sleeve's pocket.
pub struct Asked<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its survey.
    pub survey: &'a Survey,
    /// The pocket planned with.
    pub pocket: &'a Pocket,
    /// Index of the bank.
    pub bank: usize,
    /// The cylinder's true place along the bank.
    pub site: Site,
    /// What was found of it.
    pub found: &'a CylinderSurvey,
    /// What holding the block adds along and across, mm; nothing where the job does not ask for it.
    pub fixture_mm: [f64; 2],
}

impl Asked<'_> {
    /// The true position, mm.
    #[must_use]
    pub fn true_mm(&self) -> [f64; 2] {
        [self.site.x_mm, self.job.bank(self.bank).axis_offset_mm]
    }

    /// Where the planned centre should stand: the true position, or the bore that is there, at half the
    /// pocket's depth.
    #[must_use]
    pub fn target_mm(&self) -> [f64; 2] {
        match self.job.aim {
            crate::job::Aim::Journal => self.true_mm(),
            crate::job::Aim::Parent => self.found.now.axis.at(self.pocket.depth_mm() / 2.0),
        }
    }

    /// What carries a place from the journal axis to the cut: axis across, along datum, machine, and the fixture
    /// where the job asks for it.
    #[must_use]
    pub fn datum_spread(&self) -> Spread {
        let i = &self.job.instruments;
        let [along, across] = self.fixture_mm;
        Spread { x_mm: i.along_mm.hypot(along), y_mm: i.axis_mm.hypot(across), all_mm: i.machine_mm }
    }

    /// What carries a measured surface to the cut: centre, half a diameter where it was measured, machine,
    /// and what is read from that surface.
    #[must_use]
    fn surface_spread(&self, radius: RadiusSource, read_mm: f64) -> Spread {
        let i = &self.job.instruments;
        let half = if radius == RadiusSource::Measured { i.diameter_mm / 2.0 } else { 0.0 };
        Spread::all(&[i.centre_mm, half, read_mm, i.machine_mm])
    }
}

/// One clause of a limit on one centre.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause {
    /// The limit's name.
    pub limit: &'static str,
    /// Which feature, and against what.
    pub feature: String,
    /// At which depth, mm.
    pub depth_mm: Option<f64>,
    /// At which clock, degrees.
    pub clock_deg: Option<f64>,
    /// The bound and its uncertainty.
    pub constraint: Constraint,
    /// How the margin grows with the pocket's radius: +1, 0 or -1.
    pub with_radius: f64,
    /// Whether it binds the position, or is only reported.
    pub binding: bool,
    /// The limit itself, mm.
    pub least_mm: f64,
    /// What is preferred, mm.
    pub prefer_mm: Option<f64>,
    /// A margin under this is a hold, mm.
    pub prefer_margin_mm: Option<f64>,
}

/// One clause on the distance of two neighbours of a bank.
#[derive(Debug, Clone, PartialEq)]
pub struct PairClause {
    /// The limit's name.
    pub limit: &'static str,
    /// Which features.
    pub feature: String,
    /// At which depth, mm.
    pub depth_mm: Option<f64>,
    /// The least distance of the centres; its indices are set by whoever knows the places.
    pub apart: Apart,
    /// How the margin grows with the pocket's radius.
    pub with_radius: f64,
    /// The limit itself, mm.
    pub least_mm: f64,
    /// What is preferred, mm.
    pub prefer_mm: Option<f64>,
    /// A margin under this is a hold, mm.
    pub prefer_margin_mm: Option<f64>,
}

/// A limit that no position changes: its margin as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The limit's name.
    pub limit: &'static str,
    /// What it is about.
    pub feature: String,
    /// Its margin, mm.
    pub margin_mm: f64,
    /// Standard uncertainty of the margin, mm.
    pub u_mm: f64,
    /// The limit itself, mm.
    pub least_mm: f64,
    /// What is preferred, mm.
    pub prefer_mm: Option<f64>,
    /// A margin under this is a hold, mm.
    pub prefer_margin_mm: Option<f64>,
}

/// The limits on one centre.
const SINGLE: [fn(&Asked<'_>) -> Vec<Clause>; 7] = [
    clean_up::clauses,
    parent_wall::clauses,
    stud_wall::clauses,
    coolant_hole::clauses,
    fire_ring::cover,
    fire_ring::bore,
    position::clauses,
];

/// The limits on two neighbours.
const PAIRS: [fn(&Job, &Pocket) -> Vec<PairClause>; 2] = [bridge::clauses, flange_gap::clauses];

/// Every clause on one cylinder's centre.
#[must_use]
pub fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    SINGLE.iter().flat_map(|limit| limit(asked)).collect()
}

/// Every clause on two neighbours with the same pocket.
#[must_use]
pub fn pair_clauses(job: &Job, pocket: &Pocket) -> Vec<PairClause> {
    PAIRS.iter().flat_map(|limit| limit(job, pocket)).collect()
}

/// Limits of a bank that no position changes.
#[must_use]
pub fn standing(job: &Job, survey: &Survey, bank: usize) -> Vec<Standing> {
    squareness::standing(job, survey, bank).into_iter().collect()
}

/// A clause on metal: more is better.
fn metal(limit: &'static str, given: Limit, feature: String, bound: Bound, spread: Spread) -> Clause {
    Clause {
        limit,
        feature,
        depth_mm: None,
        clock_deg: None,
        constraint: Constraint { bound, spread, give: 1.0 },
        with_radius: -1.0,
        binding: true,
        least_mm: given.least_mm,
        prefer_mm: given.prefer_mm,
        prefer_margin_mm: given.prefer_mm.map(|prefer| prefer - given.least_mm),
    }
}
