//! What `trend` says: sentences first, then the figures that they rest on.

use std::fmt::Write;

use borewright_planner::family::{BankStand, Spread, Trend, WallCell};
use borewright_planner::plan::rounding::down_mm;
use borewright_planner::read::fault::plain;

use super::wrapped;

/// Rows of walls shown; the rest is in the JSON.
const WALLS: usize = 8;

/// The page.
#[must_use]
pub fn trend_page(trend: &Trend) -> String {
    let jobs: Vec<String> = trend.blocks.iter().map(|b| plain(&b.job, 20)).collect();
    let mut page = wrapped(
        &format!("FAMILY {}: {} block{}, jobs", plain(&trend.family, 30), jobs.len(), plural(jobs.len())),
        &jobs.join(", "),
        2,
    );
    page.push_str("all figures mm; bored at the true position, before any bore is moved\n\n");
    for said in &trend.says {
        page.push_str(&wrapped("-", &said.to_string(), 2));
    }
    for bank in &trend.banks {
        stand(&mut page, bank);
    }
    walls(&mut page, &trend.walls);
    if !trend.heights.is_empty() {
        let _ = writeln!(page, "\nliner heights      {HEAD}");
        for (cylinder, height) in &trend.heights {
            row(&mut page, &format!("cylinder {cylinder}"), height);
        }
    }
    if !trend.sleeves.is_empty() {
        let _ = writeln!(
            page,
            "\nwhat a sleeve leaves{:>7}{:>8}{:>8}{:>10}{:>12}",
            "blocks", "mean", "spread", "next", "95 of 100"
        );
        for sleeve in &trend.sleeves {
            for (what, spread) in [("stock", &sleeve.stock), ("wall", &sleeve.wall)] {
                if let Some(s) = spread {
                    least(&mut page, &format!("{}, {what}", plain(&sleeve.sleeve, 10)), s);
                }
            }
        }
        page.push_str("next: no less than this, 95 % sure. 95 of 100: no less, 95 % confidence\n");
    }
    page
}

fn plural(n: usize) -> &'static str {
    if n == 1 { "" } else { "s" }
}

const HEAD: &str = "blocks    mean  spread    least    most    next block";

fn stand(page: &mut String, bank: &BankStand) {
    let _ = writeln!(page, "\n{:<18} {HEAD}", format!("bank {}", plain(&bank.bank, 13)));
    row(page, "along, to the rear", &bank.along);
    row(page, "across, towards +Y", &bank.across);
    for (cylinder, along, across) in &bank.bores {
        row(page, &format!("  {cylinder} along"), along);
        row(page, &format!("  {cylinder} across"), across);
    }
}

fn walls(page: &mut String, cells: &[WallCell]) {
    if cells.is_empty() {
        return;
    }
    let _ = writeln!(page, "\nthinnest walls     {HEAD}");
    for cell in cells.iter().take(WALLS) {
        let place =
            format!("{} at {:.0}, {:.0}-{:.0}", cell.cylinder, cell.clock, cell.depths[0], cell.depths[1]);
        row(page, &place, &cell.wall);
    }
    if cells.len() > WALLS {
        let _ = writeln!(page, "… and {} places more", cells.len() - WALLS);
    }
    page.push_str("place: cylinder at clock, depth from-to\n");
}

fn row(page: &mut String, what: &str, s: &Spread) {
    let next = s.next.map_or_else(|| "too few to say".to_owned(), |[a, b]| format!("{a:.2} to {b:.2}"));
    let sd = s.sd.map_or_else(|| "-".to_owned(), |sd| format!("{sd:.3}"));
    let _ = writeln!(
        page,
        "{what:<18} {:>6} {:>7.3} {sd:>7} {:>8.3} {:>7.3}    {next}",
        s.blocks, s.mean, s.found[0], s.found[1]
    );
}

fn least(page: &mut String, what: &str, s: &Spread) {
    let told =
        |figure: Option<f64>| figure.map_or_else(|| "too few".to_owned(), |f| format!("{:.2}", down_mm(f)));
    let sd = s.sd.map_or_else(|| "-".to_owned(), |sd| format!("{sd:.3}"));
    let (next, most) = (told(s.next_least), told(s.most_least));
    let _ = writeln!(page, "{what:<20}{:>7}{:>8.3}{sd:>8}{next:>10}{most:>12}", s.blocks, s.mean);
}
