//! Findings: what is not go at the head of the page, what is good to know at its foot.

use borewright_planner::plan::{Cylinder, Finding, Plan, Verdict};
use borewright_planner::read::fault::plain;
use borewright_planner::survey::is_suspicion;

use crate::text::{mark, wrapped};

/// Whatever is not go: doubts about the readings, then the worst first.
pub(super) fn not_go(plan: &Plan, page: &mut String) {
    let mut findings: Vec<&Finding> = plan.findings.iter().filter(|f| f.verdict != Verdict::Go).collect();
    // A doubt about what was typed comes before what follows from it.
    findings.sort_by_key(|f| (!is_suspicion(f.code), std::cmp::Reverse(f.verdict)));
    write(&findings, "\nnot go\n", page);
}

/// What nothing waits for.
pub(super) fn to_know(plan: &Plan, page: &mut String) {
    let findings: Vec<&Finding> = plan.findings.iter().filter(|f| f.verdict == Verdict::Go).collect();
    write(&findings, "\nto know\n", page);
}

fn write(findings: &[&Finding], heading: &str, page: &mut String) {
    if !findings.is_empty() {
        page.push_str(heading);
    }
    for f in findings {
        page.push_str(&wrapped(
            &format!("{:<4} {}:", mark(f.verdict), plain(&f.subject, 40)),
            &f.text.to_string(),
            5,
        ));
    }
}

/// What a bore's reasons say beyond its finding at the head of the page; `None` where it has none there.
pub(super) fn beyond(plan: &Plan, cylinder: &Cylinder) -> Option<String> {
    let subject = format!("cylinder {}", cylinder.cylinder);
    let own = plan.findings.iter().filter(|f| f.verdict != Verdict::Go && f.subject == subject);
    let why = cylinder.why.to_string();
    own.filter(|f| !f.text.is_empty()).find_map(|f| why.strip_prefix(&f.text.to_string()).map(str::to_owned))
}
