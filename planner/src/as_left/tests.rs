use super::place::{Lay, Place, unread};
use super::size::{Sizes, of_places};
use crate::plan::Stage;
use crate::plan::check::{Of, What};

fn place(depth: f64, clock: f64, found: Option<f64>) -> Place {
    Place {
        check: 25,
        what: What::Bore,
        stage: Stage::Hone,
        bank: "left".into(),
        cylinder: Some(3),
        feature: "hone".into(),
        reading: 1,
        of: Of::Diameter,
        depth: Some(depth),
        clock: Some(clock),
        expected: Some(82.0),
        least: Some(81.99),
        most: Some(82.01),
        unit: crate::plan::Measure::Length,
        waits: true,
        found,
        u: found.map(|_| 0.004),
        off: None,
        readings: u32::from(found.is_some()),
        agree: true,
        lies: if found.is_some() { Lay::Within } else { Lay::NotRead },
        released_by: None,
        lines: Vec::new(),
        by: String::new(),
        at: String::new(),
        instrument: String::new(),
    }
}

fn sizes(places: &[Place]) -> Sizes {
    of_places(&places.iter().collect::<Vec<_>>()).unwrap()
}

#[test]
fn roundness_and_taper_are_worked_by_hand() {
    let s = sizes(&[
        place(10.0, 0.0, Some(82.001)),
        place(10.0, 90.0, Some(82.003)),
        place(70.0, 0.0, Some(82.000)),
        place(70.0, 90.0, Some(82.005)),
        place(130.0, 0.0, Some(81.996)),
        place(130.0, 90.0, Some(81.998)),
    ]);
    // Ways differ by 0.002, 0.005 and 0.002: the widest, with u √2 · 0.004 = 0.00566.
    let round = s.round.unwrap();
    assert!((round.figure - 0.005).abs() < 1e-9 && (round.u - 0.005_657).abs() < 1e-6);
    // (81.996 + 81.998) / 2 less (82.001 + 82.003) / 2 = −0.005, with u 0.004 · √(1/2 + 1/2).
    let taper = s.taper.unwrap();
    assert!((taper.figure + 0.005).abs() < 1e-9 && (taper.u - 0.004).abs() < 1e-9);
    assert!((s.mean - 82.000_5).abs() < 1e-9);
    assert_eq!((s.ends, s.places, s.lies), ([81.996, 82.005], [6, 6], Lay::Within));
}

#[test]
fn a_depth_read_one_way_tells_neither_roundness_nor_taper() {
    let s = sizes(&[place(10.0, 0.0, Some(82.0)), place(10.0, 90.0, None), place(130.0, 0.0, Some(82.0))]);
    assert_eq!((s.round, s.taper, s.places), (None, None, [2, 3]));
}

#[test]
fn one_reading_outside_makes_the_bore_not_as_asked_whatever_the_mean_says() {
    let over = Place { lies: Lay::Over, ..place(10.0, 0.0, Some(82.02)) };
    let s = sizes(&[over, place(10.0, 90.0, Some(81.99))]);
    assert_eq!(s.lies, Lay::NotAsAsked);
    assert!((s.mean - 82.005).abs() < 1e-9);
}

#[test]
fn what_nobody_read_is_counted_check_by_check_and_what_need_not_be_read_is_not() {
    let optional = Place { waits: false, ..place(10.0, 0.0, None) };
    let written = Place { lies: Lay::NoReading, ..place(10.0, 45.0, None) };
    let all = unread(&[place(10.0, 0.0, Some(82.0)), place(10.0, 90.0, None), written, optional]);
    assert_eq!(all.len(), 1);
    assert_eq!((all[0].missing, all[0].no_reading, all[0].asked), (2, 1, 3));
    assert_eq!(unread(&[place(10.0, 0.0, Some(82.0))]), []);
}
