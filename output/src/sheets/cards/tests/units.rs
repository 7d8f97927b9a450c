//! Cards beside lists of either unit.

use borewright_planner::Planning;
use borewright_planner::job::SheetUnits;
use borewright_planner::plan::moves::{Move, MoveList};
use borewright_planner::plan::{InchesWord, List, ListUnits, Stage};

use super::sample;
use crate::paper::canvas::Mark;
use crate::paper::text::Fonts;

/// The words of each leaf, in the order they are drawn, with the sample's sheets and lists in some unit.
fn words(sheet: SheetUnits, lists: ListUnits) -> (Planning, Vec<String>) {
    let planning = match lists {
        ListUnits::Mm => sample(sheet, |_| ()),
        ListUnits::In(_) => sample(sheet, |job| job.machine.list_units = ListUnits::In(InchesWord::G20)),
    };
    let words = drawn(&planning);
    (planning, words)
}

fn drawn(planning: &Planning) -> Vec<String> {
    let fonts = Fonts::load().unwrap();
    let text = |mark: &Mark| match mark {
        Mark::Text { text, .. } => Some(text.clone()),
        _ => None,
    };
    // The lists that are kept stand in the plan of a bundle.
    let mut plan = planning.plan.clone();
    let entry = |list: &MoveList| List {
        file: format!("lists/{}.nc", list.number),
        bank: list.bank.clone(),
        stage: list.stage,
        cylinders: list.cylinders.clone(),
        sha256: String::new(),
        issued: None,
        proof: borewright_planner::basis(planning, list),
        lines: Vec::new(),
    };
    plan.lists = planning.lists.iter().map(entry).collect();
    let leaves = crate::sheets::cards::leaves(planning, &plan, fonts).unwrap();
    let words = leaves.iter().map(|leaf| leaf.marks.iter().filter_map(text).collect::<Vec<_>>().join(" "));
    words.collect()
}

#[test]
fn words_and_boxes_tell_one_window() {
    // 81.990 and 82.010 mm are 3.227953 and 3.228740 in; 0.020 and 0.050 mm are 0.00079 and 0.00197.
    let all = drawn(&sample(SheetUnits::In, |_| {})).join(" ");
    for told in [
        "size 3.2283 in within 3.2280 to 3.2287 in",
        "finished bore Ø 3.2283, 3.2280 to 3.2287",
        "flange 0.0008 to 0.0019 in proud",
    ] {
        assert!(all.contains(told), "{told}: {all}");
    }
    for told in ["within 0.0004 in", "0.0020 in proud"] {
        assert!(!all.contains(told), "{told}");
    }
}

#[test]
fn the_pocket_is_drawn_in_the_order_of_units_that_its_head_states() {
    for (sheet, lists) in [
        (SheetUnits::Both, ListUnits::Mm),
        (SheetUnits::Both, super::inches()),
        (SheetUnits::In, ListUnits::Mm),
    ] {
        let (_, leaves) = words(sheet, lists);
        let card = leaves.iter().find(|leaf| leaf.contains("Pocket: sizes and depths")).unwrap();
        let (mark, recess) = match sheet {
            SheetUnits::Both => ("mm (inch)", "(3.7441) recess Ø 95.100"),
            _ => ("inch", "recess Ø 3.7441"),
        };
        let card = card.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(card.contains(mark) && card.contains(recess), "{sheet:?}: {card}");
    }
}

#[test]
fn cards_in_another_unit_than_the_lists_say_so_on_card_1_and_on_each_set_up() {
    let inch = ListUnits::In(InchesWord::G20);
    for (sheet, lists, said) in [
        (SheetUnits::Mm, inch, Some("Lists and the machine's display: inch. Measured by hand: mm.")),
        (SheetUnits::In, ListUnits::Mm, Some("Lists and the machine's display: mm. Measured by hand: inch.")),
        (SheetUnits::Both, inch, Some("Lists and the machine's display: inch. Measured by hand: mm (inch).")),
        (SheetUnits::Mm, ListUnits::Mm, None),
        (SheetUnits::In, inch, None),
        (SheetUnits::Both, ListUnits::Mm, None),
    ] {
        let (_, leaves) = words(sheet, lists);
        let with = |what: &str| leaves.iter().filter(|l| l.contains(what)).count();
        assert_eq!((with("List files, "), with("Where the bores go, ")), (1, 2), "{sheet:?}");
        match said {
            Some(said) => {
                let heads = [
                    "List files, ",
                    "Where the bores go, ",
                    "Safety: guards shut",
                    "Safety: spindle off before a hand or a",
                ];
                let told = |l: &&String| heads.iter().any(|head| l.contains(head));
                assert!(leaves.iter().filter(told).all(|l| l.contains(said)), "{sheet:?}: {leaves:?}");
            }
            None => assert_eq!(with("Lists and the machine's display"), 0, "{sheet:?}"),
        }
        let unit = if lists == inch { "as the file has them, inches " } else { "as the file has them, mm " };
        assert_eq!(with(unit), 1, "{sheet:?}: {leaves:?}");
    }
}

/// A length as a list has it, and as the sheet has it behind it.
fn both_ways(mm: f64, lists: ListUnits) -> String {
    // 1 in = 25.4 mm exactly (NIST SP 811).
    let [metric, inch] = [format!("{mm:+.3}"), format!("{:+.4}", mm / 25.4)];
    if lists == ListUnits::Mm { format!("{metric} ({inch})") } else { format!("{inch} ({metric})") }
}

#[test]
fn what_is_dialled_stands_in_the_lists_unit_first_whatever_hands_measure_in() {
    let inch = ListUnits::In(InchesWord::G20);
    for (sheet, lists, head) in [(SheetUnits::In, ListUnits::Mm, "mm"), (SheetUnits::Mm, inch, "in")] {
        let (planning, leaves) = words(sheet, lists);
        let all = leaves.join(" ").replace('\u{2212}', "-");
        for list in planning.lists.iter().filter(|list| list.stage == Stage::Rough) {
            let mut seen = Vec::new();
            for row in &list.moves {
                let (Some(cylinder), Some(x), Some(y)) = (row.cylinder, row.x_mm, row.y_mm) else { continue };
                if seen.contains(&cylinder) {
                    continue;
                }
                seen.push(cylinder);
                for value in [x, y] {
                    assert!(all.contains(&both_ways(value, lists)), "{sheet:?} {cylinder}: {value}");
                }
            }
            // The first move of the list: what the display shows when it starts.
            let z = list.moves.iter().find_map(|m| m.z_mm).unwrap();
            let z = if lists == ListUnits::Mm {
                format!("up to Z {z:.2} mm ({:.3} in)", z / 25.4)
            } else {
                format!("up to Z {:.3} in ({z:.2} mm)", z / 25.4)
            };
            assert!(all.contains(&z), "{z}");
        }
        // What hands set and measure is in the sheet's unit alone; depth and feed are the list's.
        let hand = if sheet == SheetUnits::In { "in" } else { "mm" };
        let heads = format!("to Ø, {hand} depth, {head} stock, {hand} rpm {head}/min");
        assert!(all.contains(&heads), "{heads}: {all}");
        let size =
            if sheet == SheetUnits::In { "3.4870 139.000 (5.4724)" } else { "88.570 5.4724 (139.000)" };
        assert!(all.contains(size), "{size}: {all}");
        let error = if sheet == SheetUnits::In {
            "error, inches × 25.4 = mm to key (minus: too shallow)"
        } else {
            "error, mm / 25.4 = inches to key (minus: too shallow)"
        };
        assert!(all.contains(error), "{error}: {all}");
    }
}

#[test]
fn what_a_card_in_inches_tells_to_dial_is_what_the_list_has() {
    let (planning, leaves) = words(SheetUnits::In, ListUnits::In(InchesWord::G20));
    // Paper has a minus of its own.
    let all = leaves.join(" ").replace('\u{2212}', "-");
    for list in &planning.lists {
        // 1 in = 25.4 mm exactly (NIST SP 811): the moves are whole ten-thousandths of it.
        let told = |mm: f64| format!("{:.4}", (mm / 25.4 * 10_000.0).round() / 10_000.0);
        let mut seen = Vec::new();
        for row in &list.moves {
            let (Some(cylinder), Some(x), Some(y)) = (row.cylinder, row.x_mm, row.y_mm) else { continue };
            assert!((x / 25.4 * 10_000.0 - (x / 25.4 * 10_000.0).round()).abs() < 1e-6, "{x}");
            // The first place of a bore is its middle; a milled way goes on from there.
            if seen.contains(&cylinder) || list.stage != Stage::Rough {
                continue;
            }
            seen.push(cylinder);
            for value in [x, y].map(told) {
                let signed = if value.starts_with('-') { value } else { format!("+{value}") };
                assert!(all.contains(&signed), "{cylinder}: {signed}");
            }
        }
        // The sums of card 1 are those of the list's foot: of what is printed.
        let [x, y] = [|m: &Move| m.x_mm, |m: &Move| m.y_mm].map(|get: fn(&Move) -> Option<f64>| {
            list.moves.iter().filter_map(get).map(|mm| told(mm).parse::<f64>().unwrap()).sum::<f64>()
        });
        assert!(all.contains(&format!("{x:.4} {y:.4}")), "{x:.4} {y:.4}");
    }
}

#[test]
fn where_zero_stands_on_the_machine_is_told_as_the_lists_have_it_warm_or_not() {
    let cold = sample(SheetUnits::Mm, |_| ());
    let warm = sample(SheetUnits::Mm, |job| job.temperature.as_mut().unwrap().cutting.block_c = 30.0);
    // An aluminium block 10 K warmer than the machine: zero some 142 from the scale's own goes on by 0.03.
    assert!((warm.job.at_cutting() - 1.0).abs() > 1e-4);
    for planning in [cold, warm] {
        let all = drawn(&planning).join(" ").replace('\u{2212}', "-");
        for list in &planning.lists {
            let head = list.header.iter().find(|l| l.contains("zero stands in the machine at ")).unwrap();
            let head = head.to_string();
            let figures: Vec<&str> = head.split(' ').filter(|w| w.starts_with(['+', '-'])).collect();
            let [x, y, z] = figures.as_slice() else { panic!("{head}") };
            // After a cut of the deck the lists count from what is left; here nothing is cut.
            let said = format!("X read {x} Y read {y} Z read {z} ");
            assert!(all.contains(&said), "{said}: {all}");
        }
    }
}
