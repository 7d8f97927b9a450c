//! What is done by hand between the cuts, and what each cut is told to take.

use borewright_planner::Planning;
use borewright_planner::job::SheetUnits;
use borewright_planner::plan::check::{Of, What};
use borewright_planner::plan::{Pass, PassKind, SLEEVES_FLUSH, Stage};

use super::{pages, sample, six_measured};

/// What the card of a title says, its pages one behind the other.
fn card(planning: &Planning, title: &str) -> String {
    let (all, _) = pages(planning);
    let own: Vec<String> = all.into_iter().filter(|page| page.contains(title)).collect();
    own.join("\n").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Where these words begin in what is told.
#[track_caller]
fn at(told: &str, words: &str) -> usize {
    told.find(words).unwrap_or_else(|| panic!("no {words:?} in {told}"))
}

/// How wide a bore is open at a depth before a step, by every tool that went down through it.
fn open_mm(planning: &Planning, pass: &Pass, depth: f64) -> f64 {
    let before = planning.plan.passes.iter().filter(|p| p.cylinder == pass.cylinder && p.step < pass.step);
    before.filter(|p| p.to >= depth && p.stage < Stage::Fit).map(|p| p.diameter).fold(0.0, f64::max)
}

#[test]
fn a_finishing_cut_takes_what_the_cuts_before_it_left() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let cuts: Vec<&Pass> = planning.plan.passes.iter().filter(|p| p.stage == Stage::Pocket).collect();
    assert!(cuts.len() >= 24, "{}", cuts.len());
    for pass in cuts {
        // Just below where it begins, and just above where it ends: a ledge's own floor apart.
        for depth in [pass.from + 0.01, pass.to - 0.21] {
            let real = (pass.diameter - open_mm(&planning, pass, depth)) / 2.0;
            assert!(
                (real - pass.stock.min).abs() < 1e-6,
                "{} at {depth}: {real}, told {:?}",
                pass.feature,
                pass.stock
            );
        }
    }
}

#[test]
fn a_length_in_coolant_as_wide_as_it_may_be_leaves_its_bar_clear_of_the_register_above() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let sizes = |feature: &str| {
        let check =
            planning.plan.checks.iter().find(|c| c.feature == feature && c.stage == Stage::Pocket).unwrap();
        let readings = &check.cylinders[0].readings;
        let size = readings.iter().find(|r| r.of == Of::Diameter && r.waits).unwrap();
        [size.least.unwrap(), size.most.unwrap()]
    };
    assert!(sizes("wet length")[1] + 0.02 <= sizes("upper register")[0]);
    // A register hardly wider than the wet length: 89.66 - 0.006 - 0.02 - 89.60 leaves 0.034.
    let tight = sample(SheetUnits::Mm, |job| {
        for sleeve in &mut job.sleeves {
            if let Some(step) = sleeve.body.iter_mut().find(|s| s.name == "upper register") {
                step.diameter_mm = 89.68;
            }
        }
    });
    let check =
        tight.plan.checks.iter().find(|c| c.feature == "wet length" && c.stage == Stage::Pocket).unwrap();
    let size = check.cylinders[0].readings.iter().find(|r| r.of == Of::Diameter && r.waits).unwrap();
    assert!((size.most.unwrap() - 89.634).abs() < 1e-9, "{size:?}");
}

#[test]
fn sleeves_are_cut_flush_on_the_card_that_fits_them_and_told_in_the_order_of_work() {
    let mut planning = sample(SheetUnits::Mm, |job| job.engine.deck.cut_mm = 0.15);
    let fitted: Vec<Pass> =
        planning.plan.passes.iter().filter(|p| p.feature == "sleeve" && p.bank == "left").cloned().collect();
    let fits = planning.plan.passes.iter().filter(|p| p.feature == "sleeve");
    let step = fits.map(|p| p.step).max().unwrap() + 5;
    planning.plan.passes.extend(fitted.into_iter().map(|pass| Pass {
        step,
        stage: Stage::Deck,
        feature: SLEEVES_FLUSH.to_owned(),
        kind: PassKind::SleevesFlush,
        stop_number: None,
        stop: None,
        ..pass
    }));
    let fit = card(&planning, "Fit the sleeves");
    assert!(at(&fit, "cyl 1 3 5: sleeve ") < at(&fit, "cyl 1 3 5: sleeves flush"), "{fit}");
    assert!(!fit.contains("deck, whole bank"), "{fit}");
    let cut = card(&planning, "Cut: bank left");
    assert!(cut.contains("deck, whole bank") && !cut.contains("sleeves flush"), "{cut}");
    assert!(card(&planning, "Order of work").contains("fit right → sleeves flush left → finish left"));
}

#[test]
fn a_ledge_has_its_own_zero_and_is_first_cut_short() {
    // Ledge 7.965; the allowance of 0.2 leaves 0.1 for the trial and 0.1 for the cut that ends it.
    let cut = card(&sample(SheetUnits::Mm, |_| {}), "Cut: bank left");
    let zero = at(&cut, "Set the tip to Z 0 on the deck beside each bore, before its ledge.");
    assert!(cut[zero..].contains("cyl 1, Z cyl 5, Z cyl 3, Z"), "{cut}");
    let trial = at(
        &cut,
        "Trial of the depth, cylinder 1 only, its Z 0 set 0.100 mm higher: the ledge comes 7.865 mm deep",
    );
    assert!(zero < trial && trial < at(&cut, "CHECK 8: ledge depth"), "{cut}");
    // What the trial was raised by is cylinder 1's alone: the others are moved by the error.
    let error = "mean found, less 7.865 mm: error (minus: too shallow)";
    assert!(cut.contains(error), "{cut}");
    assert!(cut.contains("Cylinder 1: lower Z 0 by 0.100 mm less the error, cut it again"), "{cut}");
    assert!(cut.contains("Every other bore, not raised: Z 0 higher by the error (minus: lower)"), "{cut}");
    // A thin allowance is halved.
    let thin = sample(SheetUnits::Mm, |job| job.allowances.pocket_mm = 0.12);
    assert!(card(&thin, "Cut: bank left").contains("its Z 0 set 0.060 mm higher"));
}

#[test]
fn a_bore_cut_again_says_from_which_row_of_its_list() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let cut = card(&planning, "Cut: bank left");
    let list = planning.lists.iter().find(|l| l.bank == "left" && l.stage == Stage::Pocket).unwrap();
    // The row that goes to cylinder 1 for its upper register, and for its ledge.
    for (words, feature) in
        [("cylinder 1 again (list from N", "upper register"), ("cut it again (list from N", "flange")]
    {
        let told = &cut[at(&cut, words) + words.len()..];
        let row: String = told.chars().take_while(char::is_ascii_digit).collect();
        // Numbered by tens, the opening row first.
        let to = &list.moves[row.parse::<usize>().unwrap() / 10 - 2];
        let pass = planning.plan.passes.iter().find(|p| Some(p.step) == to.pass && p.cylinder == 1).unwrap();
        assert!(to.x_mm.is_some() && to.cylinder == Some(1) && pass.feature == feature, "{to:?} {feature}");
    }
}

#[test]
fn a_deck_that_leans_is_told_where_its_ledges_are_cut() {
    // Read: down 0.0145 across and 0.0050 along over 95, half of it to either side of a bore.
    let planning = sample(SheetUnits::Mm, |_| {});
    let cut = card(&planning, "Cut: bank left");
    assert!(cut.contains("expect rear 7.962, valley 7.958, front 7.968, outer 7.972"), "{cut}");
    // 0.004 over the flange are not told.
    assert!(!card(&planning, "Cut: bank right").contains("The deck leans"));
    let decide = card(&planning, "Order of work");
    assert!(
        decide.contains("shim the block until it leans less, read and plan again")
            && !decide.contains("skim")
    );
}

#[test]
fn a_short_register_is_tried_with_the_head_set_smaller_by_half_of_its_stock() {
    // 0.2 a side on 89.780: first to 89.580, 0.1 a side left.
    let cut = card(&sample(SheetUnits::Mm, |_| {}), "Cut: bank left");
    let trial = at(&cut, "Trial: cylinder 1 only, the head set to Ø 89.580 mm, half of the stock");
    assert!(trial < at(&cut, "cyl 1 5 3: upper register"), "{cut}");
    assert!(cut.contains("the head wider by 89.780 mm less what was found"), "{cut}");
    // Where half of it would rub there is none.
    let thin = sample(SheetUnits::Mm, |job| job.allowances.pocket_mm = 0.08);
    assert!(!card(&thin, "Cut: bank left").contains("the head set to"));
}

/// What the planner holds hands to, as the cards say it.
#[test]
fn hands_are_told_how_long_how_warm_and_how_near() {
    for (units, near, within, trial) in [
        (
            SheetUnits::Mm,
            "By over 0.010 mm otherwise",
            "are within 2 °C of each other",
            "higher: the ledge comes 7.865 mm deep",
        ),
        (
            SheetUnits::In,
            "By over 0.010 mm (0.0004 in) otherwise",
            "are within 2 °C (4 °F) of each other",
            "higher: the ledge comes 0.3096 in deep",
        ),
    ] {
        let planning = sample(units, |_| {});
        let [set_up, cut] = ["Set-up: bank left", "Cut: bank left"].map(|title| card(&planning, title));
        assert!(set_up.contains(near), "{set_up}");
        assert!(cut.contains(within) && cut.contains(trial), "{cut}");
        assert!(card(&planning, "Fit the sleeves").contains(", 60 to 90 minutes. Read it beside the pocket"));
    }
}

#[test]
fn flanges_are_looked_at_once_every_sleeve_is_in_and_cold() {
    let fit = card(&sample(SheetUnits::Mm, |_| {}), "Fit the sleeves");
    let order = [
        "CHECK 18: look",
        "Heat the block: oven at",
        "Block soaked at",
        "hold down until gripped.",
        "cyl 1 3 5: sleeve bank left up; read beside the pocket first",
        "cyl 2 4 6: sleeve bank right up; read beside the pocket first",
        "let the block cool to room temperature",
        "CHECK 19: protrusion 0.02 mm feeler",
        "CHECK 20: protrusion",
        "Pressure test of the jacket",
    ];
    let found: Vec<usize> = order.iter().map(|words| at(&fit, words)).collect();
    assert!(found.is_sorted(), "{found:?} {fit}");
}

#[test]
fn stones_have_a_window_that_leaves_the_next_ones_their_work() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let window = |feature: &str| {
        let check = planning.plan.checks.iter().find(|c| c.feature == feature).unwrap();
        let size = check.cylinders[0].readings.iter().find(|r| r.of == Of::Diameter).unwrap();
        [size.least.unwrap(), size.most.unwrap()]
    };
    let near = |found: [f64; 2], expected: [f64; 2]| {
        assert!(found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?} {expected:?}");
    };
    // 0.018 and 0.012 for the next: a third either way of 81.970 and 81.988.
    near(window("hone rough"), [81.964, 81.976]);
    near(window("hone middle"), [81.984, 81.992]);
    let told = card(&planning, "Finish bore and hone");
    assert!(told.contains("size 81.970 mm within 0.006 mm, gauged cool"), "{told}");
    // What is signed is gauged behind the last stone.
    assert!(at(&told, "hone plateau to") < at(&told, "CHECK 26: finished bore"), "{told}");
    assert!(told.contains("stones 150 to 180, 69 mm long") && told.contains("92 mm, 11 mm over either end"));
}

/// A part of a stop that its card tells apart must come from the planner so, and not by its words.
#[test]
fn each_part_of_a_stop_stands_where_its_card_has_room_for_it() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let finish = card(&planning, "Finish bore and hone");
    // A blank where the sleeve's own wall is written in.
    let blank = at(&finish, "as measured ________ STOP");
    assert_eq!(finish.matches("________ STOP").count(), finish.matches("wall variation").count());
    assert!(blank > at(&finish, "CHECK 21: touch check"), "{finish}");
    // How a stone is run stands on its line, what is gauged behind it beside its boxes.
    let run = "hone rough to Ø 81.970 mm. Plate on, stones 150 to 180, 69 mm long";
    assert!(at(&finish, run) < at(&finish, "CHECK 23: size size 81.970 mm"), "{finish}");
    assert!(finish.contains("no more than 0.002 mm.") && finish.contains("clocks 0, 45, 90, 135; yes:"));
    // What is judged cold says nothing of how the sleeve went in.
    let fit = card(&planning, "Fit the sleeves");
    assert_eq!(fit.matches("hold down until gripped").count(), 1, "{fit}");
    assert!(!fit.contains("all in and cooled to room temperature:"), "{fit}");
    // In a list the same stop is one sentence, without room to write.
    let list = planning.lists.iter().find(|l| l.stage == Stage::Finish).unwrap();
    assert!(list.moves.iter().any(|m| m.note.contains("wall variation as measured STOP")));
}

#[test]
fn what_a_hand_measures_and_what_nobody_could_judge_stand_on_their_cards() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let set_up = card(&planning, "Set-up: bank left");
    assert!(set_up.contains("By hand: front face of main 1 to front wall of bore 1: "), "{set_up}");
    assert!(set_up.contains("; between bores 1 and 3: "), "{set_up}");
    let decide = card(&planning, "Order of work");
    assert!(decide.contains("Not judged for want of figures: pressure on the ledge; the fillet"), "{decide}");
    assert!(!decide.contains("the job gives no head bolts"), "{decide}");
    // A sleeve that was measured has its number with its bores, and not in how it goes in.
    let measured = sample(SheetUnits::Mm, six_measured);
    let stops: Vec<_> = measured.plan.passes.iter().filter_map(|p| p.stop.as_ref()?.sleeve.clone()).collect();
    assert_eq!(stops.len(), 6, "{stops:?}");
    assert!(!card(&measured, "Fit the sleeves").contains("sleeve number"), "told with its bores");
}

#[test]
fn what_the_record_holds_by_stands_on_the_card() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let cut = card(&planning, "Cut: bank left");
    let rule =
        "Hold too where two ways at one depth differ by over 0.010 mm, or top and bottom by over 0.010 mm.";
    let register = at(&cut, "CHECK 5: size");
    assert!(cut[register..].starts_with("CHECK 5: size") && cut.matches(rule).count() == 2, "{cut}");
    // Two registers have it, the wet length has not.
    let wet = at(&cut, "CHECK 6: size");
    assert!(cut[wet..].contains("gauge it only where metal stands on both sides, else nr"), "{cut}");
    let fit = card(&planning, "Fit the sleeves");
    // 0.005 of tolerance and 1.65 x 1.414 x 0.003.
    assert!(fit.contains("or one stands over 0.012 mm otherwise than its thickness on its ledge"), "{fit}");
    let finish = card(&planning, "Finish bore and hone");
    assert!(finish[at(&finish, "CHECK 22: size")..].contains(rule), "{finish}");
}

#[test]
fn a_bare_hole_has_a_window() {
    let cut = card(&sample(SheetUnits::Mm, |_| {}), "Cut: bank left");
    assert!(
        cut.contains("86.000 85.500 to 87.000") && cut.contains("read its centre at each depth"),
        "{cut}"
    );
}

#[test]
fn nothing_may_stand_where_the_tool_crosses_from_bore_to_bore() {
    let told = card(&sample(SheetUnits::Mm, |_| {}), "Cut: bank left");
    assert!(
        told.contains("Nothing 5.00 mm high or more between the bores: the tool crosses there."),
        "{told}"
    );
    let said = sample(SheetUnits::Mm, |job| job.set_ups.iter_mut().for_each(|s| s.clamps_mm = Some(4.0)));
    let told = card(&said, "Set-up: bank left");
    assert!(told.contains("nothing higher than 4.00 mm"), "{told}");
    assert!(!card(&said, "Cut: bank left").contains("high or more between the bores"));
}

#[test]
fn sizes_and_depths_of_one_check_stand_on_rows_of_their_own() {
    let mut planning = sample(SheetUnits::Mm, |_| {});
    let ledge =
        planning.plan.checks.iter().find(|c| c.what == What::Ledge).unwrap().cylinders[0].readings.clone();
    let size = planning
        .plan
        .checks
        .iter_mut()
        .find(|c| c.feature == "lower register" && c.what == What::Size)
        .unwrap();
    for at in &mut size.cylinders {
        let behind = at.readings.iter().position(|r| !r.waits).unwrap();
        at.readings.splice(behind..behind, ledge.clone());
    }
    let cut = card(&planning, "Cut: bank left");
    let own = &cut[at(&cut, "CHECK 7: size")..at(&cut, "CHECK 8: ledge depth")];
    // All three depths of the sizes are named, and the four points of the floor.
    let order = ["57.0 deep", "95.5 deep", "134.0 deep", "7.965", "clock 0° rear", "clock 270° outer"];
    assert!(order.iter().all(|words| own.contains(words)), "{own}");
}

#[test]
fn a_move_that_no_cut_shows_has_no_side_to_bite_on() {
    let mut planning = sample(SheetUnits::Mm, |_| {});
    let shown = card(&planning, "Cut: bank left");
    assert!(shown.contains("bites there?") && !shown.contains("all round?"));
    // 0.04 from the middle: 0.08 from side to side, where two readings may be 0.10 apart.
    for touch in planning.plan.passes.iter_mut().filter_map(|p| p.touch.as_mut()) {
        (touch.deepest, touch.least) = (0.77, 0.69);
    }
    let even = card(&planning, "Cut: bank left");
    assert!(
        even.contains("even to the eye") && even.contains("all round?") && !even.contains("bites there?"),
        "{even}"
    );
}
