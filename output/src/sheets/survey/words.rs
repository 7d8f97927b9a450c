//! What the survey says in sentences: heights, plate, rounds, corrections, witness arcs, temperature, fixture.

use borewright_planner::report::SurveyReport;

use crate::paper::pages::{BODY, Pages};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::said::units::Units;

/// Draws what there is of it.
pub(super) fn words(pages: &mut Pages<'_>, units: Units, report: &SurveyReport) {
    let sections = sections(units, report);
    if sections.is_empty() {
        return;
    }
    pages.turn();
    pages.bookmark("In words");
    for (title, sentences) in sections {
        pages.heading(title, 60.0);
        for sentence in sentences {
            pages.paragraph(&format!("– {sentence}"), Weight::Plain, BODY + 0.5);
        }
        pages.gap(4.0);
    }
}

fn sections(units: Units, report: &SurveyReport) -> Vec<(&'static str, Vec<String>)> {
    let heights = report.heights.iter().flat_map(|h| &h.cylinders);
    let heights = heights.map(|h| format!("cylinder {}: {}", h.cylinder, units.say(&h.text))).collect();
    let witness =
        report.witness.iter().map(|w| format!("cylinder {}: {}", w.cylinder, units.say(&w.text))).collect();
    let plate = report.torque_plate.iter().flat_map(|p| &p.bores);
    let plate = plate
        .map(|b| format!("cylinder {} at {:.0} deep: {}", b.cylinder, b.depth, units.say(&b.text)))
        .collect();
    let reversal = report.reversal.iter().flat_map(|r| &r.text);
    let angle = report.included_angle.iter().map(|a| &a.text);
    let rounds = report.sets.text.iter().chain(reversal).chain(angle).map(|text| units.say(text)).collect();
    let corrections = report.corrections.iter().map(|c| units.say(&c.text)).collect();
    let temperature = report.temperature.iter().map(|t| units.say(&t.text)).collect();
    let mut sections: Vec<(&'static str, Vec<String>)> = vec![
        ("Liner heights", heights),
        ("Parent holes by the iron left after cuts", witness),
        ("Torque plate, on less off", plate),
        ("Block or set-up", rounds),
        ("Corrections asked of the set-up", corrections),
        ("Temperature", temperature),
    ];
    if let Some(fixture) = &report.fixture {
        sections.push(("Fixture", vec![format!("held by {}", shorten(&fixture.held_by))]));
    }
    sections.retain(|(_, sentences)| !sentences.is_empty());
    sections
}
