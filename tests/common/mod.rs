//! Job folders in temporary places, and the command run on them.

pub mod copy;

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::TempDir;

pub use copy::copy;

/// No run takes near as long, in whatever company; a guard against hanging, not a measure.
const GUARD: Duration = Duration::from_secs(60);
/// The same for a job of two cylinders, whatever its files hold.
const SMALL_GUARD: Duration = Duration::from_secs(10);

/// How a run ended.
pub struct Run {
    pub status: Option<i32>,
    pub out: String,
    pub err: String,
}

/// A command not yet started.
pub fn command() -> assert_cmd::Command {
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_borewright"));
    // What is remembered of an archive stays among the tests' own files.
    command.timeout(GUARD).env("XDG_CACHE_HOME", Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache"));
    command
}

/// Runs the command to its end.
pub fn run<S: AsRef<OsStr>>(arguments: &[S]) -> Run {
    ended(command().args(arguments))
}

/// Runs a prepared command to its end.
pub fn ended(command: &mut assert_cmd::Command) -> Run {
    let output = command.output().expect("the command runs and ends in time");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("what is printed is UTF-8");
    Run { status: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
}

/// The repository.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A folder that goes when the test ends.
pub struct Folder {
    place: TempDir,
    job: PathBuf,
    guard: Duration,
}

impl Folder {
    /// A copy of a base job of `blocks/invalid`: `base` or `base-vee`.
    pub fn base(name: &str) -> Self {
        let place = tempfile::tempdir().unwrap();
        let job = place.path().join("job");
        copy(&root().join("blocks/invalid").join(name), &job);
        Self { place, job, guard: SMALL_GUARD }
    }

    /// The small base job, planned at go.
    pub fn planned() -> Self {
        let job = Self::base("base");
        assert_eq!(job.plan().status, Some(0));
        job
    }

    /// A copy of the sample job with the files that it names.
    pub fn sample() -> Self {
        let place = tempfile::tempdir().unwrap();
        let blocks = root().join("blocks");
        for part in ["sleeves", "machines", "jobs/petrel-0412"] {
            copy(&blocks.join(part), &place.path().join(part));
        }
        for file in ["petrel-90.yaml", "shop.yaml"] {
            fs::copy(blocks.join(file), place.path().join(file)).unwrap();
        }
        let job = place.path().join("jobs/petrel-0412");
        Self { place, job, guard: GUARD }
    }

    /// The job's folder.
    pub fn job(&self) -> &Path {
        &self.job
    }

    /// What stands around the job.
    pub fn place(&self) -> &Path {
        self.place.path()
    }

    pub fn out(&self) -> PathBuf {
        self.job.join("out")
    }

    pub fn read(&self, file: &str) -> String {
        fs::read_to_string(self.job.join(file)).unwrap()
    }

    pub fn write(&self, file: &str, bytes: impl AsRef<[u8]>) {
        fs::write(self.job.join(file), bytes).unwrap();
    }

    /// Replaces text that must be in the file.
    pub fn edit(&self, file: &str, old: &str, new: &str) {
        let text = self.read(file);
        assert!(text.contains(old), "{file} holds no {old:?}");
        self.write(file, text.replacen(old, new, 1));
    }

    pub fn plan(&self) -> Run {
        self.command("plan")
    }

    pub fn check(&self) -> Run {
        self.command("check")
    }

    fn command(&self, name: &str) -> Run {
        ended(command().arg(name).arg(&self.job).timeout(self.guard))
    }

    /// Plans what must be rejected: status 2, a message, nothing on standard output, nothing written.
    pub fn rejected(&self) -> String {
        let before = files(self.place());
        let run = self.plan();
        assert_eq!(run.status, Some(2), "{}{}", run.out, run.err);
        assert_eq!(run.out, "");
        assert!(run.err.ends_with("nothing was written\n") && run.err.lines().count() > 1, "{}", run.err);
        assert_eq!(files(self.place()), before, "something was written");
        run.err
    }
}

/// Every file below a folder, by its path from there, sorted.
pub fn files(folder: &Path) -> Vec<String> {
    let (mut found, mut folders) = (Vec::new(), vec![folder.to_owned()]);
    while let Some(at) = folders.pop() {
        for entry in fs::read_dir(&at).unwrap() {
            let path = entry.unwrap().path();
            if fs::symlink_metadata(&path).unwrap().is_dir() {
                folders.push(path.clone());
            }
            // Named as the program names its files, on a system whose paths have other strokes too.
            let own = path.strip_prefix(folder).unwrap();
            let parts: Vec<_> = own.iter().map(|part| part.to_string_lossy()).collect();
            found.push(parts.join("/"));
        }
    }
    found.sort();
    found
}

/// Every file below a folder with its bytes, by its path from there, sorted.
pub fn contents(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let names = files(folder).into_iter().filter(|name| folder.join(name).is_file());
    names.map(|name| (name.clone(), fs::read(folder.join(name)).unwrap())).collect()
}

/// The text of a PDF's pages.
pub fn pdf_text(path: &Path) -> String {
    let document = lopdf::Document::load(path).unwrap();
    document.get_pages().keys().map(|page| document.extract_text(&[*page]).unwrap()).collect()
}
