//! `schema`: JSON Schema of an input file, from the types that read it.

use borewright_planner::files::{BlockFile, JobFile, MachineFile, ShopFile, SleeveFile};

use super::print;
use crate::args::Kind;
use crate::status::{Failure, Status};

pub(super) fn run(kind: Kind) -> Result<Status, Failure> {
    let schema = match kind {
        Kind::Block => schemars::schema_for!(BlockFile),
        Kind::Sleeve => schemars::schema_for!(SleeveFile),
        Kind::Machine => schemars::schema_for!(MachineFile),
        Kind::Shop => schemars::schema_for!(ShopFile),
        Kind::Job => schemars::schema_for!(JobFile),
    };
    let mut text = serde_json::to_string_pretty(&schema).map_err(std::io::Error::other)?;
    text.push('\n');
    print(text.as_bytes())?;
    Ok(Status::Go)
}
