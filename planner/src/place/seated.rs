//! Bores in their planned places.

use crate::job::pocket::Pocket;
use crate::job::{CutBore, Site};
use crate::limits::{Clause, Datum, Lack, PairClause, Standing};
use crate::plan::{LimitResult, Verdict, Why};

/// All bores with one sleeve.
#[derive(Debug, Clone)]
pub struct Positions {
    /// Index of the sleeve.
    pub sleeve: usize,
    /// Its pocket.
    pub pocket: Pocket,
    /// The bores, bank by bank, front to rear.
    pub bores: Vec<Seated>,
    /// Neighbours by index into `bores`.
    pub pairs: Vec<(usize, usize)>,
    /// The clauses on each pair.
    pub pair_clauses: Vec<PairClause>,
    /// Clauses on each pair that no limit asks for and that hold all the same.
    pub pair_unasked: Vec<PairClause>,
}

/// One bore in its planned place.
#[derive(Debug, Clone)]
pub struct Seated {
    /// Its cylinder and true place.
    pub site: Site,
    /// Index of its bank.
    pub bank: usize,
    /// Its true position, mm.
    pub true_mm: [f64; 2],
    /// Where it should stand, mm.
    pub target_mm: [f64; 2],
    /// Where it is planned, mm.
    pub planned_mm: [f64; 2],
    /// Go, hold or stop of the group it was solved in.
    pub level: Verdict,
    /// Which group it was solved in: the index of that group's first bore.
    pub group: usize,
    /// Its verdict.
    pub verdict: Verdict,
    /// The worst of each limit.
    pub limits: Vec<LimitResult>,
    /// What holds it there, in words.
    pub why: Why,
    /// Its clauses.
    pub clauses: Vec<Clause>,
    /// Clauses that no limit asks for and that hold all the same.
    pub unasked: Vec<Clause>,
    /// Limits that no position changes.
    pub standing: Vec<Standing>,
    /// What was not read of it that a limit asks for, in words: it is at hold.
    pub unread: Vec<Lack>,
    /// How the datum of its bank stands in the machine.
    pub datum: Datum,
    /// What of it is cut already: it then stays where it is.
    pub cut: Option<CutBore>,
}

impl Seated {
    /// Where the bore's cut stands at a depth, mm: the spindle cuts along its own axis.
    #[must_use]
    pub fn cut_mm(&self, depth_mm: f64) -> [f64; 2] {
        let [dx, dy] = self.datum.off_mm(depth_mm);
        [self.planned_mm[0] + dx, self.planned_mm[1] + dy]
    }
}

/// What is asked of the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    /// Every limit at go and every preferred figure met.
    Preferred,
    /// Every limit at go.
    Go,
    /// Every margin at least 0.
    Possible,
}
