//! Bores that were read only after the block was loosened, in a set-up whose journal axis was read before.

use crate::survey::suspect::Code;
use std::collections::BTreeSet;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::ReadingFrame;
use crate::job::rounds::Handled;
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::count;

/// Asks about each round of a machine set-up that was clamped or indexed anew and shares no bore with the set-up's first round:
/// the machine's scales say nothing of where the axis went.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let of_round = |round: usize| -> BTreeSet<u32> {
        asked.circles.iter().filter(|c| c.round == round).map(|c| c.cylinder).collect()
    };
    let mut found = Vec::new();
    for (index, round) in asked.rounds.iter().enumerate() {
        let set_up = &asked.job.set_ups[round.set_up];
        let moved = matches!(
            round.set.as_deref().and_then(Handled::of_set),
            Some(Handled::Clamped | Handled::Indexed)
        );
        if !moved || !matches!(set_up.frame, ReadingFrame::Machine(_)) {
            continue;
        }
        let still = |before: usize| {
            let one = &asked.rounds[before];
            let stood = one.set.as_deref().and_then(Handled::of_set).is_none();
            stood && one.set_up == round.set_up
        };
        let before: BTreeSet<u32> =
            (0..asked.rounds.len()).filter(|at| still(*at)).flat_map(of_round).collect();
        let own: Vec<u32> = of_round(index).into_iter().filter(|n| !before.contains(n)).collect();
        // A bore read both before and after ties the round; how far they differ is asked elsewhere.
        if own.is_empty() || of_round(index).iter().any(|n| before.contains(n)) {
            continue;
        }
        found.push(Suspicion {
            code: Code::SetsDisagree,
            verdict: Verdict::Hold,
            subject: Subject::Cylinders(own.clone()),
            found: say!(
                "read in set `{}` of set-up {} only, before which the block was loosened, and the journal axis was not read after it",
                plain(round.set.as_deref().unwrap_or_default(), 30),
                plain(&set_up.name, 40)
            ),
            likely: "the axis moved with the block: where these bores stand from it nobody knows".into(),
            ask: say!(
                "read the journal axis and the deck again with {}, as a set-up of its own",
                cylinder_words(&own)
            ),
            evidence: figures([("bores", count(own.len()))]),
            cylinders: own.into(),
        });
    }
    found
}
