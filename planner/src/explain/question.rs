//! The questions that can be asked of a plan's figures.

use std::fmt;

use crate::plan::moves::MoveList;
use crate::planning::Planning;
use crate::read::fault::{did_you_mean, near, plain};

use super::axis::Axis;
use super::origin::is_withheld;
use super::zero;

/// A question about a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Question {
    /// Where a cylinder is bored.
    Cylinder {
        /// Its number.
        cylinder: u32,
        /// X or Y; both where none is named.
        axis: Option<Axis>,
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
        /// Which figure, of `OF_PASS`; all where none is named.
        about: Option<String>,
    },
    /// A figure of a check.
    Check {
        /// Its number.
        check: u32,
        /// Of which bore.
        whose: Whose,
        /// What is expected, or the window within which it must read; both where none is named.
        about: Option<String>,
    },
    /// The minutes of some lists.
    Lists {
        /// Their numbers.
        numbers: Vec<u32>,
    },
    /// The minutes of a stage.
    Stage {
        /// Its word.
        stage: String,
    },
    /// How long the job takes.
    Job,
    /// Where a bank's zero stood on the machine.
    Zero {
        /// The bank's name.
        bank: String,
        /// One of the machine's, of which Z is the deck's; all where none is named.
        axis: Option<Axis>,
    },
    /// A register of the sleeve that is planned with.
    Fit {
        /// Its name.
        register: String,
    },
}

/// Which readings of a check are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// All.
    All,
    /// Those of the whole bank.
    Bank,
    /// Those of one cylinder.
    Cylinder(u32),
}

/// Figures of a check that can be asked for.
pub(super) const OF_CHECK: [&str; 2] = ["expected", "within"];
/// Figures of a pass that can be asked for.
pub(super) const OF_PASS: [&str; 19] = [
    "stock",
    "size",
    "depth",
    "speed",
    "feed",
    "iron",
    "arc",
    "force",
    "power",
    "deflection",
    "copied",
    "marks",
    "tip",
    "nose",
    "minutes",
    "strokes",
    "stroke",
    "over",
    "crosshatch",
];
/// Figures of a pass's load, which `load` asks for together.
pub(super) const OF_LOAD: [&str; 7] = ["force", "power", "deflection", "copied", "marks", "tip", "nose"];

impl fmt::Display for Question {
    /// The question in the words it is asked with, so that what is printed can be asked again.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cylinder { cylinder, axis } => {
                write!(f, "cylinder {cylinder}")?;
                axis.map_or(Ok(()), |axis| write!(f, " {axis}"))
            }
            Self::Limit { limit, cylinder } => write!(f, "limit {limit} {cylinder}"),
            Self::Pass { step, cylinder, about } => {
                write!(f, "pass {step}")?;
                cylinder.map_or(Ok(()), |n| write!(f, " {n}"))?;
                about.as_ref().map_or(Ok(()), |about| write!(f, " {about}"))
            }
            Self::Check { check, whose, about } => {
                write!(f, "check {check}")?;
                match whose {
                    Whose::All => {}
                    Whose::Bank => write!(f, " bank")?,
                    Whose::Cylinder(n) => write!(f, " {n}")?,
                }
                about.as_ref().map_or(Ok(()), |about| write!(f, " {about}"))
            }
            Self::Lists { numbers } => {
                let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
                write!(f, "list {} minutes", numbers.join(" "))
            }
            Self::Stage { stage } => write!(f, "stage {stage} minutes"),
            Self::Job => f.write_str("job minutes"),
            Self::Fit { register } => write!(f, "fit {register}"),
            Self::Zero { bank, axis } => {
                write!(f, "zero {bank}")?;
                axis.map_or(Ok(()), |axis| write!(f, " {axis}"))
            }
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
        let words = plainly(&[found.to_owned()]);
        let near = match nearest(planning, &words) {
            Some(meant) => Some(format!("did you mean `{meant}`?")),
            // One word says too little for a whole question to be guessed.
            None if words.len() < 2 => None,
            None => {
                let all: Vec<String> = Question::all(planning).iter().map(ToString::to_string).collect();
                let kind = words.first().map(String::as_str).filter(|kind| KINDS.contains(kind));
                let own = all.iter().map(String::as_str);
                let alike = |question: &&str| kind.is_none_or(|kind| question.starts_with(kind));
                did_you_mean(&words.join(" "), own.filter(alike))
            }
        };
        Self { found: plain(found, 60), expected: kinds_of(planning, words.first()), near }
    }
}

/// What a question begins with.
const KINDS: [&str; 9] = ["cylinder", "limit", "pass", "check", "list", "stage", "job", "fit", "zero"];

/// What can be asked of a kind that is named rightly; else of all.
fn kinds_of(planning: &Planning, kind: Option<&String>) -> Vec<String> {
    let all = kinds(planning);
    let of_kind = |line: &&String| kind.is_some_and(|kind| line.split(' ').next() == Some(kind));
    let own: Vec<String> = all.iter().filter(of_kind).cloned().collect();
    if own.is_empty() { all } else { own }
}

/// Words as typed, as a question has them: in small letters, apart at blanks and before a number, and a pass and a cylinder by
/// those names: cards say `step 110`.
fn plainly(words: &[String]) -> Vec<String> {
    // Words in quotes come as one.
    let each = words.iter().flat_map(|w| w.split_whitespace());
    let mut lower: Vec<String> = each.map(str::to_lowercase).collect();
    if let Some(first) = lower.first().cloned()
        && let Some(at) = first.find(|c: char| c.is_ascii_digit()).filter(|at| *at > 0)
        && let (word, digits) = first.split_at(at)
        && number(digits).is_some()
    {
        lower.splice(..1, [word.to_owned(), digits.to_owned()]);
    }
    if let Some(first) = lower.first_mut() {
        match first.as_str() {
            "step" => *first = "pass".to_owned(),
            "bore" => *first = "cylinder".to_owned(),
            _ => {}
        }
    }
    lower
}

/// The question that comes of these words with each brought to the nearest that stands there in one.
fn nearest(planning: &Planning, words: &[String]) -> Option<String> {
    let (kind, rest) = words.split_first()?;
    let kind = near(kind, KINDS)?;
    let all: Vec<String> = Question::all(planning).iter().map(ToString::to_string).collect();
    let own: Vec<&str> =
        all.iter().filter(|q| q.starts_with(kind)).flat_map(|q| q.split(' ').skip(1)).collect();
    let mended: Option<Vec<String>> = rest
        .iter()
        .map(|word| match number(word) {
            Some(_) => Some(word.clone()),
            None => near(word, own.iter().copied()).map(str::to_owned),
        })
        .collect();
    let mended: Vec<String> = std::iter::once(kind.to_owned()).chain(mended?).collect();
    let question = Question::read(planning, &mended).filter(|_| mended != words)?;
    Some(question.to_string())
}

/// A limit by its name, of the cylinder that is named behind it, or of that where it has the least room.
fn limit(planning: &Planning, words: &[String]) -> Option<Question> {
    let (name, of) = match words.split_last() {
        Some((last, name)) if !name.is_empty() && number(last).is_some() => (name, number(last)),
        _ => (words, None),
    };
    let name = name.join("_").replace('-', "_");
    let limits = planning.plan.cylinders.iter().flat_map(|c| c.limits.iter().map(move |l| (c.cylinder, l)));
    let own = limits.filter(|(_, l)| l.limit == name);
    let (tightest, _) = own.min_by(|(_, a), (_, b)| a.margin.total_cmp(&b.margin))?;
    Some(Question::Limit { limit: name, cylinder: of.unwrap_or(tightest) })
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
    let stages = plan.times.iter().map(|t| t.stage.word().to_owned()).collect();
    let banks = planning.job.block.banks.iter().enumerate();
    let read = banks.filter(|(i, _)| zero::is_known(planning, *i)).map(|(_, b)| plain(&b.name, 40)).collect();
    let name = |l: &MoveList| format!("{} is {} {}", l.number, plain(&l.bank, 40), l.stage.word());
    let named = planning.lists.iter().map(name).collect();
    let mut lines = vec![
        format!("cylinder N x, cylinder N y: N of {}", each(told)),
        format!("limit NAME N: NAME of {}; N of {}", limits.join(", "), each(all)),
        steps.map_or_else(String::new, |(first, last)| {
            format!("pass STEP [N] NAME: NAME of {}, load; STEP of {first} to {last}", OF_PASS.join(", "))
        }),
        format!("check NUMBER [N or bank] {}: NUMBER of {}", OF_CHECK.join(" or "), checks(planning)),
        format!("list NUMBER minutes, list BANK STAGE minutes: {}", each(named)),
        format!("stage STAGE minutes: STAGE of {}", each(stages)),
        if plan.times.is_empty() { String::new() } else { "job minutes".to_owned() },
        format!("fit NAME: NAME of {}", each(registers)),
        format!("zero BANK x, y or z: BANK of {}", each(read)),
    ];
    lines.retain(|line| !(line.is_empty() || line.ends_with("of ") || line.ends_with(": ")));
    lines
}

/// The lists that words name: a number, or a bank and a stage in either order.
fn lists(planning: &Planning, of: &[String]) -> Vec<u32> {
    let numbers: Vec<u32> = of.iter().filter_map(|word| number(word)).collect();
    let is_asked = |list: &&MoveList| {
        let bank = list.bank.to_lowercase();
        let named = [format!("{bank} {}", list.stage.word()), format!("{} {bank}", list.stage.word())];
        named.contains(&of.join(" ")) || (numbers.len() == of.len() && numbers.contains(&list.number))
    };
    planning.lists.iter().filter(is_asked).map(|list| list.number).collect()
}

/// The numbers of the checks, first to last.
fn checks(planning: &Planning) -> String {
    let numbers = planning.plan.checks.iter().map(|c| c.check);
    let ends = numbers.clone().min().zip(numbers.max());
    ends.map_or_else(String::new, |(first, last)| format!("{first} to {last}"))
}

/// How the planned sleeve fits.
pub(super) fn planned_fit(planning: &Planning) -> Option<&crate::plan::SleeveFit> {
    planning.plan.sleeves.iter().find(|s| s.chosen).map(|s| &s.fit)
}

fn number(word: &str) -> Option<u32> {
    word.parse().ok()
}

/// One number at the most and one known word at the most, in either order.
fn numbered(more: &[String], is_known: &dyn Fn(&str) -> bool) -> Option<(Option<u32>, Option<String>)> {
    let (numbers, about): (Vec<&String>, Vec<&String>) = more.iter().partition(|word| number(word).is_some());
    let known = numbers.len() <= 1 && about.len() <= 1 && about.iter().all(|word| is_known(word));
    known.then(|| (numbers.first().and_then(|n| number(n)), about.first().map(|word| (*word).clone())))
}

impl Question {
    /// Which figure is asked for, of a pass or a check; `None` where all are.
    #[must_use]
    pub fn about(&self) -> Option<&str> {
        match self {
            Self::Pass { about, .. } | Self::Check { about, .. } => about.as_deref(),
            _ => None,
        }
    }

    /// Whether it asks how long a list or a stage takes.
    #[must_use]
    pub fn is_time(&self) -> bool {
        matches!(self, Self::Lists { .. } | Self::Stage { .. })
    }

    /// The question that words as typed ask; where they ask nothing, what could have been meant.
    pub(super) fn of(planning: &Planning, words: &[String]) -> Result<Self, Unasked> {
        Self::read(planning, words).ok_or_else(|| Unasked::of(planning, &words.join(" ")))
    }

    /// The question that words as typed ask; `None` where they ask nothing.
    pub(super) fn read(planning: &Planning, words: &[String]) -> Option<Self> {
        let lower = plainly(words);
        let (kind, rest) = lower.split_first()?;
        match (kind.as_str(), rest) {
            ("cylinder", [n]) => Some(Self::Cylinder { cylinder: number(n)?, axis: None }),
            ("cylinder", [n, axis]) => {
                let axis = Axis::of(axis).filter(|axis| Axis::OF_BORE.contains(axis))?;
                Some(Self::Cylinder { cylinder: number(n)?, axis: Some(axis) })
            }
            ("limit", [name @ .., n]) if !name.is_empty() && number(n).is_some() => {
                Some(Self::Limit { limit: name.join("_").replace('-', "_"), cylinder: number(n)? })
            }
            ("limit", name) => limit(planning, name),
            ("pass", [step, more @ ..]) => {
                let (cylinder, about) = numbered(more, &|word| OF_PASS.contains(&word) || word == "load")?;
                Some(Self::Pass { step: number(step)?, cylinder, about })
            }
            ("check", [check, more @ ..]) => {
                let bank = more.iter().any(|word| word == "bank");
                let more: Vec<String> = more.iter().filter(|word| *word != "bank").cloned().collect();
                let (cylinder, about) = numbered(&more, &|word| OF_CHECK.contains(&word))?;
                let whose = match (bank, cylinder) {
                    (true, None) => Whose::Bank,
                    (true, Some(_)) => return None,
                    (false, own) => own.map_or(Whose::All, Whose::Cylinder),
                };
                Some(Self::Check { check: number(check)?, whose, about })
            }
            ("list", [of @ .., minutes]) if minutes == "minutes" => {
                let numbers = lists(planning, of);
                (!numbers.is_empty()).then_some(Self::Lists { numbers })
            }
            ("stage", [stage, minutes]) if minutes == "minutes" => Some(Self::Stage { stage: stage.clone() }),
            ("job", [minutes]) if minutes == "minutes" => Some(Self::Job),
            ("fit", [_, ..]) => {
                // A step's name is the sleeve maker's: looked up whatever its letters.
                let wanted = rest.join(" ");
                let registers = || planned_fit(planning).into_iter().flat_map(|fit| &fit.registers);
                let named = registers().find(|r| r.feature.to_lowercase() == wanted);
                // `lower` is enough where no other begins so.
                let mut begun = registers().filter(|r| r.feature.to_lowercase().starts_with(&wanted));
                let named = named.or_else(|| begun.next().filter(|_| begun.next().is_none()))?;
                Some(Self::Fit { register: named.feature.clone() })
            }
            ("zero", [_, ..]) => {
                // A bank's name may be of several words, whatever its letters.
                let axis = rest.last().and_then(|last| Axis::of(last));
                let named = |of: &[String]| {
                    let wanted = of.join(" ");
                    planning.job.block.banks.iter().find(|bank| bank.name.to_lowercase() == wanted)
                };
                let (bank, axis) = match (named(rest), axis) {
                    (Some(bank), _) => (bank, None),
                    (None, axis @ Some(_)) => (named(&rest[..rest.len() - 1])?, axis),
                    (None, None) => return None,
                };
                Some(Self::Zero { bank: bank.name.clone(), axis })
            }
            _ => limit(planning, &lower),
        }
    }

    /// Every question that a plan answers.
    pub(super) fn all(planning: &Planning) -> Vec<Self> {
        let plan = &planning.plan;
        let mut all = Vec::new();
        for cylinder in &plan.cylinders {
            let n = cylinder.cylinder;
            if !cylinder.withheld {
                all.extend(Axis::OF_BORE.map(|axis| Self::Cylinder { cylinder: n, axis: Some(axis) }));
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
        for check in &plan.checks {
            // What is withheld of a bore is not offered.
            let told =
                check.cylinders.iter().filter(|at| !at.cylinder.is_some_and(|n| is_withheld(planning, n)));
            for at in told {
                let whose = at.cylinder.map_or(Whose::Bank, Whose::Cylinder);
                for about in OF_CHECK {
                    if at.readings.iter().flat_map(|r| &r.worked).any(|f| f.about == about) {
                        let about = Some(about.to_owned());
                        all.push(Self::Check { check: check.check, whose, about });
                    }
                }
            }
        }
        all.extend(planning.lists.iter().map(|list| Self::Lists { numbers: vec![list.number] }));
        all.extend(plan.times.iter().map(|t| Self::Stage { stage: t.stage.word().to_owned() }));
        all.extend((!plan.times.is_empty()).then_some(Self::Job));
        for (index, bank) in planning.job.block.banks.iter().enumerate() {
            if zero::is_known(planning, index) {
                let of = |axis| Self::Zero { bank: bank.name.clone(), axis: Some(axis) };
                all.extend(Axis::ALL.map(of));
            }
        }
        for register in planned_fit(planning).iter().flat_map(|fit| &fit.registers) {
            all.push(Self::Fit { register: register.feature.clone() });
        }
        all
    }
}
