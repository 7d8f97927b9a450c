//! What the survey says in sentences: heights, plate, rounds, corrections, witness arcs, temperature, fixture.

use borewright_planner::report::SurveyReport;

use crate::paper::pages::{INNER, LEADING, Pages};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::said::units::Units;
use crate::sheets::sheet::ASKED_OF_SET_UP;

/// What asks for nothing, pt.
const SMALL: f64 = 9.5;

/// What is asked of the set-up, to tick; what may stay as it is, in one sentence.
pub(super) fn corrections(pages: &mut Pages<'_>, units: Units, report: &SurveyReport) {
    if report.corrections.is_empty() {
        return;
    }
    pages.heading(ASKED_OF_SET_UP, 60.0);
    let (left, asked): (Vec<_>, Vec<_>) = report.corrections.iter().partition(|c| c.is_left());
    for correction in asked {
        pages.ticked(&units.say(&correction.text), Weight::Plain);
    }
    for correction in left {
        pages.paragraph(&format!("– {}", units.say(&correction.text)), Weight::Plain, SMALL);
    }
}

/// Draws what else there is in words.
pub(super) fn words(pages: &mut Pages<'_>, units: Units, report: &SurveyReport) {
    for (at, (title, sentences)) in sections(units, report).into_iter().enumerate() {
        // With the whole of its first sentence.
        let first = sentences.first().map(|s| pages.fonts.wrap(s, Weight::Plain, SMALL, INNER - 12.0, 14));
        pages.heading(title, first.iter().flatten().map(|_| SMALL * LEADING).sum::<f64>() + 2.0);
        if at == 0 {
            pages.bookmark("In words");
        }
        for sentence in sentences {
            pages.paragraph(&format!("– {sentence}"), Weight::Plain, SMALL);
        }
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
    let temperature = report.temperature.iter().map(|t| units.say(&t.text)).collect();
    let mut sections: Vec<(&'static str, Vec<String>)> = vec![
        ("Liner heights", heights),
        ("Parent holes by the iron left after cuts", witness),
        ("Torque plate, on less off", plate),
        ("Block or set-up", rounds),
        ("Temperature", temperature),
    ];
    if let Some(fixture) = &report.fixture {
        sections.push(("Fixture", vec![format!("held by {}", shorten(&fixture.held_by))]));
    }
    sections.retain(|(_, sentences)| !sentences.is_empty());
    sections
}
