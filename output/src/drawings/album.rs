//! Every picture of a survey, in the order of its sheet.

use borewright_planner::survey::Profile;
use kurbo::Vec2;

use super::names::Names;
use super::subject::{Subject, WIDE_MM};
use super::{Figure, axis, budget, deck, polar, zone};
use crate::OutputError;

/// A picture with the name of its file, without its ending.
#[derive(Debug, Clone)]
pub(crate) struct Picture {
    /// Its name.
    pub(crate) name: String,
    /// Itself.
    pub(crate) figure: Figure,
}

/// Every picture of a survey; one that has nothing to show is left out.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn all(subject: &Subject<'_>) -> Result<Vec<Picture>, OutputError> {
    let mut names = Names::default();
    let mut pictures = Vec::new();
    let mut add = |name: &str, word: Option<&str>, figure: Option<Figure>| {
        if let Some(figure) = figure {
            pictures.push(Picture { name: names.of(name, word), figure });
        }
    };
    for (bank, layout) in subject.job.block.banks.iter().enumerate() {
        add("deck", Some(&layout.name), deck::figure(subject, bank, WIDE_MM)?);
        for line in subject.report.axis_lines.iter().filter(|line| line.bank == bank) {
            add("journal-axis", Some(&line.set_up), axis::figure(subject, line, (WIDE_MM, axis::PANEL_MM))?);
        }
    }
    for some in rounds(subject) {
        let cylinder = some.first().map(|p| p.cylinder.to_string());
        add("roundness", cylinder.as_deref(), polar::figure(subject, some)?);
    }
    for one in &subject.report.free_zone {
        add("free-zone", Some(&one.cylinder.to_string()), zone::figure(subject, one)?);
    }
    add("fixture", None, budget::figure(subject)?);
    Ok(pictures)
}

/// The circles of a bore that were read all round, as many as share a picture.
fn rounds<'a>(subject: &Subject<'a>) -> impl Iterator<Item = &'a [Profile]> {
    let bores = subject.report.profiles.chunk_by(|a, b| a.cylinder == b.cylinder);
    bores.flat_map(|bore| bore.chunks(polar::MOST))
}

/// What stands on no strip and among no free zones: the form of the bores that were read all round, what the fixture costs.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn forms(subject: &Subject<'_>) -> Result<Vec<Figure>, OutputError> {
    let mut figures = Vec::new();
    for some in rounds(subject) {
        figures.extend(polar::figure(subject, some)?);
    }
    figures.extend(budget::figure(subject)?);
    Ok(figures)
}

/// Each bank's deck, and the journal axis of each of its set-ups, two beside each other where there are two: all of them share a page.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn strips(subject: &Subject<'_>) -> Result<Vec<Figure>, OutputError> {
    const APART_MM: f64 = 6.0;
    const PANEL_MM: f64 = 15.0;
    let several = subject.job.block.banks.len() > 1;
    let wide = if several { (WIDE_MM - APART_MM) / 2.0 } else { WIDE_MM };
    let (mut decks, mut axes) = (Vec::new(), Vec::new());
    for bank in 0..subject.job.block.banks.len() {
        decks.extend(deck::figure(subject, bank, wide)?);
        for line in subject.report.axis_lines.iter().filter(|line| line.bank == bank) {
            axes.extend(axis::figure(subject, line, (wide, PANEL_MM))?);
        }
    }
    if !several {
        return Ok(decks.into_iter().chain(axes).collect());
    }
    Ok([decks, axes].into_iter().flat_map(|all| beside(all, wide + APART_MM)).collect())
}

/// Figures in twos beside each other, the second so far to the right.
fn beside(figures: Vec<Figure>, right_mm: f64) -> Vec<Figure> {
    let mut left = figures.into_iter();
    let mut rows = Vec::new();
    while let Some(mut row) = left.next() {
        row.width_mm = WIDE_MM;
        if let Some(second) = left.next() {
            row.height_mm = row.height_mm.max(second.height_mm);
            row.shapes.extend(second.shapes.into_iter().map(|shape| shape.moved(Vec2::new(right_mm, 0.0))));
        }
        rows.push(row);
    }
    rows
}
