//! Holds, releases, events, and what was struck.

use serde::{Serialize, Serializer};

use super::Bench;
use crate::log::Log;
use crate::plan::{Finding, Subject, Verdict};
use crate::read::fault::plain;
use crate::record::{Paper, Standing, Word, WorkFinding};

/// Something that happened, or was decided.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Happened {
    /// Its line in the record.
    pub line: usize,
    /// `void`, `crack`, `tool`, `moved`, `note`, `place`, `sleeve` or `release`.
    pub what: &'static str,
    /// The cylinder; `None` where it concerns no single one.
    pub cylinder: Option<u32>,
    /// What was said.
    pub text: String,
    /// Who.
    pub by: String,
    /// When.
    pub at: String,
}

/// A line that was taken back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Struck {
    /// Its line.
    pub line: usize,
    /// What stood there: "CHECK 7, cylinder 3: 89.781".
    pub text: String,
    /// Why it does not count.
    pub why: String,
    /// Who took it back.
    pub by: String,
}

/// Events that count, in the order of the record.
pub(super) fn events(standing: &Standing) -> Vec<Happened> {
    let own = standing.events.iter().filter(|e| e.struck.is_none());
    own.map(|e| Happened {
        line: e.line,
        what: e.what.word(),
        cylinder: e.cylinder,
        text: e.fields.get("value").to_owned(),
        by: e.fields.get("by").to_owned(),
        at: e.fields.get("at").to_owned(),
    })
    .collect()
}

/// What was struck, in the order of the record.
pub(super) fn struck(bench: &Bench<'_>, log: &Log) -> Vec<Struck> {
    let one = |strike: &crate::record::Strike| {
        let entry = log.entries.iter().find(|e| e.line == strike.of)?;
        let field = |column: &str| plain(entry.fields.get(column), 120);
        let cylinder = field("cylinder");
        let at = if cylinder.is_empty() { String::new() } else { format!(", cylinder {cylinder}") };
        let what = match Word::of(entry.fields.get("reading")) {
            Some(word) => word.word().to_owned(),
            None => format!("CHECK {} reading {}", field("check"), field("reading")),
        };
        Some(Struck {
            line: strike.of,
            text: format!("{what}{at}: {}", field("value")),
            why: strike.why.clone(),
            by: strike.by.clone(),
        })
    };
    let mut struck: Vec<Struck> = bench.standing.strikes.iter().filter_map(one).collect();
    struck.sort_by_key(|s| s.line);
    struck
}

/// What holds or stops something, or did until somebody let it through.
#[derive(Debug, Clone, PartialEq)]
pub enum Hold {
    /// Of the plan as it was issued.
    Plan(Finding),
    /// Of the work as it is recorded.
    Work(WorkFinding),
}

impl Hold {
    /// As the report tells it.
    pub(super) fn told(&self) -> Finding {
        match self {
            Self::Plan(finding) => finding.clone(),
            Self::Work(finding) => finding.told(),
        }
    }

    /// How grave; go where it was let through.
    pub(super) fn verdict(&self) -> Verdict {
        match self {
            Self::Plan(finding) => finding.verdict,
            Self::Work(finding) => finding.verdict,
        }
    }

    /// What became of it as it left: whatever was let through by name is at hold, no stop and not as asked.
    pub(super) fn left(&self) -> Verdict {
        if self.is_released() { Verdict::Hold } else { self.verdict() }
    }

    /// What it is of.
    pub(super) fn subject(&self) -> &Subject {
        match self {
            Self::Plan(finding) => &finding.subject,
            Self::Work(finding) => &finding.subject,
        }
    }

    /// Whether somebody let it through by name.
    pub(super) fn is_released(&self) -> bool {
        matches!(self, Self::Work(finding) if finding.is_released())
    }
}

/// Written as the report tells it.
impl Serialize for Hold {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.told().serialize(serializer)
    }
}

/// Every hold and stop: those of the plan as it was issued, and those of the work as it is recorded now.
pub(super) fn holds(paper: &Paper, of_work: Vec<WorkFinding>) -> Vec<Hold> {
    // Findings of an earlier plan on the work itself are left out: they are judged anew below. What was cut for another sleeve is the
    // plan's own to tell.
    const OF_WORK: [&str; 14] = [
        "as_cut",
        "as_cut_released",
        "passed_over",
        "deck_early",
        "touch_unread",
        "window_widened",
        "noted",
        "sleeve_twice",
        "sleeve_missing",
        "begun_on",
        "void",
        "crack",
        "moved",
        "record",
    ];
    let issued = paper.findings.iter().filter(|f| !OF_WORK.contains(&f.code.as_str()));
    let issued = issued.filter_map(|f| {
        let verdict = match f.verdict.as_str() {
            "hold" => Verdict::Hold,
            "stop" => Verdict::Stop,
            _ => return None,
        };
        let (subject, text) = (Subject::read(&f.subject), f.text.as_str().into());
        Some(Hold::Plan(Finding { code: "plan", verdict, subject, text }))
    });
    let of_work = of_work.into_iter().filter(|f| f.verdict > Verdict::Go || f.is_released());
    issued.chain(of_work.map(Hold::Work)).collect()
}
