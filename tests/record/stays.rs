//! A reading that is right on a bank that stands at stop sends nobody on; a value that fits nothing says for which box it was taken.

use borewright_planner::plan::check::{Check, What};

use crate::bench::Bench;

#[test]
fn a_right_reading_on_a_bank_at_stop_ends_at_stop_and_says_so_in_place_of_go_on() {
    let bench = Bench::planned();
    for check in bench.checks().iter().filter(|c| c.check == 1) {
        for at in &check.cylinders {
            for asked in at.readings.iter().filter(|r| r.waits) {
                let cylinder = at.cylinder.map_or("-".to_owned(), |n| n.to_string());
                let value = asked.expected.unwrap() + 0.4;
                bench.record(&format!("1 {cylinder} {value:.3} --by KP"));
            }
        }
    }
    let first = bench.checks().into_iter().find(|c| c.check == 2).unwrap();
    let asked = first.at(Some(1)).unwrap().readings[0].clone();
    let run = bench.record(&format!("2 1 {:.3} --by KP", asked.expected.unwrap()));
    assert_eq!(run.status, Some(4), "{}{}", run.out, run.err);
    assert!(run.out.contains("as asked\n  bank left STAYS AT STOP"), "{}", run.out);
    assert!(!run.out.contains("go on"), "{}", run.out);
}

#[test]
fn a_value_of_the_box_before_says_which_box_it_was_taken_for_and_how_to_take_that_anew() {
    let bench = Bench::planned();
    let touch = bench.checks().into_iter().find(|c| c.check == 1).unwrap();
    let x = touch.at(Some(1)).unwrap().readings[0].expected.unwrap();
    bench.record(&format!("1 1 {x:.3} --by KP"));
    let run = bench.record(&format!("1 1 {:.3} --by KP", x + 0.003));
    assert_eq!(run.status, Some(2), "{}{}", run.out, run.err);
    assert!(run.err.contains("taken as CHECK 1, cylinder 1, touch check: Y"), "{}", run.err);
    assert!(run.err.contains("X is line 2") && run.err.contains(" strike 2 --because"), "{}", run.err);
}

#[test]
fn checks_that_were_passed_over_are_told_whole_once() {
    let bench = Bench::touched();
    let left = |c: &Check| c.what == What::Protrusion && c.bank == "left";
    let check = bench.checks().into_iter().find(left).unwrap();
    let read = |n: usize| {
        let asked = &check.at(Some(3)).unwrap().readings[n];
        let run = bench.record(&format!("{} 3 {:.3} mm --by KP", check.check, asked.expected.unwrap()));
        run.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let whole = "cylinder 3 STAYS AT HOLD: not all read of CHECK";
    let first = read(0);
    assert!(first.contains(whole) && first.contains("reads what comes after"), "{first}");
    let second = read(1);
    assert!(second.contains("cylinder 3 STAYS AT HOLD: still not all read of CHECK"), "{second}");
    assert!(!second.contains("reads what comes after"), "{second}");
}

#[test]
fn a_bank_whose_touch_check_was_never_read_stays_at_hold_after_every_reading() {
    let bench = Bench::planned();
    let first = bench.checks().into_iter().find(|c| c.check == 2).unwrap();
    let read = |n: usize| {
        let asked = &first.at(Some(1)).unwrap().readings[n];
        bench.record(&format!("2 1 {:.3} mm --by KP", asked.expected.unwrap()))
    };
    let run = read(0);
    // The reading is right, and is told so: a card may be typed in as it comes.
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    assert!(run.out.contains("as asked\n  bank left STAYS AT HOLD: nothing read of CHECK 1"), "{}", run.out);
    assert!(!run.out.contains("go on"), "{}", run.out);
    // Once told it is told in few words.
    let run = read(1);
    assert!(run.out.contains("touch check 1 is still not read"), "{}", run.out);
    // Read, nothing of it is left.
    bench.touch_first(1);
    let second = bench
        .record(&format!("2 3 {:.3} mm --by KP", first.at(Some(3)).unwrap().readings[0].expected.unwrap()));
    assert_eq!(second.status, Some(0), "{}{}", second.out, second.err);
    assert!(second.out.contains("go on"), "{}", second.out);
}

#[test]
fn what_happened_and_what_is_struck_end_in_how_the_bank_stands() {
    let bench = Bench::planned();
    bench.touch_first(1);
    assert_eq!(bench.record("moved bank knocked --by KP").status, Some(3));
    let pinned = bench.record("sleeve W90 for 1 --by KP");
    assert_eq!(pinned.status, Some(3), "{}{}", pinned.out, pinned.err);
    assert!(pinned.out.contains("STAYS AT HOLD") && !pinned.out.contains("go on"), "{}", pinned.out);

    let bench = Bench::touched();
    let first = bench.checks().into_iter().find(|c| c.check == 2).unwrap();
    let expected = first.at(Some(1)).unwrap().readings[0].expected.unwrap();
    assert_eq!(bench.record(&format!("2 1 {expected:.3} mm --by KP")).status, Some(0));
    // Touch checks after it would show the bank as well: all of the first are taken back with them.
    for check in bench.checks().iter().filter(|c| c.what == What::Touch && c.bank == "left").rev() {
        let job = bench.folder.job().as_os_str().to_owned();
        let words = ["anew", &check.check.to_string(), "--because", "datum picked up again", "--by", "KP"]
            .map(str::to_owned);
        let run = crate::common::ended(crate::common::command().arg("record").arg(job).args(words));
        if check.check == 1 {
            // Only still to be read; but what showed it was taken back, and no reading that is right is answered.
            assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
            assert!(run.out.contains("bank left STAYS AT HOLD: nothing read of CHECK 1"), "{}", run.out);
        }
    }
}

#[test]
fn a_strike_that_leaves_something_only_to_be_read_ends_as_the_bank_then_stands() {
    let bench = Bench::planned();
    bench.touch_first(1);
    let first = bench.checks().into_iter().find(|c| c.check == 2).unwrap();
    let expected = first.at(Some(1)).unwrap().readings[0].expected.unwrap();
    assert_eq!(bench.record(&format!("2 1 {expected:.3} mm --by KP")).status, Some(0));
    // Line by line, the touch check that the bore was cut after is gone: of a bore as of the bank.
    let own = bench.text().lines().filter(|line| line.starts_with("1,")).count();
    for line in 2..2 + own {
        let run = bench.strike(&line.to_string(), "the probe was loose");
        let is_last = line == 1 + own;
        assert_eq!(
            run.out.contains("bank left STAYS AT HOLD: nothing read of CHECK 1"),
            is_last,
            "{}",
            run.out
        );
        assert_eq!(run.status, bench.folder.check().status, "{line}: {}{}", run.out, run.err);
    }
}

#[test]
fn a_lone_nought_at_a_size_and_a_fraction_of_decimals_are_asked_about() {
    let bench = Bench::touched();
    let size = bench.check(What::Size, "upper register");
    let refused = |value: &str| {
        let run = bench.record(&format!("{} 1 {value} --by KP", size.check));
        assert_eq!(run.status, Some(2), "{value}: {}{}", run.out, run.err);
    };
    refused("0");
    refused("1");
    refused("89.78/1");
    assert_eq!(bench.record(&format!("{} 1 +0 --by KP", size.check)).status, Some(0));
}
