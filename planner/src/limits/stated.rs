//! A limit's statement, used wherever it is named: in files, in the schema, on the sheets.

use super::{Asked, Clause, PairClause, Standing};
use crate::job::Job;
use crate::job::pocket::Pocket;
use crate::survey::Survey;

/// Which way is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Better {
    /// More is better: the figure is the least allowed.
    Larger,
    /// Less is better: the figure is the most allowed.
    Smaller,
}

/// What kind of figure a file states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A length.
    Length,
    /// A share, no length.
    Share,
    /// A round zone, or two parallel ones: one statement under one key.
    Zone,
}

/// What a limit is about, and how it is judged.
#[derive(Debug, Clone, Copy)]
pub enum Judges {
    /// One bore's centre.
    Bore(fn(&Asked<'_>) -> Vec<Clause>),
    /// The distance of two neighbours.
    Neighbours(fn(&Job, &Pocket) -> Vec<PairClause>),
    /// A whole bank as it stands; no position changes it.
    Bank(fn(&Job, &Survey, usize) -> Option<Standing>),
    /// A figure of another limit, which judges it.
    With(&'static Stated),
    /// A sleeve's fit, at its places (`sleeve/limit.rs`).
    Sleeve,
}

/// A limit that a job or a shop may state.
#[derive(Debug, Clone, Copy)]
pub struct Stated {
    /// Its key in files and in the plan.
    pub name: &'static str,
    /// One sentence, for the schema and the documents.
    pub says: &'static str,
    /// The limit's name as a sheet has it.
    pub words: &'static str,
    /// Which way is better.
    pub better: Better,
    /// What kind of figure.
    pub kind: Kind,
    /// Whether metal is what it limits, so that another sleeve could change it.
    pub of_metal: bool,
    /// By how much the stated figure is relaxed for one mm of margin: 2 where it is a diameter.
    pub eased_by: f64,
    /// How it is judged.
    pub judges: Judges,
    /// What of a bore was not read or described, so that the limit proves nothing there; `None` where nothing lacks.
    pub lacks: fn(&Asked<'_>) -> Option<Lack>,
}

/// What a limit rests on that was not read or described: the cylinder is at hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Lack {
    /// The finding's code.
    pub code: &'static str,
    /// What lacks, as a table of candidates has room for.
    pub short: &'static str,
    /// What to read or describe, in words.
    pub text: crate::plan::sentence::Sentence,
}

impl Stated {
    /// A least length of metal, as most limits are.
    pub(super) const fn metal(
        name: &'static str,
        words: &'static str,
        says: &'static str,
        judges: Judges,
    ) -> Self {
        Self {
            name,
            says,
            words,
            better: Better::Larger,
            kind: Kind::Length,
            of_metal: true,
            eased_by: 1.0,
            judges,
            lacks: |_| None,
        }
    }

    /// This limit, held where `lacks` finds that what it rests on was not read.
    pub(super) const fn unless(self, lacks: fn(&Asked<'_>) -> Option<Lack>) -> Self {
        Self { lacks, ..self }
    }
}
