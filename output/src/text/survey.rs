//! What the readings say, for a terminal.

use std::fmt::Write;

use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;
use borewright_planner::report::SurveyReport;
use borewright_planner::survey::BoreForm;

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
        page.push_str(&wrapped(" -", &sentence.to_string(), 3));
    }
    suspicions(report, &mut page);
    bores(report, &mut page);
    journal_axis(report, &mut page);
    heights(report, &mut page);
    witness(report, &mut page);
    torque_plate(report, &mut page);
    reversal(report, &mut page);
    corrections(report, &mut page);
    temperature(report, &mut page);
    fixture(report, &mut page);
    findings(report, &mut page);
    page
}

fn suspicions(report: &SurveyReport, page: &mut String) {
    if report.suspicions.is_empty() {
        return;
    }
    page.push_str("\nreadings to check\n");
    for s in &report.suspicions {
        let word = if s.verdict == Verdict::Go { "note" } else { mark(s.verdict) };
        let first = format!("{word:<4} {}:", plain(&s.subject, 40));
        page.push_str(&wrapped(&first, &plain(&s.found.to_string(), 600), 5));
        page.push_str(&wrapped("     likely:", &plain(&s.likely.to_string(), 300), 7));
        page.push_str(&wrapped("     to answer:", &plain(&s.ask.to_string(), 300), 7));
    }
}

fn temperature(report: &SurveyReport, page: &mut String) {
    if let Some(correction) = &report.temperature {
        page.push_str("\ntemperature\n");
        page.push_str(&wrapped(" -", &correction.text.to_string(), 3));
    }
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
            "{:>4} {:<8} {:>9.3} {:>7} {:>7} {:>+12.3} {:>+7.3} {:>6.3}{:<1} {:>9.3}",
            bore.cylinder,
            bore.surface,
            bore.diameter,
            bore.taper.map_or_else(|| "-".into(), |t| format!("{:+.3}", t.mm)),
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
        let mains: Vec<String> = axis
            .mains
            .iter()
            .map(|m| {
                let housing = match (m.diameter, m.roundness) {
                    (Some(d), Some(r)) => format!(" (bore {d:.3}, round {r:.3})"),
                    _ => String::new(),
                };
                format!("{} {:+.3} {:+.3}{housing}", plain(&m.main, 10), m.y, m.z)
            })
            .collect();
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
        page.push_str(&wrapped(&format!("{:>4}", h.cylinder), &h.text.to_string(), 5));
    }
}

fn witness(report: &SurveyReport, page: &mut String) {
    if report.witness.is_empty() {
        return;
    }
    page.push_str("\nparent holes by the iron left after cuts\n");
    for bore in &report.witness {
        page.push_str(&wrapped(&format!("{:>4}", bore.cylinder), &bore.text.to_string(), 5));
    }
}

fn torque_plate(report: &SurveyReport, page: &mut String) {
    let Some(plate) = &report.torque_plate else { return };
    page.push_str("\ntorque plate, on less off\n");
    for bore in &plate.bores {
        let first = format!("{:>4} depth {:.0}:", bore.cylinder, bore.depth);
        page.push_str(&wrapped(&first, &bore.text.to_string(), 5));
    }
}

fn reversal(report: &SurveyReport, page: &mut String) {
    page.push_str("\nblock or set-up\n");
    let reversal = report.reversal.iter().flat_map(|r| &r.text);
    let angle = report.included_angle.iter().map(|a| &a.text);
    for sentence in report.sets.text.iter().chain(reversal).chain(angle) {
        page.push_str(&wrapped(" -", &sentence.to_string(), 3));
    }
}

fn corrections(report: &SurveyReport, page: &mut String) {
    if report.corrections.is_empty() {
        return;
    }
    page.push_str("\ncorrections asked of the set-up\n");
    for correction in &report.corrections {
        page.push_str(&wrapped(" -", &correction.text.to_string(), 3));
    }
}

/// The worst bore's budget, largest share first, as bars.
fn fixture(report: &SurveyReport, page: &mut String) {
    let Some(fixture) = &report.fixture else { return };
    let far = |b: &borewright_planner::survey::fixture::BoreBudget| b.at_deck[0].hypot(b.at_deck[1]);
    let Some(worst) = fixture.bores.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else { return };
    let feeds = if fixture.feeds_limits { "enters the limits" } else { "is not in the limits" };
    page.push_str(&wrapped(
        "\nfixture,",
        &format!(
            "{}: cylinder {} worst at the deck, u {:.3} along, {:.3} across; {feeds}",
            plain(&fixture.held_by, 60),
            worst.cylinder,
            worst.at_deck[0],
            worst.at_deck[1]
        ),
        3,
    ));
    let most = worst.shares.first().map_or(1.0, |s| s.along.hypot(s.across)).max(1e-9);
    for share in &worst.shares {
        let size = share.along.hypot(share.across);
        let bar = (1..=20_u8).filter(|i| f64::from(*i) <= 20.0 * size / most + 0.5).count();
        let _ = writeln!(page, "   {:<24} {:>6.3} {}", plain(&share.locator, 23), size, "#".repeat(bar));
    }
}

fn findings(report: &SurveyReport, page: &mut String) {
    // What is to be read again stands above, with its question.
    let told = |code: &str| report.suspicions.iter().any(|s| s.code == code);
    let mut findings: Vec<_> = report.findings.iter().filter(|f| !told(f.code)).collect();
    if findings.is_empty() {
        return;
    }
    page.push_str("\nto know\n");
    findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    for f in findings {
        let word = if f.verdict == Verdict::Go { "note" } else { mark(f.verdict) };
        page.push_str(&wrapped(&format!("{word:<4} {}:", plain(&f.subject, 40)), &f.text.to_string(), 5));
    }
}
