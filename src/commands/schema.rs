//! `schema`: JSON Schema of an input file, from the types that read it.

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema};
use serde_json::Value;

use borewright_planner::files::{BlockFile, JobFile, MachineFile, ShopFile, SleeveFile};

use super::print;
use crate::args::Kind;
use crate::status::{Failure, Status};

pub(super) fn run(kind: Kind) -> Result<Status, Failure> {
    let schema = match kind {
        Kind::Block => of::<BlockFile>(),
        Kind::Sleeve => of::<SleeveFile>(),
        Kind::Machine => of::<MachineFile>(),
        Kind::Shop => of::<ShopFile>(),
        Kind::Job => of::<JobFile>(),
    };
    let mut text = serde_json::to_string_pretty(&schema).map_err(std::io::Error::other)?;
    text.push('\n');
    print(text.as_bytes())?;
    Ok(Status::Go)
}

/// The schema of a file, in which no key may stand with nothing behind it.
fn of<T: JsonSchema>() -> Schema {
    let settings = SchemaSettings::default().with_transform(RecursiveTransform(filled));
    settings.into_generator().into_root_schema_for::<T>()
}

/// Takes `null` out of what a value may be.
fn filled(schema: &mut Schema) {
    if let Some(Value::Array(kinds)) = schema.get_mut("type") {
        kinds.retain(|kind| kind != "null");
    }
    if let Some(Value::Array(kinds)) = schema.get_mut("anyOf") {
        kinds.retain(|kind| kind.get("type").is_none_or(|of| of != "null"));
    }
    if schema.get("default").is_some_and(Value::is_null) {
        schema.remove("default");
    }
}
