//! Every picture of a survey, in the order of its sheet.

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

/// All of them; one that has nothing to show is left out.
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
        add("deck", Some(&layout.name), deck::figure(subject, bank, WIDE_MM - 4.0)?);
        for line in subject.report.axis_lines.iter().filter(|line| line.bank == bank) {
            add("journal-axis", Some(&line.set_up), axis::figure(subject, line, axis::PANEL_MM)?);
        }
    }
    for bore in subject.report.profiles.chunk_by(|a, b| a.cylinder == b.cylinder) {
        for some in bore.chunks(polar::MOST) {
            let cylinder = some.first().map(|p| p.cylinder.to_string());
            add("roundness", cylinder.as_deref(), polar::figure(subject, some)?);
        }
    }
    for one in &subject.report.free_zone {
        add("free-zone", Some(&one.cylinder.to_string()), zone::figure(subject, one)?);
    }
    add("fixture", None, budget::figure(subject)?);
    Ok(pictures)
}

/// Each bank's deck, and the journal axis of each of its set-ups.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn strips(subject: &Subject<'_>) -> Result<Vec<Figure>, OutputError> {
    let mut figures = Vec::new();
    for bank in 0..subject.job.block.banks.len() {
        // Small enough that deck and axis share a page.
        figures.extend(deck::figure(subject, bank, 145.0)?);
        for line in subject.report.axis_lines.iter().filter(|line| line.bank == bank) {
            figures.extend(axis::figure(subject, line, 19.0)?);
        }
    }
    Ok(figures)
}
