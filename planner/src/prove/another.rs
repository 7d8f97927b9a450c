//! Another plan of the same job, which lies with the job and replaced the one that is asked about.

use std::path::Path;

use super::plan_file::is_whole;
use super::reference::Reference;
use super::sealed;
use crate::log;
use crate::read::bounds::MOST_PLAN_BYTES;
use crate::read::name::alike;
use crate::read::source::Source;

/// Where a job keeps its plan, under its folder.
const PLAN: &str = "out/plan.json";

/// The fingerprint of the plan that lies in a job's folder and was made from the same files as another of the job, with
/// another result: by another release, or by none any more. `None` where there is none, where one of them was changed since
/// it was written, where it is no other, and where the same person released the same in other words.
#[must_use]
pub fn another_plan(plan: &Path, job: &Path) -> Option<String> {
    let (asked, text) = whole(plan)?;
    another(plan, (&asked, &text), job)
}

/// The same, of a plan that was read, with its text.
pub(super) fn another(plan: &Path, asked: (&Reference, &str), job: &Path) -> Option<String> {
    let own_path = job.join(PLAN);
    let is_itself = || own_path.canonicalize().ok() == plan.canonicalize().ok();
    if asked.0.inputs.is_empty() || is_itself() {
        return None;
    }
    let (own, text) = whole(&own_path)
        .filter(|(own, _)| own.job == asked.0.job && own.fingerprint != asked.0.fingerprint)?;
    let files = |of: &Reference, recorded: bool| {
        let own = of.inputs.iter().filter(|i| recorded || i.file != log::FILE);
        let mut files: Vec<_> = own.map(|i| (i.file.clone(), i.sha256.clone())).collect();
        files.sort_unstable();
        files
    };
    // With more of the record a plan says more, and a list of before may be good still; not by a release that is gone.
    let replaced = files(&own, true) == files(asked.0, true) && !is_reworded((&own, &text), asked);
    let withdrawn = asked.0.release.is_some()
        && own.release != asked.0.release
        && !are_of_one(&own, asked.0)
        && files(&own, false) == files(asked.0, false);
    (replaced || withdrawn).then_some(own.fingerprint)
}

/// Whether both were released, by one person.
fn are_of_one(own: &Reference, asked: &Reference) -> bool {
    who(own).zip(who(asked)).is_some_and(|(own, asked)| !own.is_empty() && alike(own, asked))
}

/// Whether two plans that one person released come to the same results, and so allow the same: they differ in why.
fn is_reworded((own, own_text): (&Reference, &str), (asked, text): (&Reference, &str)) -> bool {
    let [own_sum, sum] = [own_text, text].map(sealed::but_for_release);
    are_of_one(own, asked) && own_sum.is_some() && own_sum == sum
}

/// Who released a plan.
fn who(plan: &Reference) -> Option<&str> {
    plan.release.as_ref()?.get("who")?.as_str()
}

/// A plan as it was written, and its text; `None` of one that cannot be read or was changed.
fn whole(path: &Path) -> Option<(Reference, String)> {
    let name = path.display().to_string();
    let text = Source::read(&name, path, MOST_PLAN_BYTES).ok()?.text;
    let plan = Reference::parse(&name, &text).ok().filter(|plan| is_whole(&text, plan))?;
    Some((plan, text))
}
