//! Findings of a plan on the work as it is recorded: what no longer fits, happened, or waits.

use super::answer::{Answer, Say, Touched, answer, defect, found};
use super::finding::{Reason, SUBJECT, WorkFinding};
use super::judge::lies_at;
use super::moved::{self, concerned};
use super::release::{released, released_line};
use super::{Event, Lies, Paper, Standing, Word, begun_for, begun_on, is_named, noted, over, pins, widened};
use crate::job::Job;
use crate::plan::check::{AtCylinder, Check, What};
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// One finding for each bore and check that waits for somebody, for what happened, and for what the record's file
/// tells.
#[must_use]
pub fn findings(job: Option<&Job>, paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let mut findings = Vec::new();
    for check in &paper.checks {
        for at in &check.cylinders {
            let Some(last) = standing.since(check.check, at.cylinder) else { continue };
            if let Some(worst) = worst(job, paper, standing, (check, at)) {
                findings.push(of_check(standing, (check, at.cylinder), last, &worst));
            }
        }
    }
    findings.extend(over::findings(paper, standing));
    findings.extend(widened::findings(job, paper, standing));
    findings.extend(noted::findings(paper, standing));
    findings.extend(struck_by_nobody(job, paper, standing));
    findings.extend(pins::findings(paper, standing));
    findings.extend(job.iter().flat_map(|job| pins::missing(job, standing)));
    findings.extend(job.iter().flat_map(|job| begun_for::findings(job, paper, standing)));
    findings.extend(job.iter().flat_map(|job| begun_on::findings(job, paper, standing)));
    for event in standing.events.iter().filter(|e| e.struck.is_none()) {
        match event.what {
            Word::Void | Word::Crack => findings.extend(happened(job, paper, standing, event)),
            Word::Moved => findings.extend(moved::findings(paper, standing, event)),
            _ => {}
        }
    }
    findings.extend(not_asked_now(paper, standing));
    let others = standing.told.iter().filter(|t| !t.unasked.is_some_and(|n| is_withheld(paper, n)));
    findings.extend(others.map(|t| {
        let text = say!("{} line {}: {}", super::FILE, t.line, t.text);
        let (verdict, text) = match released_line(standing, t.line, &t.stand) {
            _ if !t.holds => (Verdict::Go, text),
            Some((by, why)) => (Verdict::Go, say!("{}; released by {}: {}", text, by, why)),
            None => (Verdict::Hold, text),
        };
        let reason = Reason::Line { line: t.line, stand: t.stand.clone() };
        WorkFinding::new(reason, verdict, Subject::whole(SUBJECT), text)
    }));
    findings
}

/// Whether a plan asks nothing of a bore, since it may not be cut.
fn is_withheld(paper: &Paper, cylinder: u32) -> bool {
    paper.cylinders.iter().any(|c| c.cylinder == cylinder && c.withheld)
}

/// One hold for each bore that is held and was read before: what was read of it is judged once it is cleared, and is no
/// fault of the record.
fn not_asked_now(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let held = paper.cylinders.iter().filter(|c| c.withheld);
    held.filter_map(|own| {
        let n = own.cylinder;
        let unasked = standing.told.iter().filter(|t| t.unasked == Some(n)).map(|t| t.line);
        let judged = standing.readings.iter().filter(|r| own.for_judging && r.cylinder == Some(n));
        let judged = judged.filter(|r| r.struck.is_none()).map(|r| r.line);
        let lines: Vec<usize> = unasked.chain(judged).collect();
        let first = lines.iter().min()?;
        let text = say!(
            "{} lines of the record, from line {}, are of cylinder {}, of which this plan asks nothing while it is held: they are \
             judged once it is cleared",
            lines.len(),
            first,
            n
        );
        Some(WorkFinding::hold(Reason::NotAsked, Subject::cylinder(n), text))
    })
    .collect()
}

/// What a check at a bore is answered with: the worst of its readings, and of several as bad all that they say, what
/// lies outside its window first.
fn worst(
    job: Option<&Job>,
    paper: &Paper,
    standing: &Standing,
    (check, at): (&Check, &AtCylinder),
) -> Option<Answer> {
    /// Most that one finding says.
    const MOST: usize = 3;
    let read = at.readings.iter().filter(|a| standing.has(check.check, at.cylinder, a.reading));
    let mut answers: Vec<(bool, Answer)> = read
        .map(|asked| {
            let here = (check, at.cylinder, asked);
            let figure = found(job, paper, standing, here).map(|f| lies_at(asked, f.figure));
            let inside = !matches!(figure, Some(Lies::Under(_) | Lies::Over(_)));
            (inside, answer(job, paper, standing, here))
        })
        .collect();
    let say = answers.iter().map(|(_, a)| a.say).max().filter(|say| *say > Say::GoOn)?;
    answers.retain(|(_, a)| a.say == say);
    answers.sort_by_key(|(inside, _)| *inside);
    let mut answers = answers.into_iter().map(|(_, a)| a);
    let mut first = answers.next()?;
    let mut said: Vec<Sentence> = vec![first.why.clone()];
    for answer in answers {
        if said.len() < MOST && kind(&answer.why) != kind(&first.why) && !said.contains(&answer.why) {
            said.push(answer.why);
        }
    }
    first.why = Sentence::join(said, "; and ");
    Some(first)
}

/// What a sentence says, its figures apart: three places that are too large are told once.
fn kind(text: &Sentence) -> String {
    text.to_string().chars().filter(|c| c.is_alphabetic()).collect()
}

/// Whether a line of the record holds or stops its check, and without it the check would not: it is struck by name
/// and with a reason only.
#[must_use]
pub fn held_by(job: Option<&Job>, paper: &Paper, standing: &Standing, line: usize) -> bool {
    let Some(read) = standing.readings.iter().find(|r| r.line == line && r.struck.is_none()) else {
        return false;
    };
    let Some(check) = paper.checks.iter().find(|c| c.check == read.check) else { return false };
    let Some(at) = check.at(read.cylinder) else { return false };
    let holds =
        |standing: &Standing| worst(job, paper, standing, (check, at)).is_some_and(|a| a.say >= Say::Hold);
    holds(standing) && !holds(&standing.without(line))
}

/// A hold for each line that would hold or stop its check if it were not struck, by nobody or for no reason.
fn struck_by_nobody(job: Option<&Job>, paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let nobody = standing.strikes.iter().filter(|s| !is_named(&s.by, &s.why));
    let held = nobody.filter_map(|strike| {
        let read = standing.readings.iter().find(|r| r.line == strike.of)?;
        let check = paper.checks.iter().find(|c| c.check == read.check)?;
        if !held_by(job, paper, &standing.with(strike.of), strike.of) {
            return None;
        }
        let text = say!(
            "CHECK {}, {}: line {} held it, and line {} strikes that without saying who and why in two words or more: strike line {} \
             by name, and then line {} by name and with the reason",
            check.check,
            plain(&check.feature, 40),
            strike.of,
            strike.line,
            strike.line,
            strike.of
        );
        let reason = Reason::StruckByNobody { check: check.check, line: strike.line };
        let found = WorkFinding::hold(reason, Subject::of(read.cylinder, &check.bank), text);
        Some(found.judged(standing, (read.cylinder, strike.line)))
    });
    held.collect()
}

/// The verdict of an answer that is not to go on.
fn verdict(say: Say) -> Verdict {
    if say == Say::Stop { Verdict::Stop } else { Verdict::Hold }
}

fn of_check(
    standing: &Standing,
    (check, cylinder): (&Check, Option<u32>),
    last_line: usize,
    worst: &Answer,
) -> WorkFinding {
    let way = worst
        .ways
        .first()
        .filter(|_| worst.say == Say::Stop || released(standing, cylinder, last_line).is_none());
    let way = way.map_or_else(Sentence::new, |w| say!("; first of what can be done: {}", w.text));
    let text = say!("CHECK {}, {}: {}{}", check.check, plain(&check.feature, 40), worst.why, way);
    // A touch check or a cut on the wrong side concerns the whole bank: sign, side or zero are those of all its
    // bores.
    let of_bank = match check.what {
        What::Touch => true,
        What::Position => worst.say == Say::Stop,
        _ => false,
    };
    let of = if of_bank { None } else { cylinder };
    let reason = Reason::Reading { check: check.check, cylinder };
    WorkFinding::new(reason, verdict(worst.say), Subject::of(of, &check.bank), text)
        .judged(standing, (cylinder, last_line))
}

/// What a void or a crack comes to, of its bore, or of every bank where none is named that the plan knows.
fn happened(job: Option<&Job>, paper: &Paper, standing: &Standing, e: &Event) -> Vec<WorkFinding> {
    let place = Touched::of_line(job, paper, &e.fields);
    let said = defect(job, paper, (e.what, e.cylinder), place);
    let text = say!("{}: {}; {}", e.what.word(), plain(e.fields.get("value"), 120), said.why);
    let one = |subject| {
        let reason = Reason::Damage { what: e.what, line: e.line };
        let found = WorkFinding::new(reason, verdict(said.say), subject, text.clone());
        found.judged(standing, (e.cylinder, e.line))
    };
    concerned(paper, e.cylinder).into_iter().map(one).collect()
}
