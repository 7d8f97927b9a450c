//! A plan on the disk: whether it is as it was written, and where its job lies.

use std::path::{Path, PathBuf};

use super::flaw::{At, Flaws};
use super::reference::{List, Reference};
use super::sealed;
use crate::read::elsewhere::below;
use crate::read::source::sha256_hex;
use crate::read::sum::{State, state};

/// Whether a plan is as it was written, by what its text says of itself.
pub(crate) fn is_whole(text: &str, plan: &Reference) -> bool {
    let mut flaws = Flaws::default();
    whole(text, plan, &mut flaws);
    flaws.is_empty()
}

/// Whether seal and fingerprint are those of the text.
pub(super) fn whole(text: &str, plan: &Reference, flaws: &mut Flaws) {
    let mut fault = |code, found: &str, expected: &str| flaws.add(At::default(), code, found, expected);
    if !sealed::is_sealed(text) {
        let found = "a plan that was changed since it was written: its seal does not hold";
        fault("plan_seal", found, "plan.json as `borewright plan` wrote it");
    }
    if sealed::fingerprint(text).is_none_or(|own| own != plan.fingerprint) {
        let found = "a plan whose fingerprint is not that of its inputs and results";
        fault("plan_fingerprint", found, "plan.json as `borewright plan` wrote it");
    }
    let told = |l: &List| {
        let own = l.lines.as_ref().map(|lines| sha256_hex(format!("{}\n", lines.join("\n")).as_bytes()));
        own.as_ref() == Some(&l.sha256) && plan.sum_of(&l.file) == Some(l.sha256.as_str())
    };
    if !plan.lists.iter().all(told) {
        let found = "a plan whose lists have not the lines and sums that it says";
        fault("plan_lists", found, "one written by this version: plan the job again");
    }
}

/// How far above the plan's folder its job is looked for.
const ABOVE: usize = 4;

/// Where the job of a plan lies: beside the plan's folder, links followed, as in `JOB/out/plan.json`; else further above, where
/// one of its files is as it was planned from. `None` where it is not found.
pub(crate) fn job_of(plan: &Path, reference: &Reference) -> Option<PathBuf> {
    let plan = plan.canonicalize().ok()?;
    let above: Vec<&Path> = plan.ancestors().skip(2).take(ABOVE).collect();
    let first = reference.inputs.first()?;
    let own = |folder: &&Path| state(&folder.join(&first.file), &first.sha256, true) != State::Missing;
    let known = |folder: &&Path| {
        let mut own = reference.inputs.iter().filter(|i| below(&i.file).is_some());
        own.any(|i| state(&folder.join(&i.file), &i.sha256, true) == State::Unaltered)
    };
    let beside = above.first().copied().filter(own);
    beside.or_else(|| above.iter().copied().find(known)).map(Path::to_owned)
}
