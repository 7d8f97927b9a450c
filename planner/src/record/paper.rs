//! The plan that a shop works from, as the record needs it: its checks, from `plan.json`.

use std::path::Path;

use serde::Deserialize;

use crate::plan::check::Check;
use crate::read::fault::{Fault, Faults, Place, plain};
use crate::read::source::Source;

/// Largest plan that is read, bytes.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// A plan as it lies on the bench.
#[derive(Debug, Clone, Deserialize)]
pub struct Paper {
    format: String,
    /// The job's number.
    pub job: String,
    /// SHA-256 over inputs and results.
    pub fingerprint: String,
    /// What is measured.
    #[serde(default)]
    pub checks: Vec<Check>,
    /// The files it was made from.
    pub inputs: Vec<Made>,
}

/// A file that a plan was made from.
#[derive(Debug, Clone, Deserialize)]
pub struct Made {
    /// Its path as named in the job.
    pub file: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
}

impl Paper {
    /// Reads `plan.json`.
    ///
    /// # Errors
    /// A file that is missing, or is no plan of this program with checks.
    pub fn read(path: &Path) -> Result<Self, Faults> {
        let name = path.display().to_string();
        let one = |fault: Fault| Faults(vec![fault]);
        let source = Source::read(&name, path, MOST_BYTES).map_err(|mut fault| {
            fault.help = Some("plan first: what is measured is numbered by the plan".into());
            one(*fault)
        })?;
        let paper: Self = serde_json::from_str(&source.text).map_err(|error| {
            let place = Place { line: error.line().max(1), column: error.column().max(1) };
            let found = plain(&error.to_string(), 160);
            let mut fault = source.fault(Some(place), "", found, "a plan.json as `plan` writes it".into());
            fault.line_text = None;
            one(fault)
        })?;
        let other = (paper.format != "borewright/plan/1")
            .then(|| (format!("`{}`", plain(&paper.format, 60)), "`borewright/plan/1`"))
            .or_else(|| {
                let checks = "checks: plan again, it was made before checks had numbers";
                paper.checks.is_empty().then(|| ("no checks".to_owned(), checks))
            });
        match other {
            Some((found, expected)) => Err(one(source.fault(None, "", found, expected.into()))),
            None => Ok(paper),
        }
    }

    /// The plan's name in the record: enough digits to tell two papers apart.
    #[must_use]
    pub fn short(&self) -> String {
        self.fingerprint.chars().take(12).collect()
    }

    /// The inputs that are no longer what the plan was made from; the record itself is expected to grow.
    #[must_use]
    pub fn changed(&self, folder: &Path) -> Vec<String> {
        let other = |made: &&Made| {
            let bytes = std::fs::read(folder.join(&made.file)).unwrap_or_default();
            crate::read::source::sha256_hex(&bytes) != made.sha256
        };
        self.inputs
            .iter()
            .filter(|m| !m.file.ends_with("cut.csv"))
            .filter(other)
            .map(|m| m.file.clone())
            .collect()
    }
}
