//! A record held against the checks of a plan: which of its lines count, and what of them must be told.

use super::early::early;
use super::reading::reading;
use super::standing::{Event, Standing, Told};
use crate::log::{Log, Word};
use crate::plan::check::Check;
use crate::read::fault::plain;
use crate::read::given::Units;

impl Standing {
    /// Holds a record against checks.
    #[must_use]
    pub fn of(log: &Log, checks: &[Check], units: Units) -> Self {
        let mut standing = Self::default();
        standing.told.extend(log.told.iter().map(Told::from));
        let mut struck = standing.take_back(log, checks, units);
        for entry in &log.entries {
            let word = entry.fields.get("reading");
            match Word::of(word) {
                Some(Word::Strike) => {}
                Some(what) => {
                    let cylinder = entry.fields.get("cylinder");
                    let number = cylinder.parse().ok();
                    let struck = struck.remove(&entry.line);
                    if number.is_none() && !cylinder.is_empty() && struck.is_none() {
                        let text = format!(
                            "cylinder `{}` is no number, so the line is of none",
                            plain(cylinder, 20)
                        );
                        standing.told.push(Told::of(log, entry.line, text, true));
                    }
                    let fields = entry.fields.clone();
                    standing.events.push(Event { line: entry.line, what, cylinder: number, fields, struck });
                }
                None => match reading(entry, checks, units) {
                    Ok((mut reading, told)) => {
                        standing.told.extend(told.map(|text| Told::of(log, entry.line, text, false)));
                        reading.struck = struck.remove(&entry.line);
                        standing.note_strike(entry.line, (reading.check, reading.cylinder));
                        standing.readings.push(reading);
                    }
                    Err(text) => {
                        let unasked = entry.fields.get("cylinder").parse().ok();
                        standing.told.push(Told { unasked, ..Told::of(log, entry.line, text, true) });
                    }
                },
            }
        }
        for (line, why) in early(checks, &standing) {
            if let Some(read) = standing.readings.iter_mut().find(|r| r.line == line) {
                read.struck = Some(why.to_string());
            }
            standing.told.push(Told::of(log, line, why, false));
        }
        standing.take_places();
        standing.told.sort_by_key(|t| t.line);
        standing
    }
}
