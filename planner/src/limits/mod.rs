//! The limits: each a file that turns the job into clauses on a bore's centre.

mod bridge;
pub(crate) mod clean_up;
mod coolant_hole;
mod fire_ring_bore;
mod fire_ring_cover;
mod flange_gap;
mod judge;
pub mod of_sleeve;
pub mod parent_wall;
mod position;
mod squareness;
mod stated;
mod stud_wall;
pub mod unasked;

use borewright_geometry::{Apart, Bound, Constraint, Displacement, Spread};

use crate::job::pocket::Pocket;
use crate::job::{Job, Limit, ReadingFrame, Site};
use crate::plan::sentence::mm;
use crate::plan::worked::{Origin, Symbol, Unit, Worked};
use crate::say;
use crate::survey::{CylinderSurvey, RadiusSource, Survey};

use crate::plan::judge::FACTOR;
pub(crate) use clean_up::LIMIT as CLEAN_UP;
pub(crate) use judge::judge_bound;
pub use stated::{Better, Judges, Kind, Lack, Stated};

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
    /// How the datum of its bank stands in the machine.
    pub datum: Datum,
}

/// What the machine set-up that gives a bank its datum says of the cut.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Datum {
    /// The spindle cuts along its own axis: by how much the centre moves off for each mm of depth, mm per mm.
    pub lean: [f64; 2],
    /// What the roll of the deck's plane adds across, standard uncertainty, mm.
    pub roll_mm: f64,
}

impl Datum {
    /// Of a bank, from the set-up that gives it its datum; nothing in the frame of the journal axis.
    #[must_use]
    pub fn of(job: &Job, survey: &Survey, bank: usize) -> Self {
        let Some(index) = job.set_ups.iter().position(|s| s.bank == bank) else { return Self::default() };
        let (Some(placement), ReadingFrame::Machine(readings)) =
            (survey.placements.get(index).and_then(Option::as_ref), &job.set_ups[index].frame)
        else {
            return Self::default();
        };
        // The machine's Z as the bank sees it.
        let spindle = placement.displacement(Displacement::new(0.0, 0.0, 1.0));
        let lean = [spindle.x_mm() / spindle.z_mm(), spindle.y_mm() / spindle.z_mm()];
        Self { lean, roll_mm: roll_mm(job, bank, &readings.deck_mm) }
    }

    /// Where the cut's axis stands at a depth, from its centre at the deck, mm.
    #[must_use]
    pub fn off_mm(&self, depth_mm: f64) -> [f64; 2] {
        self.lean.map(|l| -l * depth_mm)
    }
}

/// What the roll of a deck's plane moves the bores across: deck height times the standard uncertainty of its slope
/// across, u / √Σ(y − ȳ)² (least squares, JCGM 100:2008, H.3), mm.
fn roll_mm(job: &Job, bank: usize, deck_mm: &[[f64; 3]]) -> f64 {
    if deck_mm.is_empty() {
        return 0.0;
    }
    let n = f64::from(u32::try_from(deck_mm.len()).unwrap_or(u32::MAX));
    let mean = deck_mm.iter().map(|p| p[1]).sum::<f64>() / n;
    let square: f64 = deck_mm.iter().map(|p| (p[1] - mean).powi(2)).sum();
    job.bank(bank).deck_height_mm * job.instruments.deck_mm / square.sqrt()
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
            crate::job::Aim::Parent => {
                let half = self.pocket.depth_mm() / 2.0;
                self.seen_from_deck(self.found.now.axis.at(half), half)
            }
        }
    }

    /// A limit on a fire ring that nobody described proves nothing.
    fn no_ring(&self, name: &str) -> Option<Lack> {
        let (Some(limit), None) = (self.job.limits.get(name), self.job.block.fire_ring) else { return None };
        Some(Lack {
            code: "ring_not_described",
            text: say!(
                "{} {} is asked for, and the block's description has no `fire_ring`: give the inside and outside \
             of the gasket's ring, or take the limit away",
                crate::job::words::limit(name),
                mm(limit.least_mm, 3)
            ),
        })
    }

    /// Where the dowels put the middle of the gasket's ring, mm.
    fn gasket_mm(&self) -> [f64; 2] {
        let [x, y] = self.true_mm();
        let [dx, dy] = self.job.gasket_shift_mm[self.bank];
        [x + dx, y + dy]
    }

    /// What carries a place from the journal axis to the cut: axis across with the roll of the deck, along datum, machine,
    /// the difference of temperatures over the length it acts on, and the fixture where the job asks for it.
    #[must_use]
    pub fn datum_spread(&self) -> Spread {
        let [along, held_along, warm_along, axis, held_across, warm_across, roll, all_mm] =
            self.datum_parts();
        let root = |parts: [f64; 4]| parts.iter().map(|u| u * u).sum::<f64>().sqrt();
        Spread {
            x_mm: root([along, held_along, warm_along, 0.0]),
            y_mm: root([axis, held_across, warm_across, roll]),
            all_mm,
        }
    }

    /// What carries a measured surface to the cut: its axis, half a diameter where it was measured, machine, and what is
    /// read from that surface.
    #[must_use]
    fn surface_spread(&self, axis_u_mm: f64, radius: RadiusSource, read_mm: f64) -> Spread {
        Spread::all(&self.surface_parts(axis_u_mm, radius, read_mm))
    }

    /// What [`Self::datum_spread`] is and is put together from, in the order of [`DATUM`].
    fn datum_worked(&self) -> impl Iterator<Item = f64> + use<> {
        let spread = self.datum_spread();
        [spread.x_mm, spread.y_mm].into_iter().chain(self.datum_parts())
    }

    /// Standard uncertainties that [`Self::datum_spread`] is put together from, mm, in the order of the last eight of
    /// [`DATUM`].
    fn datum_parts(&self) -> [f64; 8] {
        let i = &self.job.instruments;
        let [along, across] = self.fixture_mm;
        let [warm_along, warm_across] = self.true_mm().map(|length| length * self.job.unlike_per_mm());
        [i.along_mm, along, warm_along, i.axis_mm, across, warm_across, self.datum.roll_mm, i.machine_mm]
    }

    /// What [`Self::surface_spread`] is put together from, in the order of [`SURFACE`].
    fn surface_parts(&self, axis_u_mm: f64, radius: RadiusSource, read_mm: f64) -> [f64; 4] {
        let i = &self.job.instruments;
        let half = if radius == RadiusSource::Measured { i.diameter_mm / 2.0 } else { 0.0 };
        [axis_u_mm, half, read_mm, i.machine_mm]
    }

    /// How the cut leans at a depth, in the order of [`LEAN`].
    fn lean(&self, depth_mm: f64) -> [f64; 3] {
        [self.datum.lean[0], self.datum.lean[1], depth_mm]
    }

    /// Something that the cut meets at a depth, as seen from the cut's centre at the deck, mm.
    fn seen_from_deck(&self, [x, y]: [f64; 2], depth_mm: f64) -> [f64; 2] {
        let [dx, dy] = self.datum.off_mm(depth_mm);
        [x - dx, y - dy]
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
    /// What its margin and uncertainty are worked from.
    pub worked: Worked,
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
    /// What its margin and uncertainty are worked from.
    pub worked: Worked,
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
    /// What its margin and uncertainty are worked from.
    pub worked: Worked,
}

/// Every limit that a file may state, in the order in which a cylinder lists them.
pub const ALL: [&Stated; 18] = [
    &clean_up::LIMIT,
    &parent_wall::LIMIT,
    &parent_wall::THRUST,
    &stud_wall::LIMIT,
    &coolant_hole::LIMIT,
    &fire_ring_cover::LIMIT,
    &fire_ring_bore::LIMIT,
    &position::LIMIT,
    &squareness::LIMIT,
    &bridge::LIMIT,
    &flange_gap::LIMIT,
    &of_sleeve::WALL,
    &of_sleeve::RING_ON_FLANGE,
    &of_sleeve::PROTRUSION_SPREAD,
    &of_sleeve::RING_HOLD,
    &of_sleeve::SKIRT_OUT,
    &of_sleeve::SEAT_RATIO,
    &of_sleeve::HOOP_RATIO,
];

/// The limit of a name.
#[must_use]
pub fn stated(name: &str) -> Option<&'static Stated> {
    ALL.into_iter().find(|limit| limit.name == name)
}

/// Every clause on one cylinder's centre.
#[must_use]
pub fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    ALL.iter()
        .filter_map(|limit| if let Judges::Bore(clauses) = limit.judges { Some(clauses) } else { None })
        .flat_map(|clauses| clauses(asked))
        .collect()
}

/// Every clause on two neighbours with the same pocket.
#[must_use]
pub fn pair_clauses(job: &Job, pocket: &Pocket) -> Vec<PairClause> {
    ALL.iter()
        .filter_map(|limit| if let Judges::Neighbours(clauses) = limit.judges { Some(clauses) } else { None })
        .flat_map(|clauses| clauses(job, pocket))
        .collect()
}

/// Limits of a bank that no position changes.
#[must_use]
pub fn standing(job: &Job, survey: &Survey, bank: usize) -> Vec<Standing> {
    ALL.iter()
        .filter_map(|limit| {
            if let Judges::Bank(standing) = limit.judges { standing(job, survey, bank) } else { None }
        })
        .collect()
}

/// What the limits of a job ask for of a bore and is not there.
#[must_use]
pub fn lacks(asked: &Asked<'_>) -> Vec<Lack> {
    ALL.iter().filter_map(|limit| (limit.lacks)(asked)).collect()
}

/// A clause on metal: more is better.
fn metal(
    limit: &Stated,
    given: Limit,
    feature: String,
    bound: Bound,
    spread: Spread,
    worked: Worked,
) -> Clause {
    Clause {
        limit: limit.name,
        feature,
        depth_mm: None,
        clock_deg: None,
        constraint: Constraint::new(bound, spread, 1.0, FACTOR),
        with_radius: -1.0,
        binding: true,
        least_mm: given.least_mm,
        prefer_mm: given.prefer_mm,
        prefer_margin_mm: given.prefer_mm.map(|prefer| prefer - given.least_mm),
        worked,
    }
}

/// The planned centre.
const PLACE: [Symbol; 2] = [
    Symbol::mm("x", "planned centre at the deck, along", Origin::Planned),
    Symbol::mm("y", "planned centre at the deck, across", Origin::Planned),
];

/// What a margin's uncertainty is made of where the datum carries a place to the cut.
const DATUM: [Symbol; 13] = [
    Symbol::mm(
        "u",
        "standard uncertainty of the margin",
        Origin::Figure("sqrt((u_x * n_x)^2 + (u_y * n_y)^2 + u_m^2)"),
    ),
    Symbol::mm(
        "u_x",
        "what carries a place along",
        Origin::Formula("sqrt(u_along^2 + u_held_x^2 + u_warm_x^2)"),
    ),
    Symbol::mm(
        "u_y",
        "what carries it across",
        Origin::Formula("sqrt(u_axis^2 + u_held_y^2 + u_warm_y^2 + u_roll^2)"),
    ),
    Symbol::new("n_x", "direction of the margin, along", Unit::Share, Origin::Direction),
    Symbol::new("n_y", "direction of the margin, across", Unit::Share, Origin::Direction),
    Symbol::mm("u_along", "the along datum", Origin::Stated("instruments.along")),
    Symbol::mm("u_held_x", "how the block is held, along", Origin::Stated("fixture")),
    Symbol::mm(
        "u_warm_x",
        "difference of temperatures over the length along",
        Origin::Stated("temperature.u"),
    ),
    Symbol::mm("u_axis", "the journal axis, across", Origin::Stated("instruments.axis")),
    Symbol::mm("u_held_y", "how the block is held, across", Origin::Stated("fixture")),
    Symbol::mm("u_warm_y", "difference of temperatures over the offset", Origin::Stated("temperature.u")),
    Symbol::mm("u_roll", "the roll of the deck as read, over the deck's height", Origin::SetUp),
    Symbol::mm(
        "u_m",
        "where the machine bores against where it was told to",
        Origin::Stated("instruments.machine"),
    ),
];

/// The same where the cut meets a measured surface.
const SURFACE: [Symbol; 5] = [
    Symbol::mm(
        "u",
        "standard uncertainty of the margin",
        Origin::Figure("sqrt(u_f^2 + u_d^2 + u_r^2 + u_m^2)"),
    ),
    Symbol::mm("u_f", "the old bore's axis there", Origin::Circles),
    Symbol::mm("u_d", "half a diameter, where it was measured", Origin::Stated("instruments.diameter")),
    Symbol::mm("u_r", "the reading from that surface", Origin::Stated("instruments.wall")),
    Symbol::mm(
        "u_m",
        "where the machine bores against where it was told to",
        Origin::Stated("instruments.machine"),
    ),
];

/// The same between two pockets, each bored by the machine.
const BOTH: [Symbol; 2] = [
    Symbol::mm("u", "standard uncertainty of the margin", Origin::Figure("sqrt(u_m^2 + u_m^2)")),
    Symbol::mm(
        "u_m",
        "where the machine bores against where it was told to",
        Origin::Stated("instruments.machine"),
    ),
];

/// How the spindle leans from the bank's Z.
const LEAN: [Symbol; 3] = [
    Symbol::new("l_x", "lean of the spindle along, mm a mm", Unit::Share, Origin::SetUp),
    Symbol::new("l_y", "lean of the spindle across, mm a mm", Unit::Share, Origin::SetUp),
    Symbol::mm("d", "depth", Origin::Row),
];
