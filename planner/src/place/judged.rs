//! How the planned places stand against every limit.

use std::collections::BTreeMap;

use borewright_geometry::{ON_LIMIT_MM, one_sided};

use super::seated::{Positions, Seated};
use crate::limits::{Lack, judge_bound};
use crate::plan::judge::{FACTOR, judge_margin};
use crate::plan::sentence::mm;
use crate::plan::{LimitResult, Verdict};
use crate::say;

/// A place kept less surely than that of the least margin is told too where the probabilities differ by more.
const WORTH_TELLING: f64 = 1e-3;

/// A clause at the planned place.
pub(super) struct Judged {
    result: LimitResult,
    binding: bool,
    /// Margin in hand beyond what go asks, mm.
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
                    },
                    binding: true,
                    spare_mm: margin - FACTOR * u,
                });
            }
        }
    }
    for (bore, judged) in positions.bores.iter_mut().zip(judged) {
        bore.unread.extend(not_reached(bore));
        let worst = judged.iter().filter(|j| j.binding).map(|j| j.result.verdict).max();
        let unread = if bore.unread.is_empty() { Verdict::Go } else { Verdict::Hold };
        bore.verdict = worst.unwrap_or(Verdict::Go).max(bore.level).max(unread);
        bore.limits = worst_of_each(judged);
    }
}

/// Metal that the cut is not sure to reach all round, where no limit asks for it.
pub(super) fn not_reached(bore: &Seated) -> Option<Lack> {
    let found = bore.unasked.iter().map(|c| (c, c.constraint.judged(bore.planned_mm)));
    let short = found.filter(|(c, found)| judge_bound(&c.constraint, found) != Verdict::Go);
    let (clause, found) = short.min_by(|a, b| a.1.margin.value_mm.total_cmp(&b.1.margin.value_mm))?;
    Some(Lack {
        code: "does_not_clean_up",
        text: say!(
            "no clean up is asked for, and {} is not sure to reach metal all round at {}: {} at the least (u {})",
            crate::read::fault::plain(&clause.feature, 40),
            mm(clause.depth_mm.unwrap_or(0.0), 1),
            mm(found.margin.value_mm, 3),
            mm(found.u_mm, 3)
        ),
    })
}

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
