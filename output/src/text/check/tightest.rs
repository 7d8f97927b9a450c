//! The two lines behind a verdict: the limit with the least room, and what to do next.

use borewright_planner::job::words;
use borewright_planner::plan::{Plan, Verdict};

use crate::said::tightest;
use crate::said::units::Digits;
use crate::text::Terminal;

/// The limit that stands worst.
pub(in crate::text) fn tightest(plan: &Plan, t: &Terminal) -> String {
    let Some((cylinder, limit)) = tightest::tightest(plan) else {
        return t.wrapped("tightest:", "no limit is set", 2);
    };
    let text = format!(
        "{} of cylinder {}, margin {}, u {}",
        words::limit(limit.limit),
        cylinder.cylinder,
        t.spoken(limit.margin, Digits::Fine),
        t.spoken(limit.u, Digits::Fine)
    );
    t.wrapped("tightest:", &text, 2)
}

/// What to do with such a verdict; `place` is the job as the command was given it.
pub(in crate::text) fn next(plan: &Plan, t: &Terminal, place: &str) -> String {
    let text = match plan.verdict {
        Verdict::Go => format!("borewright plan {place}"),
        Verdict::Hold if plan.release.is_some() => "released by name: see below who and why".to_owned(),
        Verdict::Hold => "answer what holds, or a lead releases it by name (plan --release)".to_owned(),
        Verdict::Stop => {
            "mend what stops, or change in the job what it asks, and plan again; no release lets it through"
                .to_owned()
        }
    };
    t.wrapped("next:", &text, 2)
}

/// What to do with a plan that is written to `place`.
pub(in crate::text) fn after_plan(plan: &Plan, t: &Terminal, place: &str) -> String {
    if plan.verdict == Verdict::Go {
        return t.wrapped("next:", &format!("print {place}/sheets/cards.pdf, sign card 1, work from it"), 2);
    }
    next(plan, t, place)
}
