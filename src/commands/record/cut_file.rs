//! The record on the disk: only ever added to, one at a time, and on the disk before anything is said.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use borewright_planner::read::bounds::MOST_RECORD_BYTES;
use borewright_planner::record::{FILE, Fields, Log, Whose};

use crate::commands::last_line;
use crate::folder;
use crate::status::Failure;

/// Another's line is written in milliseconds: whoever holds the record longer is waited for this long.
const PATIENCE: Duration = Duration::from_secs(10);
/// Between two looks whether it is free.
const PAUSE: Duration = Duration::from_millis(20);
/// An editor that replaces the file while it is written to is given way so often.
const TRIES: usize = 5;

/// `readings/cut.csv` of a job.
pub(super) struct CutFile {
    path: PathBuf,
    folder: PathBuf,
    whose: Whose,
}

impl CutFile {
    /// That of the job in a folder.
    pub(super) fn new(folder: &Path, whose: Whose) -> Self {
        Self { path: folder.join(FILE), folder: folder.to_owned(), whose }
    }

    /// Whose it is to be.
    pub(super) fn whose(&self) -> &Whose {
        &self.whose
    }

    fn disk(&self) -> impl FnOnce(io::Error) -> Failure + '_ {
        |source| Failure::Disk { path: self.path.clone(), source }
    }

    /// The record as it is now; an empty one where there is none yet.
    pub(super) fn read(&self) -> Result<Log, Failure> {
        match self.open(false) {
            Ok(mut file) => Ok(Log::read(&self.bytes(&mut file)?)),
            Err(Failure::Disk { source, .. }) if source.kind() == io::ErrorKind::NotFound => {
                Ok(Log::default())
            }
            Err(failure) => Err(failure),
        }
    }

    fn open(&self, make: bool) -> Result<File, Failure> {
        // A pipe or a device in its place could wait for ever.
        match fs::metadata(&self.path) {
            Ok(about) if !about.is_file() => {
                return Err(Failure::Place {
                    path: self.path.clone(),
                    found: "something that is not a file".into(),
                    expected: "the table of what was measured",
                });
            }
            Err(e) if e.kind() != io::ErrorKind::NotFound => return Err(self.disk()(e)),
            _ => {}
        }
        let mut options = OpenOptions::new();
        options.read(true);
        if make {
            options.append(true).create(true);
        }
        options.open(&self.path).map_err(self.disk())
    }

    fn bytes(&self, file: &mut File) -> Result<Vec<u8>, Failure> {
        let mut bytes = Vec::new();
        file.take(MOST_RECORD_BYTES + 1).read_to_end(&mut bytes).map_err(self.disk())?;
        if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > MOST_RECORD_BYTES {
            return Err(Failure::Place {
                path: self.path.clone(),
                found: "a file larger than 64 MiB".into(),
                expected: "the table of what was measured",
            });
        }
        Ok(bytes)
    }

    /// Adds what `decide` makes of the record as it stands, and gives the record with it; `None` where it makes
    /// nothing. The lines are on the disk when this comes back, or none of them is.
    ///
    /// # Errors
    /// Somebody else at it for long, and what the disk refuses: then nothing was added.
    pub(super) fn add(
        &self,
        decide: impl Fn(&Log) -> Result<Option<Fields>, Failure>,
    ) -> Result<Option<Log>, Failure> {
        self.add_all(|log| Ok(decide(log)?.into_iter().collect()))
    }

    /// Adds several lines in one write, all or none; none where `decide` gives none.
    ///
    /// # Errors
    /// What `decide` refuses, and what the disk does.
    pub(super) fn add_all(
        &self,
        decide: impl Fn(&Log) -> Result<Vec<Fields>, Failure>,
    ) -> Result<Option<Log>, Failure> {
        let above = self.path.parent().unwrap_or(Path::new("."));
        folder::create_dir_all(above)?;
        let _lock = self.lock(above)?;
        for _ in 0..TRIES {
            let new = !self.path.exists();
            let mut file = self.open(true)?;
            let before = self.bytes(&mut file)?;
            let log = Log::read(&before);
            let lines = decide(&log)?;
            if lines.is_empty() {
                return Ok(None);
            }
            last_line::begin(&self.folder, &self.whose, &log);
            let (text, _) = log.all_added(&lines);
            let length = u64::try_from(before.len()).unwrap_or(u64::MAX);
            if let Err(error) = file.write_all(text.as_bytes()).and_then(|()| file.sync_all()) {
                // Half a line would be told of for ever: what was not answered goes, as far as the disk lets it.
                let _ = file.set_len(length).and_then(|()| file.sync_all());
                if new && length == 0 {
                    let _ = fs::remove_file(&self.path);
                }
                return Err(Failure::NotRecorded { path: self.path.clone(), source: error });
            }
            if new {
                folder::sync_folder(above).map_err(self.disk())?;
            }
            // An editor that saves puts another file into this one's place.
            let mut now = self.open(false)?;
            let after = self.bytes(&mut now)?;
            if after.len() == before.len() + text.len() && after.ends_with(text.as_bytes()) {
                let added = Log::read(&after);
                last_line::keep(&self.folder, &self.whose, (&log, &added));
                return Ok(Some(added));
            }
        }
        let source = io::Error::other("another program keeps replacing this file");
        Err(Failure::NotRecorded { path: self.path.clone(), source })
    }

    fn lock(&self, above: &Path) -> Result<folder::Lock, Failure> {
        let until = Instant::now() + PATIENCE;
        loop {
            match folder::take(above, &self.path) {
                Err(Failure::Busy { .. }) if Instant::now() < until => std::thread::sleep(PAUSE),
                Err(Failure::Busy { path }) => return Err(Failure::Recording { path }),
                other => return other,
            }
        }
    }
}
