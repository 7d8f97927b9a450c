//! How a figure came about, in digits and units: formula, the same with the figures put in, what it is.

use borewright_planner::explain::{Account, Row};
use borewright_planner::plan::sentence::{Units, half_away};
use borewright_planner::plan::worked::Unit;
use borewright_planner::read::inch::MM_PER_INCH;
use serde::Serialize;

/// A figure's account as it is told.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Explained {
    /// What it is asked for by.
    pub(crate) asked: String,
    /// What it is.
    pub(crate) title: String,
    /// The figure first.
    pub(crate) rows: Vec<Told>,
    /// What else decides.
    pub(crate) notes: Vec<String>,
}

/// One row of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Told {
    /// As it stands in formulas.
    pub(crate) name: String,
    /// What it is.
    pub(crate) says: String,
    /// Its figure; `None` where nothing tells it.
    pub(crate) figure: Option<String>,
    /// Its unit; empty of none.
    pub(crate) unit: &'static str,
    /// The formula that gives it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) formula: Option<String>,
    /// The formula with the figures put in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) with_figures: Option<String>,
    /// Where it comes from.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) from: Vec<String>,
}

/// In some units: lengths turn to inches where a formula is of lengths, shares and angles alone, which then holds in any
/// unit of length.
pub(crate) fn explained(account: &Account, units: Units) -> Explained {
    let turns = |row: &Row| {
        matches!(
            row.unit,
            Unit::Length | Unit::Share | Unit::Angle | Unit::Turns | Unit::Feed | Unit::Minutes
        )
    };
    let inch = units == Units::Inch && account.rows.iter().all(turns);
    let spell = |row: &Row| bracketed(&spelled(row, inch, For::Formula));
    let rows = account.rows.iter().map(|row| Told {
        name: row.name.to_string(),
        says: row.says.to_string(),
        figure: row
            .value
            .map(|_| spelled(row, inch, if row.formula.is_some() { For::Result } else { For::Reader })),
        unit: unit(row.unit, inch),
        formula: row.formula.as_ref().map(ToString::to_string),
        with_figures: row.formula.as_ref().and_then(|formula| account.put_in(formula, &spell)),
        from: row.from.clone(),
    });
    let mut notes: Vec<String> = account.notes.iter().map(|note| note.in_units(units)).collect();
    if let Some(first) = account.rows.first().filter(|_| units != Units::Metric)
        && first.unit == Unit::Length
        && let Some(mm) = first.value
    {
        let other = if inch {
            format!("{} mm", trimmed(mm, 4))
        } else {
            format!("{} in", trimmed(mm / MM_PER_INCH, 5))
        };
        notes.push(format!("the same figure: {} = {other}", first.name));
    }
    Explained {
        asked: account.asked.clone(),
        title: account.title.in_units(units),
        rows: rows.collect(),
        notes,
    }
}

fn unit(of: Unit, inch: bool) -> &'static str {
    match of {
        Unit::Length if inch => "in",
        Unit::Length => "mm",
        Unit::Angle => "deg",
        Unit::Share => "",
        Unit::Celsius => "°C",
        Unit::Stress => "MPa",
        Unit::Turns => "1/min",
        Unit::Speed => "m/min",
        Unit::Feed if inch => "in/min",
        Unit::Feed => "mm/min",
        Unit::Minutes => "min",
        Unit::Hours => "h",
        Unit::Force => "N",
        Unit::Power => "kW",
        Unit::Stiffness => "N/mm",
        Unit::Micrometres => "µm",
        Unit::PerLength => "1/mm",
    }
}

/// What a figure is spelled for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum For {
    /// What a formula gives.
    Result,
    /// A figure with its source.
    Reader,
    /// What is put into a formula.
    Formula,
}

/// What is worked out has the digits that it can answer for; what is put into a formula those that give it.
fn spelled(row: &Row, inch: bool, to: For) -> String {
    let worked_out = to == For::Result;
    let Some(value) = row.value else { return row.name.to_string() };
    let value =
        if inch && matches!(row.unit, Unit::Length | Unit::Feed) { value / MM_PER_INCH } else { value };
    let decimals = match row.unit {
        Unit::Length if worked_out => 4 + usize::from(inch),
        Unit::Stress | Unit::Feed | Unit::Micrometres if worked_out => 2,
        Unit::Force | Unit::Stiffness if worked_out => 1,
        Unit::Power if worked_out => 3,
        Unit::Length | Unit::Feed if inch => 8,
        // A chip is thin, and its force goes with a power of it.
        Unit::Length if to == For::Formula && value.abs() < 0.1 => 9,
        Unit::Length | Unit::Force | Unit::Power | Unit::Stiffness | Unit::Micrometres => 6,
        Unit::PerLength => 9,
        Unit::Minutes | Unit::Hours if worked_out => 3,
        Unit::Minutes | Unit::Hours => 9,
        Unit::Angle if worked_out => 2,
        Unit::Angle => 7,
        Unit::Celsius | Unit::Speed | Unit::Stress | Unit::Feed => 4,
        // An expansion has its digits far behind the point.
        Unit::Share if value.abs() < 0.001 => 12,
        Unit::Share => 9,
        Unit::Turns => 0,
    };
    trimmed(value, decimals)
}

/// No zeros behind a decimal point that say nothing, no negative nothing.
fn trimmed(value: f64, decimals: usize) -> String {
    let mut text = format!("{:.decimals$}", half_away(value, decimals));
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

fn bracketed(figure: &str) -> String {
    if figure.starts_with('-') { format!("({figure})") } else { figure.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_lose_zeros_and_keep_their_sign() {
        assert_eq!(trimmed(44.890, 6), "44.89");
        assert_eq!(trimmed(100.0, 0), "100");
        assert_eq!(trimmed(-0.000_000_1, 4), "0");
        assert_eq!(bracketed(&trimmed(-0.25, 4)), "(-0.25)");
    }
}
