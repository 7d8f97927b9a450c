//! The prompt: digits and Enter alone.

use crate::bench::Bench;

#[test]
fn it_asks_in_the_order_of_work_with_window_and_what_is_to_come() {
    let bench = Bench::planned();
    let run = bench.prompt("");
    assert_eq!(run.status, Some(0));
    assert!(run.out.contains("CHECK 1, cylinder"), "{}", run.out);
    assert!(run.out.contains("to come: 2 here"), "{}", run.out);
    assert!(!bench.file().exists(), "asked is not written");
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
}

#[test]
fn values_are_written_one_by_one_and_a_mistake_is_taken_back_by_number() {
    let bench = Bench::planned();
    let x = bench.checks()[0].cylinders[0].readings[0].expected.unwrap();
    // X of the first touch, wrong by 0.2, struck as typed wrong (1), then right; Y put off; X of the next bore.
    let run = bench.prompt(&format!("{:.3}\n/\n1\n{x:.3}\n\n", x + 0.2));
    assert!(run.out.contains("off by 0.150"), "{}", run.out);
    assert!(run.out.contains("line 2 is struck"), "{}", run.out);
    let text = bench.text();
    assert_eq!(text.lines().count(), 4, "{text}");
    assert!(text.contains("typed wrong"), "{text}");
}

#[test]
fn what_was_not_ended_with_enter_is_not_believed() {
    let bench = Bench::planned();
    let x = bench.checks()[0].cylinders[0].readings[0].expected.unwrap();
    let run = bench.prompt(&format!("{x:.3}\n12"));
    assert!(run.out.contains("`12` was not ended with Enter"), "{}", run.out);
    assert_eq!(bench.text().lines().count(), 2);
}

#[test]
fn what_cannot_be_heard_is_asked_again() {
    let bench = Bench::planned();
    let run = bench.prompt("abc\n");
    assert!(run.out.contains("found `abc`"), "{}", run.out);
    assert!(!bench.file().exists());
    assert!(run.out.matches("CHECK 1, cylinder").count() == 2, "{}", run.out);
}
