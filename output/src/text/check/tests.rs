use std::path::PathBuf;

use borewright_planner::job::{HeadBolts, Limit};
use borewright_planner::plan::why::Of;
use borewright_planner::plan::{Subject, Verdict, Why};
use borewright_planner::{Planning, load, plan_job};

use super::check_page;
use crate::testing;
use crate::text::Terminal;

fn petrel() -> borewright_planner::job::Job {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    load(&path).unwrap_or_else(|faults| panic!("{faults}"))
}

fn planned(job: borewright_planner::job::Job) -> Planning {
    plan_job(job, None).unwrap_or_else(|e| panic!("{e}"))
}

/// With bolts, and limits that one sleeve passes, one misses the preferred figure of, and one breaks.
fn limited() -> Planning {
    let mut job = petrel();
    let limit = |least_mm, prefer_mm| Some(Limit { least_mm, prefer_mm });
    job.engine.head_bolts = Some(HeadBolts {
        per_bank: 8.0,
        thread_mm: None,
        each_n: 75_000.0 / (0.2 * 11.0),
        scatter: 0.25,
        gas_mpa: None,
    });
    job.limits.set("sleeve_wall", limit(2.5, None));
    job.limits.set("hoop_ratio", limit(0.8, Some(0.1)));
    planned(job)
}

fn page_of(planning: &Planning) -> String {
    check_page(planning, &Terminal::new(planning.job.sheet_units, 80, false), "JOB")
}

#[test]
fn no_line_is_wider_than_the_terminal() {
    let mut some =
        vec![planned(petrel()), limited(), testing::bittern(), testing::stopped(), testing::hostile()];
    let long = &mut some[0];
    long.plan.sleeves[0].sleeve = "a sleeve with a name that goes on and on".repeat(4);
    long.plan.sleeves[0].largest_pocket = 399.999;
    for planning in &some {
        for (units, columns) in testing::terminals() {
            let page = check_page(planning, &Terminal::new(units, columns, true), "JOB");
            for line in page.lines() {
                assert!(line.chars().count() <= columns, "{columns}: {line}");
            }
        }
    }
}

#[test]
fn what_is_not_go_stands_right_below_the_head_the_worst_first() {
    let page = page_of(&limited());
    let body: Vec<&str> = page.lines().skip_while(|l| !l.is_empty()).skip(1).collect();
    assert_eq!(body[0], "not go");
    assert!(
        body[1].starts_with("STOP sleeve W90: sleeve wall (lower register) is 1.973 mm, at least 2.500 mm"),
        "{page}"
    );
    let hold = body.iter().position(|l| l.starts_with("HOLD sleeve W90: hoop ratio"));
    let bores = body.iter().position(|l| l.trim_start().starts_with("cyl  bank"));
    assert!(hold.is_some() && hold < bores, "{page}");
    // Where all is at go nothing comes between the head and the bores.
    let page = page_of(&planned(petrel()));
    assert!(!page.contains("not go") && !page.contains("HOLD") && page.contains("\n\n cyl  bank"), "{page}");
}

#[test]
fn a_bores_reason_is_said_once_where_it_is_not_go() {
    let mut planning = planned(petrel());
    let cylinder = &mut planning.plan.cylinders[1];
    cylinder.verdict = Verdict::Hold;
    cylinder.why = Why::from("0.020 mm off true");
    cylinder.why.add(Of::Limit, "wall is met with nothing to spare".into());
    let own = cylinder.why.own();
    cylinder.why.add(Of::Doubt, "a slip of the pen".into());
    let text = own.to_string();
    let subject = Subject::cylinder(cylinder.cylinder);
    planning.plan.findings.push(borewright_planner::plan::Finding {
        code: "not_proven",
        verdict: Verdict::Hold,
        subject,
        text: own,
    });
    let page = page_of(&planning);
    assert_eq!(page.matches(text.as_str()).count(), 1, "{page}");
    assert!(page.contains("   3: as said above; in doubt: a slip of the pen"), "{page}");
}

/// The planner words a bore's reasons from its findings: worded apart, they would stand twice.
#[test]
fn a_planned_bores_reason_is_said_once_too() {
    let mut job = petrel();
    job.limits.set("parent_wall", Some(Limit { least_mm: 4.5, prefer_mm: None }));
    let planning = planned(job);
    let page = page_of(&planning);
    assert!(page.contains(": as said above"), "{page}");
    let flat = page.split_whitespace().collect::<Vec<_>>().join(" ");
    for finding in planning.plan.findings.iter().filter(|f| f.verdict != Verdict::Go) {
        let said = finding.text.to_string();
        assert_eq!(flat.matches(said.as_str()).count(), 1, "{said} in {page}");
    }
}

#[test]
fn candidates_stand_side_by_side_with_why_the_chosen_one_won() {
    let page = page_of(&planned(petrel()));
    let from = page.find("\nsleeve ").unwrap();
    let to = page.find("\n  - ").unwrap();
    insta::assert_snapshot!(&page[from..to], @r"
    sleeve          cut a     worst  tightest      at  seat/
            pocket   side  margin    fit cold    work  yield
      D86   86.460   2.22  -0.030**    +0.030  -0.038      -  STOP
    > W90   89.780   3.88   0.100      +0.020  -0.050      -  go
      D86: ends at stop: cylinder 5, clean up (body), margin -0.030 mm
    > W90: the smallest pocket that ends at go; least margin: flange gap, cylinder 1
      fit: interference on diameter at the loosest of its tolerances; minus is a gap
    ");
}

#[test]
fn the_limits_of_a_sleeve_stand_with_what_there_is() {
    let page = page_of(&limited());
    let from = page.find("limits of a sleeve").unwrap();
    let to = page.find("\n  - ").unwrap();
    insta::assert_snapshot!(&page[from..to], @r"
    limits of a sleeve                   value    limit  prefer
      D86
    - sleeve wall (body)                 2.248    2.500       -  STOP
    - hoop ratio (body)                  0.147    0.800   0.100  HOLD
    - seat yield (ledge at work, MPa)  200.120  140.000       -  HOLD
    > W90
    - sleeve wall (lower register)       1.973    2.500       -  STOP
    - hoop ratio (upper register)        0.114    0.800   0.100  HOLD
    - hoop ratio (lower register)        0.142    0.800   0.100  HOLD
    - seat yield (ledge at work, MPa)  200.829  140.000       -  HOLD
    ");
}
