//! Checks of which half was read: one direction, one side, one bore; and records that name another plan or no somebody.

use borewright_planner::plan::check::{Asked, Check, What};

use crate::bench::Bench;
use crate::held::{findings, plan, verdict};

/// Says of a bore what is asked, and `nr` where `is_read` says so.
fn read(bench: &Bench, check: &Check, n: u32, is_read: impl Fn(&Asked) -> bool) {
    for r in check.at(Some(n)).unwrap().readings.iter().filter(|r| r.waits) {
        let said = match r.expected.filter(|_| is_read(r)) {
            Some(e) => format!("{:.3} mm", e + f64::from(n) * 1e-3),
            None => "nr".to_owned(),
        };
        let run =
            bench.record(&format!("{} {n} {said} --reading {} --again --by KP", check.check, r.reading));
        assert!(matches!(run.status, Some(0 | 3)), "{}{}", run.out, run.err);
    }
}

#[test]
fn a_bore_read_one_way_only_or_a_ledge_on_one_side_is_not_measured() {
    let clock = |wanted: &'static [f64]| move |r: &Asked| r.clock.is_some_and(|c| wanted.contains(&c));
    for (what, feature, clocks, expected) in [
        (What::Size, "lower register", &[0.0][..], "hold"),
        (What::Size, "lower register", &[0.0, 90.0], "go"),
        (What::Ledge, "flange", &[0.0, 90.0], "hold"),
        (What::Ledge, "flange", &[90.0, 270.0], "go"),
    ] {
        let bench = Bench::touched();
        let check = bench.check(what, feature);
        read(&bench, &check, 1, clock(clocks));
        let after = plan(&bench);
        assert_eq!(verdict(&after, 1), expected, "{feature} {clocks:?}: {:?}", findings(&after, "as_cut"));
        if expected == "hold" {
            assert!(findings(&after, "as_cut")[0].1.contains("not measured"));
            bench.record("release 1 the gauge reaches no farther --by LEAD");
            assert_eq!(verdict(&plan(&bench), 1), "go");
        }
    }
}

#[test]
fn half_a_touch_check_shows_where_half_a_block_stands() {
    let bench = Bench::planned();
    let touch = bench.check(What::Touch, "datum");
    let at = touch.cylinders.iter().find(|c| c.cylinder.is_some()).unwrap();
    let n = at.cylinder.unwrap();
    for (r, off) in at.readings.iter().filter(|r| r.waits).zip([0.045, 0.0]) {
        let said = r.expected.unwrap() + off;
        let run = bench.record(&format!("{} {n} {said:.3} mm --reading {} --by KP", touch.check, r.reading));
        assert_eq!(run.status, Some(0), "the other bores are still to come: {}", run.out);
    }
    let first = bench.check(What::Position, "lower register");
    let deep = first.at(Some(1)).unwrap().readings[0].expected.unwrap();
    bench.record(&format!("{} 1 {deep:.2} --by KP", first.check));
    let after = plan(&bench);
    assert_eq!([1, 3, 5, 2].map(|n| verdict(&after, n)), ["hold", "hold", "hold", "go"]);
    assert!(findings(&after, "touch_unread")[0].1.contains("not all read of CHECK"));
    assert!(findings(&after, "as_cut").iter().any(|(_, text)| text.contains("it is the zero that is off")));
}

#[test]
fn a_release_names_every_hold_that_it_lets_through() {
    let bench = Bench::touched();
    for (what, feature, off) in [(What::Size, "lower register", 0.008), (What::Ledge, "flange", 0.015)] {
        let check = bench.check(what, feature);
        for r in check.at(Some(1)).unwrap().readings.iter().filter(|r| r.waits) {
            let said = r.expected.unwrap() + off;
            for _ in 0..4 {
                bench.record(&format!(
                    "{} 1 {said:.3} mm --reading {} --again --by KP",
                    check.check, r.reading
                ));
            }
        }
    }
    assert_eq!(findings(&plan(&bench), "as_cut").len(), 2, "{:?}", findings(&plan(&bench), "as_cut"));
    let run = bench.record("release 1 ledge a bit deep, shim it --by LEAD");
    let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(run.status, Some(0), "{flat}");
    assert!(flat.contains("it lets these 2 holds through"), "{flat}");
    assert!(flat.contains("lower register: 0.002 mm larger") && flat.contains("flange: "), "{flat}");
}

#[test]
fn nobody_strikes_and_releases_nothing() {
    for (by, why) in
        [("n/a", "n/a n/a"), ("nobody", "because so"), ("a", "a a"), ("x", "ok ok"), ("none", "as it is")]
    {
        let bench = Bench::touched();
        let upper = bench.check(What::Size, "upper register");
        bench.record(&format!("{} 1 +0.015 mm --by KP", upper.check));
        assert_eq!(bench.record(&format!("release 1 {why} --by {by}")).status, Some(2), "{by}: {why}");
        let text = format!("{},1,release,{why},,,,,{by},,,,,,,,,\n", bench.text());
        std::fs::write(bench.file(), text).unwrap();
        assert_eq!(verdict(&plan(&bench), 1), "hold", "{by}: {why}");
    }
}

#[test]
fn a_reading_that_says_it_was_taken_elsewhere_is_refused_and_by_hand_does_not_count() {
    let bench = Bench::touched();
    let lower = bench.check(What::Size, "lower register");
    let own = lower.at(Some(1)).unwrap().readings.iter().find(|r| r.waits).unwrap();
    let (depth, clock) = (own.depth.unwrap(), own.clock.unwrap());
    let before = bench.text();
    for (place, words) in [
        ("--depth 5".to_owned(), "found --depth `5`, expected a depth within 1.0 of"),
        (format!("--depth {depth} --clock {}", clock + 60.0), "expected a clock within 20 degrees of"),
    ] {
        let run =
            bench.record(&format!("{} 1 88.571 mm --reading {} {place} --by KP", lower.check, own.reading));
        let flat = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(run.status == Some(2) && flat.contains(words), "{place}: {}{flat}", run.out);
    }
    assert_eq!(bench.text(), before);
    let near = format!("--depth {} --clock {clock}", depth + 0.5);
    let run = bench.record(&format!("{} 1 88.571 mm --reading {} {near} --by KP", lower.check, own.reading));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    // Two by hand at another depth.
    let hand = format!("{},1,{},88.572,5.0,,,,KP,,,,,,,,,\n", lower.check, own.reading);
    std::fs::write(bench.file(), format!("{}{hand}", bench.text())).unwrap();
    let after = plan(&bench);
    assert_eq!(verdict(&after, 1), "hold");
    let told = findings(&after, "record");
    let words = "read at depth `5.0`, and asked is a depth within";
    assert!(told.iter().any(|(_, text)| text.contains(words)), "{told:?}");
}

#[test]
fn a_bore_begun_by_another_plan_and_without_a_place_holds() {
    for (cells, expected) in [("", "go"), ("0123456789ab", "hold")] {
        let bench = Bench::touched();
        let lower = bench.check(What::Size, "lower register");
        let own = lower.at(Some(1)).unwrap().readings.iter().find(|r| r.waits).unwrap();
        let rows = format!(
            "check,cylinder,reading,value,by,plan\n{},1,{},88.571,KP,{cells}\n",
            lower.check, own.reading
        );
        std::fs::write(bench.file(), format!("{}{rows}", bench.text())).unwrap();
        let after = plan(&bench);
        assert_eq!(verdict(&after, 1), expected, "{cells}: {:?}", after["findings"]);
        assert_eq!(findings(&after, "begun_on").len(), usize::from(expected == "hold"));
    }
}
