//! What `trend` says: sentences first, then the figures that they rest on.

use std::fmt::Write;

use borewright_planner::family::{BankStand, Spread, Trend, WallCell};
use borewright_planner::plan::rounding::down_mm;
use borewright_planner::read::fault::plain;

use super::Terminal;

/// Rows of walls shown; the rest is in the JSON.
const WALLS: usize = 8;

/// The page.
#[must_use]
pub fn trend_page(trend: &Trend, t: &Terminal) -> String {
    let jobs: Vec<String> = trend.blocks.iter().map(|b| plain(&b.job, 20)).collect();
    let mut page = t.wrapped(
        &format!("FAMILY {}: {} block{}, jobs", plain(&trend.family, 30), jobs.len(), plural(jobs.len())),
        &jobs.join(", "),
        2,
    );
    page.push_str(&t.wrapped("", "all figures mm; bored at the true position, before any bore is moved", 2));
    page.push('\n');
    for said in &trend.says {
        page.push_str(&t.wrapped("-", &said.to_string(), 2));
    }
    for bank in &trend.banks {
        stand((&mut page, t), bank);
    }
    walls((&mut page, t), &trend.walls);
    if !trend.heights.is_empty() {
        let _ = writeln!(page, "\nliner heights      {}", head(t));
        for (cylinder, height) in &trend.heights {
            row((&mut page, t), &format!("cylinder {cylinder}"), height);
        }
    }
    if !trend.sleeves.is_empty() {
        let [first, next, most] = of_sleeve(t);
        let head = if is_wide(t) { "what a sleeve leaves" } else { "what sleeves leave" };
        let _ = writeln!(
            page,
            "\n{head:<first$}{:>7}{:>8}{:>8}{:>next$}{:>most$}",
            "blocks", "mean", "spread", "next", "95 of 100"
        );
        for sleeve in &trend.sleeves {
            for (what, spread) in [("stock", &sleeve.stock), ("wall", &sleeve.wall)] {
                if let Some(s) = spread {
                    least((&mut page, t), &format!("{}, {what}", plain(&sleeve.sleeve, 10)), s);
                }
            }
        }
        let key = "next: no less than this, 95 % sure. 95 of 100: no less, 95 % confidence";
        page.push_str(&t.wrapped("", key, 2));
    }
    page
}

fn plural(n: usize) -> &'static str {
    if n == 1 { "" } else { "s" }
}

/// What stands over the figures of a row; what the next block will be like goes below where there is no room.
fn head(t: &Terminal) -> &'static str {
    if is_wide(t) {
        "blocks    mean  spread    least    most    next block"
    } else {
        "blocks    mean  spread    least    most"
    }
}

/// Whether a row has room for the next block's figures.
fn is_wide(t: &Terminal) -> bool {
    t.columns >= 80
}

/// How wide the columns of a sleeve's name, of the next block and of 95 in 100 are.
fn of_sleeve(t: &Terminal) -> [usize; 3] {
    if is_wide(t) { [20, 10, 12] } else { [19, 8, 10] }
}

fn stand((page, t): (&mut String, &Terminal), bank: &BankStand) {
    let _ = writeln!(page, "\n{:<18} {}", format!("bank {}", plain(&bank.bank, 13)), head(t));
    row((page, t), "along, to the rear", &bank.along);
    row((page, t), "across, towards +Y", &bank.across);
    for (cylinder, along, across) in &bank.bores {
        row((page, t), &format!("  {cylinder} along"), along);
        row((page, t), &format!("  {cylinder} across"), across);
    }
}

fn walls((page, t): (&mut String, &Terminal), cells: &[WallCell]) {
    if cells.is_empty() {
        return;
    }
    let _ = writeln!(page, "\nthinnest walls     {}", head(t));
    for cell in cells.iter().take(WALLS) {
        let place =
            format!("{} at {:.0}, {:.0}-{:.0}", cell.cylinder, cell.clock, cell.depths[0], cell.depths[1]);
        row((page, t), &place, &cell.wall);
    }
    if cells.len() > WALLS {
        let _ = writeln!(page, "… and {} places more", cells.len() - WALLS);
    }
    page.push_str("place: cylinder at clock, depth from-to\n");
}

fn row((page, t): (&mut String, &Terminal), what: &str, s: &Spread) {
    let next = s.next.map_or_else(|| "too few to say".to_owned(), |[a, b]| format!("{a:.2} to {b:.2}"));
    let sd = s.sd.map_or_else(|| "-".to_owned(), |sd| format!("{sd:.3}"));
    let _ = write!(
        page,
        "{what:<18} {:>6} {:>7.3} {sd:>7} {:>8.3} {:>7.3}",
        s.blocks, s.mean, s.found[0], s.found[1]
    );
    let _ = if is_wide(t) {
        writeln!(page, "    {next}")
    } else {
        writeln!(page, "\n{:>18} next block {next}", "")
    };
}

fn least((page, t): (&mut String, &Terminal), what: &str, s: &Spread) {
    let told =
        |figure: Option<f64>| figure.map_or_else(|| "too few".to_owned(), |f| format!("{:.2}", down_mm(f)));
    let sd = s.sd.map_or_else(|| "-".to_owned(), |sd| format!("{sd:.3}"));
    let (next, most) = (told(s.next_least), told(s.most_least));
    let [first, wide, last] = of_sleeve(t);
    let _ = writeln!(page, "{what:<first$}{:>7}{:>8.3}{sd:>8}{next:>wide$}{most:>last$}", s.blocks, s.mean);
}
