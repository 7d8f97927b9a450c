//! A record that lost lines, and a first cut that tells of a whole bank.

use borewright_planner::plan::check::What;

use crate::bench::Bench;
use crate::held::{findings, plan, planned, verdict};

#[test]
fn a_record_cut_back_or_taken_away_is_missed_by_the_plan_after_it() {
    let bench = Bench::planned();
    bench.record("note 3 start --by KP");
    bench.record("crack 3 through --by KP");
    assert_eq!(verdict(&planned(&bench), 3), "stop");
    let kept = bench.text();
    let header: String = kept.lines().take(2).map(|l| format!("{l}\n")).collect();
    for left in [Some(header.as_str()), None] {
        match left {
            Some(text) => std::fs::write(bench.file(), text).unwrap(),
            None => std::fs::remove_file(bench.file()).unwrap(),
        }
        // Planning again does not make it forget.
        let [_, after] = [planned(&bench), planned(&bench)];
        assert!((1..=6).all(|n| verdict(&after, n) == "hold"), "{left:?}");
        let (_, text) = findings(&after, "record").remove(0);
        assert!(text.contains("not in this record any more"), "{text}");
        std::fs::write(bench.file(), &kept).unwrap();
        assert_eq!(verdict(&planned(&bench), 3), "stop");
    }
    // Whoever lets it through says so in the record, and is asked once.
    std::fs::write(bench.file(), &header).unwrap();
    bench.record("release line 1 the crack was a scratch --by LEAD");
    for _ in 0..2 {
        assert_eq!(verdict(&planned(&bench), 3), "go");
    }
}

#[test]
fn a_first_cut_on_the_wrong_side_stops_its_bank_and_a_shallow_one_holds_its_bore() {
    let first = |bench: &Bench| {
        let check = bench.check(What::Position, "lower register");
        let readings = check.at(Some(1)).unwrap().readings.clone();
        (check.check, readings[0].expected.unwrap(), readings[1].expected.unwrap())
    };
    let bench = Bench::planned();
    let (check, _, shallow) = first(&bench);
    bench.record(&format!("{check} 1 {shallow:.2} --by KP"));
    let after = plan(&bench);
    for n in [1, 3, 5] {
        assert_eq!(verdict(&after, n), "stop", "{n}");
    }
    assert_eq!(verdict(&after, 2), "go");
    // Not deep enough on the right side: something of this bore.
    let bench = Bench::touched();
    let (check, deep, _) = first(&bench);
    bench.record(&format!("{check} 1 {:.2} --by KP", deep - 0.09));
    let after = plan(&bench);
    assert_eq!([1, 3, 5].map(|n| verdict(&after, n)), ["hold", "go", "go"]);
}

#[test]
fn a_record_put_back_older_is_missed_though_nothing_was_planned_since() {
    let bench = Bench::touched();
    bench.record("note 3 start --by KP");
    let older = bench.text();
    bench.record("crack 3 through --by KP");
    for left in [Some(&older), None] {
        match left {
            Some(text) => std::fs::write(bench.file(), text).unwrap(),
            None => std::fs::remove_file(bench.file()).unwrap(),
        }
        let after = plan(&bench);
        assert!((1..=6).all(|n| verdict(&after, n) == "hold"), "{left:?}");
        let (_, text) = findings(&after, "record").remove(0);
        assert!(text.contains("not in this record any more"), "{text}");
    }
    // What is added since is a record of its own; what is gone is gone still, until somebody lets it through.
    std::fs::write(bench.file(), &older).unwrap();
    let check = bench.check(What::Size, "lower register").check;
    let run = bench.record(&format!("{check} 1 88.571 --by KP"));
    assert!(run.err.contains("not in this record any more"), "{}", run.err);
    assert_eq!(verdict(&plan(&bench), 3), "hold");
    bench.record("release line 1 the crack was a scratch --by LEAD");
    assert_eq!(verdict(&plan(&bench), 3), "go");
    // A folder copied for another job brings nothing of this record with it.
    std::fs::remove_file(bench.file()).unwrap();
    bench.folder.edit("job.yaml", "job: \"0412\"", "job: \"0413\"");
    assert!(findings(&plan(&bench), "record").is_empty());
}
