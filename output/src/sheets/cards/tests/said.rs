//! What single cards say.

use borewright_planner::job::SheetUnits;
use borewright_planner::plan::check::Of;
use borewright_planner::plan::{Finding, Pattern, Verdict};

use super::{pages, sample, testing};

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

#[test]
fn words_of_one_bore_have_its_boxes_and_no_others() {
    // Two readings of the first touch for each of six bores, each with what is said of its own move.
    let told = text(&sample(SheetUnits::Mm, |_| {}));
    assert_eq!(told.matches("depth of cut").count(), 12, "{told}");
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
            subject: format!("cylinder {cylinder}"),
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
    assert_eq!(said.matches("parent wall has a margin of").count(), 2, "{said}");
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
fn the_ring_tells_the_iron_that_is_left() {
    let said = text(&sample(SheetUnits::Mm, |_| {}));
    assert!(said.contains("iron "), "{said}");
}
