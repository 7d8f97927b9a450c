//! `prove`: reads a coordinate list back and holds it against the plan; writes nothing.

use std::path::Path;

use borewright_planner::prove::{Reference, prove};
use borewright_planner::read::fault::Faults;
use borewright_planner::read::source::Source;

use super::print;
use crate::args::Format;
use crate::status::{self, Failure, Status};

/// Largest list that is read, bytes: a control numbers 99,999 rows.
const MOST_BYTES: u64 = 16 * 1024 * 1024;

pub(super) fn run(list: &Path, plan: &Path, format: Format) -> Result<Status, Failure> {
    // A table is proven by the list beside it, whose rows it must have.
    let words = if list.extension().is_some_and(|e| e == "csv") {
        list.with_extension("nc")
    } else {
        list.to_owned()
    };
    let beside = words.with_extension("csv");
    let words = read(&words)?;
    let table = beside.exists().then(|| read(&beside)).transpose()?;
    let reference = Reference::read(plan)?;
    let proof = prove(&words.text, table.as_ref().map(|t| t.text.as_str()), &words.name, &reference);
    match format {
        Format::Json => print(&borewright_output::proof_json(&proof)?)?,
        Format::Text => {
            print(borewright_output::proof_page(&proof, &status::shown(list)).as_bytes())?;
        }
    }
    Ok(if proof.proven { Status::Go } else { Status::Stop })
}

fn read(path: &Path) -> Result<Source, Faults> {
    Source::read(&path.display().to_string(), path, MOST_BYTES).map_err(|fault| Faults(vec![*fault]))
}
