//! What can be asked of a plan's figures.

use std::fmt;

use crate::planning::Planning;
use crate::read::fault::{did_you_mean, plain};

/// A question about a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Question {
    /// Where a cylinder is bored, along (0), across (1) or both.
    Cylinder {
        /// Its number.
        cylinder: u32,
        /// Which of both.
        axis: Option<usize>,
    },
    /// The margin of a limit on a cylinder.
    Limit {
        /// Its key.
        limit: String,
        /// The cylinder.
        cylinder: u32,
    },
    /// A figure of a pass.
    Pass {
        /// Its step.
        step: u32,
        /// The cylinder, where one is asked for.
        cylinder: Option<u32>,
        /// Which figure: stock, size, speed, feed; all where none is named.
        about: Option<String>,
    },
    /// A register of the sleeve that is planned with.
    Fit {
        /// Its name.
        register: String,
    },
}

/// Figures of a pass that can be asked for.
pub(super) const OF_PASS: [&str; 4] = ["stock", "size", "speed", "feed"];

impl fmt::Display for Question {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cylinder { cylinder, axis: None } => write!(f, "cylinder {cylinder}"),
            Self::Cylinder { cylinder, axis: Some(axis) } => {
                write!(f, "cylinder {cylinder} {}", if *axis == 0 { "x" } else { "y" })
            }
            Self::Limit { limit, cylinder } => write!(f, "limit {limit} {cylinder}"),
            Self::Pass { step, cylinder, about } => {
                write!(f, "pass {step}")?;
                cylinder.map_or(Ok(()), |n| write!(f, " {n}"))?;
                about.as_ref().map_or(Ok(()), |about| write!(f, " {about}"))
            }
            Self::Fit { register } => write!(f, "fit {register}"),
        }
    }
}

/// A question without an answer, and what could be asked instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unasked {
    /// What was asked.
    pub found: String,
    /// What can be, a line each.
    pub expected: Vec<String>,
    /// What may have been meant, as a sentence.
    pub near: Option<String>,
}

impl Unasked {
    pub(super) fn of(planning: &Planning, found: &str) -> Self {
        let all: Vec<String> = Question::all(planning).iter().map(ToString::to_string).collect();
        let near = did_you_mean(found, all.iter().map(String::as_str));
        Self { found: plain(found, 60), expected: kinds(planning), near }
    }
}

/// What can be asked, kind by kind, a line each.
fn kinds(planning: &Planning) -> Vec<String> {
    let plan = &planning.plan;
    let each = |numbers: Vec<String>| numbers.join(", ");
    let told = plan.cylinders.iter().filter(|c| !c.withheld).map(|c| c.cylinder.to_string()).collect();
    let all = plan.cylinders.iter().map(|c| c.cylinder.to_string()).collect();
    let mut limits: Vec<&str> = Vec::new();
    for result in plan.cylinders.iter().flat_map(|c| &c.limits) {
        if !limits.contains(&result.limit) {
            limits.push(result.limit);
        }
    }
    let steps = plan.passes.iter().map(|p| p.step);
    let steps = steps.clone().min().zip(steps.max());
    let registers = planned_fit(planning)
        .map(|fit| fit.registers.iter().map(|r| plain(&r.feature, 40)).collect::<Vec<_>>())
        .unwrap_or_default();
    let mut lines = vec![
        format!("cylinder N x, cylinder N y: N of {}", each(told)),
        format!("limit NAME N: NAME of {}; N of {}", limits.join(", "), each(all)),
        steps.map_or_else(String::new, |(first, last)| {
            format!("pass STEP [N] stock, size, speed or feed: STEP of {first} to {last}")
        }),
        format!("fit NAME: NAME of {}", each(registers)),
    ];
    lines.retain(|line| !line.is_empty() && !line.ends_with("of "));
    lines
}

/// How the planned sleeve fits.
pub(super) fn planned_fit(planning: &Planning) -> Option<&crate::plan::SleeveFit> {
    planning.plan.sleeves.iter().find(|s| s.chosen).map(|s| &s.fit)
}

impl Question {
    /// From words as typed.
    pub(super) fn of(planning: &Planning, words: &[String]) -> Result<Self, Unasked> {
        let asked = words.join(" ");
        let unasked = || Unasked::of(planning, &asked);
        let lower: Vec<String> = words.iter().map(|w| w.trim().to_lowercase()).collect();
        let Some((kind, rest)) = lower.split_first() else { return Err(unasked()) };
        let number = |word: &String| word.parse::<u32>().ok();
        match (kind.as_str(), rest) {
            ("cylinder", [n]) => {
                number(n).map(|cylinder| Self::Cylinder { cylinder, axis: None }).ok_or_else(unasked)
            }
            ("cylinder", [n, axis]) => {
                let axis = ["x", "y"].iter().position(|a| a == axis);
                let cylinder = number(n);
                cylinder
                    .zip(axis)
                    .map(|(cylinder, axis)| Self::Cylinder { cylinder, axis: Some(axis) })
                    .ok_or_else(unasked)
            }
            ("limit", [name @ .., n]) if !name.is_empty() => {
                let limit = name.join("_").replace('-', "_");
                number(n).map(|cylinder| Self::Limit { limit, cylinder }).ok_or_else(unasked)
            }
            ("pass", [step, more @ ..]) => {
                let numbers: Vec<u32> = more.iter().filter_map(number).collect();
                let about: Vec<&String> = more.iter().filter(|word| number(word).is_none()).collect();
                let known = about.iter().all(|word| OF_PASS.contains(&word.as_str()));
                match (number(step), numbers.as_slice(), about.as_slice()) {
                    (Some(step), [] | [_], [] | [_]) if known => Ok(Self::Pass {
                        step,
                        cylinder: numbers.first().copied(),
                        about: about.first().map(|word| (*word).clone()),
                    }),
                    _ => Err(unasked()),
                }
            }
            ("fit", [_, ..]) => {
                // A step's name is the sleeve maker's: looked up whatever its letters.
                let wanted = rest.join(" ");
                let fit = planned_fit(planning).ok_or_else(unasked)?;
                let named = fit.registers.iter().find(|r| r.feature.to_lowercase() == wanted);
                named.map(|r| Self::Fit { register: r.feature.clone() }).ok_or_else(unasked)
            }
            _ => Err(unasked()),
        }
    }

    /// Every question that a plan answers.
    pub(super) fn all(planning: &Planning) -> Vec<Self> {
        let plan = &planning.plan;
        let mut all = Vec::new();
        for cylinder in &plan.cylinders {
            let n = cylinder.cylinder;
            if !cylinder.withheld {
                all.extend([0, 1].map(|axis| Self::Cylinder { cylinder: n, axis: Some(axis) }));
            }
            let mut limits: Vec<&str> = Vec::new();
            for result in &cylinder.limits {
                if !limits.contains(&result.limit) {
                    limits.push(result.limit);
                    all.push(Self::Limit { limit: result.limit.to_owned(), cylinder: n });
                }
            }
        }
        for pass in &plan.passes {
            for about in OF_PASS {
                if pass.worked.iter().any(|f| f.about == about) {
                    all.push(Self::Pass {
                        step: pass.step,
                        cylinder: Some(pass.cylinder),
                        about: Some(about.to_owned()),
                    });
                }
            }
        }
        for register in planned_fit(planning).iter().flat_map(|fit| &fit.registers) {
            all.push(Self::Fit { register: register.feature.clone() });
        }
        all
    }
}
