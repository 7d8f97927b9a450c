//! The position zone about the true position.

use std::collections::BTreeMap;

use borewright_geometry::Bound;

use super::{
    Asked, Better, Clause, DATUM, Judges, Kind, Lack, PLACE, Stated, coolant_hole, fire_ring_bore,
    fire_ring_cover, metal, squareness, stud_wall,
};
use crate::job::{
    Aim, Job, Limit,
    limits::{POSITION, POSITION_ACROSS, POSITION_ALONG},
    words,
};
use crate::plan::sentence::mm;
use crate::plan::worked::{Origin, Symbol, Worked};
use crate::plan::{Finding, Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// The zone about the true position; a figure is a diameter or a width.
pub(super) const LIMIT: Stated = Stated {
    better: Better::Smaller,
    kind: Kind::Zone,
    of_metal: false,
    eased_by: 2.0,
    ..Stated::metal(
        POSITION,
        "position",
        "Diameter of the position zone about the true position; or { across: …, along: … }, widths of two parallel zones.",
        Judges::Bore(clauses),
    )
    .unless(deck_unread)
};

/// A bore that is bored to the crank goes no farther off it than this where nobody says how far it may, mm. Common practice, no source.
const UNTOLD_MM: f64 = 0.25;

/// The bores that a job without a limit on their position plans far off the crank they are to follow.
///
/// `off` is how far each cylinder is planned off its true position, mm.
pub(crate) fn untold(job: &Job, off: &BTreeMap<u32, f64>) -> Option<Finding> {
    if job.aim != Aim::Journal || job.limits.states_position() {
        return None;
    }
    let far: Vec<u32> = off.iter().filter(|(_, off)| **off > UNTOLD_MM).map(|(n, _)| *n).collect();
    let most = off.values().copied().fold(0.0, f64::max);
    (!far.is_empty()).then(|| Finding {
        code: "position_untold",
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(far),
        text: say!(
            "the bores are to stand true to the journal axis, nobody limits how far off it they may (`limits.position`), and metal \
             keeps them up to {} off",
            mm(most, 3)
        ),
    })
}

/// How far a fixture may roll a bank without that being seen, degrees. Common practice, no source.
const ROLL_DEG: f64 = 0.05;

/// The lack of a limit that a roll of the bank would use up, where no deck was read: the bank's Z is then the
/// spindle's, and a roll left by the fixture moves every bore across unseen. Where squareness is limited, that
/// limit tells it.
fn deck_unread(asked: &Asked<'_>) -> Option<Lack> {
    let limits = &asked.job.limits;
    let name = squareness::unread_deck(asked).filter(|_| limits.get(squareness::LIMIT.name).is_none())?;
    let (what, across) = lying_across(asked)?;
    Some(Lack {
        code: "deck_not_read",
        short: "its deck was not read",
        text: say!(
            "{what} is limited to {} and no deck was read in set-up {}: which way the bank leans is the fixture's word \
             alone, and {ROLL_DEG} degrees of roll move every bore across by {}. Read the deck at four points",
            mm(across.least_mm, 3),
            plain(name, 40),
            mm(asked.job.block.banks[asked.bank].deck_height_mm * ROLL_DEG.to_radians(), 2)
        ),
    })
}

/// A limit that a roll of the bank would use up, with its name: one on the position, or on metal whose place comes
/// from the block's description.
fn lying_across(asked: &Asked<'_>) -> Option<(String, Limit)> {
    let (limits, block) = (&asked.job.limits, &asked.job.block);
    let journal = asked.job.aim == Aim::Journal;
    let position = || limits.get(POSITION).or_else(|| limits.get(POSITION_ACROSS));
    let described = [
        (stud_wall::LIMIT.name, block.studs.iter().any(|s| s.bank == asked.bank)),
        (coolant_hole::LIMIT.name, block.coolant_holes.iter().any(|h| h.bank == asked.bank)),
        (fire_ring_cover::LIMIT.name, block.fire_ring.is_some()),
        (fire_ring_bore::LIMIT.name, block.fire_ring.is_some()),
    ];
    let position = position().filter(|_| journal).map(|limit| ("position".to_owned(), limit));
    position.or_else(|| {
        let told = described.into_iter().filter(|(_, told)| *told);
        told.filter_map(|(name, _)| Some((words::limit(name), limits.get(name)?))).next()
    })
}

/// What a margin is worked from, by its formula and the key that states the limit.
const fn working(formula: &'static str, key: &'static str) -> [Symbol; 4] {
    [
        Symbol::mm("m", "what is left of the zone", Origin::Figure(formula)),
        Symbol::mm("W", "the limit: diameter or width of the zone", Origin::Stated(key)),
        Symbol::mm("t_x", "where the bore belongs, along", Origin::Belongs),
        Symbol::mm("t_y", "the same across", Origin::Belongs),
    ]
}

const ROUND: [Symbol; 4] = working("W / 2 - sqrt((x - t_x)^2 + (y - t_y)^2)", "limits.position");
const ALONG: [Symbol; 4] = working("W / 2 - abs(x - t_x)", "limits.position.along");
const ACROSS: [Symbol; 4] = working("W / 2 - abs(y - t_y)", "limits.position.across");

/// position / 2 - |c - t|, or w / 2 - |d| for each of two parallel zones; reported but not binding where the bores
/// follow what is there.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let limits = &asked.job.limits;
    type Rows = &'static [&'static [Symbol]; 3];
    let rows: Rows = &[&ROUND, &PLACE, &DATUM];
    let round = limits.get(POSITION).map(|limit| {
        let bound = Bound::Inside { centre_mm: asked.true_mm(), radius_mm: limit.least_mm / 2.0 };
        (limit, "zone about the true position", bound, rows)
    });
    let parallel = |limit: Option<Limit>, axis: usize, name: &'static str, rows: Rows| {
        limit.map(|limit| {
            let bound = Bound::Between { middle_mm: asked.true_mm(), axis, half_mm: limit.least_mm / 2.0 };
            (limit, name, bound, rows)
        })
    };
    let zones = [
        round,
        parallel(limits.get(POSITION_ALONG), 0, "zone along", &[&ALONG, &PLACE, &DATUM]),
        parallel(limits.get(POSITION_ACROSS), 1, "zone across", &[&ACROSS, &PLACE, &DATUM]),
    ];
    zones
        .into_iter()
        .flatten()
        .map(|(limit, name, bound, rows)| {
            let [t_x, t_y] = asked.true_mm();
            let kept = [limit.least_mm, t_x, t_y].into_iter().chain(asked.datum_worked());
            let worked = Worked::of(rows, kept.collect());
            let mut clause = metal(&LIMIT, limit, name.into(), bound, asked.datum_spread(), worked);
            clause.with_radius = 0.0;
            clause.binding = asked.job.aim == Aim::Journal;
            // A zone is better smaller: preferred is a smaller one.
            clause.prefer_margin_mm = limit.prefer_mm.map(|prefer| (limit.least_mm - prefer) / 2.0);
            clause
        })
        .collect()
}
