//! What `record` says: what it asks for, and what a reading or an event is answered with.

use borewright_planner::plan::check::{Asked, Of, What};
use borewright_planner::plan::sentence::{Quantity, Sentence, before_mm, half_away, mm, signed_before_mm};
use borewright_planner::plan::{Measure, Verdict};
use borewright_planner::read::fault::plain;
use borewright_planner::record::answer::{Answer, Head, Say};
use borewright_planner::record::{As, Bare, Heard, Log, Standing, Unheard, WorkFinding};
use borewright_planner::say;

use super::Terminal;
use crate::said::record::{Answered, Happened, Onward, Where};
use crate::said::window::Window;

/// "cylinder 3" or "the bank".
#[must_use]
pub fn place_words(cylinder: Option<u32>) -> String {
    cylinder.map_or_else(|| "the bank".to_owned(), |c| format!("cylinder {c}"))
}

/// Clocks nearer than this are one, degrees.
const NEAR_DEG: f64 = 0.5;

/// A figure of a reading in its unit; a length of 0.001 mm or 0.0001 in.
fn figure(asked: &Asked, value: f64, length: fn(f64, usize) -> Quantity) -> Sentence {
    match asked.unit {
        Measure::Length => say!("{}", length(value, 3)),
        Measure::Roughness => say!("{:.2} {}", value, asked.unit.unit()),
        Measure::Angle | Measure::Look => say!("{:.0} {}", value, asked.unit.unit()),
    }
}

/// "expected 88.570 mm, 88.564 to 88.576", a length as its card prints it.
fn window(t: &Terminal, asked: &Asked) -> Sentence {
    let expected = asked.expected.map(|e| say!("expected {}", figure(asked, e, mm)));
    if asked.unit == Measure::Length {
        // In mm limits are told as they are; in inches, where they are rounded, in the card's form.
        let beside = asked.expected.filter(|_| t.units.has_inch());
        let window = Window { expected: beside, least: asked.least, most: asked.most };
        let told = t.units.window(window).ok().filter(|told| !told.is_empty());
        return Sentence::join(expected.into_iter().chain(told.map(Into::into)), ", ");
    }
    let bound = |value: f64| match asked.unit {
        Measure::Roughness => say!("{:.2}", value),
        _ => say!("{:.0}", value),
    };
    let window = match (asked.least, asked.most) {
        (Some(least), Some(most)) => Some(say!("{} to {}", bound(least), bound(most))),
        (None, Some(most)) => Some(say!("at most {}", bound(most))),
        (Some(least), None) => Some(say!("at least {}", bound(least))),
        (None, None) => None,
    };
    Sentence::join(expected.into_iter().chain(window), ", ")
}

/// "CHECK 7, cylinder 3, upper register: diameter at 10.5 deep, across", in the words of the card.
fn named((check, cylinder, asked): Where<'_>) -> Sentence {
    let at = place(asked);
    let at = if at.is_empty() { at } else { say!(" at {}", at) };
    let feature = match check.what {
        What::Touch => check.what.words().to_owned(),
        _ => plain(&check.feature, 40),
    };
    let what = if asked.of == Of::Look { "looked at" } else { asked.of.words() };
    say!("CHECK {}, {}, {}: {}{}", check.check, place_words(cylinder), feature, what, at)
}

/// Where a reading is taken, as the card has it above its box.
fn place(asked: &Asked) -> Sentence {
    let depth = asked.depth.map(|d| say!("{} deep", before_mm(half_away(d, 1), 1)));
    let clock = asked.clock.map(|c| match c {
        along if asked.of == Of::Diameter && along.abs() < NEAR_DEG => "along".into(),
        across if asked.of == Of::Diameter && (across - 90.0).abs() < NEAR_DEG => "across".into(),
        _ => say!("clock {:.0}", c),
    });
    Sentence::join(depth.into_iter().chain(clock), ", ")
}

/// What is said of a reading once it is on the disk.
#[must_use]
pub fn answered_page(t: &Terminal, answered: &Answered<'_>) -> String {
    let Answered { line, at, heard, question, answer, onward } = answered;
    let asked = at.2;
    let said = match *heard {
        Heard::Figure { value, taken } => {
            let off = match (asked.expected, asked.unit) {
                (Some(e), Measure::Length) => say!(", {}", signed_before_mm(value - e, 3)),
                (Some(e), _) => say!(", {:+.3}", value - e),
                (None, _) => Sentence::new(),
            };
            let guess = if taken == As::LastDigits { " (front digits as expected)" } else { "" };
            say!("{}{}{}", figure(asked, value, mm), off, guess)
        }
        Heard::Look(is_so) => {
            let question = question.map_or_else(String::new, |asked| format!("{} ", plain(asked, 80)));
            say!("{}{}", question, if is_so { "yes, as asked" } else { "NO, not as asked" })
        }
        Heard::None => "no reading".into(),
    };
    let t = &t.of_reading(asked.of);
    let window = window(t, asked);
    let window = if window.is_empty() { window } else { say!(" ({})", window) };
    let mut text = t.wrapped(&format!("line {line}:"), &t.say(&named(*at)), 2);
    text.push_str(&t.wrapped("  ", &t.say(&say!("{}{}", said, window)), 4));
    match stays(answer.say, &onward.held) {
        // What was read stands on a line of its own, before what holds it.
        Some(stays) if answer.say == Say::GoOn => {
            text.push_str(&t.wrapped("  ", &t.say(&own(answer, *heard)), 4));
            text.push_str(&advice(t, answer, Some(stays)));
        }
        stays => {
            text.push_str(&advice(t, answer, None));
            stays.iter().for_each(|stays| text.push_str(&t.wrapped("  ", &t.say(stays), 4)));
        }
    }
    text.push_str(&onward_lines(onward));
    text
}

/// What is said of a reading that is right.
fn own(answer: &Answer, heard: Heard) -> Sentence {
    match (answer.why.is_empty(), heard) {
        (false, _) => answer.why.clone(),
        (true, Heard::None) => "written down".into(),
        (true, _) => "as asked".into(),
    }
}

/// What stands in place of "go on" where the reading is right and its bore or bank is held by another: nobody goes on by it.
/// Where the reading itself is held, a stop by another is told behind that.
fn stays(say: Say, held: &[WorkFinding]) -> Option<Sentence> {
    // What is only still to be read comes last.
    let worst = held.iter().max_by_key(|f| (f.verdict, !f.is_to_be_read()));
    let worst = worst.filter(|f| match say {
        Say::GoOn => true,
        Say::Again | Say::Hold => f.verdict == Verdict::Stop,
        Say::Stop => false,
    })?;
    let more = match held.len() {
        1 => String::new(),
        n => format!(" (and {} more)", n - 1),
    };
    let (subject, word) = (plain(&worst.subject.to_string(), 40), worst.verdict.word().to_uppercase());
    Some(say!("{} STAYS AT {}{}: {}", subject, word, more, worst.whole()))
}

/// What comes next.
fn onward_lines(onward: &Onward) -> String {
    let [here, all] = onward.to_come;
    let next = onward.next.map_or_else(String::new, |(check, cylinder)| {
        format!("; next CHECK {check}, {}", place_words(cylinder))
    });
    format!("  to come: {here} here, {all} in all{next}\n")
}

/// What is said of something that happened.
#[must_use]
pub fn happened_page(t: &Terminal, happened: &Happened<'_>) -> String {
    let Happened { line, what, cylinder, text, answer, held } = happened;
    let at = cylinder.map_or_else(String::new, |c| format!(", cylinder {c}"));
    let mut said = t.wrapped(&format!("line {line}: {}{at}:", what.word()), text, 2);
    match stays(answer.say, held) {
        Some(stays) if answer.say == Say::GoOn => {
            said.push_str(&t.wrapped("  ", &t.say(&own(answer, Heard::None)), 4));
            said.push_str(&advice(t, answer, Some(stays)));
        }
        stays => {
            said.push_str(&advice(t, answer, None));
            stays.iter().for_each(|stays| said.push_str(&t.wrapped("  ", &t.say(stays), 4)));
        }
    }
    said
}

/// How its bore, its bank or the job stands once a line is taken back; nothing where nothing holds it.
#[must_use]
pub fn stays_page(t: &Terminal, held: &[WorkFinding]) -> String {
    stays(Say::GoOn, held).map_or_else(String::new, |stays| t.wrapped("  ", &t.say(&stays), 4))
}

/// What is said, why, what can still be done, and the head; `held` stands in place of the first two.
fn advice(t: &Terminal, answer: &Answer, held: Option<Sentence>) -> String {
    let why = if answer.why.is_empty() { Sentence::new() } else { say!(": {}", answer.why) };
    let said = held.unwrap_or_else(|| say!("{}{}", answer.say.words(), why));
    let mut text = t.wrapped("  ", &t.say(&said), 4);
    if !answer.ways.is_empty() {
        text.push_str("  what can still be done, best first:\n");
    }
    for (way, number) in answer.ways.iter().zip(1..) {
        text.push_str(&t.wrapped(&format!("   {number}"), &t.say(&way.text), 5));
    }
    if let Some(head) = &answer.head {
        text.push_str(&t.wrapped("  head:", &t.say(&head.sentence()), 4));
    }
    text
}

/// Which box something was taken for, as the card names it.
#[must_use]
pub fn box_words(t: &Terminal, at: Where<'_>) -> String {
    t.say(&named(at))
}

/// What the prompt asks for: the reading, its window, what is to come of this check and bore and of its stage.
#[must_use]
pub fn question(t: &Terminal, at: Where<'_>, [here, stage]: [usize; 2], bare: Option<Bare>) -> String {
    let (check, t) = (at.0, &t.of_reading(at.2.of));
    // What is looked at has its question on the card.
    let window = if at.2.of.is_look() { "as the card asks? yes or no".into() } else { window(t, at.2) };
    format!(
        "{}\n  {}\n  to come: {here} here, {stage} in {} of bank {}\n{}> ",
        t.say(&named(at)),
        t.say(&window),
        check.stage.word(),
        plain(&check.bank, 20),
        unit_words(bare)
    )
}

/// Before the mark of a question: what a figure without a unit is.
fn unit_words(bare: Option<Bare>) -> String {
    match bare {
        Some(Bare::In(units)) => format!("{} ", units.word()),
        Some(Bare::Either) => "with its unit, `in` or `mm` ".to_owned(),
        None => String::new(),
    }
}

/// The prompt's question what the head was set to, where the bores before advise another setting than the plan's.
#[must_use]
pub fn head_question(t: &Terminal, at: Where<'_>, head: &Head, bare: Option<Bare>) -> String {
    let planned = at.2.expected.unwrap_or(head.set);
    let set = say!("advised {}, plan {}", before_mm(head.set, 3), before_mm(planned, 3));
    format!("{}\n  {}   Enter: as advised\n{}> ", t.say(&named(at)), t.say(&set), unit_words(bare))
}

/// What is expected in place of something that cannot be heard, and what may help.
#[must_use]
pub fn unheard_words(t: &Terminal, unheard: &Unheard) -> String {
    t.say(&unheard.sentence())
}

/// A sentence in the terminal's units.
#[must_use]
pub fn sentence_words(t: &Terminal, sentence: &Sentence) -> String {
    t.say(sentence)
}

/// What of the record's file must be told, a line each.
#[must_use]
pub fn told_lines(t: &Terminal, standing: &Standing, log: &Log) -> Vec<String> {
    const SHOWN: usize = 8;
    let told = standing.told.iter().take(SHOWN);
    let mut lines: Vec<String> = told
        .map(|told| format!("readings/cut.csv:{}: {}", told.line, plain(&t.say(&told.text), 200)))
        .collect();
    if standing.told.len() > SHOWN {
        lines.push(format!("… and {} more of {} lines", standing.told.len() - SHOWN, log.entries.len()));
    }
    lines
}
