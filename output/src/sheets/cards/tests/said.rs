//! What single cards say.

use borewright_planner::job::{Limit, SheetUnits};
use borewright_planner::plan::check::Of;
use borewright_planner::plan::moves::MoveKind;
use borewright_planner::plan::{Finding, Pattern, Subject, Verdict};

use kurbo::{Rect, Shape as _};

use super::{pages, sample, testing};
use crate::paper::canvas::{Canvas, Mark};
use crate::paper::text::Fonts;

fn text(planning: &borewright_planner::Planning) -> String {
    let all = pages(planning).0.join("\n");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_plate_shows_order_and_steps_where_the_job_says_them_and_else_who_has_to() {
    let told = text(&sample(SheetUnits::Both, |job| {
        job.engine.tightening.order = vec![3, 4, 5, 6, 1, 2, 7, 8];
        job.engine.tightening.steps = vec!["30 N·m".into(), "60 N·m".into(), "90 degrees".into()];
        job.engine.tightening.torque_nm = Some(60.0);
    }));
    assert!(told.contains("1: 30 N·m; 2: 60 N·m; 3: 90 degrees"), "{told}");
    // 60 N·m over 1.3558 N·m a pound-force foot are 44.25.
    assert!(told.contains("60 N·m (44 lbf·ft)") && told.contains("the order of tightening"), "{told}");
    let asked = text(&sample(SheetUnits::Mm, |_| {}));
    for words in
        ["Order: not given. The shop lead has to say it", "Steps: not given. The shop lead has to say it"]
    {
        assert!(asked.contains(words), "{asked}");
    }
    let none = text(&sample(SheetUnits::Mm, |job| job.finish.plate_mm = None));
    assert!(none.contains("No plate is named in the job") && !none.contains("Order: not given"), "{none}");
    // Bolts that the block does not describe are not drawn, and an order that does not fit them neither.
    let mut planning = sample(SheetUnits::Mm, |job| job.engine.tightening.order = vec![2, 1]);
    assert!(text(&planning).contains("the job orders 2 bolts, the block's description has 8"));
    planning.job.block.studs.clear();
    assert!(text(&planning).contains("Whoever describes the block has to say where they are"));
}

/// Circles of a page with room for a number: the bolts of a plate.
fn bolts(canvas: &Canvas) -> Vec<Rect> {
    let round = canvas.marks.iter().filter_map(|mark| match mark {
        Mark::Stroke { path, width, .. } if (*width - 1.4).abs() < 1e-9 => Some(path.bounding_box()),
        _ => None,
    });
    round.filter(|r| (r.width() - r.height()).abs() < 0.5).collect()
}

#[test]
fn bolts_of_a_plate_keep_clear_of_each_other_and_of_all_words_but_their_own() {
    let fonts = Fonts::load().unwrap();
    for (count, ordered) in [(4, true), (4, false), (6, true), (6, false), (8, true), (8, false)] {
        let mut planning = testing::inline(count);
        let studs = u32::try_from(planning.job.block.studs.len()).unwrap();
        planning.job.engine.tightening.order = if ordered { (1..=studs).collect() } else { Vec::new() };
        let mut seen = 0;
        for canvas in super::super::leaves(&planning, &planning.plan, fonts).unwrap() {
            let bolts = bolts(&canvas);
            seen += bolts.len();
            for (at, own) in bolts.iter().enumerate() {
                let apart = |other: &Rect| {
                    own.center().distance(other.center()) >= (own.width() + other.width()) / 2.0
                };
                assert!(bolts.iter().skip(at + 1).all(apart), "{count} bores: {own:?}");
                // Six figures of a pencil are not asked for here: a number of two.
                assert!(own.width() >= if ordered { 18.0 } else { 22.6 }, "{count} bores: {own:?}");
                let words = canvas.marks.iter().filter_map(|mark| match mark {
                    Mark::Text { at, size, weight, text } => {
                        let wide = fonts.width(text, *weight, *size);
                        Some((Rect::new(at.x, at.y - 0.7 * size, at.x + wide, at.y), text))
                    }
                    _ => None,
                });
                let over: Vec<&String> = words
                    .filter(|(area, _)| {
                        let over = area.intersect(*own);
                        over.width() > 0.5 && over.height() > 0.5
                    })
                    .map(|(_, text)| text)
                    .collect();
                assert!(over.len() <= usize::from(ordered), "{count} bores: {over:?}");
                assert!(over.iter().all(|text| text.parse::<u32>().is_ok()), "{count} bores: {over:?}");
            }
        }
        assert_eq!(seen, 2 * (usize::try_from(count).unwrap() + 1), "{count} bores");
    }
}

#[test]
fn the_look_after_the_last_stone_is_a_line_with_squares_to_tick() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let told = text(&planning);
    let words = "Look at each bore after the last stone";
    assert_eq!(told.matches(words).count(), 2, "{told}");
    let look = told.find(words).unwrap();
    assert!(told[..look].contains("CHECK 26: finished bore"), "{told}");
    for words in ["crosshatch even", "nowhere glazed", "nothing torn", "chamfers", "white cloth stays white"]
    {
        assert!(told[look..].contains(words), "no {words:?} in {told}");
    }
    assert!(told[look..].contains("CHECK 26: look Yes only where all above is ticked."), "{told}");
}

#[test]
fn each_card_tells_the_order_of_its_cylinders_and_which_list_has_another() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let told = text(&planning);
    assert_eq!(told.matches("Cylinders front to rear: 1 3 5.").count(), 2, "{told}");
    assert_eq!(told.matches("Cylinders front to rear: 1 3 5, then 2 4 6.").count(), 1, "{told}");
    assert!(told.contains("touch check, cylinder 5, then 1"), "{told}");
    assert!(told.contains("List 20 cuts 1 5 3: its lines and checks stand in that order."), "{told}");
}

#[test]
fn words_of_one_bore_have_its_boxes_and_no_others() {
    // Two readings of the first touch for each of six bores, each with what is said of its own move.
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert_eq!(told.matches("°), step 0.").count(), 12, "{told}");
}

#[test]
fn a_roughness_that_is_asked_has_a_box_on_each_bore() {
    let planning = sample(SheetUnits::Mm, |job| job.finish.roughness_um = Some([0.2, 0.5]));
    let asked: Vec<_> = planning
        .plan
        .checks
        .iter()
        .flat_map(|c| &c.cylinders)
        .filter_map(|c| c.readings.iter().find(|r| r.of == Of::Roughness && r.waits))
        .collect();
    assert_eq!(asked.len(), 6);
    assert!(asked.iter().all(|r| r.least == Some(0.2) && r.most == Some(0.5)));
    // The caption stands in two lines above its box.
    let told = text(&planning);
    assert!(told.matches("Ra 0.20").count() >= 6 && told.matches("0.50 µm").count() >= 6, "{told}");
    let none = sample(SheetUnits::Mm, |_| {});
    assert!(!text(&none).contains("Ra 0"));
}

#[test]
fn a_bank_that_is_off_alike_says_its_cause_once() {
    let mut planning = testing::dunnock();
    planning.plan.as_bored.pattern = Pattern::Together;
    planning.plan.verdict = Verdict::Hold;
    for (cylinder, short) in [(1, "0.011"), (3, "0.012"), (5, "0.013")] {
        planning.plan.findings.push(Finding {
            code: "not_proven",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            text: format!("parent wall has a margin of {short}").into(),
        });
    }
    let said = text(&planning);
    assert_eq!(said.matches("index, included angle or fixture").count(), 1, "{said}");
    assert_eq!(said.matches("parent wall has a margin of").count(), 1, "{said}");
    // Two of three are no whole bank.
    planning.plan.findings.pop();
    let said = text(&planning);
    assert!(!said.contains("index, included angle or fixture"), "{said}");
    // What is the same apart from its figure is said once, by the bore that is shortest of metal.
    assert_eq!(said.matches("parent wall has a margin of").count(), 1, "{said}");
    assert!(said.contains("HOLD: cylinders 1 and 3 ") && said.contains("The worst, cylinder "), "{said}");
}

#[test]
fn the_pocket_is_drawn_on_its_card_with_every_bores_sizes() {
    for units in [SheetUnits::Mm, SheetUnits::In, SheetUnits::Both] {
        let said = text(&sample(units, |_| {}));
        assert!(said.contains("scale 1 : "), "{said}");
        assert!(!said.contains("higher than a card") && said.contains("Each bore's own sizes"), "{said}");
    }
}

#[test]
fn a_card_stops_where_its_list_stops_before_it_tells_the_depth() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let told = text(&planning);
    // The list of the left bank: 10 deep, CHECK 2, then to 139.
    let at = |words: &str| told.find(words).unwrap_or_else(|| panic!("no {words:?} in {told}"));
    assert!(at("First touch: 10 mm deep, stop, CHECK 2 of that bore") < at("83.291 139.000"));
    // The lower register begins 52 deep: its trial ends where the list stops, not where a head would at the deck.
    let trial = "Trial: cylinder 1 only, down to 62.0 mm deep, stop; gauge the size at 57.0 deep";
    assert!(at(trial) < at("88.570 139.000"));
    // Two parts of the pocket are long enough to be tried, in one cylinder of either bank, and one is tried by hand; bores are
    // touched in two stages.
    assert_eq!(told.matches("Trial: cylinder 1 only, down to").count(), 2, "{told}");
    assert_eq!(told.matches("Trial: cylinder ").count(), 6, "{told}");
    assert_eq!(told.matches("First touch: 10 mm deep").count(), 4, "{told}");
    // What goes to depth at once has no such line.
    let mut at_once = sample(SheetUnits::Mm, |_| {});
    at_once.lists.iter_mut().for_each(|list| list.moves.retain(|m| m.kind != MoveKind::Stop));
    assert!(!text(&at_once).contains("First touch: 10 mm"));
}

#[test]
fn a_ring_and_its_check_have_the_same_figures() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let told = text(&planning);
    for touch in planning.plan.passes.iter().filter_map(|p| p.touch.as_ref()) {
        let (most, least) = (format!("most {:.2}", touch.deepest), format!("least {:.2}", touch.least));
        assert!(told.contains(&most) && told.contains(&least), "{most}, {least}: {told}");
    }
}

#[test]
fn each_card_names_what_is_loaded_and_the_card_that_follows() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let told = text(&planning);
    // Tools stand out as the machine file has them.
    for words in [
        "Tool: rough head, stick-out 175.00 mm.",
        "Tool: finish bar, stick-out 205.00 mm. Its sizes and depths are drawn on card 6.",
        "Next: card 3, cuts of bank left.",
        "Next: card 4, set-up of bank right.",
        "Next: card 7, fit the sleeves.",
        "Next: card 8, finish bore and hone.",
        "Then sign card 1.",
        "bank right up as on card 4; main caps torqued",
        "order and steps of the plate's bolts",
    ] {
        assert!(told.contains(words), "no {words:?} in {told}");
    }
    assert!(told.contains("from cylinder 1 to 5 X reads about +184.0 mm"), "{told}");
}

#[test]
fn boxes_say_on_which_side_of_the_bore_they_are_read() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    for words in [
        "at outer (262°), step 0.749",
        "at valley (82°), step 0.522",
        "clock 90° valley",
        "57.0 deep, across",
    ] {
        assert!(told.contains(words), "no {words:?} in {told}");
    }
    assert_eq!(told.matches("CHECK 2: first touch").count(), 1, "{told}");
    assert!(told.contains("bore moves 0.111 mm outwards, 0.016 mm forwards; 0.75 mm on that side"), "{told}");
    // 139 mm of sleeve are gauged in the middle at 69.5, in words as above the boxes.
    assert!(told.contains("depths 10, 30, 69.5, 114, 131 mm") && told.contains("69.5 deep"), "{told}");
}

#[test]
fn a_wet_sleeve_is_fitted_with_its_flats_and_rings_minded_and_its_jacket_tested() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    for words in [
        "O-rings wetted with the lubricant their maker allows (mineral oil swells some), none twisted; flats towards the neighbours",
        "pressure-test the jacket",
        "0.5 mm × 45°",
    ] {
        assert!(told.contains(words), "no {words:?} in {told}");
    }
}

#[test]
fn the_lead_reads_the_tightest_limit_where_it_is_signed() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let told = text(&planning);
    let (cylinder, limit) = crate::said::tightest::tightest(&planning.plan).unwrap();
    let margin = format!("of cylinder {}, margin {:.3} mm", cylinder.cylinder, limit.margin);
    assert!(told.contains(&margin), "{margin}: {told}");
}

#[test]
fn the_ring_tells_the_iron_that_is_left() {
    let said = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(said.contains("iron "), "{said}");
}

/// A bore's reasons repeat the words of a finding: were they worded apart, the card would say them twice.
#[test]
fn what_stands_in_its_frame_is_not_said_again_of_each_bore() {
    let held = [
        ("a sleeve", sample(SheetUnits::Mm, |job| job.finish.hone_stock_mm = 0.0), "; sleeve: as said above"),
        (
            "walls that nobody read",
            sample(SheetUnits::Mm, |job| job.set_ups.iter_mut().for_each(|s| s.walls.clear())),
            "margin 0.100 mm; as said above",
        ),
        (
            "a limit",
            sample(SheetUnits::Mm, |job| {
                job.limits.set("parent_wall", Some(Limit { least_mm: 4.5, prefer_mm: None }));
            }),
            "as said above",
        ),
        (
            "a limit and a sleeve, both in doubt",
            sample(SheetUnits::Mm, |job| {
                job.finish.hone_stock_mm = 0.0;
                job.limits.set("parent_wall", Some(Limit { least_mm: 4.5, prefer_mm: None }));
            }),
            "STOP: as said above",
        ),
    ];
    for (name, planning, words) in held {
        let told = text(&planning);
        assert!(told.contains(words), "{name}: {told}");
        for finding in planning.plan.findings.iter().filter(|f| f.verdict != Verdict::Go) {
            let said = finding.text.to_string();
            assert!(told.matches(said.as_str()).count() <= 1, "{name}: {said} twice in {told}");
        }
    }
}
