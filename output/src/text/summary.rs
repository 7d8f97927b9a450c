//! What `plan` says when it is done.

use borewright_planner::plan::cylinder_words;
use std::fmt::Write;

use borewright_planner::Planning;
use borewright_planner::read::fault::plain;

use super::check::{findings, tightest};
use super::{Terminal, mark, short};
use crate::Bundle;

/// The verdict, the tightest limit, what to do next, what is not at go, and where the files lie.
#[must_use]
pub fn summary(planning: &Planning, bundle: &Bundle, t: &Terminal, place: &str) -> String {
    let plan = &bundle.plan;
    let count = plan.cylinders.len();
    let title = format!(
        "job {}, block {}, {count} cylinder{} with sleeve {}",
        plain(&plan.job, 40),
        plain(&planning.job.block.name, 40),
        if count == 1 { "" } else { "s" },
        plain(plan.cylinders.first().map_or("", |c| &c.sleeve), 40),
    );
    let mut text = t.wrapped(&format!("{}:", mark(plan.verdict).to_uppercase()), &title, 2);
    text.push_str(&tightest::tightest(plan, t));
    text.push_str(&tightest::after_plan(plan, t, place));
    findings::kinds_not_go(plan, t, &mut text);
    let listed: Vec<u32> = plan.lists.iter().flat_map(|l| l.cylinders.iter().copied()).collect();
    let withheld: Vec<u32> =
        plan.cylinders.iter().map(|c| c.cylinder).filter(|c| !listed.contains(c)).collect();
    if !withheld.is_empty() {
        text.push_str(&t.wrapped("  no coordinates for", &cylinder_words(&withheld), 4));
    }
    if let Some(release) = &plan.release {
        let who = format!("  released by {}:", plain(&release.who, 60));
        text.push_str(&t.wrapped(&who, &release.why, 4));
    }
    let minutes: f64 = plan.times.iter().map(|t| t.work + t.handling).sum();
    if minutes > 0.0 {
        let stages: Vec<String> = plan
            .times
            .iter()
            .map(|t| format!("{} {:.1}", t.stage.word(), (t.work + t.handling) / 60.0))
            .collect();
        let first = format!("about {:.1} hours:", minutes / 60.0);
        text.push_str(&t.wrapped(&first, &stages.join(", "), 2));
    }
    let _ = writeln!(text, "fingerprint {}", short(&plan.fingerprint));
    let notes = findings::notes(plan);
    for note in notes.iter().filter(|_| t.notes) {
        text.push_str(&t.wrapped("-", &t.say(note), 2));
    }
    text.push_str(t.untold(notes.len()).trim_start_matches('\n'));
    text.push_str(&t.wrapped("written to", &format!("{}:", plain(place, 200)), 2));
    for artifact in &bundle.artifacts {
        text.push_str(&t.wrapped("", &format!("  {}", artifact.path), 4));
    }
    text
}
