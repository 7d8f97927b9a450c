//! Where a figure comes from, for a terminal.

use std::fmt::Write;

use borewright_planner::explain::{Account, Unasked};

use super::Terminal;
use crate::said::explained::{Explained, Told, explained};

/// Accounts one under the other: formula, the same with the figures put in, what it comes to, where each part is from.
#[must_use]
pub fn explain_page(accounts: &[Account], t: &Terminal) -> String {
    let units = t.units.of_sentences();
    let told: Vec<String> = accounts.iter().map(|account| page(&explained(account, units), t)).collect();
    told.join("\n")
}

/// A question without an answer.
#[must_use]
pub fn unasked_page(unasked: &Unasked, t: &Terminal) -> String {
    let mut text = match unasked.found.as_str() {
        "" => "what can be asked for:\n".to_owned(),
        found => t.wrapped(&format!("found `{found}`,"), "expected one of", 2),
    };
    // One thing is amiss: that says more than all that could be asked.
    if let (true, Some(near)) = (unasked.expected.is_empty(), &unasked.near) {
        return t.wrapped(&format!("found `{}`:", unasked.found), near, 2);
    }
    for line in &unasked.expected {
        text.push_str(&t.wrapped("  ", line, 6));
    }
    if let Some(near) = &unasked.near {
        let _ = writeln!(text, "{near}");
    }
    text
}

fn page(of: &Explained, t: &Terminal) -> String {
    let mut text = t.wrapped("", &of.title, 2);
    for row in &of.rows {
        if let Some(formula) = &row.formula {
            worked(&mut text, row, formula, t);
        }
    }
    text.push('\n');
    let widest = of.rows.iter().map(|row| row.name.chars().count()).max().unwrap_or(0);
    for row in of.rows.iter().filter(|row| row.formula.is_none()) {
        let figure = figure(row);
        let said = if row.from.is_empty() {
            row.says.clone()
        } else {
            format!("{}: {}", row.says, row.from.join("; "))
        };
        text.push_str(&t.wrapped(&format!("  {:<widest$}  {figure:<16}", row.name), &said, widest + 20));
    }
    for note in &of.notes {
        text.push_str(&t.wrapped("  -", note, 4));
    }
    text
}

fn figure(row: &Told) -> String {
    match &row.figure {
        Some(figure) => format!("{figure} {}", row.unit).trim_end().to_owned(),
        None => "withheld".to_owned(),
    }
}

fn worked(text: &mut String, row: &Told, formula: &str, t: &Terminal) {
    let indent = row.name.chars().count() + 5;
    text.push_str(&t.wrapped("   ", &row.says, 3));
    text.push_str(&t.wrapped(&format!("  {} =", row.name), formula, indent));
    if let Some(put_in) = row.with_figures.as_ref().filter(|put_in| *put_in != formula) {
        text.push_str(&t.wrapped(&format!("{:>1$} =", "", indent - 3), put_in, indent));
    }
    text.push_str(&t.wrapped(&format!("{:>1$} =", "", indent - 3), &figure(row), indent));
}
