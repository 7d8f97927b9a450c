//! Centres on a limit: the thousandth that is printed must not cross it.

use borewright_planner::prove::{Reference, prove};
use serde_json::{Value, json};

use crate::sample::{bare, said, sample};

/// The sample's plan with a limit in reach of cylinder 1, planned at (46.016 + dx, 0.039 + dy) in the list.
fn plan(margin: f64, towards: [f64; 2], near: bool) -> Value {
    let mut plan = bare(&sample().plan);
    if near {
        plan["lists"][1]["proof"]["near"] = json!([
            { "cylinder": 1, "against": null, "limit": "parent_wall", "margin": margin, "towards": towards }
        ]);
    }
    plan
}

fn words(x: &str) -> String {
    // Steps across go by the printed places; the comments that tell them are left out.
    let plain = |line: &str| match line.split_once(", step ") {
        Some((before, _)) => format!("{before})\n"),
        None => format!("{line}\n"),
    };
    let plain: String = sample().list("20-").lines().map(plain).collect();
    let edited = plain.replace("X46.016", x);
    let offset: i64 = x[1..].replace('.', "").parse::<i64>().unwrap() - 46_016;
    let sum =
        edited.lines().find_map(|l| l.strip_prefix("(SUM OF X ")).unwrap().trim_end_matches(')').to_owned();
    let times = i64::try_from(plain.matches("X46.016").count()).unwrap();
    let total: i64 = sum.replace('.', "").parse::<i64>().unwrap() + times * offset;
    let touched = edited.replace("cylinder 1 - X +46.016", &format!("cylinder 1 - X +{}", &x[1..]));
    touched.replace(&sum, &format!("{}.{:03}", total / 1000, total % 1000))
}

fn codes(plan: &Value, words: &str) -> Vec<&'static str> {
    let reference = Reference::parse("plan.json", &plan.to_string()).unwrap();
    let proof = prove(words, None, "20.nc", &reference);
    assert_eq!(proof.proven, proof.flaws.is_empty());
    let mut codes: Vec<&str> = proof.flaws.iter().map(|f| f.code).collect();
    codes.dedup();
    if !proof.proven {
        assert!(said(&proof).contains("X46.0"), "{}", said(&proof));
    }
    codes
}

/// Where the sample's plan puts cylinder 1 in its list, thousandths.
fn planned_x() -> f64 {
    let plan: Value = serde_json::from_str(&sample().plan).unwrap();
    let proof = &plan["lists"][1]["proof"];
    let at =
        [&plan["cylinders"][0]["planned"]["x"], &plan["cylinders"][0]["planned"]["y"], &proof["deck_height"]];
    (0..3).map(|axis| at[axis].as_f64().unwrap() * proof["axes"][axis][0].as_f64().unwrap()).sum()
}

#[test]
fn a_centre_that_rounding_took_across_a_limit_is_named_with_the_place_that_keeps_it() {
    // The planned place stands a little off the printed one; a limit through the planned place keeps one side.
    let off = planned_x() - 46.016;
    assert!(off.abs() > 1e-5 && off.abs() < 0.000_5, "{off}");
    let side = if off > 0.0 { 1.0 } else { -1.0 };
    // The printed place lies on the side that the limit forbids.
    assert_eq!(codes(&plan(0.0, [side, 0.0], true), &words("X46.016")), ["limit"]);
    assert!(codes(&plan(0.0, [-side, 0.0], true), &words("X46.016")).is_empty());
    // With room in hand nothing is crossed.
    assert!(codes(&plan(0.001, [side, 0.0], true), &words("X46.016")).is_empty());
    // The neighbouring thousandth on the right side is as good as the nearest.
    let other = if side > 0.0 { "X46.017" } else { "X46.015" };
    assert!(codes(&plan(0.0, [side, 0.0], true), &words(other)).is_empty());
    // With none in reach the nearest is the one.
    assert_eq!(codes(&plan(0.0, [side, 0.0], false), &words(other)), ["centre"]);
}

#[test]
fn two_thousandths_off_is_a_wrong_centre_unless_a_limit_leaves_no_nearer_place() {
    for x in ["X46.014", "X46.018"] {
        assert!(codes(&plan(0.0, [0.0, 1.0], false), &words(x)).contains(&"centre"), "{x}");
        assert!(codes(&plan(0.0, [0.0, 1.0], true), &words(x)).contains(&"centre"), "{x}");
    }
}

#[test]
fn neighbours_may_lose_a_thousandth_to_rounding_and_no_more() {
    // Both stand a little nearer to each other than planned. A margin never falls three times as fast as a
    // centre moves; it does here, so that the two thousandths of a place tell.
    for (towards, crossed) in [(-1.0, false), (-3.0, true)] {
        let mut plan = plan(0.0, [0.0; 2], false);
        let row = json!({ "cylinder": 1, "against": 3, "limit": "bridge", "margin": 0.0014, "towards": [towards, 0.0] });
        plan["lists"][1]["proof"]["near"] = json!([row]);
        let nearer = words("X46.016").replace("X138.016", "X138.015");
        let reference = Reference::parse("plan.json", &plan.to_string()).unwrap();
        let found = said(&prove(&nearer, None, "20.nc", &reference));
        assert_eq!(found.contains("cylinders 1 and 3") && found.contains("[limit]"), crossed, "{found}");
    }
}
