//! Corrections of a set-up that the machinist is asked for before anything is cut: a turn of the table, a shim, the
//! index; each with what it leaves, and "leave it" where it is below what can be measured.

use borewright_geometry::{Bank, Displacement};
use serde::Serialize;

use super::Survey;
use super::reversal::{Lean, RAIL_MM, Reversal, SHIMS_MM};
use super::significance::MEASURABLE;
use crate::job::{Front, Job, MachineReadings, ReadingFrame, SetUp, SetUpPlacement};
use crate::plan::rounding;
use crate::plan::sentence::{Sentence, mm};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::count;

/// The thinnest shim that is laid under a block, mm. Common practice, no source.
const THINNEST_MM: f64 = 0.02;

/// A table or index is set to this, degrees. Common practice, no source.
const SET_DEG: f64 = 0.001;

/// A locator holds the block up where its direction leans less than this share from the bank's Z (45 degrees).
const UPWARD: f64 = 0.7;

/// What is done about a set-up that is off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Action {
    /// Nothing.
    Leave,
    /// The block or table is turned.
    Turn,
    /// The block is shimmed.
    Shim,
}

impl Action {
    /// As a results file has it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Leave => "leave",
            Self::Turn => "turn",
            Self::Shim => "shim",
        }
    }
}

/// One thing to put right.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Adjustment {
    /// The set-up, or `reversal` for what turning end for end has shown.
    pub set_up: String,
    /// `yaw` about the spindle, `pitch` along the bank, `roll` across it.
    pub what: &'static str,
    /// How far the set-up is off, degrees.
    pub degrees: f64,
    /// How far the set-up is off over the length `over`, mm.
    pub found: f64,
    /// The length that `found` is told over, mm.
    pub over: f64,
    /// Standard uncertainty of `found`, mm.
    pub u: f64,
    /// What is done about it.
    pub action: Action,
    /// Shim in mm, turn in degrees; 0 where it is left.
    pub by: f64,
    /// What of `found` is left after it, mm.
    pub left: f64,
    /// What to do, in words.
    pub text: Sentence,
}

impl Adjustment {
    /// Whether nothing is done about it.
    #[must_use]
    pub fn is_left(&self) -> bool {
        self.action == Action::Leave
    }
}

/// Every set-up read in the machine, and what a reversal has shown.
pub(crate) fn corrections(job: &Job, survey: &Survey, reversal: Option<&Reversal>) -> Vec<Adjustment> {
    let mut all = Vec::new();
    for (set_up, placement) in job.set_ups.iter().zip(&survey.placements) {
        let (ReadingFrame::Machine(readings), Some(placement)) = (&set_up.frame, placement) else { continue };
        let tilted = Tilted::of(job, set_up, readings, placement);
        all.push(tilted.yaw());
        all.push(tilted.pitch());
        all.extend(tilted.roll());
    }
    all.extend(reversal.and_then(rolled));
    all.into_iter().map(rounded).collect()
}

/// A machine set-up and the directions of its bank as the machine sees them.
struct Tilted<'a> {
    job: &'a Job,
    set_up: &'a SetUp,
    /// The journal axis, front to rear.
    along: [f64; 3],
    /// Lean of the bank's Z from the spindle, along and across the bank, mm per mm.
    lean: [f64; 2],
    /// From the first to the last axis point, mm.
    axis_mm: f64,
    /// Standard uncertainty of a slope of the axis.
    u_axis: f64,
    /// Standard uncertainty of the deck's slope across; `None` where no deck was read.
    u_deck: Option<f64>,
}

/// Root of the sum of squares about the mean.
fn lever(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / count(values.len());
    values.iter().map(|v| (v - mean).powi(2)).sum::<f64>().sqrt()
}

impl<'a> Tilted<'a> {
    fn of(job: &'a Job, set_up: &'a SetUp, readings: &MachineReadings, placement: &SetUpPlacement) -> Self {
        let along = placement.inverse().displacement(Displacement::<Bank>::new(1.0, 0.0, 0.0));
        let spindle = placement.displacement(Displacement::new(0.0, 0.0, 1.0));
        let points = if readings.axis.is_empty() { &readings.mains } else { &readings.axis };
        let xs: Vec<f64> = points.iter().map(|p| p.at_mm[0]).collect();
        let ends = xs.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(*x), b.max(*x)));
        let across: Vec<f64> = readings.deck_mm.iter().map(|p| p[1]).collect();
        let (instruments, deck) = (&job.instruments, lever(&across));
        Self {
            job,
            set_up,
            along: along.vector().into(),
            lean: [-spindle.x_mm() / spindle.z_mm(), -spindle.y_mm() / spindle.z_mm()],
            axis_mm: ends.1 - ends.0,
            u_axis: instruments.axis_mm / lever(&xs).max(1.0),
            u_deck: (readings.deck_mm.len() > 2).then(|| instruments.centre_mm / deck.max(1.0)),
        }
    }

    fn name(&self) -> String {
        plain(&self.set_up.name, 60)
    }

    /// The axis against the machine's X, seen from above.
    fn yaw(&self) -> Adjustment {
        let slope = self.along[1] / self.along[0];
        let degrees = slope.atan().to_degrees();
        let (found, u) = (slope * self.axis_mm, self.u_axis * self.axis_mm);
        let leave = found.abs() < MEASURABLE * u;
        let by = if leave { 0.0 } else { (degrees.abs() / SET_DEG).round() * SET_DEG };
        let left = found.abs() - by.to_radians().tan() * self.axis_mm;
        let seen = say!(
            "the journal axis runs {} off the machine's X over {} ({:.4} degrees, u {})",
            mm(found.abs(), 3),
            mm(self.axis_mm, 0),
            degrees.abs(),
            mm(u, 3)
        );
        let text = if leave {
            say!("{}: below what can be measured, leave it", seen)
        } else {
            say!(
                "{}: turn the table {:.3} degrees {} seen from above, until a sweep along the mandrel reads the \
             same at both ends; {} is left. The lists have it worked in as read: after turning, read the \
             set-up again",
                seen,
                by,
                if slope > 0.0 { "clockwise" } else { "anticlockwise" },
                mm(left.abs(), 3)
            )
        };
        self.adjustment("yaw", degrees, [found, self.axis_mm, u], (Action::Turn, by, left.abs()), text)
    }

    /// The axis against the table, along the bank: the bores would be cut leaning by it.
    fn pitch(&self) -> Adjustment {
        let base = self.supports(0).unwrap_or((self.axis_mm, None));
        // The end that the bank's Z leans towards is low.
        let end = if self.lean[0] > 0.0 { "rear" } else { "front" };
        self.shimmed("pitch", self.lean[0], self.u_axis, base, &format!("{end} end"))
    }

    /// The deck against the table, across the bank; not told where no deck was read.
    fn roll(&self) -> Option<Adjustment> {
        let u = self.u_deck?;
        let base = self.supports(1).unwrap_or((RAIL_MM, None));
        // The bank's Y runs along the machine's with the front at the left, against it at the right.
        let away = (self.lean[1] > 0.0) == (self.set_up.front == Front::Left);
        let side = if away { "+Y side (away from the operator)" } else { "-Y side (towards the operator)" };
        let mut roll = self.shimmed("roll", self.lean[1], u, base, side);
        if roll.action == Action::Shim {
            let degrees = (roll.degrees.abs() / SET_DEG).round() * SET_DEG;
            roll.text.push(say!(", or turn the index by {:.3} degrees", degrees));
        }
        Some(roll)
    }

    /// A lean of the bank from the spindle as something to shim, or to leave where it cannot be measured or no shim
    /// is so thin. `lean` and `u_lean` are mm a mm, the base is the distance of the supports.
    fn shimmed(
        &self,
        what: &'static str,
        lean: f64,
        u_lean: f64,
        (base_mm, locators): (f64, Option<[&str; 2]>),
        place: &str,
    ) -> Adjustment {
        let over = self.job.block.parent.bore_length_mm;
        let (found, u) = (lean * over, u_lean * over);
        let wanted = lean.abs() * base_mm;
        let shim = (wanted / SHIMS_MM).round() * SHIMS_MM;
        let seen = say!(
            "the bank leans {} from the spindle over the bore's {} ({:.4} degrees, u {})",
            mm(found.abs(), 4),
            mm(over, 0),
            lean.atan().to_degrees().abs(),
            mm(u, 4)
        );
        let words = |rest: Sentence| say!("{}: {}", seen, rest);
        let degrees = lean.atan().to_degrees();
        let told = |action, by, left, text| {
            self.adjustment(what, degrees, [found, over, u], (action, by, left), text)
        };
        if found.abs() < MEASURABLE * u {
            return told(
                Action::Leave,
                0.0,
                found.abs(),
                words("below what can be measured, leave it".into()),
            );
        }
        if shim < THINNEST_MM {
            let rest = say!(
                "a shim of {} over {} would be thinner than a shop has, leave it",
                mm(wanted, 3),
                mm(base_mm, 0)
            );
            return told(Action::Leave, 0.0, found.abs(), words(rest));
        }
        let left = (found.abs() - shim / base_mm * over).abs();
        // The locator at the low end, where the job names them.
        let at = locators.map_or_else(Sentence::new, |[least, most]| {
            say!(" at locator `{}`", plain(if lean > 0.0 { most } else { least }, 30))
        });
        let rest = say!(
            "tram the spindle, then shim {} under the {}{}, {} from the other; {} is left",
            mm(shim, 2),
            place,
            at,
            mm(base_mm, 0),
            mm(left, 4)
        );
        told(Action::Shim, shim, left, words(rest))
    }

    /// How far apart the supports under the block stand along (0) or across (1) the bank, with the names of the
    /// outermost, where the job names a fixture that has them.
    fn supports(&self, k: usize) -> Option<(f64, Option<[&'a str; 2]>)> {
        let fixture = self.job.fixture.as_ref()?;
        let angle = self.job.bank(self.set_up.bank).angle_deg.to_radians();
        let (sin, cos) = angle.sin_cos();
        // The bank's Y and Z in the block's frame: (0, cos a, -sin a) and (0, sin a, cos a).
        let up = |v: [f64; 3]| v[1] * sin + v[2] * cos;
        let across = |v: [f64; 3]| v[1] * cos - v[2] * sin;
        let carrying = fixture.locators.iter().filter(|l| up(l.inward) > UPWARD);
        let places: Vec<(f64, &str)> =
            carrying.map(|l| (if k == 0 { l.at_mm[0] } else { across(l.at_mm) }, l.name.as_str())).collect();
        let least = places.iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
        let most = places.iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
        let base = most.0 - least.0;
        (base > 1.0).then_some((base, Some([least.1, most.1])))
    }

    fn adjustment(
        &self,
        what: &'static str,
        degrees: f64,
        [found, over, u]: [f64; 3],
        (action, by, left): (Action, f64, f64),
        text: Sentence,
    ) -> Adjustment {
        let action = if by > 0.0 { action } else { Action::Leave };
        let text = say!("{}, {}: {}", self.name(), what, text);
        Adjustment { set_up: self.set_up.name.clone(), what, degrees, found, over, u, action, by, left, text }
    }
}

/// The shim that a reversal asks for.
fn rolled(r: &Reversal) -> Option<Adjustment> {
    if !r.closes || r.kind == Lean::Shift {
        return None;
    }
    let leave = r.shim < THINNEST_MM;
    let side = if r.set_up > 0.0 { "+Y" } else { "-Y" };
    let seen = say!(
        "turned end for end, roll: the set-up is off {} across at the deck ({:.4} degrees, u {})",
        mm(r.set_up.abs(), 3),
        r.roll.abs(),
        mm(r.set_up_u, 3)
    );
    let text = if r.set_up.abs() < MEASURABLE * r.set_up_u {
        say!("{}: below what can be measured, leave it", seen)
    } else if leave {
        say!("{}: a shim for it would be thinner than a shop has, leave it", seen)
    } else {
        say!(
            "{}: shim {} under the rail on the {} side, {} apart; {} is left",
            seen,
            mm(r.shim, 2),
            side,
            mm(r.rail, 0),
            mm(r.left, 3)
        )
    };
    // Over the deck's height: what the roll moves there.
    let over = if r.roll == 0.0 { 0.0 } else { (r.set_up / r.roll.to_radians().tan()).abs() };
    Some(Adjustment {
        set_up: "reversal".into(),
        what: "roll",
        degrees: r.roll,
        found: r.set_up,
        over,
        u: r.set_up_u,
        action: if leave { Action::Leave } else { Action::Shim },
        by: if leave { 0.0 } else { r.shim },
        left: if leave { r.set_up.abs() } else { r.left },
        text,
    })
}

fn rounded(a: Adjustment) -> Adjustment {
    let round = rounding::plan;
    Adjustment {
        degrees: round(a.degrees),
        found: round(a.found),
        over: round(a.over),
        u: round(a.u),
        by: round(a.by),
        left: round(a.left),
        ..a
    }
}
