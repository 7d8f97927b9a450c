//! What the readings say, for a terminal.

use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;
use borewright_planner::report::SurveyReport;
use borewright_planner::survey::BoreForm;

use super::check::findings::together;
use super::table::{Column, Side, table};
use super::{Terminal, mark};
use crate::said::findings::once;
use crate::said::set_up;
use crate::said::units::Digits;

/// The survey in compact tables and sentences; a bore's lean is told over `bore_length_mm`, as on paper.
#[must_use]
pub fn survey_page(report: &SurveyReport, bore_length_mm: f64, t: &Terminal, place: &str) -> String {
    let title =
        format!("survey of job {}, {}, {}", plain(&report.job, 40), plain(&report.block, 40), t.figures());
    let mut page = t.wrapped(&format!("{}:", mark(report.verdict()).to_uppercase()), &title, 2);
    page.push_str(&widest(report, t));
    // What the set-up is asked for comes before anything that is judged in it.
    let asked = set_up::asked(report).unwrap_or_default();
    let next = match report.verdict() {
        Verdict::Go if asked.is_empty() => format!("borewright check {place}"),
        Verdict::Go => {
            format!("{asked}, as below, and read again; left as it stands: borewright check {place}")
        }
        _ if asked.is_empty() => "read again or answer what holds".to_owned(),
        _ => format!("{asked}, as below, and read again; then answer what holds"),
    };
    page.push_str(&t.wrapped("next:", &next, 2));
    page.push_str("\nhow the bores stand\n");
    for sentence in &report.as_bored.text {
        page.push_str(&t.wrapped(" -", &t.say(sentence), 3));
    }
    suspicions(report, t, &mut page);
    bores(report, bore_length_mm, t, &mut page);
    journal_axis(report, t, &mut page);
    heights(report, t, &mut page);
    witness(report, t, &mut page);
    torque_plate(report, t, &mut page);
    reversal(report, t, &mut page);
    corrections(report, t, &mut page);
    temperature(report, t, &mut page);
    fixture(report, t, &mut page);
    findings(report, t, &mut page);
    page
}

fn suspicions(report: &SurveyReport, t: &Terminal, page: &mut String) {
    if report.suspicions.is_empty() {
        return;
    }
    page.push_str("\nreadings to check\n");
    for s in &report.suspicions {
        let word = if s.verdict == Verdict::Go { "note" } else { mark(s.verdict) };
        let first = format!("{word:<4} {}:", plain(&s.subject.to_string(), 40));
        page.push_str(&t.wrapped(&first, &plain(&t.say(&s.found), 600), 5));
        page.push_str(&t.wrapped("     likely:", &plain(&t.say(&s.likely), 300), 7));
        page.push_str(&t.wrapped("     to answer:", &plain(&t.say(&s.ask), 300), 7));
    }
}

fn temperature(report: &SurveyReport, t: &Terminal, page: &mut String) {
    if let Some(correction) = &report.temperature {
        page.push_str("\ntemperature\n");
        page.push_str(&t.wrapped(" -", &t.say(&correction.text), 3));
    }
}

/// The bore that stands farthest off true: what a survey has in place of a limit.
fn widest(report: &SurveyReport, t: &Terminal) -> String {
    // The bore as it is now, as the plan has it: the parent metal where that was read.
    let parent = |cylinder: u32| report.bores.iter().any(|b| b.cylinder == cylinder && b.surface == "parent");
    let now = report.bores.iter().filter(|b| b.surface == "parent" || !parent(b.cylinder));
    let far = now.map(|b| (b.off_true[0].hypot(b.off_true[1]), b.cylinder));
    let Some((off, cylinder)) = far.filter(|f| f.0.is_finite()).max_by(|a, b| a.0.total_cmp(&b.0)) else {
        return String::new();
    };
    let text = format!("cylinder {cylinder} stands {} off true at the deck", t.spoken(off, Digits::Fine));
    t.wrapped("widest:", &text, 2)
}

/// Adds a row for each bore: its surface, size and form, how far it stands off the true position, and how it leans.
fn bores(report: &SurveyReport, bore_length_mm: f64, t: &Terminal, page: &mut String) {
    let columns: [Column<'_>; 9] = [
        ("cyl", Side::Right),
        ("surface", Side::Left),
        ("diameter", Side::Right),
        ("taper", Side::Right),
        ("round", Side::Right),
        ("off true\nx", Side::Right),
        ("\ny", Side::Right),
        ("apart ", Side::Right),
        ("lean over\nthe bore", Side::Right),
    ];
    let row = |bore: &BoreForm| {
        let own = report.as_bored.robust.iter().flat_map(|b| &b.bores).find(|b| b.cylinder == bore.cylinder);
        let [x, y] = bore.off_true;
        let (apart, odd) = own.map_or((f64::NAN, false), |o| (o.apart, o.odd));
        let lean = bore_length_mm * bore.tilt[0].hypot(bore.tilt[1]);
        vec![
            bore.cylinder.to_string(),
            bore.surface.to_string(),
            t.cell(bore.diameter, Digits::Fine),
            bore.taper.map_or_else(|| "-".into(), |taper| t.signed(taper.mm, Digits::Fine)),
            roundness(bore).map_or_else(|| "-".into(), |r| t.cell(r, Digits::Fine)),
            t.signed(x, Digits::Fine),
            t.signed(y, Digits::Fine),
            format!("{}{:<1}", t.cell(apart, Digits::Fine), if odd { "*" } else { "" }),
            t.cell(lean, Digits::Fine),
        ]
    };
    page.push('\n');
    page.push_str(&table(t, 1, &columns, &report.bores.iter().map(row).collect::<Vec<_>>()));
    let key = "off true: at the deck; apart: from the rest of its bank, half way down its readings";
    page.push_str(&t.wrapped("    ", key, 5));
    if report.as_bored.robust.iter().any(|b| b.bores.iter().any(|o| o.odd)) {
        page.push_str("     * stands apart from the rest of its bank\n");
    }
}

fn roundness(bore: &BoreForm) -> Option<f64> {
    bore.circles.iter().filter_map(|c| c.lsc.roundness).reduce(f64::max)
}

fn journal_axis(report: &SurveyReport, t: &Terminal, page: &mut String) {
    for axis in &report.journal_axis {
        let first = format!("\njournal axis, {}:", plain(&axis.set_up, 30));
        let mains: Vec<String> = axis
            .mains
            .iter()
            .map(|m| {
                let housing = match (m.diameter, m.roundness) {
                    (Some(d), Some(r)) => {
                        format!(" (bore {}, round {})", t.cell(d, Digits::Fine), t.cell(r, Digits::Fine))
                    }
                    _ => String::new(),
                };
                let [y, z] = [m.y, m.z].map(|mm| t.signed(mm, Digits::Fine));
                format!("{} {y} {z}{housing}", plain(&m.main, 10))
            })
            .collect();
        let text = format!(
            "straight within {}, largest step {}; mains y, z: {}",
            t.spoken(axis.straightness, Digits::Fine),
            t.spoken(axis.largest_step, Digits::Fine),
            mains.join("; ")
        );
        page.push_str(&t.wrapped(&first, &text, 3));
    }
}

fn heights(report: &SurveyReport, t: &Terminal, page: &mut String) {
    let Some(heights) = &report.heights else { return };
    page.push_str("\nliner heights\n");
    for h in &heights.cylinders {
        page.push_str(&t.wrapped(&format!("{:>4}", h.cylinder), &t.say(&h.text), 5));
    }
}

fn witness(report: &SurveyReport, t: &Terminal, page: &mut String) {
    if report.witness.is_empty() {
        return;
    }
    page.push_str("\nparent holes by the iron left after cuts\n");
    for bore in &report.witness {
        page.push_str(&t.wrapped(&format!("{:>4}", bore.cylinder), &t.say(&bore.text), 5));
    }
}

fn torque_plate(report: &SurveyReport, t: &Terminal, page: &mut String) {
    let Some(plate) = &report.torque_plate else { return };
    page.push_str("\ntorque plate, on less off\n");
    for bore in &plate.bores {
        let first = format!("{:>4}, {} deep:", bore.cylinder, t.spoken(bore.depth, Digits::Depth));
        page.push_str(&t.wrapped(&first, &t.say(&bore.text), 5));
    }
}

fn reversal(report: &SurveyReport, t: &Terminal, page: &mut String) {
    page.push_str("\nblock or set-up\n");
    let reversal = report.reversal.iter().flat_map(|r| &r.text);
    let angle = report.included_angle.iter().map(|a| &a.text);
    for sentence in report.sets.text.iter().chain(reversal).chain(angle) {
        page.push_str(&t.wrapped(" -", &t.say(sentence), 3));
    }
}

fn corrections(report: &SurveyReport, t: &Terminal, page: &mut String) {
    if report.corrections.is_empty() {
        return;
    }
    page.push_str("\ncorrections asked of the set-up\n");
    for correction in &report.corrections {
        page.push_str(&t.wrapped(" -", &t.say(&correction.text), 3));
    }
}

/// The worst bore's budget, largest share first, as bars.
fn fixture(report: &SurveyReport, t: &Terminal, page: &mut String) {
    let Some(fixture) = &report.fixture else { return };
    let far = |b: &borewright_planner::survey::fixture::BoreBudget| b.at_deck[0].hypot(b.at_deck[1]);
    let Some(worst) = fixture.bores.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else { return };
    let feeds = if fixture.feeds_limits { "enters the limits" } else { "is not in the limits" };
    page.push_str(&t.wrapped(
        "\nfixture,",
        &format!(
            "{}: cylinder {} worst at the deck, u {} along, {} across; {feeds}",
            plain(&fixture.held_by, 60),
            worst.cylinder,
            t.spoken(worst.at_deck[0], Digits::Fine),
            t.spoken(worst.at_deck[1], Digits::Fine)
        ),
        3,
    ));
    let most = worst.shares.first().map_or(1.0, |s| s.along.hypot(s.across)).max(1e-9);
    let mut rows = Vec::new();
    for share in &worst.shares {
        let size = share.along.hypot(share.across);
        let bar = (1..=20_u8).filter(|i| f64::from(*i) <= 20.0 * size / most + 0.5).count();
        rows.push(vec![plain(&share.locator, 60), t.cell(size, Digits::Fine), "#".repeat(bar)]);
    }
    let columns: [Column<'_>; 3] = [("locator", Side::Left), ("u", Side::Right), ("", Side::Left)];
    page.push_str(&table(t, 3, &columns, &rows));
}

fn findings(report: &SurveyReport, t: &Terminal, page: &mut String) {
    // What is to be read again stands above, with its question.
    let mut found: Vec<_> = report.beside_suspicions().collect();
    found.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    let all = once(&found, t.units);
    let notes = all.iter().filter(|told| told.verdict == Verdict::Go).count();
    if notes < all.len() || (t.notes && notes > 0) {
        page.push_str("\nto know\n");
    }
    for told in all {
        let word = if told.verdict == Verdict::Go { "note" } else { mark(told.verdict) };
        if told.verdict != Verdict::Go || t.notes {
            let head = format!("{word:<4} {}:", together(&told.subjects()));
            page.push_str(&t.wrapped(&head, &told.text, 5));
        }
    }
    page.push_str(&t.untold(notes));
}
