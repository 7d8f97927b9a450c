//! A list that does not prove is not kept, and the plan says why.

use borewright_planner::Planning;
use borewright_planner::plan::Verdict;
use borewright_planner::plan::moves::{Move, MoveKind};

use crate::sample::sample;

/// The sample, its first list's moves changed.
fn with(change: impl Fn(&mut Vec<Move>)) -> Planning {
    let mut planning = sample().planning.clone();
    change(&mut planning.lists[0].moves);
    planning
}

#[test]
fn a_list_that_was_traced_wrongly_is_left_out_and_the_plan_is_at_stop() {
    let mirrored = with(|moves| {
        for of in moves.iter_mut() {
            of.y_mm = of.y_mm.map(|y| -y);
        }
    });
    let rapid = with(|moves| {
        let deep = moves.iter().rposition(|m| m.kind == MoveKind::Feed).unwrap();
        moves[deep].kind = MoveKind::Rapid;
        moves[deep].feed_mm_per_min = None;
    });
    let lost = with(|moves| {
        let at = moves.iter().rposition(|m| m.kind == MoveKind::SpindleOn).unwrap();
        moves.drain(at - 1..at + 4);
    });
    for (planning, why) in [(mirrored, "expected X46.016 Y0.039"), (rapid, "into metal"), (lost, "never cut")]
    {
        let bundle = borewright_output::bundle(&planning).unwrap();
        assert_eq!(bundle.plan.verdict, Verdict::Stop);
        let finding = bundle.plan.findings.iter().find(|f| f.code == "list_not_proven").unwrap();
        assert_eq!((finding.verdict, finding.subject.to_string().as_str()), (Verdict::Stop, "bank left"));
        assert!(finding.text.contains(why) && finding.text.contains("line "), "{}", finding.text);
        let files: Vec<&str> = bundle.artifacts.iter().map(|a| a.path.as_str()).collect();
        // What comes after it on that bank would meet stock that is still there.
        assert!(!files.iter().any(|f| f.contains("-left.nc")), "{files:?}");
        assert_eq!(bundle.plan.lists.len(), planning.lists.len() - 3);
        // What is left is of the plan that says so.
        assert_ne!(bundle.plan.fingerprint, planning.plan.fingerprint);
        let other = bundle.artifacts.iter().find(|a| a.path == "lists/40-pocket-right.nc").unwrap();
        let text = String::from_utf8(other.bytes.clone()).unwrap();
        assert!(text.contains(&bundle.plan.fingerprint[..4]) && text.contains("(VERDICT stop)"), "{text}");
    }
}

#[test]
fn a_planning_as_it_was_made_keeps_every_list() {
    let bundle = borewright_output::bundle(&sample().planning).unwrap();
    assert_eq!((bundle.plan.verdict, bundle.plan.lists.len()), (Verdict::Go, 6));
    assert_eq!(bundle.plan.fingerprint, sample().planning.plan.fingerprint);
}
