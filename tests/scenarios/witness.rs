//! The parent hole by the arcs of iron that two cuts leave. Sums: the trade's own example of a parent hole 0.380 off
//! with a liner of 101.00 outside, cuts of 100.40 and 101.40, arcs of 284 and 116 degrees; common practice.

use borewright_planner::plan::Verdict;
use borewright_planner::report::{SurveyReport, report};
use borewright_planner::survey::WitnessCentre;
use borewright_planner::{load, plan_job};

use crate::bench::{Bench, cylinder, near, with_file};

/// Iron centred on this clock by so much of an arc.
fn arc(clock: f64, degrees: f64) -> (f64, f64) {
    ((clock - degrees / 2.0).rem_euclid(360.0), (clock + degrees / 2.0).rem_euclid(360.0))
}

fn folder(rows: &str) -> tempfile::TempDir {
    let bench = Bench::default().block_of([[0.0; 2]; 8]);
    let bores = "    bores: bores-left.csv\n";
    with_file(&bench, "witness.csv", rows, bores, &format!("{bores}    witness: witness.csv\n"))
}

fn survey(rows: &str) -> SurveyReport {
    report(&load(folder(rows).path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
}

/// Cylinder 5 cut twice about its true position, the arcs read so many degrees off.
fn rows(clock: f64, off: [f64; 2]) -> String {
    let mut text = String::from("cylinder,diameter,from,to\n");
    for (diameter, degrees) in [(100.40, 284.0 + off[0]), (101.40, 116.0 + off[1])] {
        let (from, to) = arc(clock, degrees);
        text.push_str(&format!("5,{diameter},{from},{to}\n"));
    }
    text
}

fn one(report: &SurveyReport) -> &WitnessCentre {
    assert_eq!(report.witness.len(), 1);
    &report.witness[0]
}

#[test]
fn two_arcs_give_the_parent_hole_and_one_far_from_the_liner_is_held_until_explained() {
    // Towards azimuth -35 degrees: x +.311, y -.218.
    let found = survey(&rows(-35.0, [0.0; 2]));
    let w = one(&found);
    near(w.apart.unwrap(), 0.380, 0.002);
    near(w.outside.unwrap(), 101.00, 0.004);
    near(w.clock, 325.0, 1e-9);
    let centre = w.centre.unwrap();
    near(centre[0] - 280.0, 0.311, 0.003);
    near(centre[1], -0.218, 0.003);
    near(w.differs.unwrap(), 0.380, 0.002);
    assert!(w.explain && w.text.contains("explain it before the pocket is finished"), "{}", w.text);
    let s = found.suspicions.iter().find(|s| s.code.word() == "witness_differs").unwrap();
    assert_eq!((s.verdict, s.cylinders.named()), (Verdict::Hold, [5].as_slice()));
    let planning = plan_job(load(folder(&rows(-35.0, [0.0; 2])).path()).unwrap(), None).unwrap();
    assert_eq!(cylinder(&planning, 5).verdict, Verdict::Hold);
    assert_eq!(cylinder(&planning, 3).verdict, Verdict::Go);
}

#[test]
fn arcs_read_five_degrees_off_stay_within_the_uncertainty_told() {
    for off in [[-5.0, -5.0], [-5.0, 5.0], [5.0, -5.0], [5.0, 5.0]] {
        let found = survey(&rows(-35.0, off));
        let w = one(&found);
        let e = w.apart.unwrap();
        assert!((0.35..=0.42).contains(&e), "{e}");
        // A bound is the root of three standard uncertainties in one arc; two at once, and the bend of the cosine, reach 2.7.
        assert!((e - 0.38).abs() < 2.8 * w.u.unwrap(), "{w:?}");
        assert!((w.outside.unwrap() - 101.0).abs() < 2.8 * w.outside_u.unwrap(), "{w:?}");
    }
}

#[test]
fn a_hole_where_it_was_taken_to_be_raises_nothing() {
    // 0.06 off: at 100.96 the iron ends where cos a = (50.48 - 50.5) / 0.06, at 101.04 at + 0.02 / 0.06.
    let alpha = (1.0_f64 / 3.0).acos().to_degrees();
    let mut text = String::from("cylinder,diameter,from,to\n");
    for (diameter, degrees) in [(100.96, 360.0 - 2.0 * alpha), (101.04, 2.0 * alpha)] {
        let (from, to) = arc(90.0, degrees);
        text.push_str(&format!("1,{diameter},{from:.6},{to:.6}\n"));
    }
    let found = survey(&text);
    let w = one(&found);
    near(w.apart.unwrap(), 0.06, 1e-6);
    assert!(!w.explain && found.suspicions.is_empty(), "{w:?}");
}

#[test]
fn one_arc_takes_the_liner_as_described_and_arcs_that_contradict_are_held() {
    let (from, to) = arc(90.0, 284.0);
    let found = survey(&format!("cylinder,diameter,from,to\n5,100.40,{from},{to}\n"));
    // (50.2 - 50.5) / cos 142.
    near(one(&found).apart.unwrap(), 0.3807, 0.0005);
    assert!(one(&found).outside.is_none() && one(&found).text.contains("taken as described"));
    let found = survey("cylinder,diameter,from,to\n5,100.40,10,130\n5,101.40,10,250\n");
    assert!(one(&found).explain && one(&found).apart.is_none(), "{found:?}");
    let found = survey("cylinder,diameter,from,to\n5,100.40,0,284\n5,101.40,200,316\n");
    assert!(one(&found).text.contains("different clocks"), "{}", one(&found).text);
}

#[test]
fn a_cut_about_another_centre_moves_the_hole_with_it() {
    let mut text = String::from("cylinder,diameter,from,to,x,y,depth\n");
    for (diameter, degrees) in [(100.40, 284.0), (101.40, 116.0)] {
        let (from, to) = arc(0.0, degrees);
        text.push_str(&format!("5,{diameter},{from},{to},279.7,0.1,40\n"));
    }
    let found = survey(&text);
    let centre = one(&found).centre.unwrap();
    near(centre[0], 280.08, 0.002);
    near(centre[1], 0.1, 0.002);
    near(one(&found).depth, 40.0, 1e-12);
}

#[test]
fn a_liner_larger_than_described_is_explained_before_the_pocket_is_cut_for_it() {
    // The shell of a liner of R on arcs of cuts at r about its own centre off by e: cos a = (r - R) / e.
    let cuts = |outside: f64, off: f64| {
        let mut text = String::from("cylinder,diameter,from,to\n");
        for share in [-0.6, 0.4] {
            let diameter = outside + 2.0 * off * share;
            let (from, to) = arc(40.0, 2.0 * f64::acos(share).to_degrees());
            text.push_str(&format!("5,{diameter:.4},{from:.2},{to:.2}\n"));
        }
        text
    };
    for (outside, holds) in [(101.0, false), (101.15, false), (101.5, true), (103.0, true)] {
        let found = survey(&cuts(outside, 0.05));
        let w = one(&found);
        near(w.outside.unwrap(), outside, 0.005);
        assert_eq!(w.explain, holds, "{outside}: {}", w.text);
        assert_eq!(w.text.contains("larger than described"), holds, "{}", w.text);
    }
    // One cut 1.0 beyond the described outside, iron over more than half of it: no shell of that outside leaves that.
    let one_cut = |degrees: f64| {
        let (from, to) = arc(40.0, degrees);
        format!("cylinder,diameter,from,to\n5,103.0,{from},{to}\n")
    };
    assert!(one(&survey(&one_cut(200.0))).explain);
    assert!(!one(&survey(&one_cut(150.0))).text.contains("larger than described"));
}
