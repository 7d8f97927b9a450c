//! Findings: what is not go at the head of the page, what is good to know at its foot. One cause is told once.

use borewright_planner::plan::sentence::Sentence;
use borewright_planner::plan::{Finding, Plan, Subject, Verdict};
use borewright_planner::read::fault::plain;

use crate::said::findings::{Alike, alike, not_go, once};
use crate::said::reasons::{self, Line};
use crate::text::{Terminal, mark};

/// Whatever is not go: doubts about the readings, then the worst first.
pub(super) fn all_not_go(plan: &Plan, t: &Terminal, page: &mut String) {
    let found = not_go(plan);
    if !found.is_empty() {
        page.push_str("\nnot go\n");
    }
    for told in once(&found, t.units) {
        let head = format!("{:<4} {}:", mark(told.verdict), together(&told.subjects()));
        page.push_str(&t.wrapped(&head, &told.text, 5));
    }
}

/// The same in short: of several bores that say the same in other figures the first stands for all.
pub(in crate::text) fn kinds_not_go(plan: &Plan, t: &Terminal, page: &mut String) {
    for kind in alike(once(&not_go(plan), t.units)) {
        let Alike { first, others } = &kind;
        let own = first.subjects().first().map(|of| plain(&of.to_string(), 60)).unwrap_or_default();
        let said = if others.is_empty() { first.text.clone() } else { format!("{own}: {}", first.text) };
        let head = format!("  {:<4} {}:", mark(first.verdict), together(&kind.subjects()));
        page.push_str(&t.wrapped(&head, &said, 7));
    }
}

/// Bores as one subject, "cylinders 1, 3, 5"; anything else one after another.
pub(in crate::text) fn together(subjects: &[&Subject]) -> String {
    match Subject::bores(subjects.iter().copied()) {
        Some(bores) => Subject::Cylinders(bores).to_string(),
        None => subjects.iter().map(|s| plain(&s.to_string(), 60)).collect::<Vec<_>>().join(", "),
    }
}

/// What nothing waits for; the notes behind it where they are asked for.
pub(super) fn to_know(plan: &Plan, t: &Terminal, page: &mut String) {
    let found: Vec<&Finding> = plan.findings.iter().filter(|f| f.verdict == Verdict::Go).collect();
    let notes = if t.notes { notes(plan) } else { &[] };
    if !found.is_empty() || !notes.is_empty() {
        page.push_str("\nto know\n");
    }
    for told in once(&found, t.units) {
        page.push_str(&t.wrapped(&format!("- {}:", together(&told.subjects())), &told.text, 2));
    }
    for note in notes {
        page.push_str(&t.wrapped("-", &t.say(note), 2));
    }
}

/// Where the figures of the chosen sleeve come from.
pub(in crate::text) fn notes(plan: &Plan) -> &[Sentence] {
    let chosen = plan.sleeves.iter().find(|s| s.chosen);
    chosen.and_then(|s| s.fit.notes.get(..s.fit.of_figures)).unwrap_or_default()
}

/// One sentence a bore, those of which the same is said together.
pub(super) fn reasons(plan: &Plan, t: &Terminal) -> String {
    let above: Vec<String> = not_go(plan).iter().map(|f| t.say(&f.text)).collect();
    let told = |line: Line| {
        let numbers: Vec<String> = line.cylinders.iter().map(u32::to_string).collect();
        t.wrapped(&format!("{:>4}:", numbers.join(" ")), &line.text, 6)
    };
    reasons::lines(&plan.cylinders, &above, t.units).into_iter().map(told).collect()
}
