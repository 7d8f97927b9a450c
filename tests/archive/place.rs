//! A planned job and an archive to file it in.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

use crate::common::{Folder, Run, command, ended};

pub(crate) struct Shop {
    pub(crate) job: Folder,
    pub(crate) archive: PathBuf,
}

impl Shop {
    /// The small base job, planned, and no archive yet.
    pub(crate) fn planned() -> Self {
        let job = Folder::base("base");
        let run = job.plan();
        assert!(matches!(run.status, Some(0 | 3 | 4)), "{}", run.err);
        let archive = job.place().join("archive");
        Self { job, archive }
    }

    /// The same with notes, filed once.
    pub(crate) fn filed() -> Self {
        let shop = Self::planned();
        fs::create_dir_all(shop.job.job().join("notes")).unwrap();
        shop.job.write("notes/first.txt", "the deck was hit by a spanner\n");
        let run = shop.file(&["--begin"]);
        assert_eq!(run.status, Some(0), "{}", run.err);
        shop
    }

    pub(crate) fn file(&self, more: &[&str]) -> Run {
        let job = self.job.job().as_os_str();
        let at = ["--at", "2024-11-26T08:15:00Z"].map(OsStr::new);
        self.run(&[&[OsStr::new("file"), job], at.as_slice()].concat(), more)
    }

    /// Kills filings after so many tenths of the time that one takes: the archive holds no fault after any, and the last
    /// job is filed after all.
    pub(crate) fn outlives_kills(&self, tenths: &[u32]) {
        let start = Instant::now();
        self.job.write("notes/first.txt", "timed");
        assert_eq!(self.file(&[]).status, Some(0));
        let took = start.elapsed();
        for tenth in tenths {
            self.job.write("notes/first.txt", format!("killed after {tenth} tenths"));
            let mut file = Command::new(env!("CARGO_BIN_EXE_borewright"));
            file.arg("file").arg(self.job.job()).arg("--archive").arg(&self.archive);
            let mut run = file.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
            std::thread::sleep(took * *tenth / 10);
            run.kill().unwrap();
            run.wait().unwrap();
            let audit = self.audit(&[]);
            assert!(matches!(audit.status, Some(0 | 3)), "{}", audit.out);
            assert!(!audit.out.contains("FAULT"), "{}", audit.out);
        }
        // The last is filed now, or was.
        let again = self.file(&[]);
        assert_eq!(again.status, Some(0), "{}", again.err);
    }

    /// As somebody audits who never did before.
    pub(crate) fn audit(&self, more: &[&str]) -> Run {
        let _ = fs::remove_dir_all(self.cache());
        self.audit_again(&[&["--without-plans"], more].concat())
    }

    /// As somebody audits who remembers.
    pub(crate) fn audit_again(&self, more: &[&str]) -> Run {
        let cache = self.cache();
        let always = ["audit", "--at", "2026-11-27", "--cache"].map(OsStr::new);
        self.run(&[always.as_slice(), &[cache.as_os_str()]].concat(), more)
    }

    pub(crate) fn cache(&self) -> PathBuf {
        self.job.place().join("cache")
    }

    pub(crate) fn open(&self, more: &[&str]) -> Run {
        self.run(&[OsStr::new("open")], more)
    }

    fn run(&self, arguments: &[&OsStr], more: &[&str]) -> Run {
        ended(command().args(arguments).args(more).arg("--archive").arg(&self.archive))
    }

    /// The file that holds a record.
    pub(crate) fn record(&self, number: u32) -> PathBuf {
        self.archive.join(format!("records/000/000/{number:09}.json"))
    }

    /// The file that holds what a record calls so.
    pub(crate) fn kept(&self, number: u32, name: &str) -> PathBuf {
        let record: serde_json::Value =
            serde_json::from_str(&fs::read_to_string(self.record(number)).unwrap()).unwrap();
        let files = record["files"].as_array().unwrap();
        let file = files.iter().find(|f| f["name"] == name).unwrap();
        let sum = file["sha256"].as_str().unwrap();
        self.archive.join("content").join(&sum[..2]).join(sum)
    }
}

/// A record's JSON changed and sealed again with its right sum, as a forger would.
pub(crate) fn forged(bytes: &[u8], old: &str, new: &str) -> Vec<u8> {
    let text = std::str::from_utf8(bytes).unwrap();
    assert!(text.contains(old), "{old}");
    let body = text[..text.rfind(",\n  \"sha256\"").unwrap()].replacen(old, new, 1);
    format!("{body},\n  \"sha256\": \"{}\"\n}}\n", sum(body.as_bytes())).into_bytes()
}

/// The system's own sum, not the program's.
pub(crate) fn sum(bytes: &[u8]) -> String {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("bytes"), bytes).unwrap();
    let run = std::process::Command::new("sha256sum").arg(place.path().join("bytes")).output().unwrap();
    String::from_utf8(run.stdout).unwrap()[..64].to_owned()
}

/// Writes over what is closed to writing, as only somebody with an intent does.
pub(crate) fn put(path: &Path, bytes: &[u8]) {
    let _ = fs::remove_file(path);
    fs::write(path, bytes).unwrap();
}

/// Four jobs filed into one archive at once; the numbers that they got, in order.
pub fn four_at_once(archive: &OsStr) -> Vec<u64> {
    let jobs: Vec<Folder> = (0..4)
        .map(|n| {
            let job = Folder::base("base");
            job.edit("job.yaml", "\"0731\"", &format!("\"080{n}\""));
            job.plan();
            job
        })
        .collect();
    let file = |job: &Folder| {
        let mut file = Command::new(env!("CARGO_BIN_EXE_borewright"));
        file.arg("file").arg(job.job()).args(["--format", "json", "--archive"]).arg(archive);
        file.stdout(Stdio::piped()).spawn().unwrap()
    };
    let runs: Vec<_> = jobs.iter().map(file).collect();
    let mut numbers: Vec<u64> = runs
        .into_iter()
        .map(|run| {
            let out = run.wait_with_output().unwrap();
            assert!(out.status.success());
            serde_json::from_slice::<serde_json::Value>(&out.stdout).unwrap()["record"].as_u64().unwrap()
        })
        .collect();
    numbers.sort_unstable();
    numbers
}
