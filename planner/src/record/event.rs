//! The answer to an event: one of its own, or what a release lets through and what still holds.

use super::answer::{Answer, Say, Touched, defect, fine_mm};
use super::moved::DATUM_MM;
use super::release::{is_of_nothing, named_line};
use super::{Event, Paper, Standing, Word, WorkFinding, as_cut, noted, pins};
use crate::job::Job;
use crate::plan::Verdict;
use crate::plan::check::What;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::touch::TOUCH_DEPTH_MM;
use crate::read::fault::plain;
use crate::say;

/// Answers an event.
#[must_use]
pub fn answer(
    job: Option<&Job>,
    paper: &Paper,
    standing: &Standing,
    (what, cylinder): (Word, Option<u32>),
    place: Touched,
) -> Answer {
    match what {
        Word::Void | Word::Crack => defect(job, paper, (what, cylinder), place),
        Word::Tool => match last_of(standing, Word::Tool).and_then(noted::of_event) {
            Some(why) => Answer::say(Say::Hold, why),
            None => Answer::say(
                Say::GoOn,
                say!(
                    "what the head is off by is counted anew from the next bore: try it {} deep and measure before it goes down",
                    mm(TOUCH_DEPTH_MM, 0)
                ),
            ),
        },
        Word::Moved => moved(paper, standing),
        Word::Release => released(job, paper, standing, cylinder),
        Word::Sleeve => match pins::last(paper, standing, cylinder) {
            Some(why) => Answer::say(Say::Hold, why),
            None => Answer::say(Say::GoOn, pins::in_place_of(standing, cylinder).unwrap_or_default()),
        },
        Word::Note => match last_of(standing, Word::Note).and_then(noted::of_event) {
            Some(why) => Answer::say(Say::Hold, why),
            None => {
                let line = last_of(standing, Word::Note).map_or(0, |e| e.line);
                Answer::say(Say::GoOn, noted::unjudged(standing, line).unwrap_or_default())
            }
        },
        _ => Answer::say(Say::GoOn, ""),
    }
}

/// The last event of a kind that counts.
fn last_of(standing: &Standing, what: Word) -> Option<&Event> {
    standing.events.iter().rfind(|e| e.what == what && e.struck.is_none())
}

/// A release: what it does not let through, and all that it does, named or not.
fn released(job: Option<&Job>, paper: &Paper, standing: &Standing, cylinder: Option<u32>) -> Answer {
    let holds = |standing: &Standing| -> Vec<WorkFinding> {
        let found = as_cut::findings(job, paper, standing).into_iter();
        found.filter(|f| f.verdict > Verdict::Go).collect()
    };
    let left = holds(standing);
    let before = standing.without_last_release(cylinder);
    let lets = through(&holds(&before), &left).into_iter().chain(judged(&before, standing));
    let lets: Vec<Sentence> = lets.collect();
    let through = (!lets.is_empty()).then(|| Sentence::join(lets, "; and "));
    let of = |f: &&WorkFinding| cylinder.is_none_or(|c| f.subject.is_cylinder(c));
    let with = |text: Sentence| match &through {
        Some(through) => say!("{}; and {}", text, through),
        None => text,
    };
    match left.iter().filter(of).max_by_key(|f| f.verdict) {
        Some(f) if f.verdict == Verdict::Stop => {
            Answer::say(Say::Stop, with(say!("a release lets no stop through: {}", f.whole())))
        }
        Some(f) => {
            Answer::say(Say::Hold, with(say!("what still holds {}: {}", f.subject.to_string(), f.whole())))
        }
        None => match (through, of_nothing(standing, cylinder)) {
            (None, Some(line)) => Answer::say(
                Say::Hold,
                say!("it lets nothing through: nothing of line {} holds or is asked", line),
            ),
            (through, _) => match still_asked(standing, cylinder) {
                Some(question) => Answer::say(Say::Hold, with_all(through, question)),
                None => Answer::say(Say::GoOn, through.unwrap_or_default()),
            },
        },
    }
}

/// The last release of a cylinder, or of none.
fn last_release(standing: &Standing, cylinder: Option<u32>) -> Option<&Event> {
    standing.events.iter().rfind(|e| e.what == Word::Release && e.cylinder == cylinder)
}

/// The line of which the last release lets nothing through.
fn of_nothing(standing: &Standing, cylinder: Option<u32>) -> Option<usize> {
    last_release(standing, cylinder).and_then(is_of_nothing)
}

/// What is still asked of the note in the line that the last release names: a reason that tells of damage judges it to be none no more
/// than one without a name does.
fn still_asked(standing: &Standing, cylinder: Option<u32>) -> Option<Sentence> {
    let line = last_release(standing, cylinder).and_then(|e| named_line(e.fields.get("value")))?;
    noted::unjudged(standing, line)
}

fn with_all(through: Option<Sentence>, question: Sentence) -> Sentence {
    match through {
        Some(through) => say!("{}; and {}", question, through),
        None => question,
    }
}

/// Notes that a release says tell of no damage, in words; nothing where there are none.
fn judged(before: &Standing, now: &Standing) -> Option<Sentence> {
    let still: Vec<usize> = noted::questions(now).map(|(line, _)| line).collect();
    let gone = noted::questions(before).map(|(line, _)| line).filter(|line| !still.contains(line));
    let gone: Vec<String> = gone.map(|line| line.to_string()).collect();
    (!gone.is_empty())
        .then(|| say!("the note of line {} is judged: neither damage nor the set-up", gone.join(", ")))
}

/// Every hold that is gone, in words; nothing where none is.
fn through(before: &[WorkFinding], left: &[WorkFinding]) -> Option<Sentence> {
    let still = |f: &WorkFinding| left.iter().any(|l| l.is_same(f));
    let gone: Vec<Sentence> = before
        .iter()
        .filter(|f| f.verdict == Verdict::Hold && !still(f))
        .map(|f| say!("{}: {}", f.subject.to_string(), f.whole()))
        .collect();
    let count = gone.len();
    (count > 0).then(|| {
        let holds = if count == 1 { "this hold".to_owned() } else { format!("these {count} holds") };
        say!("it lets {} through: {}", holds, Sentence::join(gone, "; and "))
    })
}

/// The block was touched: what its set-up carried has ended.
fn moved(paper: &Paper, standing: &Standing) -> Answer {
    let last = standing.readings.iter().rev().find(|r| r.struck.is_none());
    let at = last.and_then(|r| paper.checks.iter().find(|c| c.check == r.check)).or(paper.checks.first());
    let Some(at) = at else { return Answer::say(Say::Hold, "read the set-up again") };
    let mut touch =
        paper.checks.iter().filter(|c| c.what == What::Touch && c.bank == at.bank && c.check <= at.check);
    let again = touch.next_back().map_or_else(String::new, |c| {
        format!(" and read CHECK {0} again (`anew {0}` takes back what was read of it)", c.check)
    });
    Answer::say(
        Say::Hold,
        say!(
            "journal axis, along datum and deck of bank {} as they were read, and every list of it that is not finished, end here: \
             sweep the axis, pick up the datum{} before the next cut. More than {} off: plan again",
            plain(&at.bank, 30),
            again,
            fine_mm(DATUM_MM)
        ),
    )
}
