//! Boxes that nothing waits for: the bare hole, the plate off, the jacket's pressure. Each taken by its word.

use borewright_planner::plan::check::{Of, What};

use crate::bench::Bench;
use crate::held::{findings, plan, verdict};

#[test]
fn the_bare_hole_and_the_bore_with_its_plate_off_are_taken_by_their_words_and_move_nothing() {
    let bench = Bench::touched();
    let before = plan(&bench);
    for (of, word, off) in [(Of::Parent, "parent", 0.03), (Of::Off, "off", -0.008)] {
        let asks = |r: &borewright_planner::plan::check::Asked| r.of == of;
        let check = bench
            .checks()
            .into_iter()
            .find(|c| c.at(Some(1)).is_some_and(|at| at.readings.iter().any(asks)))
            .unwrap();
        let asked = check.at(Some(1)).unwrap().readings.iter().find(|r| asks(r)).unwrap().clone();
        assert!(!asked.waits);
        let value = asked.expected.unwrap() + off;
        let run = bench.record(&format!("{} 1 {word} {value:.3} mm --by KP", check.check));
        assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
        assert!(bench.text().contains(&format!(",{value:.3}")), "{}", bench.text());
        let after = plan(&bench);
        let planned = |plan: &serde_json::Value| plan["cylinders"].as_array().unwrap()[0]["planned"].clone();
        assert_eq!(findings(&after, "as_cut"), []);
        if of == Of::Parent {
            assert_eq!((verdict(&after, 1), planned(&after)), ("go", planned(&before)));
        } else {
            // A bore with a plate on it has its sleeve in: what that stands in was not read.
            assert_eq!(findings(&after, "passed_over").len(), 1);
        }
    }
    // A figure without a word is none of them.
    let bore = bench.checks().into_iter().find(|c| c.what == What::Bore && c.bank == "left").unwrap();
    let expected = bore.at(Some(3)).unwrap().readings[0].expected.unwrap();
    let run = bench.record(&format!("{} 3 {expected:.3} mm --by KP", bore.check));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let last = bench.text().lines().last().unwrap().to_owned();
    assert!(last.starts_with(&format!("{},3,1,", bore.check)), "{last}");
}

#[test]
fn a_bore_whose_jacket_leaks_is_held_and_a_tight_one_goes_on() {
    let bench = Bench::planned();
    let fit = bench.checks().into_iter().find(|c| c.what == What::Protrusion && c.bank == "left").unwrap();
    assert_eq!(bench.record(&format!("{} 1 tight yes --by KP", fit.check)).status, Some(0));
    let run = bench.record(&format!("{} 3 tight no --by KP", fit.check));
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    let after = plan(&bench);
    assert_eq!(verdict(&after, 3), "hold");
    let told = findings(&after, "as_cut");
    assert!(
        told.iter().any(|(s, _)| s == "cylinder 3") && !told.iter().any(|(s, _)| s == "cylinder 1"),
        "{told:?}"
    );
}
