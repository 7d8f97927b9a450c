//! Limits that ask for nothing, and instruments better than there are.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Job;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;

/// Limits on metal that is left.
const WALLS: [&str; 4] = ["parent_wall", "parent_wall_thrust", "stud_wall", "bridge"];
/// They are asked for no less, mm: a shop that means less has typed another unit. Common practice, no source.
const LEAST_MM: f64 = 0.5;
/// Nor is stock all round, mm. Common practice, no source.
const CLEAN_UP_MM: f64 = 0.02;
/// Zones and leans that are allowed are no more, mm. Common practice, no source.
const ZONES: [(&str, f64); 4] =
    [("position", 1.0), ("position.across", 1.0), ("position.along", 1.0), ("squareness", 0.5)];

/// No machine bores, and no datum is read, better than this, mm. Common practice, no
/// source.
const FINEST_MM: f64 = 0.000_2;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let job = asked.job;
    let odd = limit(job).into_iter().chain(ledge(job));
    odd.chain(instrument(job).or_else(|| bettered(job))).collect()
}

/// The first limit that asks for nothing.
fn limit(job: &Job) -> Option<Suspicion> {
    let stated = |name: &str| job.limits.get(name).map(|l| l.least_mm);
    let walls = WALLS.iter().map(|name| (*name, LEAST_MM));
    let small = walls
        .chain([("clean_up", CLEAN_UP_MM)])
        .filter_map(|(name, least)| Some((name, stated(name)?, least)))
        .find(|(_, own, least)| *own < least - 1e-9);
    let large = ZONES
        .iter()
        .filter_map(|(name, most)| Some((*name, stated(name)?, *most)))
        .find(|(_, own, most)| *own > most + 1e-9);
    let (name, own, bound) = small.or(large)?;
    let than = if own < bound { "under" } else { "over" };
    Some(Suspicion {
        code: "limit_odd",
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("limit {name}")),
        found: say!("`limits.{name}` is {}, {than} {}: it asks for nothing", mm(own, 3), mm(bound, 3)),
        likely: "another unit than the file's, or a digit slipped".into(),
        ask: say!("what is `limits.{name}` to be, and in which unit is it written?"),
        evidence: figures([("limit", own), ("bound", bound)]),
        cylinders: job.block.cylinders(),
    })
}

/// A ledge that may lie anywhere: every depth passes, and the flange is found too low when the bank is cut.
fn ledge(job: &Job) -> Option<Suspicion> {
    let own = job.allowances.ledge_depth_mm;
    (own > LEDGE_DEPTH_MM + 1e-9).then(|| Suspicion {
        code: "limit_odd",
        verdict: Verdict::Hold,
        subject: Subject::whole("allowances"),
        found: say!(
            "`allowances.ledge_depth` is {}, over {}: it asks for nothing",
            mm(own, 3),
            mm(LEDGE_DEPTH_MM, 3)
        ),
        likely: "another unit than the file's, or a digit slipped".into(),
        ask: "what is `allowances.ledge_depth` to be, and in which unit is it written?".into(),
        evidence: figures([("allowance", own), ("bound", LEDGE_DEPTH_MM)]),
        cylinders: job.block.cylinders(),
    })
}

/// A ledge's depth is kept within less either way: heights of flanges that differ by twice as much leave a gasket loose, mm.
/// Common practice, no source.
const LEDGE_DEPTH_MM: f64 = 0.05;

/// The first instrument that the job states far better than its shop does.
fn bettered(job: &Job) -> Option<Suspicion> {
    let (name, [own, shop]) = job.bettered.first().copied()?;
    Some(Suspicion {
        code: "instruments_odd",
        verdict: Verdict::Hold,
        subject: Subject::whole("instruments"),
        found: say!("the job states `instruments.{name}` as {}, its shop as {}", mm(own, 5), mm(shop, 4)),
        likely: "another unit than the file's, or a figure chosen so that the job goes".into(),
        ask: say!(
            "what has a check of this instrument shown? Where the job's figure is right, release it by name"
        ),
        evidence: figures([("job", own), ("shop", shop)]),
        cylinders: job.block.cylinders(),
    })
}

/// The first instrument that is better than there are.
fn instrument(job: &Job) -> Option<Suspicion> {
    let i = &job.instruments;
    let all = [
        ("machine", i.machine_mm),
        ("axis", i.axis_mm),
        ("along", i.along_mm),
        ("diameter", i.diameter_mm),
        ("wall", i.wall_mm),
    ];
    let (name, own) = all.into_iter().find(|(_, own)| *own < FINEST_MM - 1e-12)?;
    Some(Suspicion {
        code: "instruments_odd",
        verdict: Verdict::Hold,
        subject: Subject::whole("instruments"),
        found: say!("`instruments.{name}` is {}: nothing is known so well", mm(own, 6)),
        likely: "another unit than the file's, or a wish: every margin is then believed too well".into(),
        ask: say!(
            "what has a check of this instrument shown (`instruments.{name}`, a standard uncertainty)?"
        ),
        evidence: figures([("stated", own), ("finest", FINEST_MM)]),
        cylinders: job.block.cylinders(),
    })
}
