//! Limits that ask for nothing.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::limits::{
    BRIDGE, CLEAN_UP, COOLANT_HOLE, FIRE_RING_BORE, FIRE_RING_COVER, FITTED_WALL_MM, PARENT_WALL,
    PARENT_WALL_THRUST, POSITION, POSITION_ACROSS, POSITION_ALONG, SQUARENESS, STUD_WALL,
};
use crate::job::{Job, ReadingFrame, SetUp};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;

/// Limits on metal that is left.
const WALLS: [&str; 4] = [PARENT_WALL, PARENT_WALL_THRUST, STUD_WALL, BRIDGE];
/// The least that a limit on a wall asks for, mm: less is another unit. Common practice, no source.
const LEAST_MM: f64 = 0.5;
/// The least that a limit on clean up asks for, mm. Common practice, no source.
const CLEAN_UP_MM: f64 = 0.02;
/// Limits on what keeps coolant and gas out, and the least that each asks for, mm: less is no metal at all, or a seal that
/// overhangs. Common practice, no source.
const SEALS: [(&str, f64); 3] = [(COOLANT_HOLE, 0.3), (FIRE_RING_COVER, 0.15), (FIRE_RING_BORE, 0.15)];
/// Limits of which a job that states none of them would say go to any place. Common practice, no source.
const GROUND: [&str; 2] = [CLEAN_UP, PARENT_WALL];
/// The most that a zone or a lean is allowed, mm, by limit. Common practice, no source.
const ZONES: [(&str, f64); 4] =
    [(POSITION, 0.9), (POSITION_ACROSS, 0.9), (POSITION_ALONG, 0.9), (SQUARENESS, 0.15)];

/// The most that mains may be off their line, all and from one to the next, mm: more bends no bearing that runs. Common practice, no
/// source.
const STRAIGHT_MM: f64 = 0.05;
const NEIGHBOUR_MM: f64 = 0.03;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let job = asked.job;
    limit(job)
        .into_iter()
        .chain(ledge(job))
        .chain(thin(job))
        .chain(thrust(job))
        .chain(loosened(job))
        .chain(untold(job))
        .chain(mains(job))
        .chain(play(job))
        .collect()
}

/// The first limit that asks for nothing.
fn limit(job: &Job) -> Option<Suspicion> {
    let stated = |name: &str| job.limits.get(name).map(|l| l.least_mm);
    let walls = WALLS.iter().map(|name| (*name, LEAST_MM));
    let small = walls
        .chain([(CLEAN_UP, CLEAN_UP_MM)])
        .chain(SEALS)
        .filter_map(|(name, least)| Some((name, stated(name)?, least)))
        .find(|(_, own, least)| *own < least - 1e-9);
    let large = ZONES
        .iter()
        .filter_map(|(name, most)| Some((*name, stated(name)?, *most)))
        .find(|(_, own, most)| *own > most + 1e-9);
    let (name, own, bound) = small.or(large)?;
    let than = if own < bound { "under" } else { "over" };
    Some(Suspicion {
        code: Code::LimitOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("limit {name}")),
        found: say!("`limits.{name}` is {}, {than} {}: it asks for nothing", mm(own, 3), mm(bound, 3)),
        likely: "another unit than the file's, or a digit slipped".into(),
        ask: say!("what is `limits.{name}` to be, and in which unit is it written?"),
        evidence: figures([("limit", own), ("bound", bound)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// A journal axis of which its mains may be off by so much that the check of them asks for nothing.
fn mains(job: &Job) -> Option<Suspicion> {
    let axis = &job.block.journal_axis;
    let asked =
        [("straightness", axis.straightness_mm, STRAIGHT_MM), ("neighbour", axis.neighbour_mm, NEIGHBOUR_MM)];
    let (name, own, most) = asked.into_iter().find(|(_, own, most)| *own > most + 1e-9)?;
    Some(Suspicion {
        code: Code::LimitOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("journal_axis.{name}")),
        found: say!(
            "`journal_axis.{name}` is {}, over {}: it asks nothing of the mains",
            mm(own, 3),
            mm(most, 3)
        ),
        likely: "another unit than the file's, or a digit slipped".into(),
        ask: say!(
            "by how much may the mains be off (`journal_axis.{name}`), and in which unit is it written?"
        ),
        evidence: figures([("limit", own), ("bound", most)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// A limit in inches comes so near to it, mm: half of 0.0001 in.
const NEAR_MM: f64 = 0.0013;

/// A limit of the wall behind a pocket that the job alone states, and lower than sleeves are fitted in.
fn thin(job: &Job) -> Option<Suspicion> {
    let own = |name: &'static str| {
        let stated = job.limits.get(name)?.least_mm;
        let shop = job.shop_limits.get(name).map_or(FITTED_WALL_MM, |l| l.least_mm);
        (LEAST_MM..FITTED_WALL_MM.min(shop) - NEAR_MM).contains(&stated).then_some((name, stated))
    };
    let (name, stated) = [PARENT_WALL, PARENT_WALL_THRUST].into_iter().find_map(own)?;
    Some(Suspicion {
        code: Code::LimitOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("limit {name}")),
        found: say!(
            "`limits.{name}` is {}, and sleeves are fitted in walls of {} and more",
            mm(stated, 3),
            mm(FITTED_WALL_MM, 1)
        ),
        likely: "a digit slipped, or a figure chosen so that the job goes".into(),
        ask: "who allows that for this block? A shop that works to it says so in its own file, else the lead releases it by name"
            .into(),
        evidence: figures([("limit", stated), ("bound", FITTED_WALL_MM)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// A limit of the thrust side weaker than that of the other sides, in whose place it stands.
fn thrust(job: &Job) -> Option<Suspicion> {
    let [thrust, wall] =
        [PARENT_WALL_THRUST, PARENT_WALL].map(|name| job.limits.get(name).map(|l| l.least_mm));
    let (thrust, wall) = thrust.zip(wall).filter(|(thrust, wall)| *thrust < *wall - 1e-9)?;
    Some(Suspicion {
        code: Code::LimitOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("limit parent_wall_thrust"),
        found: say!(
            "`limits.parent_wall_thrust` is {}, and `limits.parent_wall` {}: the side that is loaded most is asked the least",
            mm(thrust, 3),
            mm(wall, 3)
        ),
        likely: "a digit slipped, or the two exchanged".into(),
        ask: "how much metal is to stay on the thrust side?".into(),
        evidence: figures([("limit", thrust), ("bound", wall)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// The first limit that the job states far looser than its shop does.
fn loosened(job: &Job) -> Option<Suspicion> {
    let (name, [own, shop]) = job.loosened.first().copied()?;
    Some(Suspicion {
        code: Code::LimitOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("limit {name}")),
        found: say!("the job asks {} of `limits.{name}`, its shop {}", mm(own, 3), mm(shop, 3)),
        likely: "a digit slipped, or a figure chosen so that the job goes".into(),
        ask: say!("who allows that for this block? Where the job's figure is meant, release it by name"),
        evidence: figures([("job", own), ("shop", shop)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// A job that limits neither where a bore stands nor what metal it leaves.
fn untold(job: &Job) -> Option<Suspicion> {
    let none = !job.limits.states_position() && GROUND.iter().all(|name| job.limits.get(name).is_none());
    none.then(|| Suspicion {
        code: Code::LimitsUntold,
        verdict: Verdict::Hold,
        subject: Subject::whole("limits"),
        found: "neither the job nor a shop file limits `position`, `clean_up` or `parent_wall`: every place would be go".into(),
        likely: "the `shop:` line or the `limits:` left out".into(),
        ask: "which limits is this block to keep?".into(),
        evidence: figures([]),
        cylinders: job.block.cylinders().into(),
    })
}

/// Locators that give, under readings that nothing in the cutting set-up brings back to the journal axis, and no word whether that
/// counts.
fn play(job: &Job) -> Option<Suspicion> {
    let fixture = job.fixture.as_ref().filter(|fixture| !fixture.feeds_told)?;
    let from_journal = |s: &&SetUp| matches!(s.frame, ReadingFrame::Journal);
    let set_up = job.set_ups.iter().find(from_journal)?;
    let most = fixture.locators.iter().map(|l| l.u_mm).fold(0.0, f64::max);
    (most > PLAY_MM).then(|| Suspicion {
        code: Code::LimitsUntold,
        verdict: Verdict::Hold,
        subject: Subject::whole("fixture"),
        found: say!(
            "its locators are known to {}, set-up {} was read from the journal axis and not in it, and nobody says whether that counts",
            mm(most, 3),
            plain(&set_up.name, 40)
        ),
        likely: "`fixture.feeds_limits` left out: every bore may be cut off by as much".into(),
        ask: "is the block indicated to the mains again before it is cut? Then `feeds_limits: false`, else `true`".into(),
        evidence: figures([("u", most)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// Locators that give less than the journal axis is read to move no bore, mm. Common practice, no source.
const PLAY_MM: f64 = 0.005;

/// The suspicion of a ledge's window so wide that every depth passes, and flanges are found too low once the bank
/// is cut.
fn ledge(job: &Job) -> Option<Suspicion> {
    let own = job.allowances.ledge_depth_mm;
    (own > LEDGE_DEPTH_MM + 1e-9).then(|| Suspicion {
        code: Code::LimitOdd,
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
        cylinders: job.block.cylinders().into(),
    })
}

/// The widest window of a ledge's depth, mm either way: flanges that differ by twice as much leave a gasket loose.
/// Common practice, no source.
const LEDGE_DEPTH_MM: f64 = 0.05;
