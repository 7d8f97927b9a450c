//! What the readings say, for a terminal.

use std::fmt::Write;

use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;
use borewright_planner::survey::{BoreForm, SurveyReport};

use super::{COLUMNS, mark, wrapped};

/// The survey in compact tables and sentences.
#[must_use]
pub fn survey_page(report: &SurveyReport) -> String {
    let title = format!("SURVEY  job {}  {}", plain(&report.job, 24), plain(&report.block, 30));
    let verdict = mark(report.verdict()).to_uppercase();
    let gap = COLUMNS.saturating_sub(title.chars().count() + verdict.len()).max(2);
    let mut page = format!("{title}{:gap$}{verdict}\nall figures mm\n", "");
    page.push_str("\nhow the bores stand\n");
    for sentence in &report.as_bored.text {
        page.push_str(&wrapped(" -", sentence, 3));
    }
    bores(report, &mut page);
    journal_axis(report, &mut page);
    heights(report, &mut page);
    reversal(report, &mut page);
    findings(report, &mut page);
    page
}

fn bores(report: &SurveyReport, page: &mut String) {
    page.push_str("\n cyl surface   diameter   taper   round   off true x       y   apart   tilt/100\n");
    for bore in &report.bores {
        let own = report.as_bored.robust.iter().flat_map(|b| &b.bores).find(|b| b.cylinder == bore.cylinder);
        let (x, y, apart, odd) =
            own.map_or((f64::NAN, f64::NAN, f64::NAN, false), |o| (o.shift[0], o.shift[1], o.apart, o.odd));
        let round = roundness(bore).map_or_else(|| "-".into(), |r| format!("{r:.3}"));
        let lean = 100.0 * bore.tilt[0].hypot(bore.tilt[1]);
        let _ = writeln!(
            page,
            "{:>4} {:<8} {:>9.3} {:>7.3} {:>7} {:>+12.3} {:>+7.3} {:>6.3}{:<1} {:>9.3}",
            bore.cylinder,
            bore.surface,
            bore.diameter,
            bore.taper,
            round,
            x,
            y,
            apart,
            if odd { "*" } else { "" },
            lean
        );
    }
    if report.as_bored.robust.iter().any(|b| b.bores.iter().any(|o| o.odd)) {
        page.push_str("     * stands apart from the rest of its bank\n");
    }
}

fn roundness(bore: &BoreForm) -> Option<f64> {
    bore.circles.iter().filter_map(|c| c.lsc.roundness).reduce(f64::max)
}

fn journal_axis(report: &SurveyReport, page: &mut String) {
    for axis in &report.journal_axis {
        let first = format!("\njournal axis, {}:", plain(&axis.set_up, 30));
        let mains: Vec<String> =
            axis.mains.iter().map(|m| format!("{} {:+.3} {:+.3}", plain(&m.main, 10), m.y, m.z)).collect();
        let text = format!(
            "straight within {:.3}, largest step {:.3}; mains y, z: {}",
            axis.straightness,
            axis.largest_step,
            mains.join("; ")
        );
        page.push_str(&wrapped(&first, &text, 3));
    }
}

fn heights(report: &SurveyReport, page: &mut String) {
    let Some(heights) = &report.heights else { return };
    page.push_str("\nliner heights\n");
    for h in &heights.cylinders {
        page.push_str(&wrapped(&format!("{:>4}", h.cylinder), &h.text, 5));
    }
}

fn reversal(report: &SurveyReport, page: &mut String) {
    page.push_str("\nblock or set-up\n");
    match &report.reversal {
        Some(reversal) => {
            for sentence in &reversal.text {
                page.push_str(&wrapped(" -", sentence, 3));
            }
        }
        None => page.push_str(&wrapped(
            " -",
            "read one way round only: what belongs to the block and what to the set-up cannot be told apart. The same \
             bores read with the block turned end for end would settle it, but for the included angle, which takes a \
             reading of the index span.",
            3,
        )),
    }
}

fn findings(report: &SurveyReport, page: &mut String) {
    if report.findings.is_empty() {
        return;
    }
    page.push_str("\nto know\n");
    let mut findings: Vec<_> = report.findings.iter().collect();
    findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    for f in findings {
        let word = if f.verdict == Verdict::Go { "note" } else { mark(f.verdict) };
        page.push_str(&wrapped(&format!("{word:<4} {}:", plain(&f.subject, 40)), &f.text, 5));
    }
}
