//! The survey of the block as it came: journal axis, bores as found, their pattern.

pub(crate) mod angle;
mod as_bored;
mod bore;
mod bores;
mod centres;
pub(crate) mod corrections;
pub(crate) mod custom;
mod error;
pub(crate) mod few;
pub mod fixture;
pub(crate) mod form;
pub(crate) mod heights;
pub(crate) mod mandrel;
pub(crate) mod pattern;
pub(crate) mod plate;
pub(crate) mod profile;
mod repeats;
pub(crate) mod reversal;
mod set_up;
pub(crate) mod sets;
pub(crate) mod significance;
pub(crate) mod suspect;
pub(crate) mod temperature;
mod wall_places;
pub(crate) mod witness;

use std::collections::BTreeMap;

use crate::job::rounds::{Round, rounds};
use crate::job::{Job, SetUpPlacement};
use crate::plan::{AsBored, BankPattern, Finding, JournalAxis};

pub use angle::{Degrees, IncludedAngle};
pub use bore::{Bore, CylinderSurvey, FoundCircle, RadiusSource, Ring, SurfaceAt};
pub use corrections::{Action, Adjustment};
pub use error::{PlanError, SurveyError};
pub use form::{BoreForm, Circle, CircleForm, Lobes, Told};
pub use heights::{Heights, LinerHeight, RingWidth};
pub use pattern::{AsBoredStory, OwnShift, RobustBank};
pub use plate::{
    LobePhase, ORDINARY_MM as PLATE_ORDINARY_MM, PlateShape, RIGID_MM as PLATE_RIGID_MM, StudPull,
    TorquePlate,
};
pub use profile::{AxisLine, MainAt, Profile, Trace};
pub use repeats::{Repeats, Spread};
pub use reversal::{Lean, Reversal, Reversed, Whose};
pub(crate) use set_up::Zero;
pub use sets::{BankSets, Compared, OddBore, RoundName, Sets};
pub use suspect::{Code, Doubts, Suspicion, is_suspicion};
pub use temperature::Correction;
pub(crate) use wall_places::WallPlaces;
pub use witness::WitnessCentre;
pub(crate) use witness::{suspicions as witness_suspicions, witness};

/// The survey of a block.
#[derive(Debug, Clone)]
pub struct Survey {
    /// For each set-up of the job, its placement in the bank frame; `None` where the readings came in it.
    pub placements: Vec<Option<SetUpPlacement>>,
    /// How the zero of each set-up was found on the machine's scales; `None` where it was not read there.
    pub(crate) zeros: Vec<Option<Zero>>,
    /// The journal axis of each machine set-up.
    pub journal_axis: Vec<JournalAxis>,
    /// Every circle found, in bank coordinates, of every round.
    pub circles: Vec<FoundCircle>,
    /// The rounds of measuring.
    pub rounds: Vec<Round>,
    /// The bores by cylinder; a cylinder not measured is not in it.
    pub cylinders: BTreeMap<u32, CylinderSurvey>,
    /// One motion of the whole block's bores.
    pub as_bored: AsBored,
    /// One motion of each bank's bores in the bank's plane.
    pub banks: Vec<BankPattern>,
    /// What a reader must know of the journal axis, the datum of all the rest.
    pub findings: Vec<Finding>,
    /// Readings and descriptions that are hard to believe.
    pub suspicions: Vec<Suspicion>,
    /// Where walls were read.
    pub(crate) walls: WallPlaces,
}

/// Surveys a job's readings.
///
/// # Errors
/// Readings that make no axis, plane or circle, each named.
pub fn survey(job: &Job) -> Result<Survey, Vec<SurveyError>> {
    let at_20 = temperature::at_reference(job);
    let job = at_20.as_ref();
    let mut errors = Vec::new();
    let mut placements = Vec::new();
    let mut zeros = Vec::new();
    let mut journal_axis = Vec::new();
    let mut findings = temperature::findings(job);
    for set_up in &job.set_ups {
        match set_up::place(job, set_up) {
            Ok(None) => {
                placements.push(None);
                zeros.push(None);
            }
            Ok(Some(placed)) => {
                findings.extend(set_up::judge(job, &placed.journal_axis));
                journal_axis.push(placed.journal_axis);
                placements.push(Some(placed.placement));
                zeros.push(Some(placed.zero));
            }
            Err(error) => errors.push(error),
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let rounds = rounds(job);
    let circles = bores::circles(job, &placements, &rounds)?;
    let cylinders = bores::by_cylinder(job, &circles);
    let (as_bored, banks) = as_bored::fit(job, &circles).map_err(|e| vec![e])?;
    let suspicions = suspect::suspicions(job, &circles, &rounds, &placements, &journal_axis);
    let walls = WallPlaces::of(job);
    Ok(Survey {
        placements,
        zeros,
        journal_axis,
        circles,
        rounds,
        cylinders,
        as_bored,
        banks,
        findings,
        suspicions,
        walls,
    })
}
