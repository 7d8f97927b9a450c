//! Every record planned again by today's program.

use borewright_archive::{Archive, Level, Record};
use borewright_planner::read::fault::plain;
use serde::{Deserialize, Serialize};

use crate::filing::{Again, Differences, again};
use crate::status::Failure;

/// Most answers that are kept; the rest is counted.
const MOST: usize = 2000;

/// What came of it so far.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Plans {
    /// The last record that was planned again.
    pub(super) done: u32,
    /// Records whose figures are the same today.
    pub(super) alike: u32,
    /// Records whose figures are others today, or that could not be planned again.
    pub(super) other: Vec<Other>,
    /// Others beyond those kept.
    pub(super) more: u32,
    /// Records that were planned in doubt of what lay beside their record of the work, and come out the same with it.
    #[serde(default)]
    pub(super) in_doubt: Vec<InDoubt>,
}

/// A record that was planned in doubt, and why.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct InDoubt {
    pub(super) record: u32,
    pub(super) text: String,
}

/// A record that today's program plans otherwise, or not at all.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Other {
    pub(super) record: u32,
    /// The version that made its plan.
    pub(super) tool: String,
    pub(super) differences: Option<Differences>,
    pub(super) not: Option<String>,
}

impl Plans {
    /// Plans the next record again.
    ///
    /// # Errors
    /// The scratch folder could not be had; what is kept and spoiled was told already, and is passed over.
    pub(super) fn next(&mut self, archive: &Archive, number: u32) -> Result<(), Failure> {
        self.done = number;
        let Ok(record) = archive.record(number) else { return Ok(archive.still_there()?) };
        let scratch =
            tempfile::tempdir().map_err(|source| Failure::Disk { path: std::env::temp_dir(), source })?;
        match again(archive, &record, scratch.path()) {
            Ok(Again::Alike(doubts)) => {
                self.alike += 1;
                if !doubts.is_empty() && self.in_doubt.len() < MOST {
                    let text = plain(&doubts.join("; and "), 1000);
                    self.in_doubt.push(InDoubt { record: record.number, text });
                }
            }
            Ok(Again::Other(differences)) => self.add(&record, Some(differences), None),
            Ok(Again::Not(why)) => self.add(&record, None, Some(why)),
            Err(Failure::Archive(_)) => archive.still_there()?,
            Err(other) => return Err(other),
        }
        Ok(())
    }

    fn add(&mut self, record: &Record, differences: Option<Differences>, not: Option<String>) {
        if self.other.len() == MOST {
            self.more += 1;
            return;
        }
        let first = |text: String| plain(text.lines().next().unwrap_or_default(), 300);
        let (tool, not) = (plain(&record.tool, 60), not.map(first));
        self.other.push(Other { record: record.number, tool, differences, not });
    }

    /// Other figures are no fault of the archive, and a lead must look at them. What was filed in doubt held when it was filed.
    pub(super) fn worst(&self) -> Option<Level> {
        let told = (!self.in_doubt.is_empty()).then_some(Level::Note);
        told.max((!self.other.is_empty()).then_some(Level::Doubt))
    }
}

impl Other {
    /// In a sentence or more.
    pub(super) fn text(&self) -> String {
        if let Some(not) = &self.not {
            return format!("planned by {}; not planned again: {not}", self.tool);
        }
        let mut text = format!("planned by {}; today", self.tool);
        let mut kinds: Vec<_> = self.differences.iter().flat_map(|d| &d.0).collect();
        // What decides first: the verdict, where the bores go, then the largest.
        let rank = |kind: &str| match kind {
            "verdict" => 0,
            kind if kind.starts_with("cylinders[].planned") => 1,
            kind if kind.ends_with("verdict") => 2,
            _ => 3,
        };
        kinds.sort_by(|a, b| {
            let size = |d: &crate::filing::Difference| d.by.map_or(0.0, f64::abs);
            rank(a.0).cmp(&rank(b.0)).then(size(b.1).total_cmp(&size(a.1)))
        });
        const SHOWN: usize = 4;
        for (place, (kind, d)) in kinds.iter().take(SHOWN).enumerate() {
            text.push_str(if place == 0 { " " } else { "; " });
            let what = match d.by {
                Some(by) => format!("{kind} is other by up to {by:+.4} (at {})", d.at),
                None => format!("{kind} is {} and was {} (at {})", d.now, d.then, d.at),
            };
            text.push_str(&plain(&what, 300));
        }
        if kinds.len() > SHOWN {
            text.push_str(&format!("; and {} other kinds of figures", kinds.len() - SHOWN));
        }
        text
    }
}
