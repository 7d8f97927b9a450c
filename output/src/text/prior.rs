//! What a block's family says of it.

use borewright_planner::plan::prior::{Prior, Spread, WallPrior};
use borewright_planner::plan::rounding::down_mm;
use borewright_planner::read::fault::plain;

use super::table::{Column, Side, table};
use super::{Terminal, mark};
use crate::said::units::Digits;

/// The section: sentences, the walls to read first, what is odd. Empty of no prior.
#[must_use]
pub fn prior_section(prior: &Prior, t: &Terminal) -> String {
    let jobs: Vec<String> = prior.blocks.iter().map(|b| plain(&b.job, 20)).collect();
    let jobs = if jobs.is_empty() { "no other block".to_owned() } else { jobs.join(", ") };
    let mut text = t.wrapped(&format!("\nfamily {}, jobs", plain(&prior.family, 30)), &jobs, 2);
    for said in &prior.says {
        text.push_str(&t.wrapped("  -", &t.say(said), 4));
    }
    let walls = prior.walls_first();
    if !walls.is_empty() {
        page_of(walls, t, &mut text);
    }
    for finding in prior.findings() {
        let subject = format!("  {:<4} {}:", mark(finding.verdict), plain(&finding.subject.to_string(), 40));
        text.push_str(&t.wrapped(&subject, &t.say(&finding.text), 7));
    }
    text
}

/// Adds the walls to read first as a table, by what blocks of the family had there.
fn page_of(walls: &[WallPrior], t: &Terminal, text: &mut String) {
    let head = format!("walls to read\nfirst, {}", t.units.name());
    let columns: [Column<'_>; 7] = [
        (&head, Side::Left),
        ("\nblocks", Side::Right),
        ("\nmean", Side::Right),
        ("\nspread", Side::Right),
        ("next,\nleast", Side::Right),
        ("\nleast", Side::Right),
        ("\nhere", Side::Right),
    ];
    let row = |of: &WallPrior| {
        let Spread { blocks, mean, sd, found, next_least, .. } = &of.wall;
        let cell = |mm: f64| t.cell(mm, Digits::Middling);
        let told = |mm: Option<f64>, none: &str| mm.map_or_else(|| none.to_owned(), cell);
        let [from, to] = of.depths.map(|mm| {
            let told = t.units.length(mm, Digits::Depth).map(|d| d.stacked().replace('\n', " "));
            let told = told.unwrap_or_else(|_| "-".into());
            // A zone's ends are no measured depths: zeros behind their point say nothing.
            if told.contains('(') {
                told
            } else {
                told.trim_end_matches('0').trim_end_matches('.').to_owned()
            }
        });
        vec![
            format!("{} at {:.0}, {from} to {to}", of.cylinder, of.clock),
            blocks.to_string(),
            cell(*mean),
            told(*sd, "-"),
            // What is no less than this is told no larger than it is.
            told(next_least.map(down_mm), "too few"),
            cell(found[0]),
            told(of.here, "-"),
        ]
    };
    text.push('\n');
    text.push_str(&table(t, 2, &columns, &walls.iter().map(row).collect::<Vec<_>>()));
    let key = "cylinder at clock, depth from and to; next, least: no less than this, 95 % sure";
    text.push_str(&t.wrapped(" ", key, 2));
}
