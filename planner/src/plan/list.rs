//! Coordinate lists, what each is proven by, and files with their sums.

use serde::Serialize;

use super::Stage;

/// One coordinate list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct List {
    /// Its path under the output folder.
    pub file: String,
    /// Its bank.
    pub bank: String,
    /// Its stage.
    pub stage: Stage,
    /// Its cylinders.
    pub cylinders: Vec<u32>,
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// The fingerprint that its head has, where it stays as an earlier plan issued it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub issued: Option<String>,
    /// What it is proven by.
    pub proof: ListProof,
    /// Its lines as they are written: an edited list is held against them word by word.
    pub lines: Vec<String>,
}

/// The file of the table that lies beside a list, by the list's own: the same name with another ending.
#[must_use]
pub fn table_file(list: &str) -> String {
    list.strip_suffix(".nc").map_or_else(|| list.to_owned(), |stem| format!("{stem}.csv"))
}

/// What a list is held against beside the passes: where its zero stands, how its axes run, what it keeps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ListProof {
    /// Machine X, Y, Z of the list's zero; `None` where the machine's scales were not read.
    pub zero: Option<[f64; 3]>,
    /// The bank's X, Y and Z, each along the machine's X, Y, Z.
    pub axes: [[f64; 3]; 3],
    /// What lengths of the plan, at 20 °C, are multiplied by for the temperatures at cutting.
    pub scale: f64,
    /// Journal axis to deck along the bank's Z, mm.
    pub deck_height: f64,
    /// Rapids stay this far above the deck, a plate on it counted in, mm.
    pub clearance: f64,
    /// Stops are taken this far above the list's zero at least, mm.
    pub stop_clearance: f64,
    /// Thickness of the plate on the deck, where one is, mm.
    pub plate: Option<f64>,
    /// What has come off the deck before, mm: depths of passes count from the deck as it was, a list's Z from what
    /// is left.
    pub cut_off: f64,
    /// Depth below the list's zero that no tool may pass, mm: the bore and the room below it.
    pub deepest: f64,
    /// Least and most of the machine's X, Y, Z.
    pub travel: [[f64; 2]; 3],
    /// Least and most spindle speed, 1/min.
    pub rpm: [f64; 2],
    /// Fastest feed, mm/min.
    pub feed: f64,
    /// The machine's word for millimetres.
    pub millimetres: &'static str,
    /// Its word for inches, where the list is in them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inches: Option<&'static str>,
    /// The tools of the list.
    pub tools: Vec<ProofTool>,
    /// Limits that the last thousandth of a centre could cross.
    pub near: Vec<NearLimit>,
}

/// A tool of a list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ProofTool {
    /// Its name.
    pub name: String,
    /// `boring` or `milling`.
    pub kind: &'static str,
    /// Least and most diameter, mm.
    pub diameter: [f64; 2],
    /// From the spindle nose down, mm.
    pub reach: f64,
}

/// A limit whose margin rounding could use up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NearLimit {
    /// The cylinder.
    pub cylinder: u32,
    /// Its neighbour, where the limit is between two.
    pub against: Option<u32>,
    /// Which limit.
    pub limit: &'static str,
    /// Its margin at the planned centre, mm.
    pub margin: f64,
    /// Which way the margin grows with the centre, in the bank: a direction, at most 1 long.
    pub towards: [f64; 2],
}

/// A file and its sum: one that the plan rests on, or one written with it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Input {
    /// Its path as named in the job, or under the output folder.
    pub file: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_has_its_lists_name_with_another_ending() {
        assert_eq!(table_file("lists/left.nc-2-pocket.nc"), "lists/left.nc-2-pocket.csv");
        assert_eq!(table_file("lists/left"), "lists/left");
    }
}
