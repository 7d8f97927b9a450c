//! Parts of a job that are read before the whole of it, or without it.

use std::path::{Path, PathBuf};

use crate::files::{BlockFile, JobFile};
use crate::log::Whose;
use crate::read::bounds::MOST_YAML_BYTES;
use crate::read::fault::Faults;
use crate::read::given::Units;
use crate::read::source::Source;
use crate::read::yaml::{self, Kind};

/// The units of a job's bare numbers, from its `job.yaml` alone: what was measured can be written down whatever else
/// is wrong with the job just now.
///
/// # Errors
/// A file that is missing or no job.
pub fn units(path: &Path) -> Result<Units, Faults> {
    Ok(job(path)?.1.units)
}

/// What tells a job from others, and the casting family of its block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Its number.
    pub number: String,
    /// Its customer; empty where it names none.
    pub customer: String,
    /// Its block's name.
    pub block: String,
    /// The casting family.
    pub family: Option<String>,
}

impl Named {
    /// As a record of the job is known again; `inputs` are the files that it was read from, each by its name in the job and its sum.
    #[must_use]
    pub fn whose<'a>(&self, inputs: impl Iterator<Item = (&'a str, &'a str)>) -> Whose {
        Whose::of([&self.number, &self.customer, &self.block], inputs)
    }
}

/// Whose a job is and of which family its block, from `job.yaml` and the block file alone: what the family says is asked
/// before anything is measured.
///
/// # Errors
/// A file that is missing or is no description.
pub fn named(path: &Path) -> Result<Named, Faults> {
    let (file, job) = job(path)?;
    let block = file.parent().unwrap_or(Path::new("")).join(&job.block.value);
    let block: BlockFile = parsed(&job.block.value, &block)?;
    Ok(Named {
        number: job.job.value,
        customer: job.customer.map(|customer| customer.value).unwrap_or_default(),
        block: block.name.value,
        family: block.family.map(|family| family.value),
    })
}

/// What a job calls the files that describe it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobFiles {
    /// Of the block.
    pub block: String,
    /// Of the machine.
    pub machine: String,
    /// Of the candidate sleeves.
    pub sleeves: Vec<String>,
    /// Of the shop's own figures, where it has them.
    pub shop: Option<String>,
}

/// What a job calls the files that describe it.
///
/// # Errors
/// A file that is missing or no job.
pub fn files_of(path: &Path) -> Result<JobFiles, Faults> {
    let job: JobFile = parsed(&path.display().to_string(), path)?;
    let sleeves = job.sleeves.value.into_iter().map(|sleeve| sleeve.value).collect();
    let shop = job.shop.map(|shop| shop.value);
    Ok(JobFiles { block: job.block.value, machine: job.machine.value, sleeves, shop })
}

/// A job's file, given it or its folder.
fn job(path: &Path) -> Result<(PathBuf, JobFile), Faults> {
    let file = if path.is_dir() { path.join("job.yaml") } else { path.to_owned() };
    let job = parsed(&file.display().to_string(), &file)?;
    Ok((file, job))
}

/// A file read into its type without checking its values, or the faults of its form.
fn parsed<F: Kind>(named: &str, path: &Path) -> Result<F, Faults> {
    let source = Source::read(named, path, MOST_YAML_BYTES).map_err(|fault| Faults(vec![*fault]))?;
    yaml::parse(&source).map_err(|faulty| Faults(faulty.faults))
}
