//! `verify`: whether a written folder is unaltered; writes nothing.

use std::path::Path;

use borewright_planner::job::SheetUnits;

use super::print;
use crate::args::Format;
use crate::folder;
use crate::status::{self, Failure, Status};
use crate::terminal;

pub(super) fn run(dir: &Path, format: Format) -> Result<Status, Failure> {
    let verified = borewright_planner::verify::verify(dir, &folder::LIST)?;
    match format {
        Format::Json => print(&borewright_output::verified_json(&verified)?)?,
        Format::Text => {
            let t = terminal::plainly(SheetUnits::Mm);
            print(borewright_output::verified_page(&verified, &status::shown(dir), &t).as_bytes())?;
        }
    }
    Ok(if verified.unaltered { Status::Go } else { Status::Stop })
}
