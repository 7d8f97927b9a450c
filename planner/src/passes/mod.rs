//! The schedule: which passes, with how much stock on which side, by which tool, and when to stop.

mod chip;
mod cutting;
mod deck;
mod finish;
mod fit;
mod hone;
mod iron;
mod kinematics;
mod load;
mod mill;
mod old_surface;
mod pocket;
mod rough;
mod spread;
mod stones;
mod strokes;
mod surface;
mod thin_shell;
mod times;
mod tool_odd;
mod trial;
mod window;
mod worked;

pub(crate) use iron::{HOLE_MM, shows as iron_shows};
pub use rough::SHOWS_MM;

use crate::job::{Job, Sleeve, Tool};
use crate::material::Material;
use crate::place::{Positions, Seated};
use crate::plan::SleeveFit;
use crate::plan::rounding;
use crate::plan::sentence::Sentence;
use crate::plan::{Finding, Pass, PassKind, Stage, Subject, Verdict};
use crate::say;
use crate::survey::{CylinderSurvey, Survey};

pub use cutting::Cutting;
use cutting::NoTool;
pub(crate) use deck::{FLAT_MM, LEVEL_MM};
pub(crate) use finish::SIZE_MM as FINISH_SIZE_MM;
pub use fit::SOAK_MIN;
pub(crate) use fit::{ALIKE_MM, FEELER_MM};
pub(crate) use hone::{GAUGED_DEG, gauge_depths_mm};
pub use kinematics::crosshatch_deg;
pub use pocket::WARMER_K;
pub(crate) use stones::{SHARE as STONES_SHARE, next_takes_mm};
pub use thin_shell::{Slower, ThinShell, thin_shell};
pub(crate) use times::times;
pub use trial::{
    LeaningLedge, ShortLedge, TriedPart, leaning_ledge, short_ledge, smaller_head_mm, tried_part,
};
pub(crate) use window::{Sets, wet_window, window, window_mm};

/// The stages that cut by coordinates.
pub(crate) const LISTED: [Stage; 3] = [Stage::Rough, Stage::Pocket, Stage::Finish];

/// Why a stage cannot be made: lists of the stages before it are written, none from it on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Missing {
    /// No tool reaches.
    Tool,
    /// More passes than anybody would make.
    ManyPasses,
    /// An allowance that leaves nothing to cut, or too much.
    Allowance,
}

impl Missing {
    const ALL: [Self; 3] = [Self::Tool, Self::ManyPasses, Self::Allowance];

    fn code(self) -> &'static str {
        match self {
            Self::Tool => "no_tool",
            Self::ManyPasses => "too_many_passes",
            Self::Allowance => "allowance",
        }
    }

    /// Whether a finding is of a stage that cannot be made; any other above go holds its whole bank.
    pub(crate) fn is(finding: &Finding) -> bool {
        Self::ALL.iter().any(|what| what.code() == finding.code)
    }
}

/// A bank whose work cannot be staged to its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Incomplete {
    /// The bank.
    pub bank: String,
    /// The stage from which no list is written.
    pub from: Stage,
}

/// The number of a touch check, which comes before each list's first chip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TouchNumber {
    /// The bank.
    pub bank: String,
    /// The stage.
    pub stage: Stage,
    /// Its number among the stops.
    pub number: u32,
}

/// A schedule.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Schedule {
    /// The passes, in the order of work.
    pub passes: Vec<Pass>,
    /// What stands in the way of a pass.
    pub findings: Vec<Finding>,
    /// Banks whose work is not complete.
    pub incomplete: Vec<Incomplete>,
    /// The touch checks, numbered with the stops.
    pub touch_numbers: Vec<TouchNumber>,
}

impl Schedule {
    /// Leaves out the passes of all cylinders but these.
    pub(crate) fn keep(&mut self, cylinders: &[u32]) {
        self.passes.retain(|pass| cylinders.contains(&pass.cylinder));
    }

    /// Takes over the numbers of another schedule of the same work, step by step, so that holding a bore does not
    /// renumber the rest.
    pub(crate) fn number_as(&mut self, whole: &Self) {
        for pass in &mut self.passes {
            let same = whole.passes.iter().find(|p| p.step == pass.step && p.stop_number.is_some());
            pass.stop_number = same.and_then(|p| p.stop_number).filter(|_| pass.stop.is_some());
        }
        self.touch_numbers.clone_from(&whole.touch_numbers);
    }

    /// Numbers what is measured, of the passes that are there.
    pub(crate) fn number(&mut self) {
        self.touch_numbers = number_checks(&mut self.passes);
    }
}

/// One cylinder to be cut.
struct Cut<'a> {
    bore: &'a Seated,
    found: &'a CylinderSurvey,
}

impl Cut<'_> {
    fn cylinder(&self) -> u32 {
        self.bore.site.cylinder
    }
}

/// What the stages share: one bank's cylinders, the passes so far, and the numbering.
struct Bench<'a> {
    job: &'a Job,
    survey: &'a Survey,
    sleeve: &'a Sleeve,
    positions: &'a Positions,
    fit: &'a SleeveFit,
    bank: usize,
    cuts: Vec<Cut<'a>>,
    step: u32,
    passes: Vec<Pass>,
    findings: Vec<Finding>,
    incomplete: Option<Stage>,
}

/// The room of one stage.
type Room = fn(&mut Bench<'_>);

/// One pass on one cylinder, before it has its number and centre.
struct Cutter<'a> {
    stage: Stage,
    feature: &'a str,
    diameter_mm: f64,
    depths_mm: [f64; 2],
    cutting: Option<&'a Cutting>,
    material: &'a str,
}

impl Bench<'_> {
    /// The next step's number; tens, so that a shop can put its own between.
    fn next(&mut self) -> u32 {
        self.step += 10;
        self.step
    }

    /// One pass of `step` at a cut, with centre, speed, feed and minutes filled in; kind, stock, share in cut,
    /// load and stop are left for the stage to set.
    fn pass(&self, step: u32, cut: &Cut<'_>, what: &Cutter<'_>) -> Pass {
        let [from, to] = what.depths_mm;
        let (rpm, feed_per_rev, feed) =
            what.cutting.map_or((0.0, 0.0, 0.0), |c| (c.rpm, c.feed_per_rev_mm, c.feed_mm_per_min));
        Pass {
            step,
            stage: what.stage,
            bank: self.job.bank(self.bank).name.clone(),
            cylinder: cut.cylinder(),
            feature: what.feature.to_owned(),
            kind: PassKind::Plain,
            tool: what.cutting.map(|c| c.tool.clone()),
            x: cut.bore.planned_mm[0],
            y: cut.bore.planned_mm[1],
            diameter: rounding::plan(what.diameter_mm),
            from,
            to,
            stock: crate::plan::Stock { min: 0.0, max: 0.0 },
            in_cut: 1.0,
            material: what.material.to_owned(),
            rpm,
            feed_per_rev,
            feed,
            // Roughing rises fast; finishing cuts feed out with the spindle turning.
            minutes: if feed > 0.0 {
                let ways = if what.stage == Stage::Rough { 1.0 } else { 2.0 };
                ways * (to + self.job.machine.clearance_mm) / feed
            } else {
                0.0
            },
            flat_end: false,
            shell: None,
            ledge: false,
            touch: None,
            mill: None,
            load: None,
            binds: what.cutting.map(|c| c.binds),
            stop_number: None,
            stop: None,
            worked: what.cutting.map_or_else(Vec::new, |c| worked::cutting(c, c.turning_mm).into()),
        }
    }

    /// The cylinders in an order that spreads the heat: every other bore, then those between.
    fn spread(&self) -> impl Iterator<Item = &Cut<'_>> {
        self.cuts.iter().step_by(2).chain(self.cuts.iter().skip(1).step_by(2))
    }

    /// Tells, as a hold, what a pass lacks: without a tool there is no feed, and without a feed no list.
    ///
    /// A list that lacks a pass would send the next tool into stock that is still there: it is not written,
    /// nor any later one of the bank, release or no release.
    fn missing(&mut self, stage: Stage, what: Missing, text: Sentence) {
        self.incomplete = Some(self.incomplete.map_or(stage, |before| before.min(stage)));
        let text = say!("{}; no list of this bank is written from the {} stage on", text, stage.word());
        self.find(what.code(), Verdict::Hold, text);
    }

    /// The tool for `what`, where one was found; why there is none is told as missing.
    fn tool<T>(&mut self, stage: Stage, what: Sentence, found: Result<T, NoTool>) -> Option<T> {
        match found {
            Ok(tool) => Some(tool),
            Err(none) => {
                self.missing(stage, Missing::Tool, say!("{}: {}", what, none.why));
                None
            }
        }
    }

    /// Notes what a reader should know, without a hold.
    fn note(&mut self, code: &'static str, text: Sentence) {
        self.find(code, Verdict::Go, text);
    }

    /// Holds the bank for what `said` tells of its passes and their tools: one finding for each step and code,
    /// whichever bore raised it.
    fn hold_cuts<const N: usize>(
        &mut self,
        said: impl Fn(&Self, &Tool, &Pass) -> [(&'static str, Option<Sentence>); N],
    ) {
        let mut told: Vec<(u32, &'static str)> = Vec::new();
        let mut found: Vec<(&'static str, Sentence)> = Vec::new();
        for pass in &self.passes {
            let Some(tool) = self.job.machine.tools.iter().find(|t| Some(&t.name) == pass.tool.as_ref())
            else {
                continue;
            };
            for (code, text) in said(self, tool, pass) {
                if let Some(text) = text.filter(|_| !told.contains(&(pass.step, code))) {
                    told.push((pass.step, code));
                    found.push((code, text));
                }
            }
        }
        for (code, text) in found {
            self.find(code, Verdict::Hold, text);
        }
    }

    fn find(&mut self, code: &'static str, verdict: Verdict, text: Sentence) {
        let subject = Subject::bank(&self.job.bank(self.bank).name);
        let finding = Finding { code, verdict, subject, text };
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }
}

/// Stages the work on every cylinder that is not at stop.
///
/// In the order of work: each bank roughed and pocketed in its set-up, its deck cut there too unless it waits for the
/// sleeves; then all edges broken, all sleeves fitted, then what is cut with all of them in, and each bank finish bored
/// and honed.
#[must_use]
pub fn stage(job: &Job, survey: &Survey, positions: &Positions, fit: &SleeveFit) -> Schedule {
    let mut schedule = Schedule {
        passes: Vec::new(),
        findings: Vec::new(),
        incomplete: Vec::new(),
        touch_numbers: Vec::new(),
    };
    let mut step = 0;
    let cuts: [Room; 3] = [rough::stage, pocket::stage, deck::before_fit];
    // Every edge is broken and every pocket washed before the block is heated for the first sleeve; nothing is cut over
    // sleeves before the last of them is in.
    let after: [Room; 2] = [finish::stage, hone::stage];
    let rounds: [&[Room]; 5] = [&cuts, &[fit::edges], &[fit::sleeves], &[deck::after_fit], &after];
    for round in rounds {
        for bank in 0..job.block.banks.len() {
            let cuts = positions.bores.iter().filter(|b| b.bank == bank && b.verdict != Verdict::Stop);
            let cuts =
                cuts.filter_map(|bore| Some(Cut { bore, found: survey.cylinders.get(&bore.site.cylinder)? }));
            let mut bench = Bench {
                job,
                survey,
                sleeve: &job.sleeves[positions.sleeve],
                positions,
                fit,
                bank,
                cuts: cuts.collect(),
                step,
                passes: Vec::new(),
                findings: Vec::new(),
                incomplete: None,
            };
            if bench.cuts.is_empty() {
                continue;
            }
            let name = &job.bank(bank).name;
            if schedule.incomplete.iter().any(|of| of.bank == *name) {
                continue;
            }
            for stage in round {
                if bench.incomplete.is_none() {
                    stage(&mut bench);
                }
            }
            // What comes after a missing pass would be worked out from stock that is not there.
            if let Some(from) = bench.incomplete {
                bench.passes.retain(|p| p.stage < from);
            }
            let metals = metals(job, bench.sleeve);
            let height = job.deck_as_it_is_mm(bank, &survey.journal_axis);
            for pass in &mut bench.passes {
                if let Some(finding) = load::load(job, &metals, height, pass)
                    && !bench.findings.contains(&finding)
                {
                    bench.findings.push(finding);
                }
            }
            chip::judge(&mut bench);
            surface::judge(&mut bench);
            tool_odd::judge(&mut bench);
            step = bench.step;
            schedule.passes.append(&mut bench.passes);
            schedule.findings.append(&mut bench.findings);
            schedule
                .incomplete
                .extend(bench.incomplete.map(|from| Incomplete { bank: job.bank(bank).name.clone(), from }));
        }
    }
    schedule.number();
    schedule
}

/// The metals that a job cuts.
fn metals<'j>(job: &'j Job, sleeve: &'j Sleeve) -> Vec<&'j Material> {
    let liner = job.block.parent.liner.as_ref().map(|l| &l.material);
    [&job.block.parent.material, &sleeve.material].into_iter().chain(liner).collect()
}

/// Numbers what is measured in the order of work, one number a step whatever it asks of each bore; gives those of the
/// touch checks, which come before a bank's first cut of a stage that has lists.
fn number_checks(passes: &mut [Pass]) -> Vec<TouchNumber> {
    let mut number = 0;
    let mut touched: Vec<TouchNumber> = Vec::new();
    let mut known: Vec<(u32, u32)> = Vec::new();
    for pass in passes {
        let listed = LISTED.contains(&pass.stage);
        if listed && !touched.iter().any(|own| own.bank == pass.bank && own.stage == pass.stage) {
            number += 1;
            touched.push(TouchNumber { bank: pass.bank.clone(), stage: pass.stage, number });
        }
        if pass.stop.is_none() {
            continue;
        }
        let before = known.iter().find(|(step, _)| *step == pass.step).map(|k| k.1);
        pass.stop_number = Some(before.unwrap_or_else(|| {
            number += 1;
            known.push((pass.step, number));
            number
        }));
    }
    touched
}
