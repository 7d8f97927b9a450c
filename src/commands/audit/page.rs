//! What an audit prints: the summary that a lead signs, and the same as JSON.

use borewright_archive::{Audit, Fault, Level, Time};
use borewright_output::Terminal;
use serde_json::json;

use super::plans::Plans;
use crate::filing;
use crate::status::Failure;

/// An audit with all that belongs to it.
pub(super) struct Done<'a> {
    pub(super) audit: &'a Audit,
    /// `None` where nothing was planned again.
    pub(super) plans: Option<&'a Plans>,
    pub(super) at: Time,
    /// When it was begun, where it was broken off and went on.
    pub(super) begun: Option<Time>,
}

impl Done<'_> {
    pub(super) fn worst(&self) -> Option<Level> {
        self.audit.worst().max(self.plans.and_then(Plans::worst))
    }

    /// The audit for people; `place` is where the archive lies.
    pub(super) fn page(&self, place: &str, t: &Terminal) -> String {
        let (audit, mut text) = (self.audit, String::new());
        let whole = match (audit.worst(), self.worst()) {
            (Some(Level::Fault), _) => "FAULT: something was altered, lost or put in",
            (Some(Level::Doubt), _) => "DOUBT: nothing filed is altered, but something wants looking at",
            (_, Some(Level::Doubt)) => "WHOLE, but today's program comes to other figures",
            _ => "WHOLE: every record, every link and every kept byte is as it was filed",
        };
        text.push_str(&t.wrapped("", whole, 2));
        text.push_str(&t.wrapped("archive", place, 2));
        let audited = match self.begun {
            Some(begun) => format!("by {}, begun {begun}, gone on with {}", filing::TOOL, self.at),
            None => format!("{} by {}", self.at, filing::TOOL),
        };
        text.push_str(&t.wrapped("audited", &audited, 2));
        let (files, size) = (audit.files, size(audit.bytes));
        let plural = if audit.records == 1 { "" } else { "s" };
        let read = format!("{} whole record{plural}, {files} kept files, {size} read", audit.records);
        text.push_str(&t.wrapped("", &read, 2));
        if let Some(plans) = self.plans {
            let other = u64::from(plans.more) + u64::try_from(plans.other.len()).unwrap_or_default();
            text.push_str(&format!("planned again: {} alike, {other} otherwise\n", plans.alike));
        }
        if let Some(head) = audit.head {
            text.push_str(&format!("the chain ends at record {}    {}\n", head.number, head.sum.short()));
        }
        text.push('\n');
        audit.faults.iter().for_each(|fault| text.push_str(&line(fault, t)));
        for own in self.plans.iter().flat_map(|p| &p.in_doubt) {
            let first = format!("  {:<5} record {}:", word(Level::Note), own.record);
            let told = format!("planned in doubt of its record, and alike today: {}", own.text);
            text.push_str(&t.wrapped(&first, &told, 8));
        }
        let mut more = audit.more_faults;
        for other in self.plans.iter().flat_map(|p| &p.other) {
            let first = format!("  OTHER record {}:", other.record);
            text.push_str(&t.wrapped(&first, &other.text(), 8));
        }
        more += self.plans.map_or(0, |p| u64::from(p.more));
        if more > 0 {
            text.push_str(&format!("  … and {more} more\n"));
        }
        if !text.ends_with("\n\n") {
            text.push('\n');
        }
        // Each blank keeps its word.
        let blanks = ["name ____________________", "date ____________", "signed ____________________"];
        let line = blanks.join("   ");
        let line = if line.len() > t.columns() { blanks.join("\n") } else { line };
        text.push_str(&format!("{line}\n"));
        text
    }

    /// The audit as JSON, with a line's end.
    pub(super) fn json(&self) -> Result<String, Failure> {
        let audit = self.audit;
        let finding = |f: &Fault| {
            let level = word(f.level).to_lowercase();
            json!({ "level": level, "code": f.code, "record": f.record, "file": f.file, "text": f.text })
        };
        let plans = self.plans.map(|plans| {
            let other = |o: &super::plans::Other| {
                json!({ "record": o.record, "tool": o.tool, "not": o.not, "differences": o.differences })
            };
            let others: Vec<_> = plans.other.iter().map(other).collect();
            json!({
                "alike": plans.alike, "in_doubt": plans.in_doubt, "other": others, "more_other": plans.more,
            })
        });
        let value = json!({
            "format": "borewright/audit/1",
            "at": self.at,
            "begun": self.begun,
            "tool": filing::TOOL,
            "records": audit.records,
            "files": audit.files,
            "bytes": audit.bytes,
            "head": audit.head.map(|h| json!({ "record": h.number, "sha256": h.sum, "short": h.sum.short() })),
            "findings": audit.faults.iter().map(finding).collect::<Vec<_>>(),
            "more_findings": audit.more_faults,
            "plans": plans,
        });
        let mut text = serde_json::to_string_pretty(&value).map_err(std::io::Error::other)?;
        text.push('\n');
        Ok(text)
    }
}

/// Bytes as people say them.
pub(super) fn size(bytes: u64) -> String {
    match bytes {
        0..10_240 => format!("{bytes} bytes"),
        10_240..10_485_760 => format!("{} KiB", bytes / 1024),
        _ => format!("{} MiB", bytes / 1_048_576),
    }
}

fn word(level: Level) -> &'static str {
    match level {
        Level::Note => "note",
        Level::Doubt => "DOUBT",
        Level::Fault => "FAULT",
    }
}

fn line(fault: &Fault, t: &Terminal) -> String {
    let mut about = fault.record.map_or_else(|| "archive".to_owned(), |n| format!("record {n}"));
    if let Some(file) = &fault.file {
        about.push_str(&format!(", {file}"));
    }
    t.wrapped(&format!("  {:<5} {about}:", word(fault.level)), &fault.text, 8)
}
