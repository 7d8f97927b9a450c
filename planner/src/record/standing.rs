//! The standing of the record against the checks of a plan: which readings count, which are struck, what is still
//! to come.

use std::collections::{HashMap, HashSet};

use super::reading::Reading;
use super::value::Heard;
use crate::log::{self, Fields, Log, Word};
use crate::plan::check::{Asked, Check};
use crate::plan::sentence::Sentence;

/// Something that happened, or was decided.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Its line in the file.
    pub line: usize,
    /// What.
    pub what: Word,
    /// The cylinder, where it is one's.
    pub cylinder: Option<u32>,
    /// Its cells.
    pub fields: Fields,
    /// Why it does not count, where it is struck.
    pub struck: Option<String>,
}

/// Something about the record that a reader must know: of its file, or of a line against the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The line, counted from 1.
    pub line: usize,
    /// What.
    pub text: Sentence,
    /// Whether it holds the job: what a line said does not count, or the record was changed since.
    pub holds: bool,
    /// The cylinder that a line names which is no reading of this plan.
    pub unasked: Option<u32>,
    /// What stands in the line, in twelve digits: a release is of this and of nothing else.
    pub stand: String,
}

impl Told {
    /// Something that is told of a line; a line whose words do not count holds.
    pub(super) fn of(log: &Log, line: usize, text: impl Into<Sentence>, holds: bool) -> Self {
        Self { line, text: text.into(), holds, unasked: None, stand: log.stand(line) }
    }
}

impl From<&log::Told> for Told {
    fn from(told: &log::Told) -> Self {
        let text = told.text.as_str().into();
        Self { line: told.line, text, holds: told.holds, unasked: None, stand: told.stand.clone() }
    }
}

/// A line taken back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strike {
    /// Its own line.
    pub line: usize,
    /// The line that it takes back.
    pub of: usize,
    /// What it comes to: the line that is no strike at the end of those that it takes back one after another.
    pub root: usize,
    /// The cylinder of that line.
    pub cylinder: Option<u32>,
    /// Why.
    pub why: String,
    /// Who.
    pub by: String,
}

/// The word in a `sleeve` line that names a candidate and no single sleeve.
pub const CANDIDATE: &str = "candidate";

/// A record against the checks of a plan.
#[derive(Debug, Clone, Default)]
pub struct Standing {
    /// The readings, in the order of the file, struck ones too.
    pub readings: Vec<Reading>,
    /// Events, in the order of the file.
    pub events: Vec<Event>,
    /// What was taken back.
    pub strikes: Vec<Strike>,
    /// What must be told, of the file and of its lines, in the order of lines.
    pub told: Vec<Told>,
    /// What the plan is made from, where that is known: a release that says it was given for other files lets
    /// nothing through.
    pub(super) made_from: Option<String>,
    /// Checks, cylinders and readings that have at least one that counts.
    taken: HashSet<(u32, Option<u32>, u32)>,
    /// Of the places in `taken` those that have more than `nr`.
    read: HashSet<(u32, Option<u32>, u32)>,
    /// Of each check and bore the last line that takes back, or lets count again, what was read there.
    struck_in: HashMap<(u32, Option<u32>), usize>,
}

impl Standing {
    /// This standing for a plan made from these files, as [`super::Paper::made_from`] tells them.
    #[must_use]
    pub fn made_from(self, files: String) -> Self {
        Self { made_from: Some(files), ..self }
    }

    /// Whether a reading was really taken, which `nr` does not count as.
    #[must_use]
    pub fn is_read(&self, check: u32, cylinder: Option<u32>, reading: u32) -> bool {
        self.read.contains(&(check, cylinder, reading))
    }

    /// The readings that counted when a line was written: what was taken back since still says what was read before it.
    pub(super) fn then(&self, line: usize) -> impl Iterator<Item = &Reading> {
        let struck = move |r: &Reading| self.strikes.iter().any(|s| s.of == r.line && s.line < line);
        self.readings.iter().filter(move |r| r.line < line && !struck(r))
    }

    /// What was last read at a place, `nr` apart.
    #[must_use]
    pub fn last(&self, check: u32, cylinder: Option<u32>, reading: u32) -> Option<&Reading> {
        let own = self.of_check(check, cylinder).filter(|r| r.reading == reading && r.heard != Heard::None);
        own.last()
    }

    /// Whether anything was said of a reading, be it that it was not taken.
    #[must_use]
    pub fn has(&self, check: u32, cylinder: Option<u32>, reading: u32) -> bool {
        self.taken.contains(&(check, cylinder, reading))
    }

    /// This standing with a struck reading counted.
    pub(super) fn with(&self, line: usize) -> Self {
        let mut standing = self.clone();
        if let Some(read) = standing.readings.iter_mut().find(|r| r.line == line) {
            read.struck = None;
        }
        standing.take_places();
        standing
    }

    /// This standing without one of its readings.
    #[must_use]
    pub fn without(&self, line: usize) -> Self {
        let mut standing = self.clone();
        standing.readings.retain(|r| r.line != line);
        standing.take_places();
        standing
    }

    /// This standing without the last release of a bore, or of what is of none.
    pub(super) fn without_last_release(&self, cylinder: Option<u32>) -> Self {
        let mut standing = self.clone();
        let last = standing.events.iter().rposition(|e| e.what == Word::Release && e.cylinder == cylinder);
        if let Some(last) = last {
            standing.events.remove(last);
        }
        standing
    }

    /// Counts the places that have readings anew.
    pub(super) fn take_places(&mut self) {
        let own = || self.readings.iter().filter(|r| r.struck.is_none());
        let place = |r: &Reading| (r.check, r.cylinder, r.reading);
        let taken = own().map(place).collect();
        let read = own().filter(|r| r.heard != Heard::None).map(place).collect();
        (self.taken, self.read) = (taken, read);
    }

    /// Remembers which check and bore the strikes of a line change.
    pub(super) fn note_strike(&mut self, line: usize, place: (u32, Option<u32>)) {
        let last = self.strikes.iter().filter(|s| s.root == line).map(|s| s.line).max();
        if let Some(last) = last {
            let own = self.struck_in.entry(place).or_default();
            *own = last.max(*own);
        }
    }

    /// The last line that takes back anything read of a check on a bore; 0 where none does.
    #[must_use]
    pub fn struck_in(&self, check: u32, cylinder: Option<u32>) -> usize {
        self.struck_in.get(&(check, cylinder)).copied().unwrap_or_default()
    }

    /// The line that what is read of a check on a bore rests on: its last reading, or the last strike of one. A release
    /// given before it was of something else. `None` where nothing counts.
    #[must_use]
    pub fn since(&self, check: u32, cylinder: Option<u32>) -> Option<usize> {
        let last = self.of_check(check, cylinder).map(|r| r.line).max()?;
        Some(last.max(self.struck_in(check, cylinder)))
    }

    /// The readings of a check on a bore that count, in the order of the file.
    pub fn of_check(&self, check: u32, cylinder: Option<u32>) -> impl Iterator<Item = &Reading> {
        self.readings.iter().filter(move |r| r.check == check && r.cylinder == cylinder && r.struck.is_none())
    }

    /// The checks and bores that have readings which count.
    #[must_use]
    pub fn places(&self) -> Vec<(u32, Option<u32>)> {
        let mut places: Vec<(u32, Option<u32>)> =
            self.readings.iter().filter(|r| r.struck.is_none()).map(|r| (r.check, r.cylinder)).collect();
        places.sort_unstable();
        places.dedup();
        places
    }

    /// The measured sleeve that was pinned to a bore, the last time one was.
    #[must_use]
    pub fn pinned(&self, cylinder: u32) -> Option<&str> {
        let (.., number) = self.pins().filter(|(_, c, _)| *c == cylinder).last()?;
        // A sleeve given to another bore since is no longer this bore's.
        (self.pinned_to(number) == Some(cylinder)).then_some(number)
    }

    /// The candidate that a bore's pocket was cut for, where no single sleeve of it was measured.
    #[must_use]
    pub fn candidate(&self, cylinder: u32) -> Option<&str> {
        let own = self.events.iter().filter(|e| e.what == Word::Sleeve && e.struck.is_none());
        let mut own = own.filter(|e| e.cylinder == Some(cylinder) && e.fields.get("of") == CANDIDATE);
        own.next_back().map(|e| e.fields.get("value"))
    }

    /// The bore that a measured sleeve was pinned to, the last time it was.
    #[must_use]
    pub fn pinned_to(&self, number: &str) -> Option<u32> {
        self.pins().filter(|(.., n)| *n == number).last().map(|(_, cylinder, _)| cylinder)
    }

    /// Every pin that counts, in the order of the file: its line, the bore, the number of the sleeve.
    pub(super) fn pins(&self) -> impl Iterator<Item = (&Event, u32, &str)> {
        let own = self.events.iter().filter(|e| e.what == Word::Sleeve && e.struck.is_none());
        let own = own.filter(|e| e.fields.get("of") != CANDIDATE);
        own.filter_map(|e| Some((e, e.cylinder?, e.fields.get("value"))))
    }

    /// The readings that the work waits for and that were not taken, in the order of work.
    pub fn to_come<'a>(
        &'a self,
        checks: &'a [Check],
    ) -> impl Iterator<Item = (&'a Check, Option<u32>, &'a Asked)> {
        let of = |check: &'a Check| {
            check.cylinders.iter().flat_map(move |at| {
                let waiting = at.readings.iter().filter(|a| a.waits);
                waiting.map(move |asked| (check, at.cylinder, asked))
            })
        };
        checks
            .iter()
            .flat_map(of)
            .filter(|(check, cylinder, asked)| !self.has(check.check, *cylinder, asked.reading))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Stage;
    use crate::plan::check::{AtCylinder, Of, What};
    use crate::read::given::Units;

    fn asked(reading: u32) -> Asked {
        Asked { reading, ..Asked::within(Of::Diameter, 89.78, 0.006) }
    }

    fn check(number: u32, feature: &str) -> Check {
        Check {
            check: number,
            what: What::Size,
            stage: Stage::Pocket,
            bank: "left".into(),
            step: Some(10 * number),
            feature: feature.into(),
            cylinders: vec![AtCylinder { cylinder: Some(3), readings: vec![asked(1), asked(2)] }],
        }
    }

    const HEAD: &str = "check,cylinder,reading,value,note,of";

    fn standing(rows: &str) -> Standing {
        let checks = [check(5, "upper register"), check(6, "lower register")];
        Standing::of(&Log::read(format!("{HEAD}\n{rows}").as_bytes()), &checks, Units::Mm)
    }

    #[test]
    fn a_struck_line_does_not_count_and_says_why() {
        let s = standing("5,3,1,+0.002,,\n5,3,2,+0.001,,\n,,strike,line 2,gauge not set,\n");
        assert_eq!(s.readings[0].struck.as_deref(), Some("gauge not set"));
        assert!(!s.has(5, Some(3), 1) && s.has(5, Some(3), 2));
        assert_eq!(s.readings[0].value(), None);
        assert_eq!(s.told, []);
        // What stands below it cannot be struck.
        let s = standing(",,strike,line 3,too early,\n5,3,1,+0.02,,\n");
        assert!(s.told[0].text.contains("not above it"));
        assert!(s.has(5, Some(3), 1));
    }

    #[test]
    fn a_line_follows_its_check_when_a_plan_numbers_otherwise() {
        let s = standing("9,3,1,89.781,,pocket/left/lower register/size\n");
        assert_eq!((s.readings[0].check, s.readings[0].value()), (6, Some(89.781)));
        assert!(s.told[0].text.contains("CHECK 6 of this plan"));
    }

    #[test]
    fn a_line_that_speaks_of_nothing_known_is_told_and_not_dropped_silently() {
        let rows = "7,3,1,1,,\n5,4,1,1,,\n5,3,9,1,,\n5,3,1,x,,\n5,3,z,1,,\na,3,1,1,,\n";
        let s = standing(rows);
        let lines: Vec<usize> = s.told.iter().map(|t| t.line).collect();
        assert_eq!(lines, [2, 3, 4, 5, 6, 7]);
        assert!(s.told.iter().all(|t| t.holds));
        assert_eq!(s.readings, []);
    }

    #[test]
    fn what_is_to_come_is_in_the_order_of_work() {
        let checks = [check(5, "upper register"), check(6, "lower register")];
        let log = Log::read(format!("{HEAD}\n5,3,1,nr,,\n").as_bytes());
        let s = Standing::of(&log, &checks, Units::Mm);
        let next: Vec<(u32, u32)> = s.to_come(&checks).map(|(c, _, a)| (c.check, a.reading)).collect();
        assert_eq!(next, [(5, 2), (6, 1), (6, 2)]);
    }
}
