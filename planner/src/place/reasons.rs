//! Reasons for each bore's planned place, in words.

use borewright_geometry::clock::distance_mm;
use borewright_geometry::{ON_LIMIT_MM, normal_below};

use super::relief::{self, Relief};
use super::seated::{Positions, Seated};
use crate::job::limits::{FITTED_WALL_MM, PARENT_WALL, PARENT_WALL_THRUST};
use crate::job::words;
use crate::job::{Aim, Job};
use crate::limits::{self, Judges};
use crate::plan::judge::FACTOR;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::why::{Kept, Named, Of, Stands};
use crate::plan::{LimitResult, Verdict, Why};
use crate::read::fault::plain;
use crate::say;

/// A clause with less than this beyond what its level asks counts as binding the position, mm.
const BINDS_MM: f64 = 5.0 * ON_LIMIT_MM;

/// In a stop, limits within this of the worst shortfall are those that cannot be kept together, mm.
const IN_THE_FIGHT_MM: f64 = 1e-4;

/// "true to the crank axis" or how far off, and what holds it there.
fn stands(job: &Job, bore: &Seated, kept: Option<Kept>) -> Stands {
    let off_mm = distance_mm(bore.planned_mm, bore.target_mm);
    let (goal, from) = match job.aim {
        Aim::Journal => ("true to the journal axis", "off true"),
        Aim::Parent => ("on the bore that is there", "off the bore that is there"),
    };
    if off_mm < ON_LIMIT_MM {
        return Stands { off: goal.into(), way: None, kept };
    }
    let off = [0, 1].map(|k| bore.planned_mm[k] - bore.target_mm[k]);
    let way = Some(words::offset(job, bore.bank, off));
    Stands { off: say!("{} {}", mm(off_mm, 3), from), way, kept }
}

fn named(result: &LimitResult) -> Named {
    let mut at = Sentence::from(plain(&result.feature, 60));
    if let Some(depth) = result.depth {
        at.push(say!(", {} deep", mm(depth, 1)));
    }
    if let Some(clock) = result.clock {
        at.push(say!(", clock {:.0}", clock));
    }
    Named { limit: words::limit(result.limit).into(), at }
}

/// The limit on metal with the least room beyond what go asks.
fn closest(bore: &Seated) -> Option<&LimitResult> {
    let metal = bore.limits.iter().filter(|l| limits::stated(l.limit).is_some_and(|s| s.of_metal));
    metal.min_by(|a, b| (a.margin - FACTOR * a.u).total_cmp(&(b.margin - FACTOR * b.u)))
}

/// Why a bore is at go: what it is limited by, or the metal that is closest.
pub(super) fn go(job: &Job, bore: &Seated) -> Why {
    let limits: Vec<Named> =
        bore.limits.iter().filter(|l| (l.margin - FACTOR * l.u).abs() < BINDS_MM).map(named).collect();
    let moved = bore.planned_mm != bore.target_mm;
    let kept = match (moved, limits.is_empty()) {
        (true, false) => Kept { how: "limited by ".into(), limits, ..Kept::default() },
        // A neighbour solved together with this bore can be what keeps it from its target.
        (true, true) => "limited by its neighbours".into(),
        (false, _) => closest(bore).map_or_else(
            || "no limit on metal is set".into(),
            |l| Kept {
                how: "closest metal: ".into(),
                limits: vec![named(l)],
                leaves: say!(", margin {}", mm(l.margin, 3)),
            },
        ),
    };
    Why { stands: stands(job, bore, Some(kept)), because: Vec::new() }
}

/// Why a bore is at hold, in words: each limit that is not proven, with what would prove it; else that a neighbour
/// solved with it is.
pub(super) fn hold(job: &Job, bore: &Seated) -> Why {
    let unproven = bore.limits.iter().filter(|l| l.verdict != Verdict::Go && !l.told_only).map(|l| {
        let preferred = l.prefer.filter(|_| l.margin >= FACTOR * l.u - ON_LIMIT_MM);
        match preferred {
            Some(prefer) => {
                say!(
                    "{} keeps its limit but not the preferred {}, margin {}",
                    named(l).whole(),
                    mm(prefer, 3),
                    mm(l.margin, 3)
                )
            }
            None if l.margin.abs() < BINDS_MM => {
                say!(
                    "{} is met with nothing to spare: its u of {} proves nothing",
                    named(l).whole(),
                    mm(l.u, 3)
                )
            }
            // A place off to either side may cross: the one-sided guard is not enough.
            None if l.margin >= FACTOR * l.u - ON_LIMIT_MM => say!(
                "{} has a margin of {} (u {}), by which it is kept with a probability of {:.2}: {:.2} is asked",
                named(l).whole(),
                mm(l.margin, 3),
                mm(l.u, 3),
                (l.p * 100.0).floor() / 100.0,
                normal_below(FACTOR)
            ),
            None if l.margin > 0.0 => say!(
                "{} has a margin of {} where {} proves it (u {}; proven if measured to u {})",
                named(l).whole(),
                mm(l.margin, 3),
                mm(FACTOR * l.u, 3),
                mm(l.u, 3),
                mm(l.margin / FACTOR, 3)
            ),
            None => say!("{} is short by {} (u {})", named(l).whole(), mm(-l.margin, 3), mm(l.u, 3)),
        }
    });
    let mut why = Why { stands: stands(job, bore, None), because: Vec::new() };
    unproven.for_each(|text| why.add(Of::Limit, text));
    if why.because.is_empty() {
        why.add(Of::Limit, "a neighbour solved with it is at hold".into());
    }
    why
}

/// Of a bore that stands nowhere, only what is in its way.
pub(super) fn nowhere(text: Sentence) -> Why {
    let mut why = Why::default();
    why.add(Of::Limit, text);
    why
}

/// Which limits cannot both be kept, by how much, and what would free the bore.
pub(super) fn stop(job: &Job, positions: &Positions, index: usize) -> Sentence {
    let bore = &positions.bores[index];
    if let Some(standing) = bore.standing.iter().find(|s| s.margin_mm < -ON_LIMIT_MM) {
        return say!(
            "{} ({}) is short by {} (u {}) wherever the bore stands: correct the set-up and read it again",
            words::limit(standing.limit),
            plain(&standing.feature, 60),
            mm(-standing.margin_mm, 3),
            mm(standing.u_mm, 3)
        );
    }
    let group = positions.group(index);
    let worst = group
        .iter()
        .flat_map(|&i| &positions.bores[i].limits)
        .map(|l| l.margin)
        .fold(f64::INFINITY, f64::min);
    let mut fighting = in_the_fight(bore, worst);
    let mut others = Sentence::new();
    if fighting.is_empty() {
        // The limits that conflict are those of a neighbour that this bore was solved with.
        for &i in &group {
            if fighting.is_empty() {
                fighting = in_the_fight(&positions.bores[i], worst);
                others =
                    say!(" at cylinder {}, solved together with this one", positions.bores[i].site.cylinder);
            }
        }
    }
    let names: Vec<Sentence> = fighting.iter().map(|l| named(l).whole()).collect();
    let fight = match names.as_slice() {
        [] => "no place meets all limits".into(),
        [only] => say!("{} cannot be met anywhere", only),
        [one, other, ..] => say!("{} and {} cannot both be kept", one, other),
    };
    let kinds: Vec<&'static str> = fighting.iter().map(|l| l.limit).fold(Vec::new(), |mut kinds, l| {
        if !kinds.contains(&l) {
            kinds.push(l);
        }
        kinds
    });
    let freed = freed(job, positions, &relief::relief(positions, index, &kinds));
    say!("{}{}: short by {} at the best place; {}", fight, others, mm(-worst, 3), freed)
}

/// Limits of this bore that are short by the worst shortfall `worst`, mm, the two that push in opposite directions
/// first.
fn in_the_fight(bore: &Seated, worst: f64) -> Vec<LimitResult> {
    let mut clauses: Vec<(LimitResult, [f64; 2])> = Vec::new();
    for clause in bore.clauses.iter().filter(|c| c.binding) {
        let found = clause.constraint.judged(bore.planned_mm);
        let m = found.margin;
        if m.value_mm < worst + IN_THE_FIGHT_MM {
            let result = LimitResult {
                limit: clause.limit,
                feature: clause.feature.clone(),
                depth: clause.depth_mm,
                clock: clause.clock_deg,
                margin: m.value_mm,
                u: found.u_mm,
                p: found.probability,
                verdict: Verdict::Stop,
                least: clause.least_mm,
                prefer: clause.prefer_mm,
                told_only: false,
            };
            clauses.push((result, m.gradient));
        }
    }
    let pairs = bore
        .limits
        .iter()
        .filter(|l| limits::stated(l.limit).is_some_and(|s| matches!(s.judges, Judges::Neighbours(_))));
    let pairs = pairs.filter(|l| l.margin < worst + IN_THE_FIGHT_MM);
    // A limit between two bores has no single direction, so it conflicts with whatever else is short.
    clauses.extend(pairs.map(|l| (l.clone(), [0.0, 0.0])));
    let opposed = |i: usize, j: usize| clauses[i].1[0] * clauses[j].1[0] + clauses[i].1[1] * clauses[j].1[1];
    let pairs = (0..clauses.len()).flat_map(|i| (i + 1..clauses.len()).map(move |j| (i, j)));
    let most = pairs.min_by(|a, b| opposed(a.0, a.1).total_cmp(&opposed(b.0, b.1)));
    if let Some((i, j)) = most {
        // i < j, so the first swap cannot disturb the second.
        clauses.swap(0, i);
        clauses.swap(1, j);
    }
    clauses.into_iter().map(|(result, _)| result).collect()
}

/// The figure that would have to be asked of a limit in place of its own, mm, and the two in words; `None` where the house, or what
/// sleeves are fitted in, asks for more: the program itself would refuse it.
fn asked_instead(job: &Job, limit: &str, by_mm: f64) -> Option<Sentence> {
    let own = job.limits.get(limit)?.least_mm;
    let smaller = limits::stated(limit).is_some_and(|s| s.better == limits::Better::Smaller);
    // Told no finer than a wall is, and rounded to the side that frees.
    let decimals = if own >= 1.0 { 2 } else { 3 };
    let scale = if own >= 1.0 { 100.0 } else { 1000.0 };
    let asked = if smaller {
        ((own + by_mm) * scale - ON_LIMIT_MM).ceil() / scale
    } else {
        ((own - by_mm) * scale + ON_LIMIT_MM).floor() / scale
    };
    let wall = [PARENT_WALL, PARENT_WALL_THRUST].contains(&limit).then_some(FITTED_WALL_MM);
    let bound = job.shop_limits.get(limit).map(|l| l.least_mm).or(wall);
    let kept = match bound {
        Some(bound) if smaller => asked <= bound + ON_LIMIT_MM,
        Some(bound) => asked >= bound - ON_LIMIT_MM,
        None => asked >= 0.0,
    };
    // A release lets no stop through: the figure that is asked is the job's.
    kept.then(|| {
        say!(
            "needs {} {} instead of {} asked in the job, and planned again",
            words::limit(limit),
            before_mm(asked, decimals),
            mm(own, decimals)
        )
    })
}

/// What would free a bore that is at stop, in words, each way alone: a smaller or larger sleeve, which takes nothing from the block,
/// or a limit relaxed.
fn freed(job: &Job, positions: &Positions, relief: &Relief) -> Sentence {
    let mut ways: Vec<Sentence> = Vec::new();
    let sleeve = &job.sleeves[positions.sleeve];
    let outside = sleeve.body.iter().map(|s| s.diameter_mm).fold(0.0, f64::max);
    if let Some(by) = relief.smaller_mm {
        ways.push(say!(
            "needs a sleeve of at most {} outside (now {})",
            mm(((outside - by) * 100.0).floor() / 100.0, 2),
            mm(outside, 2)
        ));
    }
    if let Some(by) = relief.larger_mm {
        ways.push(say!(
            "needs a sleeve of at least {} outside (now {})",
            mm(((outside + by) * 100.0).ceil() / 100.0, 2),
            mm(outside, 2)
        ));
    }
    ways.extend(relief.limits.iter().filter_map(|(limit, by)| asked_instead(job, limit, *by)));
    match (ways.is_empty(), relief.limits.is_empty()) {
        (true, true) => "no single limit and no other outside diameter frees it".into(),
        (true, false) => "no limit that the house allows and no other outside diameter frees it".into(),
        (false, _) => Sentence::join(ways, ", or "),
    }
}
