//! The thin iron that a cut leaves of the old liner, and how slowly the next one takes it off.

use crate::plan::{Pass, Shell, Stage};

/// What the feed goes down to for a thin shell of iron, mm a turn. Common practice, no source.
const FEED_MM: [f64; 2] = [0.05, 0.08];

/// What is left of the old liner before the cut that takes it: it can grab, spin and tear the parent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThinShell {
    /// Where it is thinnest, mm.
    pub least_mm: f64,
    /// Where it is thickest, mm.
    pub most_mm: f64,
    /// What the feed is turned down to; `None` where it is as slow already.
    pub slower: Option<Slower>,
}

/// A feed turned down, the slowest and the fastest that it may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slower {
    /// A turn, mm.
    pub per_rev_mm: [f64; 2],
    /// A minute, mm.
    pub per_min_mm: [f64; 2],
    /// Of the feed that the list has, percent.
    pub override_percent: [f64; 2],
}

/// The shell that the cut of a step takes the last of; `None` where it leaves some, or met none.
#[must_use]
pub fn thin_shell(passes: &[&Pass], step: u32) -> Option<ThinShell> {
    let before = |pass: &&Pass| -> Option<Shell> {
        let own = passes.iter().filter(|p| p.cylinder == pass.cylinder && p.step < step);
        own.max_by_key(|p| p.step)?.shell
    };
    let taken = |p: &&&Pass| p.step == step && p.stage == Stage::Rough && p.shell.is_none();
    let shells: Vec<Shell> = passes.iter().filter(taken).filter_map(before).collect();
    let least_mm = shells.iter().map(|s| s.least).reduce(f64::min)?;
    let most_mm = shells.iter().map(|s| s.most).fold(0.0, f64::max);
    let cut = passes.iter().find(taken)?;
    let slower = (cut.feed_per_rev > FEED_MM[1]).then(|| Slower {
        per_rev_mm: FEED_MM,
        per_min_mm: FEED_MM.map(|feed| feed * cut.rpm),
        override_percent: FEED_MM.map(|feed| 100.0 * feed / cut.feed_per_rev),
    });
    Some(ThinShell { least_mm, most_mm, slower })
}
