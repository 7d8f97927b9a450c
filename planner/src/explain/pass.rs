//! The account of a pass: stock, size, speed, feed and load.

use super::Account;
use super::origin::Sources;
use super::question::{OF_LOAD, Question};
use crate::plan::Pass;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::worked::Figure;
use crate::planning::Planning;
use crate::read::fault::plain;
use crate::say;

pub(super) fn accounts(
    planning: &Planning,
    step: u32,
    cylinder: Option<u32>,
    about: Option<&str>,
) -> Vec<Account> {
    let of_step = planning.plan.passes.iter().filter(|p| p.step == step);
    let wanted = of_step.filter(|p| cylinder.is_none_or(|n| n == p.cylinder));
    wanted
        .flat_map(|pass| {
            let figures =
                pass.worked.iter().filter(move |f| about.is_none_or(|about| is_about(f.about, about)));
            figures.map(move |figure| account(planning, pass, figure))
        })
        .collect()
}

/// Whether a figure is what was asked for: `load` is all that a cut asks of spindle, bar and machine.
fn is_about(figure: &str, asked: &str) -> bool {
    figure == asked || (asked == "load" && OF_LOAD.contains(&figure))
}

fn account(planning: &Planning, pass: &Pass, figure: &Figure) -> Account {
    let sources = Sources::of_pass(planning, pass);
    let seated = planning.seen.iter().flat_map(|seen| &seen.positions.bores);
    let place = seated.into_iter().find(|b| b.site.cylinder == pass.cylinder).map(|b| b.planned_mm);
    let question = Question::Pass {
        step: pass.step,
        cylinder: Some(pass.cylinder),
        about: Some(figure.about.to_owned()),
    };
    let title = say!(
        "{} of step {}, cylinder {}: {} to {}",
        figure.about,
        pass.step,
        pass.cylinder,
        plain(&pass.feature, 60),
        mm(pass.diameter, 3)
    );
    let mut notes: Vec<Sentence> = Vec::new();
    if let Some(load) = pass.load.filter(|_| matches!(figure.about, "speed" | "feed" | "power")) {
        notes.push(say!("speed and feed are set by the {}", load.binds.words()));
    }
    Account { asked: question.to_string(), title, rows: sources.figure(figure, place), notes }
}
