//! A line of the record with its answer, as it is printed for people and for programs.

use borewright_planner::plan::check::{Asked, Check};
use borewright_planner::record::answer::Answer;
use borewright_planner::record::{Heard, Word, WorkFinding};

/// Where a reading belongs: its check, its bore (`None` of a whole bank), and what is asked there.
pub type Where<'a> = (&'a Check, Option<u32>, &'a Asked);

/// A reading that was written down, with its answer.
#[derive(Debug, Clone, Copy)]
pub struct Answered<'a> {
    /// Its line in the file.
    pub line: usize,
    /// Where it belongs.
    pub at: Where<'a>,
    /// What was heard.
    pub heard: Heard,
    /// What its step asks where it stops, of what is looked at.
    pub question: Option<&'a str>,
    /// What it is answered with.
    pub answer: &'a Answer,
    /// Where the work stands after it.
    pub onward: &'a Onward,
}

/// Where the work stands after a reading.
#[derive(Debug, Clone)]
pub struct Onward {
    /// What holds or stops this bore, or its bank, by what was read before.
    pub held: Vec<WorkFinding>,
    /// The check that comes next in the order of work, and its bore (`None` of a whole bank).
    pub next: Option<(u32, Option<u32>)>,
    /// Readings that are to come: of this check and bore, and of all.
    pub to_come: [usize; 2],
}

/// Something that happened and was written down, with its answer.
#[derive(Debug, Clone, Copy)]
pub struct Happened<'a> {
    /// Its line in the file.
    pub line: usize,
    /// What.
    pub what: Word,
    /// The cylinder, where it is one's.
    pub cylinder: Option<u32>,
    /// As typed.
    pub text: &'a str,
    /// What it is answered with.
    pub answer: &'a Answer,
    /// What holds or stops its bore, or the whole job, after it.
    pub held: &'a [WorkFinding],
}
