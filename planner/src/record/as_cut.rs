//! Findings of a plan on the work as it is recorded: what no longer fits, happened, or waits.

use super::answer::{Answer, Say, Touched, answer, event};
use super::behind::{is_answered, passed_over};
use super::moved::{self, all_banks};
use super::release::{refused, released, released_line};
use super::{Event, Heard, Paper, Standing, Word, begun_for, begun_on, pins};
use crate::job::Job;
use crate::plan::check::{Check, Of, What};
use crate::plan::sentence::Sentence;
use crate::plan::{Finding, Stage, Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// What findings of the record itself are about: all that is planned by it.
pub const SUBJECT: &str = "the record";

/// One finding for each bore and check that waits for somebody, for what happened, and for what the record's file
/// tells.
#[must_use]
pub fn findings(job: Option<&Job>, paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in &paper.checks {
        for at in &check.cylinders {
            let Some(last) = standing.of_check(check.check, at.cylinder).map(|r| r.line).max() else {
                continue;
            };
            let read = at
                .readings
                .iter()
                .filter(|a| a.of != Of::Set && standing.has(check.check, at.cylinder, a.reading));
            let worst = read
                .map(|asked| answer(job, paper, standing, (check, at.cylinder, asked)))
                .max_by_key(|a| a.say);
            if let Some(worst) = worst.filter(|a| a.say > Say::GoOn) {
                findings.push(of_check(standing, (check, at.cylinder), last, &worst));
            }
        }
    }
    findings.extend(over(paper, standing));
    findings.extend(pins::findings(paper, standing));
    findings.extend(job.iter().flat_map(|job| pins::missing(job, standing)));
    findings.extend(job.iter().flat_map(|job| begun_for::findings(job, paper, standing)));
    findings.extend(job.iter().flat_map(|job| begun_on::findings(job, paper, standing)));
    for event in standing.events.iter().filter(|e| e.struck.is_none()) {
        match event.what {
            Word::Void | Word::Crack => findings.extend(happened(job, paper, standing, event)),
            Word::Moved => findings.extend(moved::findings(paper, standing, event)),
            Word::Note => {
                let hold = |text: &Sentence, subject: &Subject| {
                    judged(standing, (event.cylinder, event.line), ("noted", Say::Hold), subject, text)
                };
                let said = noted(event);
                let held = said
                    .iter()
                    .flat_map(|text| of_event(paper, event).into_iter().map(move |s| hold(text, &s)));
                findings.extend(held);
            }
            _ => {}
        }
    }
    findings.extend(not_asked_now(paper, standing));
    let others = standing.told.iter().filter(|t| !t.unasked.is_some_and(|n| is_withheld(paper, n)));
    findings.extend(others.map(|t| {
        let text = say!("{} line {}: {}", super::FILE, t.line, t.text);
        let (verdict, text) = match released_line(standing, t.line) {
            _ if !t.holds => (Verdict::Go, text),
            Some((by, why)) => (Verdict::Go, say!("{}; released by {}: {}", text, by, why)),
            None => (Verdict::Hold, text),
        };
        Finding { code: "record", verdict, subject: Subject::whole(SUBJECT), text }
    }));
    findings
}

/// Whether a plan asks nothing of a bore, since it may not be cut.
fn is_withheld(paper: &Paper, cylinder: u32) -> bool {
    paper.cylinders.iter().any(|c| c.cylinder == cylinder && c.withheld)
}

/// One hold for each bore that is held and was read before: what was read of it is judged once it is cleared, and is no
/// fault of the record.
fn not_asked_now(paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let held = paper.cylinders.iter().filter(|c| c.withheld).map(|c| c.cylinder);
    held.filter_map(|n| {
        let lines: Vec<usize> =
            standing.told.iter().filter(|t| t.unasked == Some(n)).map(|t| t.line).collect();
        let first = lines.first()?;
        let text = say!(
            "{} lines of the record, from line {}, are of cylinder {}, of which this plan asks nothing while it is held: they are \
             judged once it is cleared",
            lines.len(),
            first,
            n
        );
        Some(Finding { code: "record", verdict: Verdict::Hold, subject: Subject::cylinder(n), text })
    })
    .collect()
}

/// A hold that a named release lets through, or a stop that none does.
pub(super) fn judged(
    standing: &Standing,
    (cylinder, line): (Option<u32>, usize),
    (code, say): (&'static str, Say),
    subject: &Subject,
    text: &Sentence,
) -> Finding {
    let stop = say == Say::Stop;
    let finding = |code, verdict, more: String| Finding {
        code,
        verdict,
        subject: subject.clone(),
        text: say!("{}{}", text, more),
    };
    match released(standing, cylinder, line).filter(|_| !stop) {
        Some((by, why)) => finding("as_cut_released", Verdict::Go, format!("; released by {by}: {why}")),
        None => {
            let verdict = if stop { Verdict::Stop } else { Verdict::Hold };
            finding(code, verdict, refused(standing, cylinder, line, stop))
        }
    }
}

fn of_check(
    standing: &Standing,
    (check, cylinder): (&Check, Option<u32>),
    last_line: usize,
    worst: &Answer,
) -> Finding {
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
    judged(standing, (cylinder, last_line), ("as_cut", worst.say), &Subject::of(of, &check.bank), &text)
}

/// Findings on checks that were skipped: the sleeve is in, and its pocket was not measured.
fn over(paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let mut findings = Vec::new();
    for cylinder in paper.cylinders.iter().map(|c| c.cylinder) {
        let open: Vec<(&Check, usize)> = passed_over(paper, standing, cylinder)
            .into_iter()
            .filter(|(_, line)| released(standing, Some(cylinder), *line).is_none())
            .collect();
        let Some(line) = open.iter().map(|(_, line)| *line).min() else { continue };
        let named: Vec<String> =
            open.iter().map(|(c, _)| format!("{} ({})", c.check, plain(&c.feature, 40))).collect();
        let text = say!(
            "not all read of CHECK {}, though line {} reads what comes after: what was cut there, and whether it was, is not \
             known. Read them, or strike that line where its check is mistyped",
            named.join(", "),
            line
        );
        let at = (Some(cylinder), line);
        findings.push(judged(standing, at, ("passed_over", Say::Hold), &Subject::cylinder(cylinder), &text));
    }
    findings.extend(decks_over(paper, standing));
    findings.extend(decks_early(paper, standing));
    findings
}

/// Decks that were cut before what counts from them as they were.
fn decks_early(paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let decks = paper.checks.iter().filter(|c| c.what == What::Deck && c.at(None).is_some());
    let early = decks.filter_map(|deck| {
        let line = standing.of_check(deck.check, None).filter(|r| r.heard != Heard::None).map(|r| r.line).max()?;
        // Pockets count from the deck as it was; cut with the sleeves in, it needs them in.
        let before = |c: &&Check| c.bank == deck.bank && matches!(c.stage, Stage::Pocket | Stage::Fit);
        let pockets = paper.checks.iter().filter(before);
        let pockets = pockets.filter(|c| c.what != What::Touch && c.step < deck.step);
        let mut open = pockets.flat_map(|c| c.cylinders.iter().map(move |at| (c, at.cylinder)));
        let (check, cylinder) =
            open.find(|(c, cylinder)| cylinder.is_some() && !is_answered(standing, c, *cylinder))?;
        let text = say!(
            "line {} reads the deck as cut, and CHECK {} ({}) of cylinder {} is not read, which comes before: depths still to be cut \
             count from the deck as it was, and sleeves that are cut with it must be in. Plan with the deck height that is there now and \
             nothing to cut, or strike that line",
            line,
            check.check,
            plain(&check.feature, 40),
            cylinder.unwrap_or_default()
        );
        let place = ("deck_early", Say::Hold);
        Some(judged(standing, (None, line), place, &Subject::bank(&deck.bank), &text))
    });
    early.collect()
}

/// Decks that nobody read, though something after them was.
fn decks_over(paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let decks = paper.checks.iter().filter(|c| c.what == What::Deck && c.at(None).is_some());
    let open = decks.filter(|c| !is_answered(standing, c, None)).filter_map(|check| {
        let later = paper.checks.iter().filter(|c| c.bank == check.bank && c.step > check.step);
        let read = later.flat_map(|c| c.cylinders.iter().map(move |at| (c.check, at.cylinder)));
        let lines = read.flat_map(|(check, cylinder)| standing.of_check(check, cylinder));
        let line = lines.filter(|r| r.heard != Heard::None).map(|r| r.line).min()?;
        let text = say!(
            "not all read of CHECK {} ({}), though line {} reads what comes after: depths and heights count from that deck. Read \
             it, or strike that line where its check is mistyped",
            check.check,
            plain(&check.feature, 40),
            line
        );
        let place = ("passed_over", Say::Hold);
        Some(judged(standing, (None, line), place, &Subject::bank(&check.bank), &text))
    });
    open.collect()
}

/// Words of a note that tell of a block which may be lost.
const GRAVE: [&str; 8] = ["crack", "leak", "broke", "burst", "chipped", "slipped", "moved", "water jacket"];
/// Words that deny what follows them in a note.
const DENIES: [&str; 5] = ["no ", "not ", "without", "never", "free of"];

/// What a note that tells of damage in passing is answered with: damage has events of its own, which say what follows.
pub(crate) fn noted(e: &Event) -> Option<Sentence> {
    let said = e.fields.get("value").to_lowercase();
    let at = GRAVE.iter().filter_map(|word| said.find(word)).min()?;
    let before = said.get(..at).unwrap_or_default();
    if DENIES.iter().any(|word| before.contains(word)) {
        return None;
    }
    Some(say!(
        "the note of line {} says `{}`: if it is so, write it down as `crack`, `void` or `moved`, which say what follows; else strike \
         the note",
        e.line,
        plain(e.fields.get("value"), 120)
    ))
}

/// The bore that an event is of, or every bank.
fn of_event(paper: &Paper, e: &Event) -> Vec<Subject> {
    match e.cylinder.filter(|n| paper.cylinders.iter().any(|c| c.cylinder == *n)) {
        Some(cylinder) => vec![Subject::cylinder(cylinder)],
        None => all_banks(paper).iter().map(Subject::bank).collect(),
    }
}

/// What a void or a crack comes to, of its bore, or of every bank where none is named that the plan knows.
fn happened(job: Option<&Job>, paper: &Paper, standing: &Standing, e: &Event) -> Vec<Finding> {
    let place = Touched::of_line(job, paper, &e.fields);
    let said = event(job, paper, standing, (e.what, e.cylinder), place);
    let text = say!("{}: {}; {}", e.what.word(), plain(e.fields.get("value"), 120), said.why);
    let subjects = of_event(paper, e);
    let own = (e.what.word(), said.say);
    subjects.iter().map(|subject| judged(standing, (e.cylinder, e.line), own, subject, &text)).collect()
}
