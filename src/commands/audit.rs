//! `audit`: an archive held against itself.

use std::path::Path;

use borewright_archive::{Audit, Fault, Level, Stage, Time, Witness};
use serde_json::json;

use super::print;
use crate::args::Format;
use crate::keep;
use crate::status::{self, Failure, Status};

pub(super) fn run(
    place: &Path,
    logged: Option<&str>,
    at: Option<Time>,
    format: Format,
) -> Result<Status, Failure> {
    let archive = keep::archive(place, false)?;
    let scratch =
        tempfile::tempdir().map_err(|source| Failure::Disk { path: std::env::temp_dir(), source })?;
    let witness = Witness { logged: logged.map(str::to_owned), seen: None };
    let mut progress = Progress::default();
    let audit = archive.audit(&witness, scratch.path(), &mut |stage| progress.told(stage))?;
    progress.end();
    let at = at.unwrap_or_else(Time::now);
    match format {
        Format::Json => print(json_of(&audit, at)?.as_bytes())?,
        Format::Text => print(page(&audit, at, &status::shown(place)).as_bytes())?,
    }
    Ok(status_of(&audit))
}

fn status_of(audit: &Audit) -> Status {
    match audit.worst() {
        None | Some(Level::Note) => Status::Go,
        Some(Level::Doubt) => Status::Hold,
        Some(Level::Fault) => Status::Stop,
    }
}

/// How far it is, on a terminal only.
#[derive(Default)]
struct Progress {
    shown: bool,
}

impl Progress {
    fn told(&mut self, stage: Stage) {
        use std::io::{IsTerminal, Write};
        let mut to = std::io::stderr().lock();
        if !to.is_terminal() {
            return;
        }
        self.shown = true;
        let text = match stage {
            Stage::Chain(done, of) => format!("records: {done} of {of}"),
            Stage::Content(room, of, bytes) => {
                format!("what is kept: room {room} of {of}, {} MiB", bytes / 1_048_576)
            }
        };
        let _ = write!(to, "\r{text:<60}");
        let _ = to.flush();
    }

    fn end(&self) {
        use std::io::Write;
        if self.shown {
            let _ = write!(std::io::stderr().lock(), "\r{:<60}\r", "");
        }
    }
}

fn word(level: Level) -> &'static str {
    match level {
        Level::Note => "note",
        Level::Doubt => "DOUBT",
        Level::Fault => "FAULT",
    }
}

/// The summary that a lead signs.
fn page(audit: &Audit, at: Time, place: &str) -> String {
    let mut text = match audit.worst() {
        None | Some(Level::Note) => {
            "WHOLE: every record, every link and every kept byte is as it was filed\n"
        }
        Some(Level::Doubt) => "DOUBT: nothing filed is altered, but something wants looking at\n",
        Some(Level::Fault) => "FAULT: something was altered, lost or put in\n",
    }
    .to_owned();
    text.push_str(&format!("archive {place}\naudited {at} by {}\n", keep::TOOL));
    text.push_str(&format!(
        "{} whole records, {} kept files, {} MiB read\n",
        audit.records,
        audit.files,
        audit.bytes.div_ceil(1_048_576)
    ));
    if let Some(head) = audit.head {
        text.push_str(&format!("the chain ends at record {}    {}\n", head.number, head.sum.short()));
    }
    text.push('\n');
    for fault in &audit.faults {
        text.push_str(&line(fault));
    }
    if audit.more_faults > 0 {
        text.push_str(&format!("  … and {} more\n", audit.more_faults));
    }
    text.push_str("\nname ______________________  date ______________  signed ______________________\n");
    text
}

fn line(fault: &Fault) -> String {
    let mut about = fault.record.map_or_else(|| "archive".to_owned(), |n| format!("record {n}"));
    if let Some(file) = &fault.file {
        about.push_str(&format!(", {file}"));
    }
    borewright_output::wrapped(&format!("  {:<5} {about}:", word(fault.level)), &fault.text, 8)
}

fn json_of(audit: &Audit, at: Time) -> Result<String, Failure> {
    let faults: Vec<_> = audit
        .faults
        .iter()
        .map(|f| {
            json!({
                "level": word(f.level).to_lowercase(),
                "code": f.code,
                "record": f.record,
                "file": f.file,
                "text": f.text,
            })
        })
        .collect();
    let value = json!({
        "format": "borewright/audit/1",
        "at": at,
        "tool": keep::TOOL,
        "records": audit.records,
        "files": audit.files,
        "bytes": audit.bytes,
        "head": audit.head.map(|h| json!({ "record": h.number, "sha256": h.sum, "short": h.sum.short() })),
        "findings": faults,
        "more_findings": audit.more_faults,
    });
    let mut text = serde_json::to_string_pretty(&value).map_err(std::io::Error::other)?;
    text.push('\n');
    Ok(text)
}
