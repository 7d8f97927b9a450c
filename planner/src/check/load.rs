//! Loads a job: its own file, the files it names, and its record, all faults of all of them at once.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::gathered::{Files, Places};
use super::job::check;
use crate::files::JobFile;
use crate::job::{Described, InputFile, Job};
use crate::log::{self, Log};
use crate::read::bounds::{MOST_RECORD_BYTES, MOST_YAML_BYTES};
use crate::read::fault::{Fault, Faults};
use crate::read::source::Source;
use crate::read::yaml::{self, Amended, Faulty};

/// Most faults that are kept; more would add nothing.
const MOST_FAULTS: usize = 1000;

/// Reads and checks a whole job: a folder with `job.yaml`, or that file.
///
/// # Errors
/// Every fault of every file, as far as it can be told from those of its form (`read::yaml::parse`).
pub fn load(path: &Path) -> Result<Job, Faults> {
    let file = if path.is_dir() { path.join("job.yaml") } else { path.to_owned() };
    let folder = file.parent().map(Path::to_owned).unwrap_or_default();
    load_from(&file, Places::Below(folder))
}

/// Loads and checks a job whose files are kept elsewhere: `file` is its job.yaml, `kept` has every other file by
/// what the job calls it. No other file is read, whatever the job names.
///
/// # Errors
/// Every fault of every file, as far as it can be told from those of its form (`read::yaml::parse`).
pub fn load_kept(file: &Path, kept: &BTreeMap<String, PathBuf>) -> Result<Job, Faults> {
    load_from(file, Places::Kept(kept.clone()))
}

/// The checked job of a job file, its other files looked up by `places`; else every fault of it and of them, up to
/// a number.
fn load_from(file: &Path, places: Places) -> Result<Job, Faults> {
    let name = file.file_name().map_or_else(|| "job.yaml".into(), |n| n.to_string_lossy().into_owned());
    let source = Source::read(&name, file, MOST_YAML_BYTES).map_err(|mut f| {
        f.file = file.display().to_string();
        if f.place.is_none() && !file.exists() {
            f.expected = "a job folder with its job.yaml, or that file".into();
        }
        Faults(vec![*f])
    })?;
    let mut files = Files {
        places: Arc::new(places),
        read: vec![InputFile { name: source.name.clone(), sha256: source.sha256.clone() }],
        described: Described::default(),
        faults: Vec::new(),
        amended: Amended::default(),
    };
    let checked = match yaml::parse::<JobFile>(&source) {
        Ok(job) => check(&source, &job, &mut files),
        Err(faulty) => return Err(at_fault(&source, *faulty, files)),
    };
    files.described.keep("job", source);
    let log = record(&mut files);
    match checked {
        Some(mut job) if files.faults.is_empty() => {
            job.log = log;
            job.inputs = files.read;
            job.described = files.described;
            Ok(job)
        }
        _ => {
            files.faults.truncate(MOST_FAULTS);
            Err(Faults(files.faults))
        }
    }
}

/// The faults of a job whose own file is at fault in its form: those, and what else is wrong with it and with the files
/// that it names, but for what a stand-in may have caused.
fn at_fault(source: &Source, faulty: Faulty<JobFile>, mut files: Files) -> Faults {
    let mut faults = faulty.faults;
    if let Some(rest) = faulty.rest {
        files.amended = rest.amended;
        check(source, &rest.file, &mut files);
        record(&mut files);
        let amended = files.amended;
        let caused = |fault: &Fault| fault.file == source.name && amended.may_cause(fault);
        faults.extend(files.faults.into_iter().filter(|fault| !caused(fault)));
    }
    faults.truncate(MOST_FAULTS);
    Faults(faults)
}

/// The record, where the job has one. What is wrong in it is a finding of the plan and no fault of the job.
fn record(files: &mut Files) -> Log {
    let path = files.places.path(log::FILE);
    if std::fs::symlink_metadata(&path).is_err() {
        return Log::default();
    }
    match Source::read(log::FILE, &path, MOST_RECORD_BYTES) {
        Ok(source) => {
            files.read.push(InputFile { name: source.name.clone(), sha256: source.sha256.clone() });
            Log::read(source.text.as_bytes())
        }
        Err(fault) => {
            files.faults.push(*fault);
            Log::default()
        }
    }
}
