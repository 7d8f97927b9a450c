//! A machine set-up in the bank frame, and what its journal axis looks like.

use std::borrow::Cow;

use borewright_geometry::sample::count;
use borewright_geometry::{
    Displacement, Machine, Placement, Point, ZoneLine, fit_circle, fit_line, fit_plane, minimum_zone_line,
};

use super::error::{AxisError, SurveyError};
use super::mandrel;
use crate::job::{AxisReading, Front, Job, MachineReadings, ReadingFrame, SetUp, SetUpPlacement, TableKind};
use crate::plan::judge::{FACTOR, judge_margin};
use crate::plan::sentence::mm;
use crate::plan::{Finding, JournalAxis, MainOffset, Subject, Verdict, Xy};
use crate::read::fault::plain;
use crate::say;

/// A deck leaning more than this from the spindle is no set-up error but another deck, or another block, degrees.
const MOST_LEAN_DEG: f64 = 2.0;

/// Out of round beyond this a housing bore is trued before anything is measured from it, mm. Common practice,
/// no source.
const OUT_OF_ROUND_MM: f64 = 0.013;

/// Straightness over all mains, and a step from one to the next, that no description excuses, mm. Common practice, no
/// source.
const OF_ITSELF_MM: [f64; 2] = [0.040, 0.020];

/// A set-up in its bank frame.
pub(super) struct Placed {
    pub(super) placement: SetUpPlacement,
    pub(super) journal_axis: JournalAxis,
    pub(super) zero: Zero,
}

/// How a bank's zero was found, in the machine's axes.
#[derive(Debug, Clone)]
pub(crate) struct Zero {
    /// The middle of all mains, mm.
    pub(crate) middle_mm: [f64; 3],
    /// The fitted journal axis, of length 1.
    pub(crate) along: [f64; 3],
    /// X of the along datum, mm.
    pub(crate) datum_mm: f64,
    /// How far along the axis zero lies from the middle, mm.
    pub(crate) reach_mm: f64,
    /// Zero itself, mm.
    pub(crate) foot_mm: [f64; 3],
    /// Square to the axis, towards the deck, of length 1.
    pub(crate) up: [f64; 3],
}

/// Places a machine set-up; `None` where its readings came in the bank frame.
pub(super) fn place(job: &Job, set_up: &SetUp) -> Result<Option<Placed>, SurveyError> {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return Ok(None) };
    let wrong = |what, found: String, expected: &str| SurveyError::SetUp {
        file: file_of(set_up, what),
        set_up: plain(&set_up.name, 60),
        what,
        found,
        expected: expected.to_owned(),
    };
    let centres = axis_centres(readings)
        .map_err(|e| wrong("mains", e.to_string(), "points round each housing bore"))?;
    let points: Vec<[f64; 3]> = centres.iter().map(|c| c.at_mm).collect();
    let line = fit_line(&points)
        .map_err(|e| wrong("axis", e.to_string(), "points along the journal axis, front to rear"))?;
    // The fit runs from the first main to the last, which the check has put front to rear.
    let along = line.direction;
    let rearwards = match set_up.front {
        Front::Left => along[0],
        Front::Right => -along[0],
    };
    if rearwards <= 0.0 {
        let (found, expected) = match set_up.front {
            Front::Left => (
                "mains whose machine x falls from front to rear",
                "front: right, or the mains in the block's order",
            ),
            Front::Right => (
                "mains whose machine x grows from front to rear",
                "front: left, or the mains in the block's order",
            ),
        };
        return Err(wrong("front", found.into(), expected));
    }
    let up = match readings.deck_mm.as_slice() {
        [] => [0.0, 0.0, 1.0],
        deck => {
            let plane = fit_plane(deck)
                .map_err(|e| wrong("deck", e.to_string(), "three points or more, spread over the deck"))?;
            let up = if plane.normal[2] < 0.0 { plane.normal.map(|n| -n) } else { plane.normal };
            let lean_deg = up[0].hypot(up[1]).atan2(up[2]).to_degrees();
            if lean_deg > MOST_LEAN_DEG {
                let found = format!("a deck leaning {lean_deg:.2} degrees from the spindle");
                return Err(wrong("deck", found, "a deck square to the bores, facing up within 2 degrees"));
            }
            up
        }
    };
    // The foot on the line of (along.x, mean y, mean z).
    let mean = |k: usize| points.iter().map(|p| p[k]).sum::<f64>() / count(points.len());
    let from = [readings.along_x_mm, mean(1), mean(2)];
    let reach: f64 = (0..3).map(|k| (from[k] - line.point_mm[k]) * along[k]).sum();
    let foot = [0, 1, 2].map(|k| line.point_mm[k] + along[k] * reach);
    let vector = |v: [f64; 3]| Displacement::<Machine>::new(v[0], v[1], v[2]);
    let placement =
        Placement::from_axes(Point::<Machine>::new(foot[0], foot[1], foot[2]), vector(along), vector(up))
            .map_err(|e| wrong("axis", e.to_string(), "an axis across the deck's normal"))?;
    let journal_axis = describe(job, set_up, &centres, &placement)
        .map_err(|e| wrong("axis", e.to_string(), "points along the journal axis"))?;
    let square = placement.inverse().displacement(Displacement::new(0.0, 0.0, 1.0));
    let zero = Zero {
        middle_mm: line.point_mm,
        along,
        datum_mm: readings.along_x_mm,
        reach_mm: reach,
        foot_mm: foot,
        up: square.vector().into(),
    };
    Ok(Some(Placed { placement, journal_axis, zero }))
}

/// The file that a reading is in, as an error begins; the journal axis may come from either of two.
fn file_of(set_up: &SetUp, what: &str) -> String {
    let table = match what {
        "deck" => set_up.files.get(&TableKind::Deck),
        _ => set_up.files.get(&TableKind::Axis).or_else(|| set_up.files.get(&TableKind::Mains)),
    };
    table.map_or_else(String::new, |file| format!("{}: ", plain(file, 80)))
}

/// The place of a row, as an error begins.
pub(super) fn place_of(set_up: &SetUp, table: TableKind, line: usize) -> String {
    set_up.files.get(&table).map_or_else(String::new, |file| format!("{}:{line}: ", plain(file, 80)))
}

/// One point for each axis reading; a circle's centre for each main where only the housings were read.
fn axis_centres(readings: &MachineReadings) -> Result<Cow<'_, [AxisReading]>, AxisError> {
    if !readings.axis.is_empty() {
        return Ok(Cow::Borrowed(&readings.axis));
    }
    let mut centres: Vec<AxisReading> = Vec::new();
    for group in readings.mains.chunk_by(|a, b| a.main == b.main) {
        let main = plain(&group[0].main, 20);
        let across: Vec<[f64; 2]> = group.iter().map(|p| [p.at_mm[1], p.at_mm[2]]).collect();
        let circle = fit_circle(&across).map_err(|why| AxisError::Housing { main, why })?;
        let x = group.iter().map(|p| p.at_mm[0]).sum::<f64>() / count(group.len());
        centres.push(AxisReading {
            main: group[0].main.clone(),
            at_mm: [x, circle.centre_mm[0], circle.centre_mm[1]],
            line: 0,
        });
    }
    Ok(Cow::Owned(centres))
}

/// What a machine set-up says of the journal axis, in the bank's frame: each main's offset, straightness, largest
/// step, the lean of the spindle over the bore's length, the deck.
fn describe(
    job: &Job,
    set_up: &SetUp,
    centres: &[AxisReading],
    placement: &SetUpPlacement,
) -> Result<JournalAxis, AxisError> {
    let in_bank: Vec<[f64; 3]> = centres
        .iter()
        .map(|c| placement.point(Point::new(c.at_mm[0], c.at_mm[1], c.at_mm[2])).vector().into())
        .collect();
    let swept = mandrel::middles(centres, &in_bank, job.instruments.axis_mm);
    let ZoneLine { diameter_mm: straightness, .. } = minimum_zone_line(swept.as_deref().unwrap_or(&in_bank))?;
    // Several points of one main stand for its middle.
    let mut mains: Vec<MainOffset> = Vec::new();
    for group in centres.iter().zip(&in_bank).collect::<Vec<_>>().chunk_by(|a, b| a.0.main == b.0.main) {
        let mean = |k: usize| group.iter().map(|(_, p)| p[k]).sum::<f64>() / count(group.len());
        let main = &group[0].0.main;
        let housing = housing(set_up, main);
        mains.push(MainOffset {
            main: main.to_string(),
            y: mean(1),
            z: mean(2),
            diameter: housing.map(|h| h.0),
            roundness: housing.map(|h| h.1),
        });
    }
    let largest_step = mains.windows(2).map(|w| (w[1].y - w[0].y).hypot(w[1].z - w[0].z)).fold(0.0, f64::max);
    // Where the spindle's direction points in the bank frame: its lean is that of the bank's Z, reversed.
    let spindle = placement.displacement(Displacement::new(0.0, 0.0, 1.0));
    let length = job.block.parent.bore_length_mm;
    let squareness =
        Xy { x: -spindle.x_mm() / spindle.z_mm() * length, y: -spindle.y_mm() / spindle.z_mm() * length };
    Ok(JournalAxis {
        set_up: set_up.name.clone(),
        mains,
        straightness,
        largest_step,
        squareness,
        deck_height: found_deck(set_up, placement),
    })
}

/// Diameter and roundness of a main's housing bore from raw points on it, mm.
fn housing(set_up: &SetUp, main: &str) -> Option<(f64, f64)> {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
    let points: Vec<[f64; 2]> =
        readings.mains.iter().filter(|p| *p.main == *main).map(|p| [p.at_mm[1], p.at_mm[2]]).collect();
    let circle = fit_circle(&points).ok()?;
    Some((2.0 * circle.radius_mm, circle.roundness_mm))
}

/// Where the bank's Z through the foot of the datum meets the deck as it was read, mm.
fn found_deck(set_up: &SetUp, placement: &SetUpPlacement) -> Option<f64> {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
    let plane = fit_plane(&readings.deck_mm).ok()?;
    let back = placement.inverse();
    let foot = back.point(Point::new(0.0, 0.0, 0.0)).vector();
    let up = back.displacement(Displacement::new(0.0, 0.0, 1.0)).vector();
    let (mut over, mut under) = (0.0, 0.0);
    for k in 0..3 {
        over += plane.normal[k] * (plane.point_mm[k] - foot[k]);
        under += plane.normal[k] * up[k];
    }
    Some(over / under)
}

/// The journal axis against the block's own limits.
///
/// Inside a limit is a go with the margin told; beyond it a hold, proven beyond it a stop: the axis is the
/// datum of everything else, and an alignment limit is an acceptance limit of the mains, not a wall thickness.
pub(super) fn judge(job: &Job, axis: &JournalAxis) -> Vec<Finding> {
    let limits = &job.block.journal_axis;
    let u = job.instruments.axis_mm;
    let subject = Subject::set_up(&axis.set_up);
    let mut findings = Vec::new();
    for (main, round) in axis.mains.iter().filter_map(|m| Some((&m.main, m.roundness?))) {
        if round > OUT_OF_ROUND_MM {
            findings.push(Finding {
                code: "journal_roundness",
                verdict: Verdict::Hold,
                subject: subject.clone(),
                text: say!(
                    "the housing bore of main {} is {} out of round, {} is usual: true the mains first",
                    plain(main, 20),
                    mm(round, 3),
                    mm(OUT_OF_ROUND_MM, 3)
                ),
            });
        }
    }
    let mut over = |code, what: &str, again: &str, [value, limit, u]: [f64; 3]| {
        if value <= limit {
            return;
        }
        let verdict = judge_margin(limit - value, u).max(Verdict::Hold);
        let text = say!(
            "{what} is {}, {} is allowed (proven only beyond {}): {again}; where it stays so, align the mains \
             first, and every reading taken from this axis is void after that",
            mm(value, 3),
            mm(limit, 3),
            mm(limit + FACTOR * u, 3)
        );
        findings.push(Finding { code, verdict, subject: subject.clone(), text });
    };
    over(
        "journal_straightness",
        "the straightness of the journal axis",
        "read the mains again",
        [axis.straightness, limits.straightness_mm, u],
    );
    let told = axis.straightness > limits.straightness_mm || axis.largest_step > limits.neighbour_mm;
    // A step is the difference of two readings.
    let step_u = u * std::f64::consts::SQRT_2;
    over(
        "journal_step",
        "the largest step from one main to the next",
        "read the mains again and keep both rows of each",
        [axis.largest_step, limits.neighbour_mm, step_u],
    );
    let [straightness, step] = OF_ITSELF_MM;
    if !told && (axis.straightness > straightness || axis.largest_step > step) {
        findings.push(Finding {
            code: "journal_straightness",
            verdict: Verdict::Hold,
            subject,
            text: say!(
                "the journal axis is straight within {} and its largest step {}, which the block's description allows; over {} \
                 or {} a crankshaft binds: align the mains first, or release it",
                mm(axis.straightness, 3),
                mm(axis.largest_step, 3),
                mm(straightness, 3),
                mm(step, 3)
            ),
        });
    }
    findings
}
