//! The plan as the prover needs it, read from `plan.json`: keys it does not know are passed over.

use serde::Deserialize;

use super::unit::Unit;
use crate::plan::FORMAT;
use crate::read::fault::{Fault, Faults, Place, plain};

/// A plan to hold lists against.
#[derive(Debug, Clone, Deserialize)]
pub struct Reference {
    format: String,
    /// The job's number.
    #[serde(default)]
    pub(super) job: String,
    /// SHA-256 over inputs and results.
    pub(super) fingerprint: String,
    /// Who released it, and why.
    pub(super) release: Option<serde_json::Value>,
    pub(super) cylinders: Vec<Cylinder>,
    pub(super) passes: Vec<Pass>,
    pub(super) lists: Vec<List>,
    /// What it was made from.
    #[serde(default)]
    pub(crate) inputs: Vec<Sum>,
    /// What was written with it.
    #[serde(default)]
    pub(crate) files: Vec<Sum>,
}

/// A file and its SHA-256.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub(crate) struct Sum {
    pub(crate) file: String,
    pub(crate) sha256: String,
}

/// A cylinder.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Cylinder {
    pub(super) cylinder: u32,
    pub(super) verdict: String,
    pub(super) measured: Measured,
}

/// A bore as it is.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Measured {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) diameter: f64,
    pub(super) tilt: Xy,
}

/// Two figures.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Xy {
    pub(super) x: f64,
    pub(super) y: f64,
}

/// A pass on one cylinder.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Pass {
    pub(super) step: u32,
    pub(super) stage: String,
    pub(super) bank: String,
    pub(super) cylinder: u32,
    pub(super) tool: Option<String>,
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) diameter: f64,
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) stock: Stock,
    pub(super) rpm: f64,
    pub(super) feed: f64,
    pub(super) stop: Option<String>,
    #[serde(default)]
    pub(super) ledge: bool,
    pub(super) mill: Option<Mill>,
    /// Whether a step is left below it.
    #[serde(default)]
    pub(super) flat_end: bool,
}

/// How a pass is milled.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Mill {
    pub(super) step_down: f64,
}

/// Radial stock.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Stock {
    pub(super) max: f64,
}

/// A list.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct List {
    pub(super) file: String,
    pub(super) bank: String,
    pub(super) stage: String,
    pub(super) cylinders: Vec<u32>,
    pub(super) sha256: String,
    /// The fingerprint in its head, where an earlier plan issued it.
    pub(super) issued: Option<String>,
    pub(super) proof: Basis,
    /// Its lines as they were written; plans made before they were kept have none.
    pub(super) lines: Option<Vec<String>>,
}

/// What a list is proven by.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Basis {
    pub(super) zero: Option<[f64; 3]>,
    pub(super) axes: [[f64; 3]; 3],
    #[serde(default = "one")]
    pub(super) scale: f64,
    pub(super) deck_height: f64,
    pub(super) clearance: f64,
    pub(super) stop_clearance: f64,
    pub(super) plate: Option<f64>,
    #[serde(default)]
    pub(super) cut_off: f64,
    pub(super) deepest: f64,
    pub(super) travel: [[f64; 2]; 3],
    pub(super) rpm: [f64; 2],
    pub(super) feed: f64,
    pub(super) millimetres: String,
    /// Its word for inches, where the list is in them.
    pub(super) inches: Option<String>,
    pub(super) tools: Vec<Tool>,
    #[serde(default)]
    pub(super) near: Vec<Near>,
}

/// The scale of a list without temperatures.
fn one() -> f64 {
    1.0
}

/// A tool.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Tool {
    pub(super) name: String,
    pub(super) kind: String,
    pub(super) diameter: [f64; 2],
    pub(super) reach: f64,
}

/// A limit that the last digit of a centre could cross.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Near {
    pub(super) cylinder: u32,
    pub(super) against: Option<u32>,
    pub(super) limit: String,
    pub(super) margin: f64,
    pub(super) towards: [f64; 2],
}

impl Reference {
    /// Reads a plan from the text of `plan.json`; `name` is what messages call it.
    ///
    /// # Errors
    /// Text that is no plan, with the place and the key that is missing or wrong.
    pub fn parse(name: &str, text: &str) -> Result<Self, Faults> {
        let fault = |place, key: &str, found: String, expected: String| {
            Faults(vec![Fault {
                file: name.to_owned(),
                place,
                key: key.to_owned(),
                found,
                expected,
                help: None,
                line_text: None,
            }])
        };
        let expected = "a plan.json as `borewright plan` writes it".to_owned();
        let mut reader = serde_json::Deserializer::from_str(text);
        let read: Result<Self, _> = serde_path_to_error::deserialize(&mut reader);
        let plan = read.map_err(|e| {
            let path = e.path().to_string();
            let inner = e.into_inner();
            let place = Place { line: inner.line().max(1), column: inner.column().max(1) };
            let key = if path == "." { "" } else { &path };
            fault(Some(place), key, plain(&inner.to_string(), 200), expected.clone())
        })?;
        if plan.format != FORMAT {
            let found = format!("`{}`", plain(&plan.format, 60));
            return Err(fault(None, "format", found, format!("`{FORMAT}`")));
        }
        for (index, list) in plan.lists.iter().enumerate() {
            let basis = &list.proof;
            if !matches!(basis.millimetres.as_str(), "G21" | "G71") {
                let key = format!("lists[{index}].proof.millimetres");
                let found = format!("`{}`", plain(&basis.millimetres, 20));
                return Err(fault(None, &key, found, "`G21` or `G71`".into()));
            }
            if let Some(inches) = basis.inches.as_deref().filter(|word| !matches!(*word, "G20" | "G70")) {
                let key = format!("lists[{index}].proof.inches");
                let found = format!("`{}`", plain(inches, 20));
                return Err(fault(None, &key, found, "`G20` or `G70`".into()));
            }
            // Axes of some other length would scale every coordinate, and the plan would prove a wrong list.
            let product = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
            let [x, y, z] = basis.axes;
            let upright = [product(x, x) - 1.0, product(y, y) - 1.0, product(z, z) - 1.0];
            let square = [product(x, y), product(y, z), product(z, x)];
            // A block a hundred degrees off 20 grows by two thousandths.
            if !(0.99..1.01).contains(&basis.scale) {
                let key = format!("lists[{index}].proof.scale");
                let found = basis.scale.to_string();
                return Err(fault(None, &key, found, "a scale within 0.01 of 1".into()));
            }
            if upright.iter().chain(&square).any(|v| v.abs() > 1e-6) {
                let key = format!("lists[{index}].proof.axes");
                return Err(fault(
                    None,
                    &key,
                    "axes that are not square to each other and of length 1".into(),
                    expected,
                ));
            }
        }
        Ok(plan)
    }

    /// SHA-256 over inputs and results, as the plan has it.
    pub(crate) fn fingerprint(&self) -> &str {
        &self.fingerprint
    }

    /// The sum of a file written with the plan.
    pub(crate) fn sum_of(&self, file: &str) -> Option<&str> {
        self.files.iter().find(|f| f.file == file).map(|f| f.sha256.as_str())
    }

    /// The list with the number and stage of its header, else the one with this file name.
    pub(super) fn list(&self, headed: Option<(u32, &str)>, name: &str) -> Option<&List> {
        match headed {
            Some((number, stage)) => {
                let head = format!("{number:02}-{stage}-");
                self.lists.iter().find(|l| l.stage == stage && stem(&l.file).starts_with(&head))
            }
            None => self.lists.iter().find(|l| stem(&l.file) == stem(name)),
        }
    }

    /// Whether a cylinder may be cut.
    pub(super) fn may_cut(&self, cylinder: u32) -> bool {
        let found = self.cylinders.iter().find(|c| c.cylinder == cylinder);
        found.is_some_and(|c| c.verdict == "go" || (c.verdict == "hold" && self.release.is_some()))
    }
}

/// A file's name without folders and ending.
pub(super) fn stem(file: &str) -> &str {
    let last = file.rsplit(['/', '\\']).next().unwrap_or_default();
    last.rsplit_once('.').map_or(last, |(stem, _)| stem)
}

impl Basis {
    /// A place of the bank at the deck, as a list tells it, mm: from the datum along the machine's axes.
    pub(super) fn listed(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let at = [x, y, self.deck_height];
        [0, 1].map(|k| (0..3).map(|axis| at[axis] * self.axes[axis][k]).sum::<f64>() * self.scale)
    }

    /// A step in the list's X and Y as one in the bank, mm.
    pub(super) fn in_bank(&self, [dx, dy]: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|axis| (dx * self.axes[axis][0] + dy * self.axes[axis][1]) / self.scale)
    }

    /// What the list is in.
    pub(super) fn unit(&self) -> Unit {
        if self.inches.is_some() { Unit::Inch } else { Unit::Mm }
    }

    /// The number of the word for that.
    pub(super) fn unit_number(&self) -> u32 {
        match (self.inches.as_deref(), self.millimetres.as_str()) {
            (Some("G70"), _) => 70,
            (Some(_), _) => 20,
            (None, "G71") => 71,
            (None, _) => 21,
        }
    }
}
