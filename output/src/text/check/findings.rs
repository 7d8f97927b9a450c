//! Findings: what is not go at the head of the page, what is good to know at its foot. One cause is told once.

use borewright_planner::plan::sentence::Sentence;
use std::collections::BTreeMap;

use borewright_planner::plan::{Cylinder, Finding, Plan, Subject, Verdict};
use borewright_planner::read::fault::plain;
use borewright_planner::survey::is_suspicion;

use crate::said::alike::alike_but_figures;
use crate::said::short::without_place;
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
    let mut told: Vec<(String, Vec<(u32, String)>)> = Vec::new();
    for c in &plan.cylinders {
        let text = match beyond(plan, c, t).as_deref() {
            None => t.say(&c.why.whole()),
            Some("") => "as said above".to_owned(),
            Some(rest) => format!("as said above{rest}"),
        };
        let alike = if c.verdict == Verdict::Go { without_place(&text) } else { text.clone() };
        match told.iter_mut().find(|(own, _)| *own == alike) {
            Some((_, all)) => all.push((c.cylinder, text)),
            None => told.push((alike, vec![(c.cylinder, text)])),
        }
    }
    let one = |(alike, all): (String, Vec<(u32, String)>)| {
        let numbers: Vec<String> = all.iter().map(|(n, _)| n.to_string()).collect();
        let same = all.iter().all(|(_, text)| all.first().is_some_and(|first| first.1 == *text));
        let text = if same { all.into_iter().next().map_or(alike, |first| first.1) } else { alike };
        t.wrapped(&format!("{:>4}:", numbers.join(" ")), &text, 6)
    };
    told.into_iter().map(one).collect()
}

/// What a bore's reasons say beyond its finding at the head of the page; `None` where it has none there.
fn beyond(plan: &Plan, cylinder: &Cylinder, t: &Terminal) -> Option<String> {
    let own =
        plan.findings.iter().filter(|f| f.verdict != Verdict::Go && f.subject.is_cylinder(cylinder.cylinder));
    let why = t.say(&cylinder.why.whole());
    own.filter(|f| !f.text.is_empty()).find_map(|f| why.strip_prefix(&t.say(&f.text)).map(str::to_owned))
}
