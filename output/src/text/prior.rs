//! What a block's family says of it.

use std::fmt::Write;

use borewright_planner::plan::prior::{Prior, Spread, WallPrior};
use borewright_planner::read::fault::plain;

use super::{mark, wrapped};

/// The section: sentences, the walls to read first, what is odd. Empty of no prior.
#[must_use]
pub fn prior_section(prior: &Prior) -> String {
    let jobs: Vec<String> = prior.blocks.iter().map(|b| plain(&b.job, 20)).collect();
    let jobs = if jobs.is_empty() { "no other block".to_owned() } else { jobs.join(", ") };
    let mut text = wrapped(&format!("\nfamily {}, jobs", plain(&prior.family, 30)), &jobs, 2);
    for said in &prior.says {
        text.push_str(&wrapped("  -", &said.to_string(), 4));
    }
    let walls = prior.walls_first();
    if !walls.is_empty() {
        let _ = writeln!(
            text,
            "\n  walls to read first, mm   blocks    mean  spread  next, least    least    here"
        );
        for wall in walls {
            row(&mut text, wall);
        }
        text.push_str("  cylinder at clock, depth from-to; next, least: no less than this, 95 % sure\n");
    }
    for finding in prior.findings() {
        let subject = format!("  {:<4} {}:", mark(finding.verdict), plain(&finding.subject, 40));
        text.push_str(&wrapped(&subject, &finding.text.to_string(), 7));
    }
    text
}

fn row(text: &mut String, of: &WallPrior) {
    let Spread { blocks, mean, sd, found, next_least, .. } = &of.wall;
    let figure = |mm: Option<f64>, none: &str| mm.map_or_else(|| none.to_owned(), |mm| format!("{mm:.2}"));
    let place = format!("{} at {:.0}, {:.0}-{:.0}", of.cylinder, of.clock, of.depths[0], of.depths[1]);
    let here = figure(of.here, "-");
    let _ = writeln!(
        text,
        "  {place:<24}{blocks:>8}{mean:>8.2}{:>8}{:>13}{:>9.2}{here:>8}",
        figure(*sd, "-"),
        figure(next_least.map(|mm| (mm * 100.0 + 1e-9).floor() / 100.0), "too few"),
        found[0],
    );
}
