//! Why each bore stands where it is planned, in words; and findings for what is not at go.

use borewright_geometry::ON_LIMIT_MM;

use super::positions::{Positions, Seated};
use super::relief::{self, Relief};
use crate::job::words;
use crate::job::{Aim, Job};
use crate::limits::{self, Judges};
use crate::plan::judge::FACTOR;
use crate::plan::{Finding, LimitResult, Verdict};
use crate::read::fault::plain;

/// A clause within this of what its level asks binds the position, mm.
const BINDS_MM: f64 = 5.0 * ON_LIMIT_MM;

/// In a stop, limits within this of the worst shortfall are in the fight, mm.
const IN_THE_FIGHT_MM: f64 = 1e-4;

/// Fills in every bore's `why`, and says what is not at go.
pub(crate) fn explain(job: &Job, positions: &mut Positions) -> Vec<Finding> {
    let mut findings = Vec::new();
    for i in 0..positions.bores.len() {
        let bore = &positions.bores[i];
        let subject = format!("cylinder {}", bore.site.cylinder);
        let (why, code) = match (bore.level, bore.verdict) {
            (Verdict::Stop, _) => (stop(job, positions, i), "nothing_fits"),
            (Verdict::Go, Verdict::Hold) if bore.limits.iter().all(|l| l.verdict == Verdict::Go) => {
                (go(job, bore), "planned")
            }
            (_, Verdict::Hold) => (hold(job, bore), "not_proven"),
            (_, Verdict::Stop) => (hold(job, bore), "outside_limit"),
            (_, Verdict::Go) => (go(job, bore), "planned"),
        };
        let judged = bore.limits.iter().any(|l| l.verdict != Verdict::Go) || bore.level != Verdict::Go;
        if bore.verdict != Verdict::Go && judged {
            findings.push(Finding {
                code,
                verdict: bore.verdict,
                subject: subject.clone(),
                text: why.clone(),
            });
        }
        let mut why = why;
        for unread in &bore.unread {
            why.push_str(&format!("; {}", unread.text));
            // What lacks of the block's description lacks of every bore: it is told once.
            if let Some(told) = findings.iter_mut().find(|f: &&mut Finding| f.text == unread.text) {
                told.subject = "block".into();
                continue;
            }
            findings.push(Finding {
                code: unread.code,
                verdict: Verdict::Hold,
                subject: subject.clone(),
                text: unread.text.clone(),
            });
        }
        positions.bores[i].why = why;
    }
    findings
}

/// "true to the crank axis" or how far off, and what holds it there.
fn stands(job: &Job, bore: &Seated) -> String {
    let off = [0, 1].map(|k| bore.planned_mm[k] - bore.target_mm[k]);
    let goal = match job.aim {
        Aim::Journal => "true to the journal axis",
        Aim::Parent => "on the bore that is there",
    };
    if off[0].hypot(off[1]) < ON_LIMIT_MM {
        goal.into()
    } else {
        let from = match job.aim {
            Aim::Journal => "off true",
            Aim::Parent => "off the bore that is there",
        };
        format!("{:.3} mm {from}{}", off[0].hypot(off[1]), which_way(job, bore))
    }
}

/// Which way a bore stands off its target, in parentheses.
fn which_way(job: &Job, bore: &Seated) -> String {
    let off = [0, 1].map(|k| bore.planned_mm[k] - bore.target_mm[k]);
    format!(" ({})", words::offset(job, bore.bank, off))
}

/// The same words without the place: how far off a bore would stand, not which way.
pub(crate) fn without_place(job: &Job, bore: &Seated, words: &str) -> String {
    words.replace(&which_way(job, bore), "")
}

fn named(result: &LimitResult) -> String {
    let mut name = format!("{} ({}", words::limit(result.limit), plain(&result.feature, 60));
    if let Some(depth) = result.depth {
        name.push_str(&format!(", depth {depth:.1}"));
    }
    if let Some(clock) = result.clock {
        name.push_str(&format!(", clock {clock:.0}"));
    }
    name.push(')');
    name
}

/// The limit on metal with the least room beyond what go asks.
fn closest(bore: &Seated) -> Option<&LimitResult> {
    let metal = bore.limits.iter().filter(|l| limits::stated(l.limit).is_some_and(|s| s.of_metal));
    metal.min_by(|a, b| (a.margin - FACTOR * a.u).total_cmp(&(b.margin - FACTOR * b.u)))
}

fn go(job: &Job, bore: &Seated) -> String {
    let holds: Vec<String> =
        bore.limits.iter().filter(|l| (l.margin - FACTOR * l.u).abs() < BINDS_MM).map(named).collect();
    let moved = bore.planned_mm != bore.target_mm;
    match (moved, holds.is_empty()) {
        (true, false) => format!("{}; held by {}", stands(job, bore), holds.join(" and ")),
        // A neighbour's place can hold this one through the group.
        (true, true) => format!("{}; held by its neighbours", stands(job, bore)),
        (false, _) => match closest(bore) {
            Some(l) => {
                format!("{}; closest metal: {}, margin {:.3} mm", stands(job, bore), named(l), l.margin)
            }
            None => format!("{}; no limit on metal is set", stands(job, bore)),
        },
    }
}

fn hold(job: &Job, bore: &Seated) -> String {
    let unproven = bore.limits.iter().filter(|l| l.verdict != Verdict::Go).map(|l| {
        let preferred = l.prefer.filter(|_| l.margin >= FACTOR * l.u - ON_LIMIT_MM);
        match preferred {
            Some(prefer) => {
                format!("{} keeps its limit but not the preferred {prefer:.3} mm, margin {:.3} mm", named(l), l.margin)
            }
            None if l.margin.abs() < BINDS_MM => {
                format!("{} is met with nothing to spare: its u of {:.3} mm proves nothing", named(l), l.u)
            }
            None if l.margin > 0.0 => format!(
                "{} has a margin of {:.3} mm where {:.3} mm proves it (u {:.3} mm; proven if measured to u {:.3} mm)",
                named(l),
                l.margin,
                FACTOR * l.u,
                l.u,
                l.margin / FACTOR
            ),
            None => format!("{} is short by {:.3} mm (u {:.3} mm)", named(l), -l.margin, l.u),
        }
    });
    let unproven: Vec<String> = unproven.collect();
    if unproven.is_empty() {
        return format!("{}; a neighbour solved with it is at hold", stands(job, bore));
    }
    format!("{}; {}", stands(job, bore), unproven.join("; "))
}

/// Which limits fight, by how much, and what would free the bore.
fn stop(job: &Job, positions: &Positions, index: usize) -> String {
    let bore = &positions.bores[index];
    if let Some(standing) = bore.standing.iter().find(|s| s.margin_mm < -ON_LIMIT_MM) {
        return format!(
            "{} ({}) is short by {:.3} mm (u {:.3} mm) wherever the bore stands: correct the set-up and read it again",
            words::limit(standing.limit),
            plain(&standing.feature, 60),
            -standing.margin_mm,
            standing.u_mm
        );
    }
    let group = positions.group(index);
    let worst = group
        .iter()
        .flat_map(|&i| &positions.bores[i].limits)
        .map(|l| l.margin)
        .fold(f64::INFINITY, f64::min);
    let mut fighting = in_the_fight(bore, worst);
    let mut others = String::new();
    if fighting.is_empty() {
        // The fight is at a neighbour that this bore was solved with.
        for &i in &group {
            if fighting.is_empty() {
                fighting = in_the_fight(&positions.bores[i], worst);
                others = format!(
                    " at cylinder {}, solved together with this one",
                    positions.bores[i].site.cylinder
                );
            }
        }
    }
    let names: Vec<String> = fighting.iter().map(named).collect();
    let fight = match names.as_slice() {
        [] => "no place meets all limits".to_owned(),
        [only] => format!("{only} cannot be met anywhere"),
        [one, other, ..] => format!("{one} fights {other}"),
    };
    let kinds: Vec<&'static str> = fighting.iter().map(|l| l.limit).fold(Vec::new(), |mut kinds, l| {
        if !kinds.contains(&l) {
            kinds.push(l);
        }
        kinds
    });
    let freed = freed(job, positions, &relief::relief(positions, index, &kinds));
    format!("{fight}{others}: short by {:.3} mm at the best place; {freed}", -worst)
}

/// Limits of this bore at the worst shortfall; the two that push apart first.
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
            };
            clauses.push((result, m.gradient));
        }
    }
    let pairs = bore
        .limits
        .iter()
        .filter(|l| limits::stated(l.limit).is_some_and(|s| matches!(s.judges, Judges::Neighbours(_))));
    let pairs = pairs.filter(|l| l.margin < worst + IN_THE_FIGHT_MM);
    // A pair has no one direction here; it fights whatever else is short.
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

fn freed(job: &Job, positions: &Positions, relief: &Relief) -> String {
    let mut ways: Vec<String> = relief
        .limits
        .iter()
        .map(|(limit, by)| format!("{} relaxed by {by:.3} mm", words::limit(limit)))
        .collect();
    let sleeve = &job.sleeves[positions.sleeve];
    let outside = sleeve.body.iter().map(|s| s.diameter_mm).fold(0.0, f64::max);
    if let Some(by) = relief.smaller_mm {
        ways.push(format!(
            "a sleeve of at most {:.2} mm outside (now {outside:.2})",
            ((outside - by) * 100.0).floor() / 100.0
        ));
    }
    if let Some(by) = relief.larger_mm {
        ways.push(format!(
            "a sleeve of at least {:.2} mm outside (now {outside:.2})",
            ((outside + by) * 100.0).ceil() / 100.0
        ));
    }
    if ways.is_empty() {
        "no single limit and no other outside diameter frees it".into()
    } else {
        format!("freed by {}", ways.join(", or "))
    }
}
