//! `prove`: reads a coordinate list back and holds it against the plan; writes nothing.

use std::path::Path;

use borewright_planner::job::SheetUnits;
use borewright_planner::prove::prove_files;

use super::print;
use crate::args::Format;
use crate::status::{self, Failure, Status};
use crate::terminal;

pub(super) fn run(list: &Path, plan: &Path, format: Format) -> Result<Status, Failure> {
    let proof = prove_files(list, plan)?;
    match format {
        Format::Json => print(&borewright_output::proof_json(&proof)?)?,
        Format::Text => {
            let t = terminal::plainly(SheetUnits::Mm);
            print(borewright_output::proof_page(&proof, &status::shown(list), &t).as_bytes())?;
        }
    }
    Ok(if proof.proven { Status::Go } else { Status::Stop })
}
