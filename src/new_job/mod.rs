//! The files of a new job as text: of a V or an inline block with examples, or like the last job of a family.

mod example;
mod family;
mod tables;

use borewright_planner::read::given::Units;
use borewright_planner::read::inch::MM_PER_INCH;
use borewright_planner::start::ToRead;

pub(crate) use example::{Shape, example, plain_example};
pub(crate) use family::{Described, like};

/// A job laid out.
pub(crate) struct Laid {
    /// Every file by its path in the job's folder.
    pub(crate) files: Vec<(String, Vec<u8>)>,
    /// What is to be read.
    pub(crate) to_read: Vec<ToRead>,
    /// The block's name, where it is known.
    pub(crate) block: String,
    /// The units of its tables.
    pub(crate) units: Units,
}

/// A text as YAML takes it whatever is in it: JSON's spelling is YAML's.
fn quoted(text: &str) -> String {
    serde_json::to_string(text).unwrap_or_default()
}

/// A length in a file's units, without noughts at its end.
fn length(mm: f64, units: Units) -> String {
    match units {
        Units::Mm => trimmed(&format!("{mm:.3}")),
        // A tenth of a thou, and of what is itself that small a hundredth.
        Units::In if mm.abs() < 2.0 => trimmed(&format!("{:.5}", mm / MM_PER_INCH)),
        Units::In => trimmed(&format!("{:.4}", mm / MM_PER_INCH)),
    }
}

fn trimmed(number: &str) -> String {
    let short =
        if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// As a file spells them.
fn word(units: Units) -> &'static str {
    match units {
        Units::Mm => "mm",
        Units::In => "in",
    }
}
