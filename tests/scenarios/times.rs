//! Minutes of the passes against a replay of the lists' own words at their feeds.

use borewright_planner::plan::{Plan, Stage};

use crate::bench::{Bench, SCATTERED, near};

/// What a control takes for the moves at feed of a list, minutes: straight lines, as its words have them.
fn replayed(words: &str) -> f64 {
    let (mut at, mut feed, mut minutes) = ([0.0_f64; 3], 0.0, 0.0);
    for line in words.lines().filter(|l| l.starts_with('N')) {
        let figure = |letter: char| {
            line.split(' ').find_map(|word| word.strip_prefix(letter)).map(|f| f.parse::<f64>().unwrap())
        };
        let to = [figure('X').unwrap_or(at[0]), figure('Y').unwrap_or(at[1]), figure('Z').unwrap_or(at[2])];
        feed = figure('F').unwrap_or(feed);
        assert!(!line.contains(" G2 ") && !line.contains(" G3 "), "bored throughout: {line}");
        if line.contains(" G1 ") {
            let way: f64 = (0..3).map(|k| (to[k] - at[k]).powi(2)).sum();
            minutes += way.sqrt() / feed;
        }
        at = to;
    }
    minutes
}

/// Minutes of the passes of a list.
fn planned(plan: &Plan, stage: Stage, bank: &str) -> f64 {
    plan.passes.iter().filter(|p| p.stage == stage && p.bank == bank).map(|p| p.minutes).sum()
}

#[test]
fn the_minutes_of_every_list_are_those_of_its_own_moves_at_their_feeds() {
    let planning = Bench::default().block_of(SCATTERED).plan();
    let bundle = borewright_output::bundle(&planning).unwrap();
    assert_eq!(bundle.plan.lists.len(), 6);
    for list in &bundle.plan.lists {
        let words = bundle.artifacts.iter().find(|a| a.path == list.file).unwrap();
        let replayed = replayed(std::str::from_utf8(&words.bytes).unwrap());
        let planned = planned(&planning.plan, list.stage, &list.bank);
        assert!((planned / replayed - 1.0).abs() < 0.001, "{}: {planned} for {replayed}", list.file);
    }
}

#[test]
fn a_finish_bore_counts_its_touch_and_the_way_back() {
    let planning = Bench::default().block_of(SCATTERED).plan();
    let pass = planning.plan.passes.iter().find(|p| p.stage == Stage::Finish).unwrap();
    // 5 above the deck: 15 down and 15 up for the touch, then the whole way down and up again.
    near(pass.minutes, (2.0 * 15.0 + 2.0 * (pass.to + 5.0)) / pass.feed, 0.002);
    let rough = planning.plan.passes.iter().find(|p| p.stage == Stage::Rough).unwrap();
    // Roughing comes up fast from its depth: only its touch feeds up.
    near(rough.minutes, (2.0 * 15.0 + rough.to + 5.0) / rough.feed, 0.01);
}
