use std::path::PathBuf;

use borewright_planner::job::{
    DeckCut, HeadBolts, Limit, MeasuredSleeve, Piston, Running, SheetUnits, Thickness,
};
use borewright_planner::{Planning, load, plan_job};

use crate::bundle::bundle_unproven as bundle;

/// The sample with everything told that a sleeve is worked out from.
fn told(units: SheetUnits) -> Planning {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    let mut job = load(&path).unwrap_or_else(|faults| panic!("{faults}"));
    job.sheet_units = units;
    job.engine.running = Running { block_c: 110.0, sleeve_c: 130.0, stated: true };
    job.engine.deck = DeckCut { cut_mm: 0.1, after_fit: false };
    job.engine.head_bolts = Some(HeadBolts {
        per_bank: 8.0,
        thread_mm: None,
        each_n: 75_000.0 / (0.2 * 11.0),
        scatter: 0.25,
        gas_mpa: Some(9.0),
    });
    job.engine.piston = Some(Piston {
        stroke_mm: 86.0,
        rod_mm: 143.0,
        pin_height_mm: 34.5,
        oil_ring_mm: 20.0,
        skirt_mm: 48.0,
        material: borewright_planner::material::built_in("piston aluminium").unwrap(),
        temperature_c: 120.0,
        temperature_stated: false,
        gasket_mm: None,
        clearance_mm: Some(0.05),
    });
    job.limits.set("seat_ratio", Some(Limit { least_mm: 1.2, prefer_mm: Some(0.9) }));
    job.measured = (1..=6)
        .map(|n| {
            let off = 0.001 * f64::from(n);
            MeasuredSleeve {
                sleeve: 1,
                number: format!("S-{n}"),
                flange: Some(Thickness { mean_mm: 8.0 + off, range_mm: [8.0, 8.0 + off] }),
                outsides_mm: vec![89.8 + off, 89.0, 88.6 - off],
                apart_mm: 0.0,
            }
        })
        .collect();
    // Its seat is at hold: what is told of it is told once it is released.
    let release = borewright_planner::plan::Release { who: "A. Lead".into(), why: "seat agreed".into() };
    plan_job(job, Some(release)).unwrap_or_else(|e| panic!("{e}"))
}

fn text(planning: &Planning) -> String {
    let bundle = bundle(planning).unwrap();
    let sheet = bundle.artifacts.iter().find(|a| a.path == "sheets/figures.pdf").unwrap();
    let document = lopdf::Document::load_mem(&sheet.bytes).unwrap();
    let numbers: Vec<u32> = document.get_pages().keys().copied().collect();
    let text: String = numbers.iter().map(|n| document.extract_text(&[*n]).unwrap()).collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_machinist_finds_fits_heat_seat_rings_flats_and_own_pockets_on_the_sheet() {
    let planning = told(SheetUnits::Mm);
    let text = text(&planning);
    // Pockets and fits by hand: 89.8 - 0.02, 0.02 -+ (0.004 + 0.006); own: 88.6 - 0.001 - 0.03.
    for expected in [
        "Sleeves by number",
        "S-1",
        "88.569",
        "Fits, mm",
        "89.780",
        "+0.010",
        "+0.030",
        "Soak the block at",
        "Never hotter than 150 °C",
        "heat again",
        "Flange above the deck",
        "0.100 mm is still to be cut off the deck",
        "Flats between neighbours",
        "none: as supplied",
        "bearing area of the ledge",
        "90.9 kN",
        "Fire ring on the flange",
        "usual: stretch 1 to 4 %, squeeze 15 to 27 %, fill 65 to 85 % and never over 90 %",
        "Piston and sleeve",
        "What these figures rest on",
        "Limits of the sleeve",
        "seat ratio",
    ] {
        assert!(text.contains(expected), "{expected} is not in\n{text}");
    }
    // F = T / (K d), eight bolts, three cylinders: 75 000 / (0.2 x 11) x 8 / 3 = 90 909 N, by hand.
    assert!(!text.contains("gives no head bolts"));
}

#[test]
fn an_inch_sheet_has_no_millimetres_of_the_pocket_and_tells_an_oven_in_fahrenheit() {
    let text = text(&told(SheetUnits::In));
    assert!(text.contains("3.5346") && text.contains("°F") && text.contains("Fits, in"), "{text}");
    assert!(!text.contains("89.780"), "{text}");
    let both = self::text(&told(SheetUnits::Both));
    assert!(both.contains("89.780") && both.contains("(3.5346)"), "{both}");
}

#[test]
fn what_the_job_does_not_tell_is_said_and_not_made_up() {
    let mut planning = told(SheetUnits::Mm);
    for choice in &mut planning.plan.sleeves {
        choice.fit.seat.load = None;
        choice.fit.stack = None;
        choice.fit.assigned.clear();
        choice.fit.registers.iter_mut().for_each(|r| (r.pressure, r.hoop, r.running) = (None, None, None));
    }
    let text = text(&planning);
    assert!(text.contains("The job gives no head bolts"), "{text}");
    assert!(!text.contains("Piston and sleeve") && !text.contains("Sleeves by number"));
}

#[test]
fn equal_plans_give_equal_sheets() {
    let planning = told(SheetUnits::Both);
    assert!(bundle(&planning).unwrap().artifacts == bundle(&planning).unwrap().artifacts);
}
