//! The plan as it is written to `plan.json` (`borewright/plan/1`): mm, degrees, N, MPa, kW, minutes.
//!
//! Every number is rounded once, when the plan is put together: lengths to a nanometre (so that equal
//! inputs give equal bytes on every processor), never for deciding.

pub mod check;
pub mod judge;
pub mod moves;
pub(crate) mod rounded;
pub mod rounding;
pub mod sentence;

pub use check::Check;
use serde::ser::SerializeStruct as _;
use serde::{Deserialize, Serialize};

use crate::sleeve::SleeveFit;
use sentence::{Parts, Sentence};

/// Go, hold or stop (ISO 14253-1 with the 95 % rule); ordered from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// Proven inside.
    Go,
    /// Neither proven.
    Hold,
    /// Proven outside, or nothing fits.
    Stop,
}

impl Verdict {
    /// As printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::Hold => "hold",
            Self::Stop => "stop",
        }
    }
}

/// A plan.
#[derive(Debug, Clone, Serialize)]
pub struct Plan {
    /// `borewright/plan/1`.
    pub format: &'static str,
    /// The job's number.
    pub job: String,
    /// Always `mm`.
    pub units: &'static str,
    /// SHA-256 over inputs and results.
    pub fingerprint: String,
    /// The worst verdict.
    pub verdict: Verdict,
    /// Who released a hold, and why.
    pub release: Option<Release>,
    /// What a reader must know.
    pub findings: Vec<Finding>,
    /// The journal axis in each machine set-up.
    pub journal_axis: Vec<JournalAxis>,
    /// How the bores stand against their true positions.
    pub as_bored: AsBored,
    /// The same per bank.
    pub banks: Vec<BankPattern>,
    /// Each cylinder's position and limits.
    pub cylinders: Vec<Cylinder>,
    /// The schedule.
    pub passes: Vec<Pass>,
    /// What is measured, numbered in the order of work.
    pub checks: Vec<Check>,
    /// How long it takes, by stage.
    pub times: Vec<StageTime>,
    /// Each candidate sleeve.
    pub sleeves: Vec<SleeveChoice>,
    /// The coordinate lists written.
    pub lists: Vec<List>,
    /// The files read.
    pub inputs: Vec<Input>,
    /// Every other file written with it; filled in by the output side.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub files: Vec<Input>,
    /// SHA-256 over the bytes of `plan.json` with noughts in this place; empty until it is written.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub seal: String,
}

/// How long a stage takes, minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StageTime {
    /// The stage.
    pub stage: Stage,
    /// In the cut, or by hand where nothing is cut.
    pub work: f64,
    /// Setting tools and measuring: an allowance.
    pub handling: f64,
}

/// A release of a plan at hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Release {
    /// Who.
    pub who: String,
    /// Why.
    pub why: String,
}

/// One thing a reader must know.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// A stable word for it.
    pub code: &'static str,
    /// How grave.
    pub verdict: Verdict,
    /// What it is about.
    pub subject: String,
    /// The finding in a sentence.
    pub text: Sentence,
}

/// Its text in mm, and beside it the quantities that stand in it.
impl Serialize for Finding {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let parts = Parts(&self.text);
        let mut map = serializer.serialize_struct("Finding", if parts.is_empty() { 4 } else { 5 })?;
        map.serialize_field("code", self.code)?;
        map.serialize_field("verdict", &self.verdict)?;
        map.serialize_field("subject", &self.subject)?;
        map.serialize_field("text", &self.text)?;
        if !parts.is_empty() {
            map.serialize_field("parts", &parts)?;
        }
        map.end()
    }
}

/// An x and a y, mm unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Xy {
    /// Along the bank.
    pub x: f64,
    /// Across the bank.
    pub y: f64,
}

/// The journal axis of one machine set-up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JournalAxis {
    /// The set-up's name.
    pub set_up: String,
    /// Each main's offset across from the fitted line.
    pub mains: Vec<MainOffset>,
    /// Diameter of the thinnest cylinder that holds all.
    pub straightness: f64,
    /// Largest step from one main to the next.
    pub largest_step: f64,
    /// Lean of the bank's Z from the machine's Z along X and Y, mm over the bore length.
    pub squareness: Xy,
    /// Height of the deck as it was read, above the foot of the datum; `None` where no deck was read.
    pub deck_height: Option<f64>,
}

/// One main's offset from the fitted line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MainOffset {
    /// The main's name.
    pub main: String,
    /// Across the bank.
    pub y: f64,
    /// Along the bores.
    pub z: f64,
    /// Diameter of its housing bore, where raw points on it were read.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter: Option<f64>,
    /// Peak-to-valley of its housing bore about the least-squares circle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roundness: Option<f64>,
}

/// One rigid motion of the whole pattern.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AsBored {
    /// Shift in the block frame.
    pub shift: Xyz,
    /// Turn in the block frame, degrees.
    pub turn: Turn,
    /// Directions that the readings cannot tell.
    pub undetermined: Vec<&'static str>,
    /// What the motion leaves.
    pub residual_rms: f64,
    /// Fisher's F; `None` where nothing is left over to compare with.
    pub f: Option<f64>,
    /// Its tail probability.
    pub p: Option<f64>,
    /// What the displacements look like.
    pub pattern: Pattern,
}

/// Three components.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Xyz {
    /// Along the journal axis.
    pub x: f64,
    /// To the engine's right.
    pub y: f64,
    /// Up.
    pub z: f64,
}

/// A small turn about X, Y, Z, degrees.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Turn {
    /// About X.
    pub roll: f64,
    /// About Y.
    pub pitch: f64,
    /// About Z.
    pub yaw: f64,
}

/// What the displacements of the bores look like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pattern {
    /// Not told apart from measuring scatter.
    WithinMeasuring,
    /// One motion of all: the way a fixture error looks.
    Together,
    /// No one motion explains them.
    EachItsOwn,
}

/// The pattern in one bank's plane.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BankPattern {
    /// The bank's name.
    pub bank: String,
    /// Its angle, degrees.
    pub angle: f64,
    /// Mean displacement.
    pub shift: Xy,
    /// Turn in the bank's plane, degrees.
    pub rotation: f64,
    /// What shift and turn leave.
    pub residual_rms: f64,
}

/// One cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cylinder {
    /// Its number.
    pub cylinder: u32,
    /// Its bank's name.
    pub bank: String,
    /// The chosen sleeve.
    pub sleeve: String,
    /// Its verdict.
    pub verdict: Verdict,
    /// Twelve digits of the SHA-256 over what is cut of it and when it is measured: its papers stay good while it stands.
    pub fingerprint: String,
    /// Whether it may not be cut: no pass, list, drawing or sheet tells where or how wide.
    pub withheld: bool,
    /// The bore as it is.
    pub measured: Measured,
    /// Where it should be.
    #[serde(rename = "true")]
    pub true_position: Xy,
    /// Where it will be bored.
    pub planned: Xy,
    /// Measured less true, at the deck.
    pub off_true: Offset,
    /// Planned less measured, at the deck.
    pub shift: Offset,
    /// What holds it there, in words.
    pub why: Sentence,
    /// The worst of each limit.
    pub limits: Vec<LimitResult>,
}

/// A measured bore.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Measured {
    /// At the deck, along its fitted axis.
    pub x: f64,
    /// At the deck, along its fitted axis.
    pub y: f64,
    /// Mean diameter.
    pub diameter: f64,
    /// mm per mm of depth.
    pub tilt: Xy,
    /// Largest peak-to-valley; `None` where only centres were read.
    pub roundness: Option<f64>,
}

/// A vector across the bank.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Offset {
    /// Along the bank.
    pub x: f64,
    /// Across the bank.
    pub y: f64,
    /// Its length.
    pub distance: f64,
    /// Its direction, degrees from the rear towards +Y.
    pub clock: f64,
}

/// One limit's worst place on one cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitResult {
    /// Which limit.
    pub limit: &'static str,
    /// Which feature of the pocket, and against what.
    pub feature: String,
    /// At which depth, where it has one.
    pub depth: Option<f64>,
    /// At which clock, degrees, where it has one.
    pub clock: Option<f64>,
    /// What there is beyond the limit.
    pub margin: f64,
    /// Standard uncertainty of the margin.
    pub u: f64,
    /// The probability that the limit is kept, by the measuring uncertainty alone.
    pub p: f64,
    /// Go, hold or stop.
    pub verdict: Verdict,
    /// The limit itself.
    pub least: f64,
    /// What is preferred, where stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prefer: Option<f64>,
}

/// A stage of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// Old bore to the pocket less its allowance.
    Rough,
    /// The pocket's steps and ledge to size.
    Pocket,
    /// Heat, install, check.
    Fit,
    /// Deck.
    Deck,
    /// Finish bore.
    Finish,
    /// Hone.
    Hone,
}

impl Stage {
    /// As printed and as used in file names.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rough => "rough",
            Self::Pocket => "pocket",
            Self::Fit => "fit",
            Self::Deck => "deck",
            Self::Finish => "finish",
            Self::Hone => "hone",
        }
    }
}

/// Least and most radial stock round the circle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Stock {
    /// Least.
    pub min: f64,
    /// Most.
    pub max: f64,
}

/// What a pass leaves of the old liner, at the deck.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shell {
    /// Least thickness; 0 where the parent metal shows.
    pub least: f64,
    /// Most thickness.
    pub most: f64,
    /// Where it is thickest, degrees; opposite, the tool breaks through first.
    pub thickest_at: f64,
    /// How much of the circle still shows the liner, degrees.
    pub arc: f64,
}

/// One pass on one cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pass {
    /// Its number; tens, so that a shop can put its own between.
    pub step: u32,
    /// Its stage.
    pub stage: Stage,
    /// The bank.
    pub bank: String,
    /// The cylinder.
    pub cylinder: u32,
    /// What it cuts, or does.
    pub feature: String,
    /// The tool, where one of the machine file's is used.
    pub tool: Option<String>,
    /// Centre.
    pub x: f64,
    /// Centre.
    pub y: f64,
    /// Diameter after the pass.
    pub diameter: f64,
    /// Depth where it starts.
    pub from: f64,
    /// Depth where it ends.
    pub to: f64,
    /// Radial stock.
    pub stock: Stock,
    /// Share of the circle that is in metal.
    pub in_cut: f64,
    /// The metal; where several are cut, the one that is hardest on the tool.
    pub material: String,
    /// Spindle speed, 1/min; 0 where the pass turns nothing.
    pub rpm: f64,
    /// Feed, mm per revolution; 0 where the pass turns nothing.
    pub feed_per_rev: f64,
    /// Feed, mm/min; 0 where the pass turns nothing.
    pub feed: f64,
    /// Time in the cut, or an allowance for handwork.
    pub minutes: f64,
    /// Whether it ends on a flat that is left below it for a plain sleeve to stand on.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub flat_end: bool,
    /// What is left of the old liner at the deck after the pass, while any is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shell: Option<Shell>,
    /// How it is milled, where it is not bored.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mill: Option<Mill>,
    /// What the cut asks of spindle, bar and machine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load: Option<CutLoad>,
    /// Whether it ends on a ledge, where the deeper pass that shows it is behind the work.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub ledge: bool,
    /// What the first touch near the deck must show, where the pass is the one that proves position.
    #[serde(skip)]
    pub touch: Option<TouchCut>,
    /// What sets speed and feed, before the load is known.
    #[serde(skip)]
    pub binds: Option<Binds>,
    /// Number of the stop, shared by the sheets, the lists and the record: passes with the same words share it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop_number: Option<u32>,
    /// What to measure or mind before going on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop: Option<String>,
}

/// How deep the first touch is cut on either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TouchCut {
    /// On the side that the bore moves to, mm.
    pub deepest: f64,
    /// Opposite, mm.
    pub least: f64,
    /// Which side that is, degrees.
    pub clock: f64,
}

/// A pass milled on a helix.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Mill {
    /// Diameter of the cutter.
    pub cutter: f64,
    /// Radius of the way of its middle.
    pub path_radius: f64,
    /// Depth where the helix starts.
    pub start: f64,
    /// Turns down to the floor; one more goes round flat.
    pub turns: u32,
    /// Most that one turn goes down.
    pub step_down: f64,
}

/// What sets a pass's speed and feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Binds {
    /// The tool's own speed in the metal.
    CuttingSpeed,
    /// The fastest the spindle turns.
    SpindleFastest,
    /// The slowest it turns.
    SpindleSlowest,
    /// Its power.
    SpindlePower,
    /// The machine's fastest feed.
    MachineFeed,
    /// A bar so slender that it cuts at half its data.
    SlenderBar,
}

impl Binds {
    /// As printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CuttingSpeed => "cutting speed",
            Self::SpindleFastest => "spindle's fastest",
            Self::SpindleSlowest => "spindle's slowest",
            Self::SpindlePower => "spindle's power",
            Self::MachineFeed => "machine's feed",
            Self::SlenderBar => "slender bar",
        }
    }
}

/// What a cut asks of spindle, bar and machine, at its deepest side.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CutLoad {
    /// Cutting force, N; of a cutter where its teeth are deepest in, of which the mean over a turn is a small part.
    pub force: f64,
    /// Power at the motor, kW.
    pub power: f64,
    /// How far spindle and bar give way, mm.
    pub deflection: f64,
    /// Eccentricity of the old surface that the cut leaves, mm.
    pub copied: f64,
    /// Height from peak to valley that a round tip's feed marks have, f²/(8 r), micrometres: no mean roughness, which is about
    /// a quarter of it; `None` where the tip's radius is not known.
    pub peak_to_valley: Option<f64>,
    /// What sets speed and feed.
    pub binds: Binds,
    /// Lowest tip above the journal axis, mm.
    pub tip_above_axis: f64,
    /// Spindle's nose above the deck at the lowest tip, mm.
    pub nose_above_deck: f64,
}

/// Where the bores stand worst with a candidate sleeve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WorstMargin {
    /// The cylinder.
    pub cylinder: u32,
    /// Which limit.
    pub limit: &'static str,
    /// What there is beyond it.
    pub margin: f64,
    /// Standard uncertainty of the margin.
    pub u: f64,
    /// Go, hold or stop.
    pub verdict: Verdict,
}

/// A candidate sleeve's result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SleeveChoice {
    /// Its name.
    pub sleeve: String,
    /// Whether it is the one planned with.
    pub chosen: bool,
    /// The verdict it ends at.
    pub verdict: Verdict,
    /// Its largest pocket below the flange.
    pub largest_pocket: f64,
    /// Why it was chosen or not.
    pub why: Sentence,
    /// The bores' limit that stands worst with it; of limits alike the one on metal with the least margin.
    pub worst: Option<WorstMargin>,
    /// How it fits.
    #[serde(flatten)]
    pub fit: SleeveFit,
}

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

/// What a list is held against beside the passes: where its zero stands, how its axes run, what it keeps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ListProof {
    /// Machine X, Y, Z of the list's zero; `None` where the machine's scales were not read.
    pub zero: Option<[f64; 3]>,
    /// The bank's X, Y and Z, each along the machine's X, Y, Z.
    pub axes: [[f64; 3]; 3],
    /// What lengths of the plan, at 20 °C, are multiplied by for the temperatures at cutting.
    pub scale: f64,
    /// Journal axis to deck along the bank's Z.
    pub deck_height: f64,
    /// Rapids stay this far above the deck, a plate on it counted in.
    pub clearance: f64,
    /// Stops are taken this far above the list's zero at least.
    pub stop_clearance: f64,
    /// Thickness of the plate on the deck, where one is.
    pub plate: Option<f64>,
    /// What has come off the deck before: depths of passes count from the deck as it was, a list's Z from what is left.
    pub cut_off: f64,
    /// Depth below the list's zero that no tool may pass: the bore and the room below it.
    pub deepest: f64,
    /// Least and most of the machine's X, Y, Z.
    pub travel: [[f64; 2]; 3],
    /// Least and most spindle speed, 1/min.
    pub rpm: [f64; 2],
    /// Fastest feed, mm/min.
    pub feed: f64,
    /// The machine's word for millimetres.
    pub millimetres: &'static str,
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
    /// Least and most diameter.
    pub diameter: [f64; 2],
    /// Below the spindle nose.
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
    /// Its margin at the planned centre.
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
