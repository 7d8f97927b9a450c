//! What `plan` says when it is done.

use std::fmt::Write;

use borewright_planner::Planning;
use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;
use borewright_planner::survey::is_suspicion;

use super::{mark, short, wrapped};
use crate::Bundle;

/// The verdict, what is not at go, and where the files lie.
#[must_use]
pub fn summary(planning: &Planning, bundle: &Bundle, place: &str) -> String {
    let plan = &bundle.plan;
    let mut text = String::new();
    let count = plan.cylinders.len();
    let _ = writeln!(
        text,
        "{}: job {}, block {}, {count} cylinder{} with sleeve {}",
        mark(plan.verdict).to_uppercase(),
        plain(&plan.job, 40),
        plain(&planning.job.block.name, 40),
        if count == 1 { "" } else { "s" },
        plain(plan.cylinders.first().map_or("", |c| &c.sleeve), 40),
    );
    let mut findings: Vec<_> = plan.findings.iter().filter(|f| f.verdict != Verdict::Go).collect();
    findings.sort_by_key(|f| (!is_suspicion(f.code), std::cmp::Reverse(f.verdict)));
    for f in findings {
        text.push_str(&wrapped(
            &format!("  {:<4} {}:", mark(f.verdict), plain(&f.subject, 40)),
            &f.text.to_string(),
            7,
        ));
    }
    let listed: Vec<u32> = plan.lists.iter().flat_map(|l| l.cylinders.iter().copied()).collect();
    let withheld: Vec<String> = plan
        .cylinders
        .iter()
        .map(|c| c.cylinder)
        .filter(|c| !listed.contains(c))
        .map(|c| c.to_string())
        .collect();
    if !withheld.is_empty() {
        let _ = writeln!(text, "  no coordinates for cylinder {}", withheld.join(", "));
    }
    if let Some(release) = &plan.release {
        let who = format!("  released by {}:", plain(&release.who, 60));
        text.push_str(&wrapped(&who, &release.why, 4));
    }
    let minutes: f64 = plan.times.iter().map(|t| t.work + t.handling).sum();
    if minutes > 0.0 {
        let stages: Vec<String> = plan
            .times
            .iter()
            .map(|t| format!("{} {:.1}", t.stage.word(), (t.work + t.handling) / 60.0))
            .collect();
        let first = format!("about {:.1} hours:", minutes / 60.0);
        text.push_str(&wrapped(&first, &stages.join(", "), 2));
    }
    let _ = writeln!(text, "fingerprint {}", short(&plan.fingerprint));
    let _ = writeln!(text, "written to {}:", plain(place, 200));
    for artifact in &bundle.artifacts {
        let _ = writeln!(text, "  {}", artifact.path);
    }
    text
}
