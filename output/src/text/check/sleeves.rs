//! The candidate sleeves side by side, why the chosen one, and what it rests on.

use std::fmt::Write;

use borewright_planner::Planning;
use borewright_planner::job::words;
use borewright_planner::plan::fit::{Register, SleeveLimit};
use borewright_planner::plan::{Plan, SleeveChoice, Verdict};
use borewright_planner::read::fault::plain;

use super::{shown, star};
use crate::text::{mark, wrapped};

/// Longest name in a table.
const NAME: usize = 15;

/// The whole part of the page.
pub(super) fn sleeves(planning: &Planning, page: &mut String) {
    let plan = &planning.plan;
    page.push_str("\nsleeve                     cut a  worst margin      tightest fit   seat/\n");
    page.push_str("                   pocket    side   of the bores     cold  at work   yield\n");
    for s in &plan.sleeves {
        row(plan, s, page);
    }
    for s in &plan.sleeves {
        let chosen = if s.chosen { ">" } else { " " };
        let mut why = s.why.to_string();
        if let Some(worst) = s.worst.filter(|w| w.verdict == Verdict::Go) {
            why.push_str(&format!(
                "; least margin: {}, cylinder {}",
                words::limit(worst.limit),
                worst.cylinder
            ));
        }
        page.push_str(&wrapped(&format!("{chosen} {}:", shown(&s.sleeve, NAME)), &why, 4));
    }
    if plan.sleeves.iter().any(|s| s.fit.registers.iter().any(|r| r.interference.most > 0.0)) {
        page.push_str("  fit: interference on diameter at the loosest of its tolerances; minus is a gap\n");
    }
    limits(plan, page);
    for s in plan.sleeves.iter().filter(|s| s.chosen) {
        let own = s.fit.assigned.iter().map(|a| format!("{} {}", a.cylinder, plain(&a.number, 16)));
        let own: Vec<String> = own.collect();
        if !own.is_empty() {
            page.push_str(&wrapped("  cylinder and the sleeve number for it:", &own.join(", "), 4));
        }
        for note in &s.fit.notes {
            page.push_str(&wrapped("  -", &note.to_string(), 4));
        }
    }
}

fn row(plan: &Plan, s: &SleeveChoice, page: &mut String) {
    let chosen = if s.chosen { ">" } else { " " };
    let _ = write!(page, "{chosen} {:<NAME$} {:>7.3}", shown(&s.sleeve, NAME), s.largest_pocket);
    // From the smallest bore that is there now.
    let now = plan.cylinders.iter().map(|c| c.measured.diameter).reduce(f64::min);
    column(page, 8, now.map(|now| format!("{:.2}", (s.largest_pocket - now) / 2.0)));
    column(page, 13, s.worst.map(|w| format!("{:.3}", w.margin)));
    let _ = write!(page, "{:<2}", s.worst.map_or("", |w| star(w.verdict)));
    let fit = tightest(&s.fit.registers);
    column(page, 9, fit.map(|r| format!("{:+.3}", r.interference.least)));
    column(page, 9, fit.and_then(|r| r.running).map(|r| format!("{:+.3}", r.interference.least)));
    column(page, 8, s.fit.seat.ratio.map(|ratio| format!("{ratio:.2}")));
    let _ = writeln!(page, "  {}", mark(s.verdict));
}

fn column(page: &mut String, width: usize, text: Option<String>) {
    let _ = write!(page, "{:>width$}", text.unwrap_or_else(|| "-".to_owned()));
}

/// The register that grips best.
fn tightest(registers: &[Register]) -> Option<&Register> {
    registers.iter().max_by(|a, b| a.interference.least.total_cmp(&b.interference.least))
}

/// The limits that a job sets on a sleeve: all of the chosen one's, of the others what is not go.
fn limits(plan: &Plan, page: &mut String) {
    let told = |s: &&SleeveLimit, chosen: bool| chosen || s.verdict != Verdict::Go;
    let of = |s: &SleeveChoice| s.fit.sleeve_limits.iter().filter(|l| told(l, s.chosen)).cloned().collect();
    let all: Vec<(&SleeveChoice, Vec<SleeveLimit>)> = plan.sleeves.iter().map(|s| (s, of(s))).collect();
    if all.iter().all(|(_, limits)| limits.is_empty()) {
        return;
    }
    page.push_str("\nlimits of a sleeve                                  value    limit  prefer\n");
    for (s, limits) in all.iter().filter(|(_, limits)| !limits.is_empty()) {
        let chosen = if s.chosen { ">" } else { " " };
        let _ = writeln!(page, "{chosen} {}", shown(&s.sleeve, NAME));
        for l in limits {
            let what = format!("{} ({})", words::limit(l.limit), plain(&l.feature.to_string(), 60));
            let _ = write!(page, "    {:<43}", shown(&what, 42));
            column(page, 10, l.value.map(|v| format!("{v:.3}")));
            column(page, 9, Some(format!("{:.3}", l.least)));
            column(page, 8, l.prefer.map(|p| format!("{p:.3}")));
            let _ = writeln!(page, "  {}", mark(l.verdict));
        }
    }
}
