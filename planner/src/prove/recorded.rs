//! The record against a list: what has held or stopped its bores since it was planned, so that it must not be cut.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::flaw::{Flaw, Proof};
use super::plan_file::job_of;
use super::reference::Reference;
use crate::check;
use crate::log::{self, Log, Whose};
use crate::plan::check::{Check, What};
use crate::plan::{Stage, Verdict};
use crate::read::bounds::MOST_RECORD_BYTES;
use crate::read::fault::plain;
use crate::read::sum::begins_with;
use crate::record::{Paper, Standing, WorkFinding, as_cut, is_whole};

/// Stages in the order of the work on a bore; the deck may be cut before or after.
const ORDER: [Stage; 5] = [Stage::Rough, Stage::Pocket, Stage::Fit, Stage::Finish, Stage::Hone];

/// What the record says against a list that its plan did not know of.
pub(super) fn recorded(plan: &Path, reference: &Reference, proof: &mut Proof) {
    let Some(job) = job_of(plan, reference) else { return };
    let path = job.join(log::FILE);
    if job.join(log::NOT_THE_LAST).is_file() {
        let found = format!(
            "a folder that is not the last of its job, as {} in it says: open the last",
            log::NOT_THE_LAST
        );
        return against(proof, found);
    }
    let paper = Paper::read(plan).ok();
    let whose = paper.as_ref().map(|paper| whose(&job, reference, paper));
    let kept = whose.iter().flat_map(|whose| log::kept(&job, whose)).collect::<Vec<_>>();
    // None was begun, or it is missed as an input of the plan.
    if path.symlink_metadata().is_err() {
        if !kept.is_empty() {
            against(proof, "the record of this job is gone, in which lines were recorded".into());
        }
        return;
    }
    let Some(bytes) = read(&path) else {
        return against(proof, "a record that cannot be read".into());
    };
    let sum = reference.inputs.iter().find(|i| i.file == log::FILE).map(|i| i.sha256.as_str());
    // One that was altered is missed as an input.
    let Some(known) = sum.map_or(Some(0), |sum| begins_with(&bytes, sum)) else { return };
    let (then, now) = (bytes.get(..known).unwrap_or_default(), bytes.as_slice());
    // What stands beside the record is told as a line of it, and let through as one.
    let mut whole = Log::read(now);
    let told = whole.told.len();
    whose.iter().for_each(|whose| log::tell_beside(&job, whose, &mut whole));
    if then.len() == now.len() && whole.told.len() == told {
        return;
    }
    if sum.is_none() {
        proof.notes.push(format!("{} was begun since the plan was made", log::FILE));
    }
    let Some(paper) = paper else {
        return against(proof, "a plan that its record cannot be held against".into());
    };
    let file = reference.inputs.first().map(|i| job.join(&i.file));
    // Readings are judged by what the job says of them, in its units.
    let loaded = file.and_then(|f| Some((check::units(&f).ok()?, check::load(&f).ok()?)));
    let Some((units, job)) = loaded else {
        return against(proof, "a record that goes on, of a job that cannot be read".into());
    };
    let standing = |log: &Log| Standing::of(log, &paper.checks, units);
    let [was, is] = [standing(&Log::read(then)), standing(&whole)];
    for found in [behind(&is, &paper, proof), finished([&was, &is], &paper, proof)].into_iter().flatten() {
        against(proof, found);
    }
    let before = as_cut::findings(Some(&job), &paper, &was);
    let new = as_cut::findings(Some(&job), &paper, &is);
    let new = new.into_iter().filter(|f| f.verdict > Verdict::Go && !before.contains(f));
    let of_list = |f: &WorkFinding| proof.cylinders.iter().any(|n| f.subject.concerns(*n, &proof.bank));
    let told: Vec<String> = new
        .filter(of_list)
        .map(|f| {
            format!(
                "{} at {} by the record since: {}",
                plain(&f.subject.to_string(), 60),
                f.verdict.word(),
                f.whole()
            )
        })
        .collect();
    told.into_iter().for_each(|found| against(proof, found));
}

/// Whose the plan's job is; by its number alone where its files do not say.
fn whose(job: &Path, reference: &Reference, paper: &Paper) -> Whose {
    let inputs = || reference.inputs.iter().map(|i| (i.file.as_str(), i.sha256.as_str()));
    let named = reference.inputs.first().and_then(|main| check::named(&job.join(&main.file)).ok());
    named.map_or_else(|| Whose::numbered(&paper.job), |named| named.whose(inputs()))
}

/// What is wrong where a later stage was read in a bore of this list since it was planned, in words: cut again, the
/// tool would meet what is in the bore by now.
fn behind(standing: &Standing, paper: &Paper, proof: &Proof) -> Option<String> {
    let own = ORDER.iter().position(|stage| stage.word() == proof.stage)?;
    let later = paper.checks.iter().filter(|check| ORDER.iter().skip(own + 1).any(|s| *s == check.stage));
    let read = |check: &Check| {
        let at = |n: &u32| standing.of_check(check.check, Some(*n)).next().map(|_| *n);
        proof.cylinders.iter().find_map(at).map(|n| (n, check.check, check.stage))
    };
    let (cylinder, check, stage) = later.filter_map(read).next_back()?;
    Some(format!(
        "cylinder {cylinder} is past this list by the record since: CHECK {check} of {} was read in it",
        stage.word()
    ))
}

/// What is wrong where every check of this list's stage was read in all its bores since it was planned, or that of one of its steps
/// to size: run again it takes finishing cuts through what is to size, and a list planned anew leaves them out.
fn finished([then, now]: [&Standing; 2], paper: &Paper, proof: &Proof) -> Option<String> {
    let own = || paper.checks.iter().filter(|c| c.stage.word() == proof.stage && c.step.is_some());
    // What was whole when the list was planned is in it no more.
    let sized = |check: &&Check, n: u32| {
        is_whole(now, check, Some(n)) && !is_whole(then, check, Some(n)) && check.at(Some(n)).is_some()
    };
    let of_bore = |n: &u32| {
        let mut of = own().filter(|c| c.at(Some(*n)).is_some()).peekable();
        of.peek().is_some() && of.all(|c| sized(&c, *n))
    };
    if proof.cylinders.is_empty() {
        return None;
    }
    if proof.cylinders.iter().all(of_bore) {
        return Some(format!("the {} of all its bores is read as done by the record since", proof.stage));
    }
    let mut to_size = own().filter(|c| matches!(c.what, What::Size | What::Ledge));
    let step = to_size.find(|c| {
        let listed = || proof.cylinders.iter().filter(|n| c.at(Some(**n)).is_some());
        listed().next().is_some() && listed().all(|n| sized(c, *n))
    })?;
    Some(format!(
        "CHECK {}, {}, is read whole in all its bores by the record since: that step is done",
        step.check,
        plain(&step.feature, 40)
    ))
}

fn against(proof: &mut Proof, found: String) {
    proof.proven = false;
    let expected = "a list planned with the record as it is now: plan the job again";
    proof.flaws.push(Flaw { line: None, block: None, code: "recorded", found, expected: expected.into() });
}

/// The bytes of a file; `None` where it is no file, or cannot be read.
fn read(path: &Path) -> Option<Vec<u8>> {
    let about = std::fs::metadata(path).ok()?;
    // A pipe or a device could wait for ever.
    if !about.is_file() || about.len() > MOST_RECORD_BYTES {
        return None;
    }
    let mut bytes = Vec::new();
    File::open(path).ok()?.take(MOST_RECORD_BYTES).read_to_end(&mut bytes).ok()?;
    Some(bytes)
}
