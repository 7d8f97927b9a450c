//! The few figures of a block that its family is learned from.

use borewright_geometry::clock::distance_mm;

use serde::{Deserialize, Serialize};

use crate::job::pocket::Pocket;
use crate::job::{Job, Surface};
use crate::limits::{CLEAN_UP, parent_wall};
use crate::survey::{CylinderSurvey, PlanError, RadiusSource, Survey, survey};

/// What the file calls itself.
pub(super) const FORMAT: &str = "borewright/figures/1";

/// A block's figures, mm and degrees; `borewright/figures/1`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Figures {
    /// `borewright/figures/1`.
    pub format: String,
    /// The job's number.
    pub job: String,
    /// The block's name.
    pub block: String,
    /// Its banks.
    pub banks: Vec<BankAt>,
    /// Its bores as they came.
    pub bores: Vec<BoreFound>,
    /// Standard uncertainty of a bore's centre, and of the datum along and across, mm.
    pub u: [f64; 3],
    /// Walls as read.
    pub walls: Vec<WallRead>,
    /// Liner heights: cylinder, clock (degrees), height above the deck (mm).
    pub heights: Vec<(u32, f64, f64)>,
    /// What each candidate sleeve would leave, bored at the true position.
    pub sleeves: Vec<SleeveWould>,
    /// Hours that the plan asked for.
    pub hours_asked: Option<f64>,
    /// Hours from the first to the last line of each day in the record, the least that the work took.
    pub hours_recorded: Option<f64>,
    /// What was asked and what was read, size by size.
    pub sizes: Vec<SizeRead>,
}

/// A size asked for and read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SizeRead {
    /// The part of the pocket, or what was done.
    pub feature: String,
    /// What it is of: diameter, depth, height.
    pub of: String,
    /// The cylinder.
    pub cylinder: Option<u32>,
    /// What was expected, mm.
    pub asked: f64,
    /// What was read, mm.
    pub found: f64,
}

/// A bank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BankAt {
    /// Its name.
    pub bank: String,
    /// Its angle, degrees, positive to the engine's right.
    pub angle: f64,
    /// Journal axis to deck, mm.
    pub deck_height: f64,
}

/// A bore as it came.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BoreFound {
    /// Its cylinder.
    pub cylinder: u32,
    /// Its bank's name.
    pub bank: String,
    /// Its true place along the bank, mm.
    pub true_x: f64,
    /// How far off the true position it stands at the deck, along and across, mm.
    pub off: [f64; 2],
    /// Its lean along and across, mm per mm of depth; `None` where it was read at one depth.
    pub tilt: Option<[f64; 2]>,
    /// Its mean diameter, mm.
    pub diameter: f64,
}

/// A wall as read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WallRead {
    /// The cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth: f64,
    /// Where round the bore, degrees.
    pub clock: f64,
    /// The parent metal from its own bore outwards, mm.
    pub wall: f64,
}

/// What a sleeve would leave on the worst bore, bored at the true position and nowhere else.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SleeveWould {
    /// Its name.
    pub sleeve: String,
    /// Least radial stock, mm, and on which cylinder.
    pub stock: Option<(f64, u32)>,
    /// Least wall left, mm, on which cylinder, at which depth, mm, and clock, degrees; `None` where none was read.
    pub wall: Option<(f64, u32, f64, f64)>,
    /// The job's least stock and least wall, mm, where it sets them.
    pub limits: [Option<f64>; 2],
}

/// The figures of a job's block.
///
/// # Errors
/// Readings that make no survey.
pub fn figures(job: &Job) -> Result<Figures, PlanError> {
    let survey = survey(job).map_err(PlanError::Readings)?;
    let i = &job.instruments;
    let banks = job.block.banks.iter();
    Ok(Figures {
        format: FORMAT.to_owned(),
        job: job.number.clone(),
        block: job.block.name.clone(),
        banks: banks
            .map(|b| BankAt { bank: b.name.clone(), angle: b.angle_deg, deck_height: b.deck_height_mm })
            .collect(),
        bores: survey.cylinders.iter().filter_map(|(cylinder, found)| bore(job, *cylinder, found)).collect(),
        u: [i.centre_mm, i.along_mm, i.axis_mm],
        walls: walls(job, &survey),
        heights: job
            .set_ups
            .iter()
            .flat_map(|s| &s.heights)
            .map(|h| (h.cylinder, h.clock_deg, h.height_mm))
            .collect(),
        sleeves: job.sleeves.iter().map(|sleeve| would(job, &survey, sleeve)).collect(),
        hours_asked: None,
        hours_recorded: None,
        sizes: Vec::new(),
    })
}

fn bore(job: &Job, cylinder: u32, found: &CylinderSurvey) -> Option<BoreFound> {
    let (bank, site) = job.site(cylinder)?;
    // As its maker left it: the liner's bore, else the parent's.
    let bore = found.by_surface.get(&Surface::Liner).unwrap_or(&found.now);
    let [x, y] = bore.axis.at_deck_mm;
    let several = bore.depths_mm[1] - bore.depths_mm[0] > 1.0;
    Some(BoreFound {
        cylinder,
        bank: job.bank(bank).name.clone(),
        true_x: site.x_mm,
        off: [x - site.x_mm, y - job.bank(bank).axis_offset_mm],
        tilt: several.then_some(bore.axis.tilt),
        diameter: bore.diameter_mm,
    })
}

/// Walls from the parent's own bore outwards: what was read from a liner loses what lies inside the parent.
fn walls(job: &Job, survey: &Survey) -> Vec<WallRead> {
    let readings = job.set_ups.iter().flat_map(|s| &s.walls);
    readings
        .filter_map(|w| {
            let found = survey.cylinders.get(&w.cylinder)?;
            let from = found.surface(job, w.surface, w.depth_mm)?;
            let parent = found.parent(job, w.depth_mm);
            let end = end(from.centre_mm, from.radius_mm + w.wall_mm?, w.clock_deg);
            let wall = distance_mm(end, parent.centre_mm) - parent.radius_mm;
            Some(WallRead {
                cylinder: w.cylinder,
                depth: w.depth_mm,
                clock: w.clock_deg.rem_euclid(360.0),
                wall,
            })
        })
        .collect()
}

fn end([x, y]: [f64; 2], far: f64, clock_deg: f64) -> [f64; 2] {
    let (sin, cos) = clock_deg.to_radians().sin_cos();
    [x + far * cos, y + far * sin]
}

/// What a sleeve would leave in this block with every bore at its true position: the least stock and the least
/// wall, mm, each with its place.
fn would(job: &Job, survey: &Survey, sleeve: &crate::job::Sleeve) -> SleeveWould {
    let pocket = Pocket::of(sleeve, job.engine.deck.cut_mm);
    let mut stock: Option<(f64, u32)> = None;
    let mut wall: Option<(f64, u32, f64, f64)> = None;
    for (cylinder, found) in &survey.cylinders {
        let Some((bank, site)) = job.site(*cylinder) else { continue };
        let centre = [site.x_mm, job.bank(bank).axis_offset_mm];
        if let Some(left) = least_stock(job, found, &pocket, centre)
            && stock.is_none_or(|(least, _)| left < least)
        {
            stock = Some((left, *cylinder));
        }
        for w in job.set_ups.iter().flat_map(|s| &s.walls).filter(|w| w.cylinder == *cylinder) {
            let dry = pocket.at(w.depth_mm).filter(|step| !step.wet);
            let from = found.surface(job, w.surface, w.depth_mm);
            let (Some(step), Some(from), Some(thick)) = (dry, from, w.wall_mm) else { continue };
            let end = end(from.centre_mm, from.radius_mm + thick, w.clock_deg);
            let left = distance_mm(end, centre) - step.radius_mm;
            if wall.is_none_or(|(least, ..)| left < least) {
                wall = Some((left, *cylinder, w.depth_mm, w.clock_deg.rem_euclid(360.0)));
            }
        }
    }
    let limit = |name: &str| job.limits.get(name).map(|limit| limit.least_mm);
    SleeveWould {
        sleeve: sleeve.name.clone(),
        stock,
        wall,
        limits: [limit(CLEAN_UP.name), limit(parent_wall::LIMIT.name)],
    }
}

/// R − (|c − m(d)| + r(d)), least over both ends of every dry cylinder of the pocket below the flange.
fn least_stock(job: &Job, found: &CylinderSurvey, pocket: &Pocket, centre: [f64; 2]) -> Option<f64> {
    let dry = pocket.steps.iter().filter(|step| !step.wet);
    dry.flat_map(|step| [step.depths.from_mm, step.depths.to_mm].map(|depth| (step, depth)))
        .map(|(step, depth)| {
            let parent = found.parent(job, depth);
            let farthest = match (parent.source, found.parent_bore(job)) {
                (RadiusSource::Measured, Some(bore)) => bore.farthest_mm(depth),
                _ => parent.radius_mm,
            };
            step.radius_mm - distance_mm(parent.centre_mm, centre) - farthest
        })
        .min_by(f64::total_cmp)
}
