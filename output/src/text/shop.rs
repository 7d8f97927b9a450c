//! What `shop` says: sentences first, then the figures that they rest on.

use std::fmt::Write;

use borewright_planner::job::SheetUnits;
use borewright_planner::read::fault::plain;
use borewright_planner::read::inch::MM_PER_INCH;
use borewright_planner::shop::{Group, Shop};

use super::wrapped;
use crate::OutputError;
use crate::said::number::Fixed;
use crate::said::units::Units;

/// The page, in inches where all of the jobs are.
///
/// # Errors
/// Where a figure cannot be printed.
pub fn shop_page(shop: &Shop, inches: bool) -> Result<String, OutputError> {
    let units = Units(if inches { SheetUnits::In } else { SheetUnits::Mm });
    let jobs: Vec<String> = shop.jobs.iter().map(|j| plain(j, 20)).collect();
    let count = jobs.len();
    let head = format!("SHOP  {count} job{}:", if count == 1 { "" } else { "s" });
    let mut page = wrapped(&head, &jobs.join(", "), 2);
    let _ = writeln!(page, "found less asked, {}; a bore and check count once\n", units.name());
    for said in &shop.says {
        page.push_str(&wrapped("-", &units.say(said), 2));
    }
    for by in ["machine", "tool", "person"] {
        let own: Vec<&Group> = shop.groups.iter().filter(|g| g.by == by).collect();
        if own.is_empty() {
            continue;
        }
        let _ =
            writeln!(page, "\nby {by}\n  bores      bias   ± 95 %   spread   between        of measuring");
        let mut name = "";
        for g in own {
            if g.name != name {
                name = &g.name;
                let _ = writeln!(page, " {}", plain(name, 76));
            }
            row(&mut page, units, g)?;
        }
    }
    let [spread, capability] = shop.least_bores;
    page.push('\n');
    page.push_str(&wrapped(
        "a spread is told from",
        &format!(
            "{spread} bores on, Cp and Cpk from {capability} of one window; spread holds what measuring adds"
        ),
        2,
    ));
    Ok(page)
}

fn row(page: &mut String, units: Units, g: &Group) -> Result<(), OutputError> {
    let (unit, decimals) = if units.0 == SheetUnits::In { (MM_PER_INCH, 5) } else { (1.0, 4) };
    let figure = |mm: f64| Fixed::new(mm / unit, decimals);
    let maybe = |mm: Option<f64>| mm.map_or(Ok("-".to_owned()), |mm| figure(mm).map(|f| f.to_string()));
    let enough = g.spread.is_enough();
    let between = match g.spread.sd_within.filter(|_| enough) {
        Some([low, high]) => format!("{} to {}", figure(low)?, figure(high)?),
        None => "too few to say".to_owned(),
    };
    let _ = writeln!(
        page,
        "  {:>5} {:>9} {:>8} {:>8}   {between:<18} {:>7}  {}",
        g.spread.n,
        figure(g.spread.mean)?.signed(),
        maybe(g.spread.mean_within)?,
        maybe(g.spread.sd)?,
        figure(g.u_measuring)?.to_string(),
        g.kind.words()
    );
    Ok(())
}
