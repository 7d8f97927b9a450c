//! The candidate sleeves side by side, why the chosen one, and what it rests on.

use borewright_planner::Planning;
use borewright_planner::job::words;
use borewright_planner::plan::fit::{Register, SleeveLimit};
use borewright_planner::plan::{Plan, SleeveChoice, Verdict};
use borewright_planner::read::fault::plain;

use super::star;
use crate::said::units::Digits;
use crate::text::table::{Column, Side, table};
use crate::text::{Terminal, mark};

/// Longest name told whole.
const NAME: usize = 60;

/// The whole part of the page.
pub(super) fn sleeves(planning: &Planning, t: &Terminal, page: &mut String) {
    let plan = &planning.plan;
    let columns: [Column<'_>; 8] = [
        ("sleeve", Side::Left),
        ("\npocket", Side::Right),
        ("cut a\nside", Side::Right),
        ("worst\nmargin  ", Side::Right),
        ("tightest\nfit cold", Side::Right),
        ("at\nwork", Side::Right),
        ("seat/\nyield", Side::Right),
        ("", Side::Left),
    ];
    page.push('\n');
    let rows: Vec<Vec<String>> = plan.sleeves.iter().map(|s| row(plan, s, t)).collect();
    page.push_str(&table(t, 0, &columns, &rows));
    for s in &plan.sleeves {
        let mut why = t.say(&s.why);
        if let Some(worst) = s.worst.filter(|w| w.verdict == Verdict::Go) {
            why.push_str(&format!(
                "; least margin: {}, cylinder {}",
                words::limit(worst.limit),
                worst.cylinder
            ));
        }
        page.push_str(&t.wrapped(&format!("{}:", named(s)), &why, 4));
    }
    if plan.sleeves.iter().any(|s| s.fit.registers.iter().any(|r| r.interference.most > 0.0)) {
        let text = "interference on diameter at the loosest of its tolerances; minus is a gap";
        page.push_str(&t.wrapped("  fit:", text, 4));
    }
    limits(plan, t, page);
    for s in plan.sleeves.iter().filter(|s| s.chosen) {
        let own = s.fit.assigned.iter().map(|a| format!("{} {}", a.cylinder, plain(&a.number, 16)));
        let own: Vec<String> = own.collect();
        if !own.is_empty() {
            page.push_str(&t.wrapped("  cylinder and the sleeve number for it:", &own.join(", "), 4));
        }
        for note in s.fit.notes.iter().skip(s.fit.of_figures) {
            page.push_str(&t.wrapped("  -", &t.say(note), 4));
        }
    }
}

/// With a mark where it is the chosen one.
fn named(s: &SleeveChoice) -> String {
    format!("{} {}", if s.chosen { ">" } else { " " }, plain(&s.sleeve, NAME))
}

fn row(plan: &Plan, s: &SleeveChoice, t: &Terminal) -> Vec<String> {
    let told = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    // From the smallest bore that is there now.
    let now = plan.cylinders.iter().map(|c| c.measured.diameter).reduce(f64::min);
    let fit = tightest(&s.fit.registers);
    let at_work = fit.and_then(|r| r.running);
    let margin = s.worst.map(|w| format!("{}{:<2}", t.cell(w.margin, Digits::Fine), star(w.verdict)));
    vec![
        named(s),
        t.cell(s.largest_pocket, Digits::Fine),
        told(now.map(|now| t.cell((s.largest_pocket - now) / 2.0, Digits::Middling))),
        margin.unwrap_or_else(|| "-  ".to_owned()),
        told(fit.map(|r| t.signed(r.interference.least, Digits::Fine))),
        told(at_work.map(|r| t.signed(r.interference.least, Digits::Fine))),
        told(s.fit.seat.ratio.map(|ratio| format!("{ratio:.2}"))),
        mark(s.verdict).to_owned(),
    ]
}

/// The register that grips best.
fn tightest(registers: &[Register]) -> Option<&Register> {
    registers.iter().max_by(|a, b| a.interference.least.total_cmp(&b.interference.least))
}

/// The limits that a job sets on a sleeve: all of the chosen one's, of the others what is not go.
fn limits(plan: &Plan, t: &Terminal, page: &mut String) {
    let told = |s: &&SleeveLimit, chosen: bool| chosen || s.verdict != Verdict::Go;
    let of = |s: &SleeveChoice| s.fit.sleeve_limits.iter().filter(|l| told(l, s.chosen)).cloned().collect();
    let all: Vec<(&SleeveChoice, Vec<SleeveLimit>)> = plan.sleeves.iter().map(|s| (s, of(s))).collect();
    if all.iter().all(|(_, limits)| limits.is_empty()) {
        return;
    }
    let columns: [Column<'_>; 5] = [
        ("limits of a sleeve", Side::Left),
        ("value", Side::Right),
        ("limit", Side::Right),
        ("prefer", Side::Right),
        ("", Side::Left),
    ];
    let mut rows = Vec::new();
    for (s, limits) in all.iter().filter(|(_, limits)| !limits.is_empty()) {
        rows.push(vec![named(s), String::new(), String::new(), String::new(), String::new()]);
        for l in limits {
            let one = |v: f64| if l.is_length { t.cell(v, Digits::Fine) } else { format!("{v:.3}") };
            let told = |v: Option<f64>| v.map_or_else(|| "-".to_owned(), one);
            let feature = plain(&t.say(&l.feature), 60);
            rows.push(vec![
                format!("- {} ({feature})", words::limit(l.limit)),
                told(l.value),
                one(l.least),
                told(l.prefer),
                mark(l.verdict).to_owned(),
            ]);
        }
    }
    page.push('\n');
    page.push_str(&table(t, 0, &columns, &rows));
}
