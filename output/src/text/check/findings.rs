//! Findings: what is not go at the head of the page, what is good to know at its foot. One cause is told once.

use borewright_planner::plan::sentence::Sentence;
use std::collections::BTreeMap;

use borewright_planner::plan::{Finding, Plan, Subject, Verdict};
use borewright_planner::read::fault::plain;
use borewright_planner::survey::is_suspicion;

use crate::said::alike::alike_but_figures;
use crate::said::reasons::{self, Line};
use crate::text::{Terminal, mark};

/// Whatever is not go: doubts about the readings, then the worst first.
pub(super) fn not_go(plan: &Plan, t: &Terminal, page: &mut String) {
    let found = graver(plan);
    if !found.is_empty() {
        page.push_str("\nnot go\n");
    }
    for (verdict, subjects, text) in once(&found, t) {
        page.push_str(&t.wrapped(&format!("{:<4} {subjects}:", mark(verdict)), &text, 5));
    }
}

/// The findings that are not go: a doubt about what was typed comes before what follows from it.
pub(in crate::text) fn graver(plan: &Plan) -> Vec<&Finding> {
    let mut found: Vec<&Finding> = plan.findings.iter().filter(|f| f.verdict != Verdict::Go).collect();
    found.sort_by_key(|f| (!is_suspicion(f.code), std::cmp::Reverse(f.verdict)));
    found
}

/// Findings of which the same is said, with all that it is said of, in the order of the first of each.
pub(in crate::text) fn once(findings: &[&Finding], t: &Terminal) -> Vec<(Verdict, String, String)> {
    let mut told: Vec<(Verdict, Vec<&Subject>, String)> = Vec::new();
    let mut stands: BTreeMap<(Verdict, String), usize> = BTreeMap::new();
    for f in findings {
        let (subject, text) = (&f.subject, t.say(&f.text));
        let at = *stands.entry((f.verdict, text.clone())).or_insert(told.len());
        match told.get_mut(at) {
            Some((_, subjects, _)) if !subjects.contains(&subject) => subjects.push(subject),
            Some(_) => {}
            None => told.push((f.verdict, vec![subject], text)),
        }
    }
    told.into_iter().map(|(verdict, subjects, text)| (verdict, together(&subjects), text)).collect()
}

/// As [`once`], and of several bores that say the same in other figures the first stands for all, as on the first card.
pub(in crate::text) fn alike(findings: &[&Finding], t: &Terminal) -> Vec<(Verdict, String, String)> {
    let mut left: Vec<&Finding> = findings.to_vec();
    let mut told = Vec::new();
    while !left.is_empty() {
        let first = left.remove(0);
        let own = t.say(&first.text);
        let of_bore = |f: &Finding| Subject::bores([&f.subject]).is_some();
        let is_alike = |f: &mut &Finding| {
            (f.code, f.verdict) == (first.code, first.verdict)
                && (t.say(&f.text) == own
                    || (of_bore(f) && of_bore(first) && alike_but_figures(&t.say(&f.text), &own)))
        };
        let others: Vec<&Finding> = left.extract_if(.., is_alike).collect();
        let mut subjects: Vec<&Subject> = vec![&first.subject];
        for other in &others {
            if !subjects.contains(&&other.subject) {
                subjects.push(&other.subject);
            }
        }
        let in_figures = others.iter().any(|f| t.say(&f.text) != own);
        let text = if in_figures { format!("{}: {own}", plain(&first.subject.to_string(), 60)) } else { own };
        told.push((first.verdict, together(&subjects), text));
    }
    told
}

/// Bores as one subject, "cylinders 1, 3, 5"; anything else one after another.
fn together(subjects: &[&Subject]) -> String {
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
    for (_, subjects, text) in once(&found, t) {
        page.push_str(&t.wrapped(&format!("- {subjects}:"), &text, 2));
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
    let above: Vec<String> = graver(plan).iter().map(|f| t.say(&f.text)).collect();
    let told = |line: Line| {
        let numbers: Vec<String> = line.cylinders.iter().map(u32::to_string).collect();
        t.wrapped(&format!("{:>4}:", numbers.join(" ")), &line.text, 6)
    };
    reasons::lines(&plan.cylinders, &above, t.units).into_iter().map(told).collect()
}
