//! What `shop` says: sentences first, then the figures that they rest on.

use std::fmt::Write;

use borewright_planner::job::SheetUnits;
use borewright_planner::read::fault::plain;
use borewright_planner::read::inch::MM_PER_INCH;
use borewright_planner::shop::{Group, Shop};

use super::Terminal;
use super::table::{Side, table};
use crate::OutputError;
use crate::said::number::Fixed;
use crate::said::units::Units;

/// The page, in the terminal's units: inches where all of the jobs are.
///
/// # Errors
/// Where a figure cannot be printed.
pub fn shop_page(shop: &Shop, t: &Terminal) -> Result<String, OutputError> {
    let units = t.units;
    let jobs: Vec<String> = shop.jobs.iter().map(|j| plain(j, 280)).collect();
    let count = jobs.len();
    let head = format!("SHOP  {count} job{}:", if count == 1 { "" } else { "s" });
    let mut page = t.wrapped(&head, &jobs.join(", "), 2);
    if shop.groups.is_empty() && shop.says.is_empty() {
        let next = "borewright record JOB, for each reading as the card asks for it";
        page.push_str("nothing recorded yet: nothing to tell\n");
        page.push_str(&t.wrapped("next:", next, 2));
        return Ok(page);
    }
    let _ = writeln!(page, "found less asked, {}; a bore and check count once\n", units.name());
    for said in &shop.says {
        page.push_str(&t.wrapped("-", &units.say(said), 2));
    }
    for by in ["machine", "tool", "person"] {
        let own: Vec<&Group> = shop.groups.iter().filter(|g| g.by == by).collect();
        if own.is_empty() {
            continue;
        }
        let heads = [
            ("bores", Side::Right),
            ("bias", Side::Right),
            ("± 95 %", Side::Right),
            ("spread", Side::Right),
            ("between", Side::Left),
            ("of measuring", Side::Right),
            ("", Side::Left),
        ];
        let _ = writeln!(page, "\nby {by}");
        // Groups stand one after the other by name: those of one name share a table.
        for of_name in own.chunk_by(|a, b| a.name == b.name) {
            let name = of_name.first().map_or("", |g| g.name.as_str());
            page.push_str(&t.wrapped("", &format!(" {}", plain(name, 76)), 2));
            let rows = of_name.iter().map(|g| row(units, g)).collect::<Result<Vec<_>, _>>()?;
            page.push_str(&table(t, 2, &heads, &rows));
        }
    }
    let [spread, capability] = shop.least_bores;
    page.push('\n');
    page.push_str(&t.wrapped(
        "a spread is told from",
        &format!(
            "{spread} bores on, Cp and Cpk from {capability} of one window; spread holds what measuring adds"
        ),
        2,
    ));
    Ok(page)
}

/// A group's cells.
fn row(units: Units, g: &Group) -> Result<Vec<String>, OutputError> {
    let (unit, decimals) = if units.sheet == SheetUnits::In { (MM_PER_INCH, 5) } else { (1.0, 4) };
    let figure = |mm: f64| Fixed::new(mm / unit, decimals);
    let maybe = |mm: Option<f64>| mm.map_or(Ok("-".to_owned()), |mm| figure(mm).map(|f| f.to_string()));
    let enough = g.spread.is_enough();
    let between = match g.spread.sd_within.filter(|_| enough) {
        Some([low, high]) => format!("{} to {}", figure(low)?, figure(high)?),
        None => "too few to say".to_owned(),
    };
    Ok(vec![
        g.spread.n.to_string(),
        figure(g.spread.mean)?.signed(),
        maybe(g.spread.mean_within)?,
        maybe(g.spread.sd)?,
        between,
        figure(g.u_measuring)?.to_string(),
        g.kind.words().to_owned(),
    ])
}
