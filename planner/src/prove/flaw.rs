//! Flaws of a list, and the proof that they add up to.

use std::fmt;

use serde::Serialize;

/// Most flaws that are kept: a list with more is not the plan's list at all.
const MOST: usize = 200;

/// One thing that keeps a list from being proven.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Flaw {
    /// The line of the file, counted from 1; `None` for the list as a whole.
    pub line: Option<usize>,
    /// The N number on that line, where it has one.
    pub block: Option<u32>,
    /// A stable word for it.
    pub code: &'static str,
    /// What was found.
    pub found: String,
    /// What is expected.
    pub expected: String,
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, self.block) {
            (Some(line), Some(block)) => write!(f, "line {line} (N{block}): ")?,
            (Some(line), None) => write!(f, "line {line}: ")?,
            _ => {}
        }
        write!(f, "{}; expected {}", self.found, self.expected)
    }
}

/// What reading a list back came to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Proof {
    /// `borewright/proof/1`.
    pub format: &'static str,
    /// The list of the plan that it was held against; empty where none could be told.
    pub list: String,
    /// Its bank; empty likewise.
    pub bank: String,
    /// Its stage; empty likewise.
    pub stage: String,
    /// Its cylinders, in the order of work.
    pub cylinders: Vec<u32>,
    /// The plan's fingerprint.
    pub fingerprint: String,
    /// Whether nothing is wrong with it.
    pub proven: bool,
    /// Moves read.
    pub moves: usize,
    /// Bores of the plan found cut as planned: one for each pass on each cylinder.
    pub features: usize,
    /// Largest difference of a centre's X or Y, a diameter or a depth from the plan, mm, over the features.
    pub largest_difference: f64,
    /// What is wrong, in the order of the lines.
    pub flaws: Vec<Flaw>,
    /// What a reader should know, and nothing is wrong with.
    pub notes: Vec<String>,
}

impl Proof {
    /// A proof in which nothing has been read and nothing is proven yet.
    pub(super) fn of(fingerprint: &str) -> Self {
        Self {
            format: "borewright/proof/1",
            list: String::new(),
            bank: String::new(),
            stage: String::new(),
            cylinders: Vec::new(),
            fingerprint: fingerprint.to_owned(),
            proven: false,
            moves: 0,
            features: 0,
            largest_difference: 0.0,
            flaws: Vec::new(),
            notes: Vec::new(),
        }
    }
}

/// Flaws as they are found.
#[derive(Debug, Default)]
pub(super) struct Flaws(Vec<Flaw>);

impl Flaws {
    /// Adds a flaw, unless the very same was already told.
    pub(super) fn add(
        &mut self,
        at: impl Into<At>,
        code: &'static str,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) {
        let At { line, block } = at.into();
        let flaw = Flaw { line, block, code, found: found.into(), expected: expected.into() };
        if self.0.len() < MOST && !self.0.contains(&flaw) {
            self.0.push(flaw);
        }
    }

    /// Whether there is no flaw.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// All flaws by line; those of the whole list come last.
    pub(super) fn sorted(mut self) -> Vec<Flaw> {
        self.0.sort_by_key(|f| f.line.unwrap_or(usize::MAX));
        self.0
    }
}

/// A place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct At {
    /// The line, from 1; `None` for the list as a whole.
    pub(super) line: Option<usize>,
    /// Its N number.
    pub(super) block: Option<u32>,
}

impl From<usize> for At {
    fn from(line: usize) -> Self {
        Self { line: Some(line), block: None }
    }
}
