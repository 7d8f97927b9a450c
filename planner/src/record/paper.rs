//! The plan that a shop works from, as the record needs it: its checks, from `plan.json`.

use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::plan::FORMAT;
use crate::plan::Prior;
use crate::plan::check::Check;
use crate::read::bounds::MOST_PLAN_BYTES;
use crate::read::elsewhere::state_of;
use crate::read::fault::{Fault, Faults, Place, plain};
use crate::read::source::{Source, sha256_hex};
use crate::read::sum::State;

/// A plan as it lies on the bench.
#[derive(Debug, Clone, Deserialize)]
pub struct Paper {
    format: String,
    /// The job's number.
    pub job: String,
    /// SHA-256 over inputs and results.
    pub fingerprint: String,
    /// The verdict it was issued with.
    #[serde(default)]
    pub verdict: String,
    /// Who released it, and why.
    #[serde(default)]
    pub release: Option<PaperRelease>,
    /// What a reader must know.
    #[serde(default)]
    pub findings: Vec<PaperFinding>,
    /// What is measured.
    #[serde(default)]
    pub checks: Vec<Check>,
    /// The cylinders.
    #[serde(default)]
    pub cylinders: Vec<PaperCylinder>,
    /// The candidates.
    #[serde(default)]
    pub sleeves: Vec<PaperSleeve>,
    /// The passes.
    #[serde(default)]
    pub passes: Vec<PaperPass>,
    /// What its block's family said of it.
    #[serde(default)]
    pub prior: Option<Prior>,
    /// The files it was made from.
    pub inputs: Vec<Made>,
    /// Sum of the last line of the record that it was made with.
    #[serde(default)]
    pub record_sum: Option<String>,
}

/// A release as printed on the sheets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PaperRelease {
    /// Who.
    pub who: String,
    /// Why.
    pub why: String,
}

/// Something that a reader of the plan must know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PaperFinding {
    /// A stable word for it.
    pub code: String,
    /// `go`, `hold` or `stop`.
    pub verdict: String,
    /// What it is about.
    pub subject: String,
    /// In a sentence, lengths in mm.
    pub text: String,
}

/// A cylinder as planned.
#[derive(Debug, Clone, Deserialize)]
pub struct PaperCylinder {
    /// Its number.
    pub cylinder: u32,
    /// Its sleeve.
    pub sleeve: String,
    /// Where it is planned, where it may be told.
    #[serde(default)]
    pub planned: Option<Planned>,
    /// Whether it may not be cut.
    #[serde(default)]
    pub withheld: bool,
    /// Whether what is asked of it, withheld as it is, is asked for judging what was read alone.
    #[serde(skip)]
    pub for_judging: bool,
    /// What holds at its place.
    #[serde(default)]
    pub limits: Vec<PaperLimit>,
}

/// A planned place, mm in the bank.
#[derive(Debug, Clone, Copy, Deserialize)]
pub struct Planned {
    /// Along.
    pub x: f64,
    /// Across.
    pub y: f64,
}

/// A limit at a planned place.
#[derive(Debug, Clone, Deserialize)]
pub struct PaperLimit {
    /// The limit's name.
    pub limit: String,
    /// Of which part of the pocket.
    pub feature: String,
    /// What is left beyond it, mm.
    pub margin: f64,
}

/// A candidate.
#[derive(Debug, Clone, Deserialize)]
pub struct PaperSleeve {
    /// Its name.
    pub sleeve: String,
    /// The verdict it ends at.
    pub verdict: String,
    /// Which measured sleeve goes where.
    #[serde(default)]
    pub assigned: Vec<PaperAssigned>,
}

/// A measured sleeve at a bore.
#[derive(Debug, Clone, Deserialize)]
pub struct PaperAssigned {
    /// The cylinder.
    pub cylinder: u32,
    /// The number on the sleeve.
    pub number: String,
}

/// A pass.
#[derive(Debug, Clone, Deserialize)]
pub struct PaperPass {
    /// Its number.
    pub step: u32,
    /// The cylinder.
    pub cylinder: u32,
    /// The tool, where one of the machine file's is used.
    pub tool: Option<String>,
    /// What is asked where it stops.
    pub stop: Option<String>,
}

/// A file that a plan was made from.
#[derive(Debug, Clone, Deserialize)]
pub struct Made {
    /// Its path as named in the job.
    pub file: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
}

impl Paper {
    /// Reads `plan.json`.
    ///
    /// # Errors
    /// A file that is missing, or is no plan of this program.
    pub fn read(path: &Path) -> Result<Self, Faults> {
        let name = path.display().to_string();
        let one = |fault: Fault| Faults(vec![fault]);
        let source = Source::read(&name, path, MOST_PLAN_BYTES).map_err(|mut fault| {
            fault.help = Some("plan first: what is measured is numbered by the plan".into());
            one(*fault)
        })?;
        let paper: Self = serde_json::from_str(&source.text).map_err(|error| {
            let place = Place { line: error.line().max(1), column: error.column().max(1) };
            let found = plain(&error.to_string(), 160);
            let mut fault = source.fault(Some(place), "", found, "a plan.json as `plan` writes it".into());
            fault.line_text = None;
            one(fault)
        })?;
        if paper.format != FORMAT {
            let found = format!("`{}`", plain(&paper.format, 60));
            return Err(one(source.fault(None, "", found, format!("`{FORMAT}`"))));
        }
        Ok(paper)
    }

    /// Reads a plan that can be recorded against: one with checks.
    ///
    /// # Errors
    /// A file that cannot be read or is no plan, and a plan that asks nothing.
    pub fn with_checks(path: &Path) -> Result<Self, Faults> {
        let paper = Self::read(path)?;
        if paper.checks.is_empty() {
            let source = Source::read(&path.display().to_string(), path, MOST_PLAN_BYTES);
            let found = format!("a plan at {} that asks for no reading", paper.verdict);
            let expected = "a plan of which something may be cut: mend what it says, or have the lead release it, and plan again";
            let fault = source.map(|s| s.fault(None, "", found, expected.into()));
            return Err(Faults(vec![fault.unwrap_or_else(|fault| *fault)]));
        }
        Ok(paper)
    }

    /// Twelve digits that stand for the files it was made from, the record left out: a release is good for these
    /// files only.
    #[must_use]
    pub fn made_from(&self) -> String {
        let mut files: Vec<String> = self
            .inputs
            .iter()
            .filter(|made| made.file != crate::log::FILE)
            .map(|made| format!("{} {}\n", made.sha256, made.file))
            .collect();
        files.sort_unstable();
        sha256_hex(files.concat().as_bytes()).chars().take(12).collect()
    }

    /// What recording needs of a plan in hand; `None` where it cannot be written.
    #[must_use]
    pub fn of(plan: &crate::plan::Plan) -> Option<Self> {
        serde_json::from_value(serde_json::to_value(plan).ok()?).ok()
    }

    /// This paper with other checks.
    #[must_use]
    pub fn asking(&self, checks: Vec<Check>) -> Self {
        Self { checks, ..self.clone() }
    }

    /// This paper with what another asks of the bores that this one withholds, where they are planned and with which
    /// sleeves; they stay withheld. Checks that this one has keep its numbers, others are numbered behind them.
    #[must_use]
    pub fn asking_too(&self, other: &Self) -> Self {
        let mut all = self.clone();
        let held = |n: u32| self.cylinders.iter().any(|c| c.cylinder == n && c.withheld);
        for own in all.cylinders.iter_mut().filter(|c| c.withheld) {
            let same = other.cylinders.iter().find(|c| c.cylinder == own.cylinder);
            own.planned = own.planned.or(same.and_then(|c| c.planned));
            own.for_judging = true;
        }
        for own in &mut all.sleeves {
            let same = other.sleeves.iter().find(|s| s.sleeve == own.sleeve);
            let more = same.iter().flat_map(|s| &s.assigned).filter(|a| held(a.cylinder));
            own.assigned.extend(more.cloned());
        }
        let mut last = self.checks.iter().map(|c| c.check).max().unwrap_or_default();
        for check in &other.checks {
            let cylinders = check.cylinders.iter().filter(|at| at.cylinder.is_none_or(held)).cloned();
            match all.checks.iter_mut().find(|c| c.name() == check.name() && c.step == check.step) {
                Some(own) => {
                    own.cylinders.extend(cylinders.filter(|at| at.cylinder.is_some()));
                    own.cylinders
                        .sort_by_key(|at| check.cylinders.iter().position(|c| c.cylinder == at.cylinder));
                }
                None => {
                    last += 1;
                    all.checks.push(Check { check: last, cylinders: cylinders.collect(), ..check.clone() });
                }
            }
        }
        all.checks.retain(|c| !c.cylinders.is_empty());
        all
    }

    /// The tool of a step.
    #[must_use]
    pub fn tool(&self, step: Option<u32>) -> Option<&str> {
        self.passes.iter().find(|p| Some(p.step) == step)?.tool.as_deref()
    }

    /// The question that a step stops with, where it is one: "all iron gone, down to the lower end?"
    #[must_use]
    pub fn question(&self, step: Option<u32>) -> Option<&str> {
        let stop = self.passes.iter().find(|p| Some(p.step) == step)?.stop.as_deref();
        stop.filter(|stop| stop.ends_with('?'))
    }

    /// The sleeve planned for a cylinder: its name, and the number of the one that was measured for it.
    #[must_use]
    pub fn sleeve_of(&self, cylinder: u32) -> Option<(&str, Option<&str>)> {
        let name = &self.cylinders.iter().find(|c| c.cylinder == cylinder)?.sleeve;
        let choice = self.sleeves.iter().find(|s| s.sleeve == *name);
        let number = choice.and_then(|s| s.assigned.iter().find(|a| a.cylinder == cylinder));
        Some((name, number.map(|a| a.number.as_str())))
    }

    /// The plan's name in the record: enough digits to tell two papers apart.
    #[must_use]
    pub fn short(&self) -> String {
        self.fingerprint.chars().take(12).collect()
    }

    /// The inputs that are no longer what the plan was made from; the record itself is expected to grow.
    #[must_use]
    pub fn changed(&self, folder: &Path) -> Vec<String> {
        let other = |made: &&Made| {
            !matches!(state_of(folder, &made.file, &made.sha256), State::Unaltered | State::Grown)
        };
        self.inputs.iter().filter(other).map(|m| m.file.clone()).collect()
    }
}
