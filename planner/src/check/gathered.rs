//! The files of a job, gathered with their faults as they are read.

use std::collections::BTreeMap;
use std::path::PathBuf;

use crate::job::{Described, InputFile};
use crate::read::bounds::MOST_YAML_BYTES;
use crate::read::fault::{Fault, plain};
use crate::read::file_name;
use crate::read::given::At;
use crate::read::source::Source;
use crate::read::yaml;

/// Files of a job, read as they go by.
pub(super) struct Files {
    pub(super) places: Places,
    pub(super) read: Vec<InputFile>,
    pub(super) described: Described,
    pub(super) faults: Vec<Fault>,
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
            Self::Below(folder) => folder.join(name),
            // A name that the record does not have leads to no file.
            Self::Kept(kept) => kept.get(name).cloned().unwrap_or_default(),
        }
    }
}

impl Files {
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
        let carried = matches!(self.places, Places::Below(_));
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
                if !self.read.iter().any(|f| f.name == source.name) {
                    self.read.push(InputFile { name: source.name.clone(), sha256: source.sha256.clone() });
                }
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

    pub(super) fn parse<T: serde::de::DeserializeOwned>(
        &mut self,
        job: &Source,
        key: &str,
        name: &At<String>,
    ) -> Option<(Source, T)> {
        let source = self.open(job, key, name, MOST_YAML_BYTES)?;
        match yaml::parse(&source) {
            Ok(file) => {
                self.described.keep(key, source.clone());
                Some((source, file))
            }
            Err(fault) => {
                self.faults.push(*fault);
                None
            }
        }
    }

    pub(super) fn keep<T>(&mut self, checked: Result<T, Vec<Fault>>) -> Option<T> {
        checked.map_err(|mut faults| self.faults.append(&mut faults)).ok()
    }
}
