//! Plan to sheets, coordinate lists and JSON. Bytes out, no deciding.
//!
//! [`bundle`] takes a finished [`Planning`](borewright_planner::Planning) and hands back every file as
//! bytes; nothing here touches a disk, a clock or a random number, so that equal plans give equal files.

mod bundle;
mod error;
mod fingerprint;
mod lists;
mod number;
mod sheets;
mod slug;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
mod text;

pub use bundle::{Artifact, Bundle, bundle};
pub use error::OutputError;
pub use number::NotPrintable;
pub use text::{check_page, summary};

/// A plan as it is written to `plan.json` and printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn plan_json(plan: &borewright_planner::plan::Plan) -> Result<Vec<u8>, OutputError> {
    let mut json = serde_json::to_vec_pretty(plan)?;
    json.push(b'\n');
    Ok(json)
}
