//! `verify`: whether a written folder is unaltered; writes nothing.

use std::path::Path;

use super::print;
use crate::args::Format;
use crate::folder;
use crate::status::{self, Failure, Status};

pub(super) fn run(dir: &Path, format: Format) -> Result<Status, Failure> {
    let verified = borewright_planner::verify::verify(dir, &folder::LIST)?;
    match format {
        Format::Json => print(&borewright_output::verified_json(&verified)?)?,
        Format::Text => {
            print(borewright_output::verified_page(&verified, &status::shown(dir)).as_bytes())?;
        }
    }
    Ok(if verified.unaltered { Status::Go } else { Status::Stop })
}
