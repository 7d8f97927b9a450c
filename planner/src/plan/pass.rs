//! One pass on one cylinder.

use serde::Serialize;

use super::worked::Figure;
use super::{Binds, CutLoad, Stage, Stones, Stop};

/// The feature of the handwork before the sleeves.
pub const EDGES: &str = "edges";
/// The feature of the pass that cuts plain sleeves flush.
pub const SLEEVES_FLUSH: &str = "sleeves flush";

/// What a pass is of, where its stage has work of another kind too: what is cut may be called as that is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PassKind {
    /// The stage's own work.
    #[default]
    Plain,
    /// The handwork on a pocket's edges.
    Edges,
    /// Plain sleeves cut flush, and no deck.
    SleevesFlush,
    /// Honing with these stones.
    Honing(Stones),
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
    /// Of which kind that is.
    #[serde(skip)]
    pub kind: PassKind,
    /// The tool, where one of the machine file's is used.
    pub tool: Option<String>,
    /// Centre along the bank, mm.
    pub x: f64,
    /// Centre across the bank, mm.
    pub y: f64,
    /// Diameter after the pass, mm.
    pub diameter: f64,
    /// Depth below the deck where it starts, mm.
    pub from: f64,
    /// Depth below the deck where it ends, mm.
    pub to: f64,
    /// Radial stock.
    pub stock: Stock,
    /// Share of the circle that is in metal, 1 where all of it is.
    pub in_cut: f64,
    /// The metal; where several are cut, the one that is hardest on the tool.
    pub material: String,
    /// Spindle speed, 1/min; 0 where the pass turns nothing.
    pub rpm: f64,
    /// Feed, mm per revolution; 0 where the pass turns nothing.
    pub feed_per_rev: f64,
    /// Feed, mm/min; 0 where the pass turns nothing.
    pub feed: f64,
    /// Minutes in the cut, or an allowance for handwork.
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
    /// Whether it ends on a ledge, told where the deeper pass that would show it is done and no longer in the plan.
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
    pub stop: Option<Stop>,
    /// What its figures are worked from.
    #[serde(skip)]
    pub worked: Vec<Figure>,
}

impl Pass {
    /// Whether it is the handwork on a pocket's edges.
    #[must_use]
    pub fn is_edges(&self) -> bool {
        self.kind == PassKind::Edges
    }

    /// Whether it cuts plain sleeves flush, and no deck.
    #[must_use]
    pub fn is_sleeves_flush(&self) -> bool {
        self.kind == PassKind::SleevesFlush
    }

    /// The stones that it hones with; `None` where it is no honing.
    #[must_use]
    pub fn stones(&self) -> Option<Stones> {
        match self.kind {
            PassKind::Honing(stones) => Some(stones),
            PassKind::Plain | PassKind::Edges | PassKind::SleevesFlush => None,
        }
    }
}

/// Least and most radial stock round the circle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Stock {
    /// Least, mm.
    pub min: f64,
    /// Most, mm.
    pub max: f64,
}

/// What a pass leaves of the old liner, at the deck.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shell {
    /// Least thickness, mm; 0 where the parent metal shows.
    pub least: f64,
    /// Most thickness, mm.
    pub most: f64,
    /// Where it is thickest, degrees; opposite, the tool breaks through first.
    pub thickest_at: f64,
    /// How much of the circle still shows the liner, degrees.
    pub arc: f64,
}

/// How deep the first touch is cut on either side.
#[derive(Debug, Clone, PartialEq)]
pub struct TouchCut {
    /// On the side that the bore moves to, mm.
    pub deepest: f64,
    /// Opposite, mm.
    pub least: f64,
    /// Which side that is, degrees.
    pub clock: f64,
    /// What least and deepest are worked from.
    pub worked: [Option<Figure>; 2],
}

/// A pass milled on a helix.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Mill {
    /// Diameter of the cutter, mm.
    pub cutter: f64,
    /// Radius that the cutter's middle goes round on, mm.
    pub path_radius: f64,
    /// Depth where the helix starts, mm.
    pub start: f64,
    /// Turns down to the floor; one more goes round flat.
    pub turns: u32,
    /// Most that one turn goes down, mm.
    pub step_down: f64,
    /// Whether a register is brought to size so: nothing but the cutter's stiffness holds that size.
    #[serde(skip)]
    pub to_size: bool,
}
