//! Proof of a list on the disk: first whether the plan is whole and of these inputs, then the list.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use super::another::another;
use super::flaw::{At, Flaws, Proof};
use super::plan_file::{job_of, whole};
use super::reference::Reference;
use super::{prove, recorded};
use crate::read::bounds::{MOST_LIST_BYTES, MOST_PLAN_BYTES};
use crate::read::elsewhere::state_of;
use crate::read::fault::{Faults, plain};
use crate::read::source::{Source, sha256_hex};
use crate::read::sum::{State, state};

/// Reads a list, the table beside it and a plan, and holds the list against the plan. A table is proven by the
/// list beside it, whose rows it must have.
///
/// # Errors
/// A file that cannot be read, or a plan of another form.
pub fn prove_files(list: &Path, plan: &Path) -> Result<Proof, Faults> {
    let is_table = list.extension().is_some_and(|e| e.eq_ignore_ascii_case("csv"));
    let words = if is_table { beside(list, "nc") } else { list.to_owned() };
    let beside = if is_table { list.to_owned() } else { beside(list, "csv") };
    let (name, text) = read(&words, MOST_LIST_BYTES)?;
    // A link that leads nowhere is no missing table.
    let table = beside.symlink_metadata().is_ok().then(|| read(&beside, MOST_LIST_BYTES)).transpose()?;
    let (plan_name, plan_text) = read(plan, MOST_PLAN_BYTES)?;
    let reference = Reference::parse(&plan_name, &plan_text)?;
    let mut flaws = Flaws::default();
    let mut notes = Vec::new();
    whole(&plan_text, &reference, &mut flaws);
    inputs(plan, &reference, &mut flaws, &mut notes);
    replaced(plan, (&reference, &plan_text), &mut flaws);
    if !flaws.is_empty() {
        // No list can be proven against a plan that was altered.
        return Ok(Proof { flaws: flaws.sorted(), notes, ..Proof::of(&reference.fingerprint) });
    }
    if table.is_none() {
        notes.push("no table beside it: the list was proven without one".into());
    }
    let mut proof = prove(&text, table.as_ref().map(|(_, text)| text.as_str()), &name, &reference);
    others(plan, &reference, &proof.list, &mut notes);
    recorded::recorded(plan, &reference, &mut proof);
    proof.notes.extend(notes);
    Ok(proof)
}

/// The file of the same name with another ending, in whatever case a stick or a control has written them; where there is none,
/// as it would be called.
fn beside(file: &Path, ending: &str) -> PathBuf {
    let own = file.with_extension(ending);
    if own.symlink_metadata().is_ok() {
        return own;
    }
    let folder = file.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let alike = |path: &PathBuf| {
        path.file_name().is_some_and(|name| {
            Some(name.to_ascii_lowercase()) == own.file_name().map(OsStr::to_ascii_lowercase)
        })
    };
    let all = std::fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok).map(|e| e.path());
    let found = all.filter(alike).min();
    found.unwrap_or(own)
}

/// Name and text of a file; a byte-order mark is left in, so that it is told: no control expects one.
fn read(path: &Path, most_bytes: u64) -> Result<(String, String), Faults> {
    let name = path.display().to_string();
    let source = Source::read(&name, path, most_bytes).map_err(|fault| Faults(vec![*fault]))?;
    let marked = sha256_hex(source.text.as_bytes()) != source.sha256;
    Ok((name, if marked { format!("\u{feff}{}", source.text) } else { source.text }))
}

fn inputs(plan: &Path, reference: &Reference, flaws: &mut Flaws, notes: &mut Vec<String>) {
    if reference.inputs.is_empty() {
        return;
    }
    let Some(job) = job_of(plan, reference) else {
        let told = "the job does not lie beside the plan's folder: whether its files are those planned from, and what was \
                    recorded since, is not known";
        notes.push(told.into());
        return;
    };
    for input in &reference.inputs {
        let found = match state_of(&job, &input.file, &input.sha256) {
            State::Unaltered => continue,
            State::Grown => {
                notes.push(format!("{} was added to since the plan was made", plain(&input.file, 60)));
                continue;
            }
            other => format!("{} {} since the plan was made", plain(&input.file, 60), other.word()),
        };
        flaws.add(
            At::default(),
            "plan_input",
            found,
            "the files that it was planned from: plan the job again",
        );
    }
}

/// Whether the plan that lies with the job is another by now, made from the same files.
fn replaced(plan: &Path, asked: (&Reference, &str), flaws: &mut Flaws) {
    let job = job_of(plan, asked.0);
    let Some(own) = job.and_then(|job| another(plan, asked, &job)) else { return };
    let found = format!(
        "out/ of the job has another plan of this job ({}), made from the same files: by another release, or by none any more",
        own.chars().take(12).collect::<String>()
    );
    flaws.add(At::default(), "plan_replaced", found, "lists of the plan that lies with the job");
}

/// Notes on the plan's other lists, where they lie beside it.
fn others(plan: &Path, reference: &Reference, proven: &str, notes: &mut Vec<String>) {
    let folder = plan.parent().unwrap_or(Path::new("."));
    for list in reference.lists.iter().filter(|l| l.file != proven) {
        if state(&folder.join(&list.file), &list.sha256, true) == State::Altered {
            notes.push(format!(
                "{} was changed since it was written: prove it as well",
                plain(&list.file, 80)
            ));
        }
    }
}
