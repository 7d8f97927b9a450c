//! What a machinist who worked from the cards stumbled over.

use borewright_planner::job::{MeasuredSleeve, SheetUnits, Thickness};
use borewright_planner::plan::{Finding, Stage, Subject, Verdict, cylinder_words};

use super::{pages, sample, testing};

fn text(planning: &borewright_planner::Planning) -> String {
    let all = pages(planning).0.join("\n");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Where these words begin in what is told.
fn at(told: &str, words: &str) -> usize {
    told.find(words).unwrap_or_else(|| panic!("no {words:?} in {told}"))
}

#[test]
fn what_the_survey_asks_of_the_set_up_is_the_leads_to_settle_on_card_1() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    let asked = at(&told, "The survey asks of the set-up (figures page 6): left bank up: ");
    for words in ["Done before planning", "not done, cut as read", "lead ____"] {
        assert!(told[asked..].contains(words), "no {words:?} in {told}");
    }
    assert!(
        told.contains("do not straighten it")
            && told.contains("or straightened since: read again, plan again")
    );
}

#[test]
fn the_page_that_card_1_names_is_that_of_the_figures() {
    let planning = sample(SheetUnits::Mm, |_| {});
    let fonts = crate::paper::text::Fonts::load().unwrap();
    let report = planning.surveyed();
    let figures = crate::sheets::figures(&planning, &planning.plan, report.as_ref(), fonts).unwrap();
    let page = figures.asked_on().unwrap();
    let file = lopdf::Document::load_mem(&figures.written(&planning.plan, fonts).unwrap()).unwrap();
    let said = file.extract_text(&[u32::try_from(page).unwrap()]).unwrap();
    assert!(said.contains("Asked of the set-up"), "page {page}: {said}");
}

#[test]
fn the_mandrel_reads_on_the_card_what_the_survey_says_of_it() {
    // 0.0315 over 276 mm, which two ways of rounding tell apart.
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(told.contains("mandrel Y read +0.032 mandrel Z read \u{2212}0.019"), "{told}");
}

#[test]
fn a_thin_shell_is_told_as_the_feed_that_is_dialled() {
    // 0.05 and 0.08 mm a turn at 331 rpm, of the list's 0.15.
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(told.contains("0.05 to 0.08 mm a turn, 17 to 26 mm/min: feed override 33 to 53 %"), "{told}");
}

#[test]
fn a_bare_hole_is_gauged_before_the_cut_that_opens_it_and_expects_the_liner() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    let [iron, bare, cut] = [
        "Iron left all round, thickest: cylinders 1, 3 and 5 at valley",
        "Bare hole, for the lead",
        "86.491 139.000",
    ]
    .map(|words| at(&told, words));
    assert!(iron < bare && bare < cut, "{told}");
    assert!(told[bare..cut].contains("1 86.000") && !told[bare..cut].contains("86.491 "), "{told}");
    assert!(told.contains("thickest at valley") && told.contains("at outer, at the deck"), "{told}");
}

#[test]
fn sleeves_are_asked_for_before_the_first_pocket_where_none_was_measured() {
    let asked = "Sleeves numbered and measured?";
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert_eq!(told.matches(asked).count(), 1, "{told}");
    assert!(at(&told, asked) < at(&told, "Pocket to size"), "{told}");
    // A box for every size that the table of measured sleeves has, for each bore.
    let room = "number thickness 8.000 upper register Ø 89.800 wet length Ø 89.000 lower register Ø 88.600";
    assert_eq!(told.matches(room).count(), 6, "{told}");
    assert!(told.contains("by over 0.004 mm (flange 0.005 mm)") && told.contains("pockets to its drawing"));
    let measured = text(&sample(SheetUnits::Mm, |job| {
        job.measured = (1..=6)
            .map(|n| MeasuredSleeve {
                sleeve: 1,
                number: format!("S{n}"),
                flange: Some(Thickness { mean_mm: 8.0, range_mm: [8.0, 8.0] }),
                outsides_mm: vec![89.8, 89.0, 88.6],
                apart_mm: 0.0,
            })
            .collect();
    }));
    assert!(!measured.contains(asked) && !measured.contains("to the drawing's sleeve"), "{measured}");
}

#[test]
fn bores_that_nobody_read_are_named_and_no_sleeve_goes_in_before_them() {
    let mut planning = testing::dunnock();
    planning.plan.verdict = Verdict::Hold;
    // What is left is the first bank's.
    let left: Vec<u32> = planning.job.block.banks[0].sites.iter().map(|s| s.cylinder).collect();
    let right: Vec<u32> = planning.job.block.banks[1].sites.iter().map(|s| s.cylinder).collect();
    planning.plan.cylinders.retain(|c| left.contains(&c.cylinder));
    planning.plan.passes.retain(|p| left.contains(&p.cylinder));
    for cylinder in &right {
        planning.plan.findings.push(Finding {
            code: "not_measured",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(*cylinder),
            text: "not measured".into(),
        });
    }
    let numbers = cylinder_words(&right);
    let told = text(&planning);
    assert!(told.contains(&format!("Held: {numbers}. Fit no sleeve in any bore")), "{told}");
    assert!(!told.contains("cylinder :"), "{told}");
}

#[test]
fn positions_say_why_they_are_not_the_round_figures_of_the_true_place() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(told.contains("True place of cylinder 1: 46.000 / 0.000."), "{told}");
}

#[test]
fn the_order_of_work_is_that_of_the_cards() {
    let planning = sample(SheetUnits::Mm, |job| job.engine.deck.cut_mm = 0.15);
    let told = text(&planning);
    let order = &told[at(&told, "Order of work")..];
    assert!(order.contains("pocket left → deck left → rough right"), "{order}");
    assert!(told.contains("Bank left: deck, whole bank") && !told.contains("cyl 1: deck"), "{told}");
    assert!(planning.plan.passes.iter().any(|p| p.stage == Stage::Deck));
}

#[test]
fn with_the_plate_on_z_is_taken_from_the_plate() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(
        told.contains("Z on top of the plate (CHECK 21, 27)") && !told.contains("corners read again"),
        "{told}"
    );
    let bare = text(&sample(SheetUnits::Mm, |job| job.finish.plate_mm = None));
    assert!(bare.contains("the deck's corners read again"), "{bare}");
}

#[test]
fn stones_stand_on_the_line_that_hones() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    let line = at(&told, "hone rough to Ø 81.970 mm. Plate on, stones 150 to 180, 69 mm long, 138 rpm");
    let check = line + at(&told[line..], "CHECK 23: size");
    assert!(!told[check..check + 120].contains("stones 150"), "{}", &told[check..check + 120]);
}

#[test]
fn the_edge_that_rings_slide_over_is_no_longer_than_its_step() {
    // From Ø 89.600 to 88.570 at 52 deep: 0.515 a side, over 1.415 mm at 20 degrees.
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(told.contains("15 to 20 degrees where O-rings slide in: by 1.4 mm at 52.00 mm depth"), "{told}");
}

#[test]
fn the_section_tells_the_window_of_what_stands_in_coolant_and_how_much_of_the_ring_is_carried() {
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(told.contains("wet length Ø 89.600 ±0.100"), "{told}");
    assert!(told.contains("all of its 2.00 on the flange"), "{told}");
}
