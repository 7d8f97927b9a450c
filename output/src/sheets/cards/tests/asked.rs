//! What a reader may ask of the figures of a card.

use std::path::PathBuf;

use borewright_planner::explain::{self, Question};
use borewright_planner::job::{Foot, SheetUnits, SleeveKind, Stands};
use borewright_planner::plan::Release;
use borewright_planner::{Planning, load, plan_job};

use super::super::flow::Block;
use super::super::{hand, lines};
use super::sample;
use crate::paper::text::Fonts;
use crate::sheets::sheet::{Sheet, Surveyed};

/// The sample's block with a plain sleeve on a step, released: nothing holds it against the pull of heat.
fn plain() -> Planning {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    let mut job = load(&path).unwrap_or_else(|faults| panic!("{faults}"));
    let sleeve = &mut job.sleeves[1];
    sleeve.kind = SleeveKind::Dry;
    sleeve.length_mm = 135.0;
    sleeve.stands = Stands::Foot(Foot { inside_mm: 86.5, height_mm: 4.0, proud_mm: 0.3, friction: 0.1 });
    sleeve.body.truncate(1);
    let body = &mut sleeve.body[0];
    (body.diameter_mm, body.to_mm, body.interference_mm) = (89.06, 135.0, 0.06);
    job.sleeves.remove(0);
    let release = Release { who: "M. Teal".into(), why: "sleeve pressed twice in a trial block".into() };
    plan_job(job, Some(release)).unwrap()
}

/// What the cards of a job noted as they were dealt.
fn noted(planning: &Planning) -> Vec<Block> {
    let fonts = Fonts::load().unwrap();
    let report = planning.surveyed();
    let surveyed = report.as_ref().map(|report| Surveyed { report, asked_on: Some(6) });
    let sheet = Sheet::of(planning, &planning.plan);
    let cards = hand::dealt(&sheet, &sheet.card_head(), surveyed, fonts).unwrap();
    cards.into_iter().flat_map(|card| card.told.blocks).collect()
}

fn jobs() -> [(&'static str, Planning); 3] {
    [
        ("sample", sample(SheetUnits::Mm, |_| {})),
        ("sample, inch", sample(SheetUnits::In, |_| {})),
        ("plain", plain()),
    ]
}

/// A question that the plan cannot answer would be dropped without a word.
#[test]
fn every_question_on_a_card_has_an_account_and_can_be_typed() {
    for (name, planning) in jobs() {
        let mut of_kinds: Vec<String> = Vec::new();
        for block in noted(&planning) {
            let Block::Why(figures) = block else { continue };
            for (word, question) in figures {
                let accounts = explain::answer(&planning, &question);
                assert!(!accounts.is_empty(), "{name}, {word}: no account of {question}");
                let typed: Vec<String> = question.to_string().split(' ').map(str::to_owned).collect();
                assert_eq!(explain::explain(&planning, &typed), Ok(accounts), "{name}, {word}: {question}");
                of_kinds.extend(typed.into_iter().next());
            }
        }
        of_kinds.sort();
        of_kinds.dedup();
        let all = ["check", "cylinder", "fit", "job", "limit", "list", "pass", "stage", "zero"];
        assert_eq!(of_kinds, all, "{name}");
    }
}

/// The size of a rough cut on its way has no account; where a figure has one, it opens under its own head.
#[test]
fn what_is_asked_of_a_dialled_figure_stands_under_its_head() {
    for (name, planning) in jobs() {
        let (mut known, mut opened): (Vec<String>, Vec<&str>) = Default::default();
        let blocks = noted(&planning);
        for (at, block) in blocks.iter().enumerate() {
            let Block::Line { figures, .. } = block else { continue };
            let Some(Block::Why(asked)) = blocks.get(at + 1) else { continue };
            let of_pass = asked.iter().filter(|(_, q)| matches!(q, Question::Pass { .. }));
            known.extend(of_pass.filter_map(|(_, q)| Some(q.about()?.to_owned())));
            let shown = figures.iter().filter(|told| told.figure != lines::NOTHING);
            let own = |about: &str| asked.iter().any(|(_, question)| question.about() == Some(about));
            opened.extend(shown.filter(|told| own(told.about)).map(|told| told.about));
        }
        for head in ["size", "depth", "stock", "speed", "feed"] {
            let of_head = opened.iter().filter(|own| **own == head).count();
            assert!(of_head >= 4, "{name}: {head} opens {of_head} accounts");
        }
        // A key that no pass has would be left out without a word.
        let is_asked = |about: &&str| known.iter().any(|own| own == about);
        let missing: Vec<&str> = lines::askable().filter(|about| !is_asked(about)).collect();
        assert!(missing.is_empty(), "{name}: nothing has {missing:?}");
    }
}
