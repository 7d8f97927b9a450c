//! A finding of an audit, and the list of them.

use super::Audit;

/// Most findings that are kept; the rest is counted.
const MOST: usize = 2000;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Worth knowing.
    Note,
    /// May be innocent, but must be looked at.
    Doubt,
    /// Something was altered, lost or put in.
    Fault,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// How grave.
    pub level: Level,
    /// A stable word for it.
    pub code: &'static str,
    /// The record that it is about.
    pub record: Option<u32>,
    /// The file that it is about, fit for a terminal.
    pub file: Option<String>,
    /// What is wrong, in a sentence fit for a terminal.
    pub text: String,
}

impl Fault {
    /// By record, those of the whole archive last.
    pub(super) fn key(&self) -> (u32, Option<&str>, &str) {
        (self.record.unwrap_or(u32::MAX), self.file.as_deref(), &self.text)
    }
}

/// Text fit for a terminal.
pub(super) fn plain(text: &str) -> String {
    let hidden = |c: char| {
        c.is_control() || matches!(u32::from(c), 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0xFEFF)
    };
    text.chars().take(200).map(|c| if hidden(c) { '?' } else { c }).collect()
}

impl Audit {
    fn add(&mut self, fault: Fault) {
        if self.faults.len() < MOST {
            self.faults.push(fault);
        } else {
            self.more_faults += 1;
        }
    }

    pub(super) fn of_record(&mut self, level: Level, code: &'static str, record: u32, text: String) {
        self.add(Fault { level, code, record: Some(record), file: None, text });
    }

    pub(super) fn of_file(&mut self, code: &'static str, record: u32, file: &str, text: &str) {
        let file = Some(plain(file));
        self.add(Fault { level: Level::Fault, code, record: Some(record), file, text: text.to_owned() });
    }

    pub(super) fn of_place(&mut self, level: Level, code: &'static str, text: String) {
        self.add(Fault { level, code, record: None, file: None, text });
    }
}
