//! What the readings say in words, and the bores in a table.

use borewright_planner::job::Job;
use borewright_planner::plan::Verdict;
use borewright_planner::report::SurveyReport;
use borewright_planner::survey::BoreForm;

use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::{bank as called, subject};
use crate::said::units::{Digits, Units};

/// The first pages.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn opening(pages: &mut Pages<'_>, job: &Job, report: &SurveyReport) -> Result<(), OutputError> {
    let units = Units::of(job.sheet_units);
    pages.heading("How the bores stand", 40.0);
    for sentence in &report.as_bored.text {
        pages.paragraph(&format!("– {}", units.say(sentence)), Weight::Plain, BODY);
    }
    doubts(pages, units, report);
    findings(pages, units, report);
    bores(pages, job, report)
}

fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Go => "NOTE",
        Verdict::Hold => "HOLD",
        Verdict::Stop => "STOP",
    }
}

fn weight(verdict: Verdict) -> f64 {
    match verdict {
        Verdict::Go => 0.75,
        Verdict::Hold => 2.0,
        Verdict::Stop => 4.0,
    }
}

fn doubts(pages: &mut Pages<'_>, units: Units, report: &SurveyReport) {
    if report.suspicions.is_empty() {
        return;
    }
    pages.heading("Readings to check", 60.0);
    for s in &report.suspicions {
        let title = format!("{}: {}", word(s.verdict), subject(&s.subject, 80));
        let text = format!(
            "{}. Likely: {}. To answer: {}",
            stripped(&units.say(&s.found)),
            stripped(&units.say(&s.likely)),
            units.say(&s.ask)
        );
        pages.boxed(&title, &text, weight(s.verdict), 12.0);
    }
}

fn stripped(sentence: &str) -> &str {
    sentence.trim_end_matches('.')
}

fn findings(pages: &mut Pages<'_>, units: Units, report: &SurveyReport) {
    // What is to be read again stands above, with its question.
    let mut findings: Vec<_> = report.beside_suspicions().collect();
    if findings.is_empty() {
        return;
    }
    findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    pages.heading("To know", 40.0);
    for f in findings {
        pages.boxed(
            &format!("{}: {}", word(f.verdict), subject(&f.subject, 80)),
            &units.say(&f.text),
            weight(f.verdict),
            12.0,
        );
    }
}

/// Draws a row for each bore: its surface, size and form, and how far it stands off the true position.
fn bores(pages: &mut Pages<'_>, job: &Job, report: &SurveyReport) -> Result<(), OutputError> {
    let units = Units::of(job.sheet_units);
    pages.heading(&format!("The bores, {}", units.name()), 80.0);
    let columns = [
        Column::figures("cyl.", 5.0).bold().size(12.0),
        Column::words("surface", 9.0),
        Column::figures("diameter", 12.0).size(11.0),
        Column::figures("off true\nx", 11.0).size(11.0),
        Column::figures("off true\ny", 11.0).size(11.0),
        Column::figures("taper", 10.0).size(11.0),
        Column::figures("out of\nround", 10.0).size(11.0),
        Column::figures("lean over\nthe bore", 11.0).size(11.0),
    ];
    let fine = |mm: f64| units.length(mm, Digits::Fine);
    let mut rows = Vec::new();
    let mut bank = "";
    for bore in &report.bores {
        if bore.bank != bank {
            bank = &bore.bank;
            rows.push(Row::Band(called(bank)));
        }
        let site = job.site(bore.cylinder).map(|(b, site)| [site.x_mm, job.bank(b).axis_offset_mm]);
        let off = site.map(|[x, y]| [bore.x - x, bore.y - y]);
        let signed = |k: usize| off.map_or(Ok(String::new()), |o| fine(o[k]).map(|l| l.stacked_signed()));
        let maybe = |mm: Option<f64>| mm.map_or(Ok("–".to_owned()), |mm| fine(mm).map(|l| l.stacked()));
        let lean = bore.tilt[0].hypot(bore.tilt[1]) * job.block.parent.bore_length_mm;
        rows.push(Row::Cells(vec![
            bore.cylinder.to_string(),
            bore.surface.to_owned(),
            fine(bore.diameter)?.stacked(),
            signed(0)?,
            signed(1)?,
            maybe(bore.taper.map(|t| t.mm))?,
            maybe(roundness(bore))?,
            fine(lean)?.stacked(),
        ]));
    }
    draw(pages, &columns, &rows);
    pages.paragraph(
        "Off true: at the deck, along the fitted axis of the bore, less the true position; x rearwards. Taper: the \
         lower end less the upper. A dash: not enough was read.",
        Weight::Plain,
        9.5,
    );
    Ok(())
}

fn roundness(bore: &BoreForm) -> Option<f64> {
    bore.circles.iter().filter_map(|c| c.lsc.roundness).reduce(f64::max)
}
