//! What is open, what was not measured, the plate, and everything that happened: in words.

use borewright_planner::as_left::AsLeft;
use borewright_planner::plan::sentence::mm;
use borewright_planner::say;

use crate::paper::pages::{BODY, Pages};
use crate::paper::text::Weight;
use crate::said::as_left::missing;
use crate::said::short::one_line;
use crate::said::units::Units;

/// Longest text of one entry.
const LONGEST: usize = 600;

/// What keeps the job from go.
pub(super) fn open(pages: &mut Pages<'_>, units: Units, left: &AsLeft) {
    pages.heading("Open", 30.0);
    if left.open.is_empty() {
        pages.paragraph("Nothing: all was measured, and all is as asked.", Weight::Plain, BODY + 0.5);
    }
    for open in &left.open {
        pages.paragraph(&format!("– {}", units.say(open)), Weight::Plain, BODY + 0.5);
    }
}

/// Checks without a reading.
pub(super) fn not_measured(pages: &mut Pages<'_>, left: &AsLeft) {
    pages.heading("Not measured", 40.0);
    if left.not_measured.is_empty() {
        pages.paragraph("Nothing that was asked for.", Weight::Plain, BODY + 0.5);
    }
    for (head, cylinders) in missing(&left.not_measured) {
        pages.paragraph(&format!("{head}: {cylinders}"), Weight::Plain, BODY);
    }
}

/// What the torque plate did.
pub(super) fn plate(pages: &mut Pages<'_>, units: Units, left: &AsLeft) {
    let Some(plate) = &left.torque_plate else { return };
    pages.heading("Torque plate, on less off", 40.0);
    for b in &plate.bores {
        let text = say!("– cylinder {} at {} deep: {}", b.cylinder, mm(b.depth, 0), b.text);
        pages.paragraph(&units.say(&text), Weight::Plain, BODY + 0.5);
    }
}

/// Events, strikes, and what the record's file tells.
pub(super) fn happened(pages: &mut Pages<'_>, units: Units, left: &AsLeft) {
    let by = |by: &str, at: &str| {
        let by = if by.is_empty() { "nobody named" } else { by };
        let day = at.get(..16).unwrap_or(at).replace('T', " ");
        if day.is_empty() { one_line(by, 60) } else { format!("{}, {day}", one_line(by, 60)) }
    };
    let events = left.events.iter().map(|e| {
        let at = e.cylinder.map_or_else(String::new, |c| format!(", cylinder {c}"));
        format!("line {}, {}{at}: {} ({})", e.line, e.what, one_line(&e.text, LONGEST), by(&e.by, &e.at))
    });
    let struck = left.struck.iter().map(|s| {
        format!(
            "line {}: {}; {} ({})",
            s.line,
            one_line(&s.text, LONGEST),
            one_line(&s.why, LONGEST),
            by(&s.by, "")
        )
    });
    let told = left.told.iter().map(|t| one_line(&units.say(t), LONGEST));
    section(pages, "What happened and was decided", events.collect());
    section(pages, "Struck, and not counted", struck.collect());
    section(pages, "Of the record's file", told.collect());
}

fn section(pages: &mut Pages<'_>, title: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    pages.heading(title, 40.0);
    for line in lines {
        pages.paragraph(&format!("– {line}"), Weight::Plain, BODY);
    }
}
