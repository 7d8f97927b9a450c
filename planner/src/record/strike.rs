//! Lines taken back: which count no more, and which are taken back only by name and with a reason.

use std::collections::HashMap;

use super::damage::tells_of_damage;
use super::doubt::is_plain;
use super::judge::{Lies, NOTHING, lies};
use super::named::is_named;
use super::reading::reading;
use super::standing::{Standing, Strike, Told};
use crate::log::{Entry, Log, Word};
use crate::plan::check::Check;
use crate::read::fault::plain;
use crate::read::given::Units;
use crate::say;

/// Whether a line is taken back only by name and with a reason: it held or stopped the work, says where metal was
/// cut, or takes a line back itself.
#[must_use]
pub fn wants_a_name(entry: &Entry, checks: &[Check], units: Units) -> bool {
    // What nobody judged yet is taken back by somebody.
    let grave = |text: &str| tells_of_damage(text) || !is_plain(text);
    let damage = || grave(entry.fields.get("note"));
    match Word::of(entry.fields.get("reading")) {
        Some(Word::Void | Word::Crack | Word::Moved | Word::Place | Word::Strike) => true,
        Some(Word::Note) => damage() || grave(entry.fields.get("value")),
        Some(_) => damage(),
        None => damage() || is_outside(entry, checks, units),
    }
}

/// Whether a reading lies outside its window, as it was asked or as it is asked now, or says `no`.
fn is_outside(entry: &Entry, checks: &[Check], units: Units) -> bool {
    let cell = |column: &str| entry.fields.get(column).parse::<f64>().ok().filter(|v| v.is_finite());
    let beyond = |figure: f64| {
        cell("least").is_some_and(|least| figure < least - NOTHING)
            || cell("most").is_some_and(|most| figure > most + NOTHING)
    };
    let asked = reading(entry, checks, units).ok().and_then(|(read, _)| {
        let check = checks.iter().find(|c| c.check == read.check)?;
        let asked = check.at(read.cylinder)?.readings.iter().find(|a| a.reading == read.reading)?;
        Some(matches!(lies(asked, read.heard), Lies::Under(_) | Lies::Over(_) | Lies::Wrong))
    });
    // A line that this plan asks nothing of is known by what was asked then.
    let no = || cell("figure").is_none() && matches!(entry.fields.get("value"), "no" | "0");
    cell("figure").is_some_and(beyond) || asked.unwrap_or_else(no)
}

impl Standing {
    /// Which lines are taken back, and why. Read from the last line upward: a strike that is struck takes nothing back.
    pub(super) fn take_back(&mut self, log: &Log, checks: &[Check], units: Units) -> HashMap<usize, String> {
        let mut struck: HashMap<usize, String> = HashMap::new();
        let own = |e: &&Entry| e.fields.get("reading") == Word::Strike.word();
        for entry in log.entries.iter().rev().filter(own) {
            if struck.contains_key(&entry.line) {
                continue;
            }
            let Some(target) = target(log, entry) else {
                let text = say!("strikes `{}`, which is not above it", plain(entry.fields.get("value"), 40));
                self.told.push(Told::of(log, entry.line, text, true));
                continue;
            };
            let (by, why) = (entry.fields.get("by"), entry.fields.get("note"));
            if !is_named(by, why) && wants_a_name(target, checks, units) {
                let text = say!(
                    "strikes line {} without saying who (`by`) and why in two words or more (`note`): it stands",
                    target.line
                );
                self.told.push(Told::of(log, entry.line, text, true));
                continue;
            }
            let root = root(log, target);
            self.strikes.push(Strike {
                line: entry.line,
                of: target.line,
                root: root.line,
                cylinder: root.fields.get("cylinder").parse().ok(),
                why: why.to_owned(),
                by: by.to_owned(),
            });
            struck.entry(target.line).or_insert_with(|| why.to_owned());
        }
        self.strikes.reverse();
        struck
    }
}

/// The line that a strike takes back. A line is known by its sum wherever a hand has moved it; one without a sum by its
/// number.
fn target<'l>(log: &'l Log, strike: &Entry) -> Option<&'l Entry> {
    let (value, sum) = (strike.fields.get("value"), strike.fields.get("of"));
    let number = value.trim_start_matches("line").trim().parse::<usize>().ok();
    let by_sum = log.entries.iter().find(|e| !sum.is_empty() && e.fields.get("sum") == sum);
    let by_number = log.entries.iter().find(|e| sum.is_empty() && Some(e.line) == number);
    by_sum.or(by_number).filter(|t| t.line < strike.line)
}

/// The line at the end of strikes of strikes.
fn root<'l>(log: &'l Log, target_line: &'l Entry) -> &'l Entry {
    let mut at = target_line;
    while at.fields.get("reading") == Word::Strike.word() {
        // Each is above the one before, so this ends.
        let Some(next) = target(log, at) else { break };
        at = next;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Stage;
    use crate::plan::check::{Asked, AtCylinder, Of, What};

    fn standing(rows: &str) -> Standing {
        let asked = Asked { reading: 1, ..Asked::within(Of::Diameter, 89.78, 0.006) };
        let check = Check {
            check: 5,
            what: What::Size,
            stage: Stage::Pocket,
            bank: "left".into(),
            step: Some(50),
            feature: "upper register".into(),
            cylinders: vec![AtCylinder { cylinder: Some(3), readings: vec![asked] }],
        };
        let log = Log::read(format!("check,cylinder,reading,value,note,by\n{rows}").as_bytes());
        Standing::of(&log, &[check], Units::Mm)
    }

    #[test]
    fn a_struck_strike_takes_nothing_back_and_a_third_takes_it_back_again() {
        let rows = "5,3,1,89.9,,\n,,strike,line 2,gauge was dirty,KP\n,,strike,line 3,it was right,LEAD\n";
        let s = standing(rows);
        assert_eq!((s.readings[0].value(), s.told.len()), (Some(89.9), 0));
        assert_eq!(s.since(5, Some(3)), Some(4), "a release before the last word was of something else");
        let s = standing(&format!("{rows},,strike,line 4,dirty after all,LEAD\n"));
        assert_eq!(s.readings[0].value(), None);
    }

    #[test]
    fn what_held_is_struck_by_name_and_with_a_reason_only() {
        for (row, wants) in [
            ("5,3,1,89.9,,", true),
            ("5,3,1,89.78,,", false),
            ("5,3,1,89.78,crack seen,", true),
            (",3,place,46 0,,", true),
            (",3,note,no crack,,", false),
            (",3,note,it leaks,,", true),
        ] {
            for (strike, counts) in [("x,", !wants), ("gauge not set,", !wants), ("gauge not set,KP", true)] {
                let s = standing(&format!("{row}\n,,strike,line 2,{strike}\n"));
                assert_eq!(s.strikes.len() == 1, counts, "{row} {strike}");
                assert_eq!(s.told.iter().any(|t| t.holds), !counts, "{row} {strike}");
            }
        }
        let twice = "5,3,1,89.78,,\n,,strike,line 2,dirt,\n,,strike,line 3,x,\n";
        assert!(standing(twice).told[0].text.contains("it stands"));
    }
}
