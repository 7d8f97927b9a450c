//! How the work of a job stands that is filed.

use std::path::Path;

use borewright_planner::job::Job;
use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;

use crate::commands::plan;
use crate::filing::Issued;
use crate::status::Failure;

/// How the work stands: as the plan was issued, or as the record has it by now where that is worse.
pub(super) struct Stands {
    pub(super) verdict: String,
    /// The first reason; empty at go.
    pub(super) why: String,
    /// What is to be said of it once it is filed.
    pub(super) remark: Option<String>,
}

impl Stands {
    /// # Errors
    /// A job that can no longer be planned.
    pub(super) fn of(path: &Path, job: &Job, issued: &Issued) -> Result<Self, Failure> {
        let then = issued.plan.verdict.clone();
        let as_issued = Self { verdict: then.clone(), why: plain(&issued.plan.why(), 360), remark: None };
        let before = plan::before(&plan::beside(path).join("plan.json"));
        let known = before.as_deref().and_then(plan::Before::of);
        let folder = if path.is_dir() { path } else { path.parent().unwrap_or(path) };
        let kept = !borewright_planner::record::kept(folder, &job.whose()).is_empty();
        let recorded = kept || !job.log.entries.is_empty() || !job.log.told.is_empty();
        if !recorded && known.as_ref().is_none_or(|known| !known.knows_a_record()) {
            return Ok(as_issued);
        }
        let now = plan::planned(path, None, None, &known.iter().collect::<Vec<_>>())?.plan;
        if Some(now.verdict) <= Verdict::of_word(&then) {
            return Ok(as_issued);
        }
        let first = now.findings.iter().find(|f| f.verdict == now.verdict);
        let why = first.map_or_else(String::new, |f| {
            format!("{}: {}", plain(&f.subject.to_string(), 60), plain(&f.text.to_string(), 300))
        });
        let remark = format!(
            "filed at {}, as `check` has the job by its record; its plan was issued at {}{}{why}",
            now.verdict.word(),
            plain(&then, 10),
            if why.is_empty() { "" } else { ": " }
        );
        Ok(Self { verdict: now.verdict.word().to_owned(), why, remark: Some(remark) })
    }
}
