//! Limits as judged at the planned places.

use std::collections::BTreeMap;

use borewright_geometry::{ON_LIMIT_MM, one_sided};

use super::seated::{Positions, Seated};
use crate::job::words;
use crate::limits::{Clause, Lack, clean_up, judge_bound};
use crate::plan::judge::{FACTOR, judge_margin};
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{LimitResult, Verdict};
use crate::read::fault::plain;
use crate::say;

/// Where a limit is kept less surely at another place than that of its least margin, that place is told too if the
/// probabilities differ by more than this.
const WORTH_TELLING: f64 = 1e-3;

/// A clause at the planned place.
pub(super) struct Judged {
    result: LimitResult,
    binding: bool,
    /// Margin beyond what go asks, mm.
    spare_mm: f64,
}

pub(super) fn verdict_of(margin: f64, u: f64, prefer_margin: Option<f64>) -> Verdict {
    judge_margin(margin, u).max(preferred(margin, prefer_margin))
}

/// Go where a margin meets the preferred figure, else hold.
pub(super) fn preferred(margin: f64, prefer_margin: Option<f64>) -> Verdict {
    let short = prefer_margin.is_some_and(|p| margin < p - ON_LIMIT_MM);
    if short { Verdict::Hold } else { Verdict::Go }
}

/// Fills in the limits and verdict of every bore.
pub(super) fn judge(positions: &mut Positions) {
    let mut judged: Vec<Vec<Judged>> = positions.bores.iter().map(judge_bore).collect();
    for &(a, b) in &positions.pairs {
        for c in &positions.pair_clauses {
            let (margin, u) = positions.pair_mm(a, b, c);
            for (own, other) in [(a, b), (b, a)] {
                let neighbour = positions.bores[other].site.cylinder;
                judged[own].push(Judged {
                    result: LimitResult {
                        limit: c.limit,
                        feature: format!("{} to cylinder {neighbour}", c.feature),
                        depth: c.depth_mm,
                        clock: None,
                        margin,
                        u,
                        p: one_sided(margin, u),
                        verdict: verdict_of(margin, u, c.prefer_margin_mm),
                        least: c.least_mm,
                        prefer: c.prefer_mm,
                        told_only: false,
                    },
                    binding: true,
                    spare_mm: margin - FACTOR * u,
                });
            }
        }
    }
    let mut unasked: Vec<Vec<Lack>> = positions.bores.iter().map(nothing_left).collect();
    for &(a, b) in &positions.pairs {
        for c in &positions.pair_unasked {
            let (margin, u) = positions.pair_mm(a, b, c);
            if judge_margin(margin, u) != Verdict::Go {
                for (own, other) in [(a, b), (b, a)] {
                    let feature =
                        format!("{} to cylinder {}", c.feature, positions.bores[other].site.cylinder);
                    unasked[own].push(lack(c.limit, &feature, c.depth_mm, [margin, u]));
                }
            }
        }
    }
    for ((bore, judged), unasked) in positions.bores.iter_mut().zip(judged).zip(unasked) {
        bore.unread.extend(unasked);
        let worst = judged.iter().filter(|j| j.binding).map(|j| j.result.verdict).max();
        let unread = if bore.unread.is_empty() { Verdict::Go } else { Verdict::Hold };
        bore.verdict = worst.unwrap_or(Verdict::Go).max(bore.level).max(unread);
        bore.limits = worst_of_each(judged);
    }
}

/// Metal that is not sure to be reached or left, where no limit asks for it: the worst place of each kind.
fn nothing_left(bore: &Seated) -> Vec<Lack> {
    let mut worst: BTreeMap<&str, (&Clause, [f64; 2])> = BTreeMap::new();
    for clause in &bore.unasked {
        let found = clause.constraint.judged(bore.planned_mm);
        if judge_bound(&clause.constraint, &found) == Verdict::Go {
            continue;
        }
        let told = [found.margin.value_mm, found.u_mm];
        let least = worst.entry(clause.limit).or_insert((clause, told));
        if told[0] < least.1[0] {
            *least = (clause, told);
        }
    }
    worst.into_values().map(|(c, told)| lack(c.limit, &c.feature, c.depth_mm, told)).collect()
}

fn lack(limit: &'static str, feature: &str, depth_mm: Option<f64>, [margin, u]: [f64; 2]) -> Lack {
    let feature = plain(feature, 60);
    let (left, u) = (mm(margin, 3), mm(u, 3));
    let at = depth_mm.map_or_else(Sentence::new, |depth| say!(" at {}", mm(depth, 1)));
    if limit == clean_up::LIMIT.name {
        let text = say!(
            "no clean up is asked for, and {} is not sure to reach metal all round{}: {} at the least (u {})",
            feature,
            at,
            left,
            u
        );
        return Lack { code: "does_not_clean_up", short: "it is not sure to clean up", text };
    }
    let name = words::limit(limit);
    let text = say!(
        "no limit on {} is asked for, and {}{} is not sure to leave any: {} at the least (u {})",
        name,
        feature,
        at,
        left,
        u
    );
    Lack { code: "no_metal_left", short: "it is not sure to leave metal", text }
}

/// Every limit of a bore judged at its planned centre, first those that its place decides, then those that no place
/// changes.
pub(super) fn judge_bore(bore: &Seated) -> Vec<Judged> {
    let clauses = bore.clauses.iter().map(|c| {
        let found = c.constraint.judged(bore.planned_mm);
        let margin = found.margin.value_mm;
        Judged {
            result: LimitResult {
                limit: c.limit,
                feature: c.feature.clone(),
                depth: c.depth_mm,
                clock: c.clock_deg,
                margin,
                u: found.u_mm,
                p: found.probability,
                verdict: judge_bound(&c.constraint, &found).max(preferred(margin, c.prefer_margin_mm)),
                least: c.least_mm,
                prefer: c.prefer_mm,
                told_only: !c.binding,
            },
            binding: c.binding,
            spare_mm: margin - c.constraint.reserve_mm(found.margin.line_mm),
        }
    });
    let standing = bore.standing.iter().map(|s| Judged {
        result: LimitResult {
            limit: s.limit,
            feature: s.feature.clone(),
            depth: None,
            clock: None,
            margin: s.margin_mm,
            u: s.u_mm,
            p: one_sided(s.margin_mm, s.u_mm),
            verdict: verdict_of(s.margin_mm, s.u_mm, s.prefer_margin_mm),
            least: s.least_mm,
            prefer: s.prefer_mm,
            told_only: false,
        },
        binding: true,
        spare_mm: s.margin_mm - FACTOR * s.u_mm,
    });
    clauses.chain(standing).collect()
}

/// The least margin of each limit, and beside it the worst verdict where that is another place's.
pub(super) fn worst_of_each(judged: Vec<Judged>) -> Vec<LimitResult> {
    let mut order: Vec<&'static str> = Vec::new();
    let mut by_limit: BTreeMap<&'static str, Vec<Judged>> = BTreeMap::new();
    for j in judged {
        if !order.contains(&j.result.limit) {
            order.push(j.result.limit);
        }
        by_limit.entry(j.result.limit).or_default().push(j);
    }
    let mut results = Vec::new();
    for limit in order {
        let Some(of_limit) = by_limit.get(limit) else { continue };
        let least = of_limit.iter().min_by(|a, b| a.result.margin.total_cmp(&b.result.margin));
        let worst = of_limit
            .iter()
            .max_by(|a, b| a.result.verdict.cmp(&b.result.verdict).then(b.spare_mm.total_cmp(&a.spare_mm)));
        results.extend(least.map(|j| j.result.clone()));
        let Some(least) = least else { continue };
        if let Some(worst) = worst.filter(|w| w.result.verdict > least.result.verdict) {
            results.push(worst.result.clone());
        } else if let Some(doubtful) = of_limit.iter().min_by(|a, b| a.result.p.total_cmp(&b.result.p))
            && doubtful.result.p < least.result.p - WORTH_TELLING
        {
            results.push(doubtful.result.clone());
        }
    }
    results
}
