//! Coordinate lists made by hand.

use super::BankSpec;
use borewright_planner::job::{Bank, Front, Job};
use borewright_planner::plan::moves::{Move, MoveKind, MoveList, Touch};
use borewright_planner::plan::sentence::Sentence;
use borewright_planner::plan::{self, ListUnits, Stage};
use borewright_planner::say;

pub(super) fn lists(job: &Job, plan: &plan::Plan, banks: &[BankSpec]) -> Vec<MoveList> {
    let mut made = Vec::new();
    let mut number = 0;
    for stage in [Stage::Rough, Stage::Pocket, Stage::Finish] {
        for (bank, spec) in job.block.banks.iter().zip(banks) {
            number += 10;
            made.push(list(number, stage, bank, spec, plan));
        }
    }
    made
}

/// Bank coordinates as they run on the machine: turned about where the front is at the right.
pub(super) fn on_machine(spec: &BankSpec, x: f64, y: f64) -> [f64; 2] {
    let round = |v: f64| (v * 1000.0).round() / 1000.0;
    match spec.4 {
        Front::Left => [round(x), round(y)],
        Front::Right => [round(-x - 0.0002 * y), round(-y + 0.0002 * x)],
    }
}

/// The moves of a bank's list as a tracer would give them for a plan's passes.
pub(super) fn list(number: u32, stage: Stage, bank: &Bank, spec: &BankSpec, plan: &plan::Plan) -> MoveList {
    let blank = |kind| Move {
        cylinder: None,
        pass: None,
        kind,
        x_mm: None,
        y_mm: None,
        z_mm: None,
        i_mm: None,
        j_mm: None,
        feed_mm_per_min: None,
        rpm: None,
        note: Sentence::new(),
    };
    let mut moves = vec![
        Move { rpm: Some(324.0), note: "rough head in the spindle".into(), ..blank(MoveKind::SpindleOn) },
        Move { z_mm: Some(5.0), ..blank(MoveKind::Rapid) },
    ];
    for site in &bank.sites {
        let at = plan.cylinders.iter().find(|c| c.cylinder == site.cylinder).unwrap().planned;
        let [x, y] = on_machine(spec, at.x, at.y);
        for pass in [10, 20] {
            let mine = |kind| Move { cylinder: Some(site.cylinder), pass: Some(pass), ..blank(kind) };
            moves.push(Move {
                x_mm: Some(x),
                y_mm: Some(y),
                note: format!("cylinder {}, 0.28 mm towards the valley (µm read)", site.cylinder).into(),
                ..mine(MoveKind::Rapid)
            });
            moves.push(Move { z_mm: Some(-138.0), feed_mm_per_min: Some(48.6), ..mine(MoveKind::Feed) });
            moves.push(Move { z_mm: Some(5.0), ..mine(MoveKind::Rapid) });
        }
        moves.push(Move { note: "measure".into(), ..blank(MoveKind::Stop) });
    }
    moves.push(blank(MoveKind::SpindleOff));
    moves.push(blank(MoveKind::End));
    let first = on_machine(spec, bank.sites[0].x_mm, 0.0);
    let last = on_machine(spec, bank.sites[bank.sites.len() - 1].x_mm, 0.0);
    let touch = |what: Sentence, at: [f64; 2]| Touch {
        cylinder: None,
        what,
        x_mm: Some(at[0]),
        y_mm: Some(at[1]),
        z_mm: None,
        within_mm: 0.5,
        worked: Vec::new(),
    };
    MoveList {
        minutes: Vec::new(),
        check: None,
        issued: None,
        units: ListUnits::Mm,
        number,
        stage,
        bank: bank.name.clone(),
        cylinders: spec.2.clone(),
        by_hand: Vec::new(),
        header: vec!["zero: foot of the along datum on the journal axis, deck for Z".into()],
        touch: vec![
            touch(say!("middle of cylinder {}", bank.sites[0].cylinder), first),
            touch(say!("middle of cylinder {}", bank.sites[bank.sites.len() - 1].cylinder), last),
            Touch {
                cylinder: None,
                what: "deck beside the first bore".into(),
                x_mm: None,
                y_mm: None,
                z_mm: Some(0.0),
                within_mm: 0.05,
                worked: Vec::new(),
            },
        ],
        moves,
    }
}
