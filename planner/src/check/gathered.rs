//! The files of a job, gathered with their faults as they are read.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use crate::job::{Described, InputFile};
use crate::read::bounds::MOST_YAML_BYTES;
use crate::read::fault::{Fault, plain};
use crate::read::given::At;
use crate::read::source::Source;
use crate::read::yaml::{self, Amended, Kind};
use crate::read::{elsewhere, file_name};

/// Files of a job, read as they go by.
pub(super) struct Files {
    pub(super) places: Arc<Places>,
    pub(super) read: Vec<InputFile>,
    pub(super) described: Described,
    pub(super) faults: Vec<Fault>,
    /// What of the job's own file is a stand-in.
    pub(super) amended: Amended,
}

/// Where the files lie that a job names.
pub(super) enum Places {
    /// Relative to the job's folder.
    Below(PathBuf),
    /// At these paths, by what the job calls each file, and nowhere else.
    Kept(BTreeMap<String, PathBuf>),
}

impl Places {
    pub(super) fn path(&self, name: &str) -> PathBuf {
        match self {
            Self::Below(folder) => elsewhere::place_of(folder, name),
            // A name that the record does not have leads to no file.
            Self::Kept(kept) => kept.get(name).cloned().unwrap_or_default(),
        }
    }
}

impl Files {
    /// What reads some of the job's files beside others, to be joined again.
    pub(super) fn beside(&self) -> Self {
        Self {
            places: Arc::clone(&self.places),
            read: Vec::new(),
            described: Described::default(),
            faults: Vec::new(),
            amended: self.amended.clone(),
        }
    }

    /// Takes in what was read beside: its tables, no descriptions, behind its own.
    pub(super) fn join(&mut self, beside: Self) {
        for file in beside.read {
            self.note(file);
        }
        self.faults.extend(beside.faults);
    }

    /// Notes a file among the inputs, once.
    fn note(&mut self, file: InputFile) {
        if !self.read.iter().any(|f| f.name == file.name) {
            self.read.push(file);
        }
    }

    /// Whether only the form of the files that the job names can be looked at: what their values are judged by stands in
    /// the job, and is at fault there.
    pub(super) fn form_only(&self) -> bool {
        self.amended.has("units") || self.amended.has("materials")
    }

    /// The text of a file that the job names at `key`, noted once among the inputs; `None` where it cannot be read,
    /// which is told at the name in the job.
    pub(super) fn open(
        &mut self,
        job: &Source,
        key: &str,
        name: &At<String>,
        most_bytes: u64,
    ) -> Option<Source> {
        let path = self.places.path(name.value.trim());
        // Names are only checked in a job's own folder: an archive's record has given every file a place of its
        // own.
        let carried = matches!(*self.places, Places::Below(_));
        if let Some(found) = Some(name.value.trim()).filter(|_| carried).and_then(file_name::fault) {
            let found = format!("`{}`: {found}", plain(name.value.trim(), 80));
            let expected = "a name that every system reads alike".to_owned();
            let mut fault = job.fault(Some(name.place), key, found, expected);
            if name.value.contains('\\') {
                fault.help = Some("write `/` between folders: every system reads it".into());
            }
            self.faults.push(fault);
            return None;
        }
        match Source::read(name.value.trim(), &path, most_bytes) {
            Ok(source) => {
                self.note(InputFile { name: source.name.clone(), sha256: source.sha256.clone() });
                Some(source)
            }
            Err(fault) => {
                // A file that cannot be opened is the job's fault, at the name; bad bytes are the file's own.
                let fault = if fault.place.is_some() {
                    *fault
                } else {
                    let found = format!("`{}`: {}", plain(name.value.trim(), 80), fault.found);
                    job.fault(Some(name.place), key, found, fault.expected)
                };
                self.faults.push(fault);
                None
            }
        }
    }

    /// A description that the job names at `key`, with what `check` makes of it, if it is sound; `None` where its form is at
    /// fault. All faults are told: of one at fault in its form also those of values that no stand-in can have caused.
    pub(super) fn described<T: Kind, C>(
        &mut self,
        job: &Source,
        key: &str,
        name: &At<String>,
        check: impl Fn(&Source, &T) -> Result<C, Vec<Fault>>,
    ) -> Option<(Source, T, Option<C>)> {
        let source = self.open(job, key, name, MOST_YAML_BYTES)?;
        match yaml::parse::<T>(&source) {
            Ok(file) => {
                self.described.keep(key, source.clone());
                let checked = check(&source, &file);
                let checked = if self.form_only() { checked.ok() } else { self.keep(checked) };
                Some((source, file, checked))
            }
            Err(mut faulty) => {
                self.faults.append(&mut faulty.faults);
                let found = faulty.rest.as_ref().map(|rest| (rest, check(&source, &rest.file)));
                if let Some((rest, Err(found))) = found.filter(|_| !self.form_only()) {
                    self.faults.extend(found.into_iter().filter(|fault| !rest.amended.may_cause(fault)));
                }
                None
            }
        }
    }

    pub(super) fn keep<T>(&mut self, checked: Result<T, Vec<Fault>>) -> Option<T> {
        checked.map_err(|mut faults| self.faults.append(&mut faults)).ok()
    }
}
