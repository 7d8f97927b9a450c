//! What a plan was issued as: the folder that `plan` wrote, as it wrote it, and what of its plan is asked here.

use std::path::{Path, PathBuf};

use borewright_archive::{Item, Sum};
use borewright_planner::job::Job;
use borewright_planner::read::sum::{State, state};
use borewright_planner::record::FILE;
use serde::Deserialize;

use crate::folder;
use crate::status::Failure;

/// The written folder.
pub(crate) struct Issued {
    folder: PathBuf,
    written: Vec<(String, String)>,
    /// What of the plan is asked here.
    pub(crate) plan: Brief,
}

/// Parts of `plan.json`.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Brief {
    pub(crate) verdict: String,
    pub(crate) fingerprint: String,
    pub(crate) release: Option<Release>,
    pub(crate) cylinders: Vec<Cylinder>,
    #[serde(default)]
    times: Vec<StageTime>,
    inputs: Vec<Input>,
    #[serde(default)]
    passes: Vec<Pass>,
    #[serde(default)]
    findings: Vec<Finding>,
}

/// What sets its verdict.
#[derive(Debug, Clone, Deserialize)]
struct Finding {
    verdict: String,
    subject: String,
    text: String,
}

/// A pass, by what it is cut with.
#[derive(Debug, Clone, Deserialize)]
struct Pass {
    tool: Option<String>,
}

/// Minutes of a stage.
#[derive(Debug, Clone, Deserialize)]
struct StageTime {
    work: f64,
    handling: f64,
}

impl Brief {
    /// The first file that is not as the plan was made from it. A record that was begun or added to since is: its lines name the
    /// plan that was cut by, and a plan made anew has no lists left of what is cut.
    fn other_input<'i>(&'i self, folder: &Path, job: &'i Job) -> Option<&'i str> {
        let read = |made: &Input| job.inputs.iter().any(|i| i.name == made.file && i.sha256 == made.sha256);
        let grown =
            |made: &Input| made.file == FILE && state(&folder.join(FILE), &made.sha256, true) == State::Grown;
        let changed =
            self.inputs.iter().find(|made| !read(made) && !grown(made)).map(|made| made.file.as_str());
        let known = |name: &str| name == FILE || self.inputs.iter().any(|made| made.file == name);
        changed.or_else(|| job.inputs.iter().map(|i| i.name.as_str()).find(|name| !known(name)))
    }

    /// Its first finding that says why it is not go; empty where none does.
    pub(crate) fn why(&self) -> String {
        let first = self.findings.iter().find(|f| self.verdict != "go" && f.verdict == self.verdict);
        first.map_or_else(String::new, |f| format!("{}: {}", f.subject, f.text))
    }

    /// The tools of its passes, each as often as it is asked for.
    pub(crate) fn tools(&self) -> impl Iterator<Item = &str> {
        self.passes.iter().filter_map(|pass| pass.tool.as_deref())
    }

    /// Hours that the plan asks for.
    pub(crate) fn hours(&self) -> f64 {
        self.times.iter().map(|t| t.work + t.handling).sum::<f64>() / 60.0
    }
}

#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Release {
    pub(crate) who: String,
}

#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Cylinder {
    pub(crate) sleeve: String,
}

#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
struct Input {
    file: String,
    sha256: String,
}

impl Issued {
    /// Reads the folder that `plan` wrote for a job in a folder.
    ///
    /// # Errors
    /// None there, one that was changed since, or one that was made from other inputs.
    pub(crate) fn read(out: &Path, folder: &Path, job: &Job) -> Result<Self, Failure> {
        let refuse = |path: &Path, found: &str, expected| {
            Err(Failure::Place { path: path.to_owned(), found: found.to_owned(), expected })
        };
        let path = out.join("plan.json");
        let (Some(text), Some(written)) = (crate::commands::plan::before(&path), folder::written(out)) else {
            return refuse(
                out,
                "no plan as it was written",
                "the folder that `plan` wrote: plan the job first",
            );
        };
        if let Some((path, found)) = folder::foreign(out)? {
            return refuse(
                &path,
                found,
                "the plan as it was written: put files of your own into notes/ of the job",
            );
        }
        let Ok(plan) = serde_json::from_str::<Brief>(&text) else {
            return refuse(
                &path,
                "a plan that this version does not read",
                "one of this version: plan again",
            );
        };
        if let Some(other) = plan.other_input(folder, job) {
            let found =
                format!("a plan made before `{}` was changed", crate::status::shown(Path::new(other)));
            return refuse(&path, &found, "a plan of the job as it is: plan again, then file");
        }
        Ok(Self { folder: out.to_owned(), written, plan })
    }

    /// Its files, each with the sum that it was written with.
    pub(super) fn items(&self) -> impl Iterator<Item = Item> + '_ {
        let one = |(sum, name): &(String, String)| {
            let mut item = Item::at(format!("job/out/{name}"), self.folder.join(name));
            item.expected = Sum::parse(sum);
            item
        };
        let list = Item::at("job/out/.written".to_owned(), self.folder.join(".written"));
        self.written.iter().map(one).chain(std::iter::once(list))
    }
}
