//! Words in passing that tell of damage: in notes, beside readings, and in reasons why a line is struck.

use super::damage::{tells_beside_a_tool, tells_of_damage};
use super::doubt::{denies_a_figure, is_plain, takes_a_look_back, tells_of_doubt};
use super::finding::{Reason, SUBJECT, WorkFinding};
use super::moved::concerned;
use super::release::{lines_released, released_line};
use super::{Event, Fields, Heard, Paper, Reading, Standing, Strike, Word};
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::read::source::sha256_hex;
use crate::say;

/// A hold of the bore, or of every bank, of each line whose words tell of damage: that has events of its own, which
/// say what follows; and at go, each note of which nothing is known.
pub(super) fn findings(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let hold = |(cylinder, line): (Option<u32>, usize), subject: Subject, text: &Sentence| {
        WorkFinding::hold(Reason::Noted { line }, subject, text.clone()).judged(standing, (cylinder, line))
    };
    let mut findings = Vec::new();
    for event in standing.events.iter().filter(|e| e.struck.is_none()) {
        if let Some(text) = of_event(event) {
            let own = concerned(paper, event.cylinder);
            findings
                .extend(own.into_iter().map(|subject| hold((event.cylinder, event.line), subject, &text)));
        }
    }
    for read in standing.readings.iter().filter(|r| r.struck.is_none()) {
        let Some(text) = of_reading(read) else { continue };
        let check = paper.checks.iter().find(|c| c.check == read.check);
        let bank = check.map_or("", |c| c.bank.as_str());
        findings.push(hold((read.cylinder, read.line), Subject::of(read.cylinder, bank), &text));
    }
    for strike in &standing.strikes {
        if let Some(text) = of_strike(standing, strike) {
            let own = concerned(paper, strike.cylinder);
            findings
                .extend(own.into_iter().map(|subject| hold((strike.cylinder, strike.line), subject, &text)));
        }
    }
    findings.extend(open(standing));
    findings
}

/// What an event that tells of damage in passing is answered with; a void, a crack and a touched block are told as such.
pub(crate) fn of_event(event: &Event) -> Option<Sentence> {
    let tells = |text: &&str| tells_of_damage(text) || tells_of_doubt(text);
    let own = |column: &str| Some(event.fields.get(column)).filter(tells);
    let said = match event.what {
        Word::Note => own("value").or(own("note")),
        Word::Tool => Some(event.fields.get("value"))
            .filter(|text| tells_beside_a_tool(text) || tells_of_doubt(text))
            .or(own("note")),
        Word::Sleeve | Word::Place => own("note"),
        _ => None,
    };
    said.map(|text| told(event.line, text))
}

/// What a reading whose note tells of damage, or denies what is read, is answered with.
#[must_use]
pub fn of_reading(read: &Reading) -> Option<Sentence> {
    let note = read.fields.get("note");
    if tells_of_damage(note) || tells_of_doubt(note) {
        return Some(told(read.line, note));
    }
    let said = plain(note, 120);
    match read.heard {
        Heard::Look(true) if takes_a_look_back(note) => Some(say!(
            "line {} says yes, and its note `{}` does not say the same: look again, and strike that line by name",
            read.line,
            said
        )),
        Heard::Figure { .. }
            if denies_a_figure(note, read.fields.get("temperature").is_empty(), read.cylinder) =>
        {
            Some(say!(
                "the note of line {} says `{}`, which denies what is read: read it again, and strike that line by name",
                read.line,
                said
            ))
        }
        _ => None,
    }
}

/// What is asked of the note in a line that nothing is known of: it is neither held nor passed over.
#[must_use]
pub fn unjudged(standing: &Standing, line: usize) -> Option<Sentence> {
    let event = standing.events.iter().find(|e| e.line == line);
    let read = || standing.readings.iter().find(|r| r.line == line);
    let (asked, fields) = match event {
        Some(event) => (of_note(event)?, &event.fields),
        None => read().and_then(|read| Some((beside(read)?, &read.fields)))?,
    };
    (!is_judged(standing, line, fields)).then_some(asked)
}

fn of_note(event: &Event) -> Option<Sentence> {
    let asked = event.what == Word::Note && event.struck.is_none();
    let note = event.fields.get("value");
    (asked && !is_plain(note) && of_event(event).is_none()).then(|| question(event.line, note))
}

fn beside(read: &Reading) -> Option<Sentence> {
    let note = read.fields.get("note");
    (read.struck.is_none() && !is_plain(note) && of_reading(read).is_none())
        .then(|| question(read.line, note))
}

/// Whether the lead judged the note of a line to be neither damage nor of the set-up: `release line N: WHY`, recorded after it.
fn is_judged(standing: &Standing, line: usize, fields: &Fields) -> bool {
    // One that says it is damage is no judgement that it is none.
    released_line(standing, line, &note_stand(fields)).is_some_and(|(_, why)| !tells_of_damage(&why))
}

/// What stands for a note in a line: of another one, put in its place by a hand, nothing was judged.
pub(super) fn note_stand(fields: &Fields) -> String {
    let note = ["sum", "value", "note"].map(|column| fields.get(column)).join("\n");
    sha256_hex(note.as_bytes()).chars().take(12).collect()
}

fn question(line: usize, note: &str) -> Sentence {
    say!(
        "the note `{}` of line {} is written down, not judged: is it damage, the set-up or neither? Damage or a block that moved is \
         written as `crack`, `void` or `moved`; where it is neither the lead says so (`release \"line {}: WHY\"`, with `--by`)",
        plain(note, 120),
        line,
        line
    )
}

/// Each note that is not judged, as a question that stays open: its line and what is asked.
pub(crate) fn questions(standing: &Standing) -> impl Iterator<Item = (usize, Sentence)> {
    // Releases are gone through for the lines alone that one names: a record may be all notes.
    let named = lines_released(standing);
    let events = standing.events.iter().filter_map(|e| Some((e.line, &e.fields, of_note(e)?)));
    let all = events.chain(standing.readings.iter().filter_map(|r| Some((r.line, &r.fields, beside(r)?))));
    all.filter(move |(line, fields, _)| !named.contains(line) || !is_judged(standing, *line, fields))
        .map(|(line, _, text)| (line, text))
}

fn open(standing: &Standing) -> impl Iterator<Item = WorkFinding> {
    questions(standing).map(|(line, text)| {
        WorkFinding::new(Reason::Noted { line }, Verdict::Go, Subject::whole(SUBJECT), text)
    })
}

/// What a strike whose reason tells of damage is answered with. One of damage itself says why it was none.
#[must_use]
pub fn of_strike(standing: &Standing, strike: &Strike) -> Option<Sentence> {
    let of_damage = standing.events.iter().any(|e| {
        e.line == strike.root
            && (matches!(e.what, Word::Void | Word::Crack | Word::Moved) || of_event(e).is_some())
    });
    let of_damage =
        of_damage || standing.readings.iter().any(|r| r.line == strike.root && of_reading(r).is_some());
    (!of_damage && tells_of_damage(&strike.why)).then(|| {
        let of = strike.cylinder.map(|cylinder| format!(" {cylinder}")).unwrap_or_default();
        say!(
            "the reason of line {} says `{}`: if it is damage, or the block moved, write it down as `crack`, `void` or `moved`, which say \
             what follows; where it is neither the lead says so (`release{of} WHY`, with `--by`). Struck itself, line {} would count again",
            strike.line,
            plain(&strike.why, 120),
            strike.of
        )
    })
}

fn told(line: usize, text: &str) -> Sentence {
    say!(
        "the note of line {} says `{}`: if it is damage, or the block moved, write it down as `crack`, `void` or `moved`, which say what \
         follows; once it is settled strike that line by name",
        line,
        plain(text, 120)
    )
}
