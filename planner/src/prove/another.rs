//! Another plan of the same job, which lies with the job and replaced the one that is asked about.

use std::path::Path;

use super::files::is_whole;
use super::reference::Reference;
use crate::log;
use crate::read::bounds::MOST_PLAN_BYTES;
use crate::read::source::Source;

/// Where a job keeps its plan, under its folder.
const PLAN: &str = "out/plan.json";

/// The fingerprint of the plan that lies in a job's folder and was made from the same files as another of the job, with
/// another result: by another release, or by none any more. `None` where there is none, where one of them was changed since
/// it was written, and where it is no other.
#[must_use]
pub fn another_plan(plan: &Path, job: &Path) -> Option<String> {
    another(plan, &whole(plan)?, job)
}

/// The same, of a plan that was read.
pub(super) fn another(plan: &Path, asked: &Reference, job: &Path) -> Option<String> {
    let own = job.join(PLAN);
    let is_itself = || own.canonicalize().ok() == plan.canonicalize().ok();
    if asked.inputs.is_empty() || is_itself() {
        return None;
    }
    let own = whole(&own).filter(|own| own.job == asked.job && own.fingerprint != asked.fingerprint)?;
    let files = |of: &Reference, recorded: bool| {
        let own = of.inputs.iter().filter(|i| recorded || i.file != log::FILE);
        let mut files: Vec<_> = own.map(|i| (i.file.clone(), i.sha256.clone())).collect();
        files.sort_unstable();
        files
    };
    // With more of the record a plan says more, and a list of before may be good still; not by a release that is gone.
    let replaced = files(&own, true) == files(asked, true);
    let withdrawn =
        asked.release.is_some() && own.release != asked.release && files(&own, false) == files(asked, false);
    (replaced || withdrawn).then_some(own.fingerprint)
}

/// A plan as it was written; `None` of one that cannot be read or was changed.
fn whole(path: &Path) -> Option<Reference> {
    let name = path.display().to_string();
    let text = Source::read(&name, path, MOST_PLAN_BYTES).ok()?.text;
    Reference::parse(&name, &text).ok().filter(|plan| is_whole(&text, plan))
}
