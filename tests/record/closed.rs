//! Ways of closing a hold without new metal or a new reading, none of which closes it.

use borewright_planner::plan::check::What;

use crate::bench::Bench;
use crate::held;

/// Sizes of the upper register in cylinder 3, off by these, place by place.
fn sizes(bench: &Bench, by: &str) -> u32 {
    let check = bench.check(What::Size, "upper register");
    for place in check.at(Some(3)).unwrap().readings.iter().filter(|r| r.waits) {
        bench.record(&format!("{} 3 {by} --reading {} --by KP --again", check.check, place.reading));
    }
    check.check
}

#[test]
fn a_reading_struck_outside_its_window_is_not_closed_by_nr() {
    let bench = Bench::touched();
    let check = sizes(&bench, "+0.001");
    // The first place of another bore, too large; struck, and then said to be none.
    let run = bench.record(&format!("{check} 5 +0.030 --by KP"));
    assert_eq!(run.status, Some(4), "{}{}", run.out, run.err);
    let line = run.out.split([' ', ':']).nth(1).unwrap();
    assert_eq!(bench.record(&format!("strike {line} --because x --by KP")).status, Some(2));
    let run = bench.strike(line, "gauge not set");
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let run = bench.record(&format!("{check} 5 nr --by KP"));
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("is struck, and nothing was read there since"), "{flat}");
}

#[test]
fn what_read_too_large_all_over_is_not_outvoted() {
    let bench = Bench::touched();
    let check = bench.check(What::Size, "upper register");
    sizes(&bench, "+0.030");
    let places: Vec<u32> =
        check.at(Some(3)).unwrap().readings.iter().filter(|r| r.waits).map(|r| r.reading).collect();
    let mut last = None;
    for by in ["+0.001", "+0.002"] {
        for place in &places {
            last = Some(bench.record(&format!("{} 3 {by} --reading {place} --by RS --again", check.check)));
        }
    }
    let run = last.unwrap();
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("places were read as cut too far before"), "{flat}");
}

#[test]
fn a_note_that_tells_of_damage_holds_and_one_that_denies_it_does_not() {
    let bench = Bench::planned();
    let run = bench.record("note 3 no crack seen in the bridge --by KP");
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let run = bench.record("note 3 broke through into the water jacket --by KP");
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    let found = held::findings(&held::plan(&bench), "noted");
    assert!(matches!(found.as_slice(), [(of, _)] if of == "cylinder 3"), "{found:?}");
}
