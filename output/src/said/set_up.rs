//! What the survey asks of the set-ups, in short.

use borewright_planner::read::fault::plain;
use borewright_planner::report::SurveyReport;
use borewright_planner::survey::Action;

/// "left bank up: turn, shim; right bank up: turn"; `None` where every set-up is left as it stands.
pub(crate) fn asked(report: &SurveyReport) -> Option<String> {
    let mut told: Vec<(&str, Vec<Action>)> = Vec::new();
    for c in report.corrections.iter().filter(|c| !c.is_left()) {
        match told.iter_mut().find(|(set_up, _)| *set_up == c.set_up) {
            Some((_, actions)) if !actions.contains(&c.action) => actions.push(c.action),
            Some(_) => {}
            None => told.push((&c.set_up, vec![c.action])),
        }
    }
    let words = |actions: &[Action]| actions.iter().map(|a| a.word()).collect::<Vec<_>>().join(", ");
    let told = told.iter().map(|(set_up, actions)| format!("{}: {}", plain(set_up, 40), words(actions)));
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| told.join("; "))
}

#[cfg(test)]
mod tests {
    use super::{Action, asked};

    #[test]
    fn each_set_up_says_once_what_is_done_to_it_and_one_that_is_left_nothing() {
        let job = concat!(env!("CARGO_MANIFEST_DIR"), "/../blocks/jobs/petrel-0412");
        let job = borewright_planner::load(std::path::Path::new(job)).unwrap_or_else(|f| panic!("{f}"));
        let planning = borewright_planner::plan_job(job, None).unwrap_or_else(|e| panic!("{e}"));
        let mut report = planning.surveyed().unwrap();
        let [first, second] = ["left bank up", "right bank up"];
        let all = report.corrections.len();
        for (i, c) in report.corrections.iter_mut().enumerate() {
            c.set_up = if i + 1 < all { first } else { second }.to_owned();
            c.action = if i == 0 { Action::Turn } else { Action::Shim };
        }
        assert!(all > 3);
        assert_eq!(asked(&report).unwrap(), "left bank up: turn, shim; right bank up: shim");
        report.corrections.iter_mut().for_each(|c| c.action = Action::Leave);
        assert_eq!(asked(&report), None);
    }
}
