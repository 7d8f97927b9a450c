//! What is measured is numbered, and the numbers are the same everywhere.

use borewright_planner::plan::check::{Of, What};

use crate::bench::Bench;

#[test]
fn every_stop_and_touch_check_has_a_number_in_the_order_of_work() {
    let bench = Bench::planned();
    let checks = bench.checks();
    let numbers: Vec<u32> = checks.iter().map(|c| c.check).collect();
    assert_eq!(numbers, (1..=u32::try_from(numbers.len()).unwrap()).collect::<Vec<_>>());
    let left: Vec<(What, &str)> =
        checks.iter().filter(|c| c.bank == "left").map(|c| (c.what, c.feature.as_str())).collect();
    // Petrel: two registers and a length in coolant, one flange; three touch checks, one before each list.
    assert_eq!(
        left,
        [
            (What::Touch, "datum"),
            (What::Position, "lower register"),
            (What::Look, "lower register"),
            (What::Touch, "datum"),
            (What::Size, "upper register"),
            (What::Size, "wet length"),
            (What::Size, "lower register"),
            (What::Ledge, "flange"),
            (What::Look, "edges"),
            (What::Protrusion, "sleeve"),
            (What::Touch, "datum"),
            (What::Size, "finish bore"),
            (What::Size, "hone rough"),
            (What::Size, "hone middle"),
            (What::Size, "hone"),
            (What::Bore, "hone plateau"),
        ]
    );
}

#[test]
fn windows_are_the_ones_that_the_stops_ask_in_words() {
    let bench = Bench::planned();
    // Upper register of W90: 89.8 less 0.02 of interference, within 0.006, from the ledge at 7.965 to 18.
    let size = bench.check(What::Size, "upper register");
    let readings = &size.at(Some(3)).unwrap().readings;
    let waiting: Vec<_> = readings.iter().filter(|r| r.waits).collect();
    assert_eq!(waiting.len(), 6, "three depths, two ways");
    for r in &waiting {
        assert_eq!(
            (r.of, r.expected, r.least, r.most),
            (Of::Diameter, Some(89.78), Some(89.774), Some(89.786))
        );
    }
    // A quarter of 10.035 inside either end: 7.965 + 2.509 and 18 - 2.509; the middle 12.98.
    let depths: Vec<f64> =
        waiting.iter().filter(|r| r.clock == Some(0.0)).map(|r| r.depth.unwrap()).collect();
    assert_eq!(depths, [10.5, 13.0, 15.5]);
    // Flange 8.0 less the middle of 0.02 and 0.05, within 0.010 at four points.
    let ledge = bench.check(What::Ledge, "flange");
    let readings = &ledge.at(Some(1)).unwrap().readings;
    assert_eq!(readings.len(), 4);
    assert_eq!(
        (readings[0].expected, readings[0].least, readings[0].most),
        (Some(7.965), Some(7.955), Some(7.975))
    );
    let proud = bench.check(What::Protrusion, "sleeve");
    let readings = &proud.at(Some(1)).unwrap().readings;
    assert_eq!(
        (readings[2].least, readings[2].most, readings[2].clock),
        (Some(0.02), Some(0.05), Some(180.0))
    );
    // Five depths and four clocks: twenty numbers and a look; a roughness, and two depths and two ways with the plate off, that
    // nothing waits for.
    let bore = bench.check(What::Bore, "hone plateau");
    let readings = &bore.at(Some(5)).unwrap().readings;
    assert_eq!(readings.iter().filter(|r| r.waits).count(), 21);
    assert_eq!((readings[20].of, readings[21].of), (Of::Look, Of::Roughness));
    assert!(readings[22..].iter().all(|r| r.of == Of::Off && !r.waits) && readings.len() == 26);
    assert_eq!((readings[19].least, readings[19].most), (Some(81.99), Some(82.01)));
}

#[test]
fn lists_say_the_numbers_of_the_checks() {
    let bench = Bench::planned();
    let list = |name: &str| std::fs::read_to_string(bench.folder.job().join("out/lists").join(name)).unwrap();
    let pocket = list("20-pocket-left.nc");
    let touch =
        bench.checks().into_iter().find(|c| c.what == What::Touch && c.stage.word() == "pocket").unwrap();
    assert!(pocket.contains(&format!("(TOUCH CHECK {} - ", touch.check)), "{pocket}");
    let size = bench.check(What::Size, "upper register").check;
    assert!(pocket.contains(&format!("(stop {size}, cylinder 3")), "{pocket}");
}
