//! The customer's page: sentences, a row a bore, and what is open.

use borewright_planner::as_left::AsLeft;
use borewright_planner::plan::check::What;
use borewright_planner::plan::cylinder_words;

use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::units::{Digits, Units};

/// Lines of what is open that the customer's page has room for.
const MOST_OPEN: usize = 6;

/// Draws the customer's page.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn page(pages: &mut Pages<'_>, units: Units, left: &AsLeft) -> Result<(), OutputError> {
    pages.heading("Your block", 60.0);
    for said in &left.says {
        pages.paragraph(&units.say(said), Weight::Plain, BODY + 1.5);
    }
    pages.heading(&format!("Bore by bore, {}", units.name()), 80.0);
    let columns = [
        Column::figures("cylin-\nder", 8.0).bold().size(13.0),
        Column::figures("came in\nwide", 13.0).size(12.0),
        Column::figures("came in off\nits place", 13.0).size(12.0),
        Column::figures("left, its\nsmallest", 13.0).size(12.0),
        Column::figures("left, its\nlargest", 13.0).size(12.0),
        Column::words("how it left", 20.0).bold().size(11.0),
    ];
    let fine = |mm: f64| units.length(mm, Digits::Fine);
    let dash = || "–".to_owned();
    let mut rows = Vec::new();
    for bore in &left.cylinders {
        let finished = left.finished(bore.cylinder);
        let came = bore.found.map(|f| fine(f.diameter)).transpose()?;
        let off = bore.found.map(|f| units.uncertain(f.off_true.distance, f.u[0].max(f.u[1]))).transpose()?;
        let ends =
            finished.map(|s| Ok::<_, OutputError>([fine(s.ends[0])?, fine(s.ends[1])?])).transpose()?;
        rows.push(Row::Cells(vec![
            bore.cylinder.to_string(),
            came.map_or_else(dash, |c| c.stacked()),
            off.map_or_else(dash, |o| o.stacked()),
            ends.map_or_else(dash, |[low, _]| low.stacked()),
            ends.map_or_else(dash, |[_, high]| high.stacked()),
            bore.left.to_owned(),
        ]));
    }
    draw(pages, &columns, &rows);
    pages.paragraph(
        "Smallest and largest: of every way across that was gauged, at every depth. A dash: not measured. The pages behind this one are for the file: \
         every figure, who read it, and what was decided.",
        Weight::Plain,
        BODY,
    );
    let unmeasured = unmeasured(left);
    if !unmeasured.is_empty() {
        pages.boxed("Not measured", &unmeasured, 2.0, 12.0);
    }
    Ok(())
}

/// In the customer's words: how much of what was to be looked at was not.
fn unmeasured(left: &AsLeft) -> String {
    let mut lines: Vec<String> = Vec::new();
    for what in [What::Bore, What::Protrusion, What::Deck, What::Size, What::Ledge] {
        let own: Vec<_> = left.not_measured.iter().filter(|u| u.what == what).collect();
        let missing: u32 = own.iter().map(|u| u.missing).sum();
        if missing == 0 {
            continue;
        }
        let mut cylinders: Vec<u32> = own.iter().filter_map(|u| u.cylinder).collect();
        cylinders.sort_unstable();
        cylinders.dedup();
        let of =
            if cylinders.is_empty() { String::new() } else { format!(" of {}", cylinder_words(&cylinders)) };
        lines.push(format!("{}{of}: {missing} readings not taken.", plainly(what)));
    }
    let others: u32 = left
        .not_measured
        .iter()
        .filter(|u| !matches!(u.what, What::Bore | What::Protrusion | What::Deck | What::Size | What::Ledge))
        .map(|u| u.missing)
        .sum();
    if others > 0 {
        lines.push(format!("Looks and touches on the way: {others} not written down."));
    }
    lines.truncate(MOST_OPEN);
    lines.join(" ")
}

fn plainly(what: What) -> &'static str {
    match what {
        What::Bore => "The finished bore",
        What::Protrusion => "How far the sleeve stands out",
        What::Deck => "The face that the head is bolted to",
        What::Ledge => "How deep the sleeve sits",
        _ => "Widths on the way to the finished bore",
    }
}
