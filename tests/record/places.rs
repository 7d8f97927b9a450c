//! Where on a bore something is: no place above the deck, below any bore or beyond once round; and what a program gets.

use serde_json::Value;

use crate::bench::Bench;

#[test]
fn a_void_is_somewhere_in_a_bore() {
    let bench = Bench::planned();
    for (place, found, expected) in [
        ("--depth -5 --size 1", "found a place `-5`", "a depth below the deck, from 0 to 140.0 mm"),
        ("--depth 140.5", "found a place `140.5`", "as deep as any bore"),
        ("--depth 40 --size -1", "found a place `-1`", "a size from 0"),
        ("--depth 40 --clock 400", "found a clock `400`", "degrees from 0 to 360"),
        ("--depth 40 --clock up", "found a clock `up`", "`rear`, `front`"),
    ] {
        let run = bench.record(&format!("void 3 pore {place}"));
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{place}: {}", run.err);
        assert!(run.err.contains(found) && run.err.contains(expected), "{place}: {}", run.err);
    }
    assert_eq!(bench.text(), "", "nothing was written down");
    for place in ["--depth 0", "--depth 140 --clock 360", "--depth 40 --clock rear --size 4"] {
        let run = bench.record(&format!("void 3 pore {place}"));
        assert!(matches!(run.status, Some(3 | 4)), "{place}: {}{}", run.out, run.err);
    }
}

#[test]
fn a_depth_is_kept_in_millimetres_whatever_was_typed() {
    let bench = Bench::planned();
    bench.record("void 3 pore --depth 1in --size 2");
    let row = bench.text().lines().nth(1).unwrap_or_default().to_owned();
    assert!(row.contains(",25.4,"), "{row}");
}

#[test]
fn json_of_the_record_has_its_format_and_asks_nothing() {
    let bench = Bench::planned();
    let json = |words: &str| -> Value {
        let run = bench.record(&format!("{words} --format json"));
        serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
    };
    assert_eq!(json("note looked at")["format"], "borewright/answered/1");
    let first = &bench.checks()[0];
    let cylinder = first.cylinders[0].cylinder.map_or("-".to_owned(), |c| c.to_string());
    let expected = first.cylinders[0].readings[0].expected.unwrap();
    assert_eq!(json(&format!("{} {cylinder} {expected}", first.check))["format"], "borewright/answered/1");
    for words in ["", "1"] {
        let run = bench.record(&format!("{words} --format json"));
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{words:?}");
        assert!(run.err.contains("found --format json, and no reading, expected a line"), "{}", run.err);
    }
}
