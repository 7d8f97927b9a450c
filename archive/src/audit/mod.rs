//! The audit: an archive held against itself, every record, the chain, every kept byte.

mod buckets;
mod chain;
mod content;
mod found;
#[cfg(test)]
mod tests;

use std::path::Path;

use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::sum::Sum;

pub use content::Halfway;
pub use found::{Fault, Level};

/// The end of a chain: a record's number and its sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Head {
    /// The record.
    pub number: u32,
    /// Its sum.
    pub sum: Sum,
}

/// What an audit is held against beside the archive itself.
#[derive(Debug, Clone, Default)]
pub struct Witness {
    /// The last sum of the paper log, as typed: the chain must end there.
    pub logged: Option<String>,
    /// Where the chain was seen to end before: that record must still be there.
    pub seen: Option<Head>,
}

/// Whoever wants to know how far an audit is.
pub trait Watch {
    /// Called with the stage that the audit has come to.
    fn at(&mut self, stage: Stage);
    /// An audit that is broken off may go on from here.
    fn halfway(&mut self, _: &Halfway) {}
}

impl<F: FnMut(Stage)> Watch for F {
    fn at(&mut self, stage: Stage) {
        self(stage);
    }
}

/// How far an audit is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// The chain: records read so far, of how many.
    Chain(u32, u32),
    /// What is kept: rooms read so far, of how many, and bytes so far.
    Content(u32, u32, u64),
}

/// What an audit found.
#[derive(Debug, Clone, Default)]
pub struct Audit {
    /// Records that are whole.
    pub records: u32,
    /// Kept files that were read.
    pub files: u64,
    /// Their bytes.
    pub bytes: u64,
    /// Where the chain ends; `None` where it has no end that can be read.
    pub head: Option<Head>,
    /// What is wrong or doubtful, in the order of the records.
    pub faults: Vec<Fault>,
    /// The last record that was there when it began.
    pub read_to: u32,
    /// Faults beyond those kept.
    pub more_faults: u64,
}

impl Audit {
    /// The gravest of what was found; `None` where all is well.
    #[must_use]
    pub fn worst(&self) -> Option<Level> {
        self.faults.iter().map(|f| f.level).max()
    }
}

impl Archive {
    /// Reads all records and all that is kept. Memory does not grow with the archive: what records ask for is sorted
    /// into files in a folder of the caller's, which are left there for it to take away. The chain is always read; what
    /// is kept is read on from `halfway`.
    ///
    /// # Errors
    /// What the place or the scratch folder refuses; what is wrong with the archive is no error but a finding.
    pub fn audit(
        &self,
        witness: &Witness,
        scratch: &Path,
        halfway: Halfway,
        watch: &mut dyn Watch,
    ) -> Result<Audit, ArchiveError> {
        let mut audit = Audit::default();
        let mut asked = buckets::Writer::new(scratch)?;
        chain::read(self, witness, &mut asked, &mut audit, watch)?;
        let asked = asked.done()?;
        let spoiled = content::read(self, &asked, halfway, &mut audit, watch)?;
        content::name(self, &spoiled, &mut audit)?;
        audit.faults.sort_by(|a, b| a.key().cmp(&b.key()));
        Ok(audit)
    }
}
