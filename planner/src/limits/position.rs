//! The position zone about the true position.

use borewright_geometry::Bound;

use super::{Asked, Better, Clause, Judges, Kind, Lack, Stated, metal, squareness};
use crate::job::{
    Aim, Limit,
    limits::{POSITION, POSITION_ACROSS, POSITION_ALONG},
};
use crate::plan::sentence::mm;
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

/// What a fixture may roll a bank without anybody seeing it, degrees. Common practice, no source.
const ROLL_DEG: f64 = 0.05;

/// Without a deck the bank's Z is the spindle's: what the fixture leaves of a roll moves every bore across by the deck
/// height, and nothing read says how much that is. Where squareness is limited that limit says so.
fn deck_unread(asked: &Asked<'_>) -> Option<Lack> {
    let limits = &asked.job.limits;
    let across = limits.get(POSITION).or_else(|| limits.get(POSITION_ACROSS))?;
    let name = squareness::unread_deck(asked).filter(|_| asked.job.aim == Aim::Journal)?;
    limits.get(squareness::LIMIT.name).is_none().then(|| Lack {
        code: "deck_not_read",
        text: say!(
            "position is limited to {} and no deck was read in set-up {}: which way the bank leans is the fixture's word \
             alone, and {ROLL_DEG} degrees of roll move every bore across by {}. Read the deck at four points",
            mm(across.least_mm, 3),
            plain(name, 40),
            mm(asked.job.block.banks[asked.bank].deck_height_mm * ROLL_DEG.to_radians(), 2)
        ),
    })
}

/// position / 2 - |c - t|, or w / 2 - |d| for each of two parallel zones; reported but not binding where the bores follow
/// what is there.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let limits = &asked.job.limits;
    let round = limits.get(POSITION).map(|limit| {
        let bound = Bound::Inside { centre_mm: asked.true_mm(), radius_mm: limit.least_mm / 2.0 };
        (limit, "zone about the true position", bound)
    });
    let parallel = |limit: Option<Limit>, axis: usize, name: &'static str| {
        limit.map(|limit| {
            let bound = Bound::Between { middle_mm: asked.true_mm(), axis, half_mm: limit.least_mm / 2.0 };
            (limit, name, bound)
        })
    };
    let zones = [
        round,
        parallel(limits.get(POSITION_ALONG), 0, "zone along"),
        parallel(limits.get(POSITION_ACROSS), 1, "zone across"),
    ];
    zones
        .into_iter()
        .flatten()
        .map(|(limit, name, bound)| {
            let mut clause = metal(&LIMIT, limit, name.into(), bound, asked.datum_spread());
            clause.with_radius = 0.0;
            clause.binding = asked.job.aim == Aim::Journal;
            // A zone is better smaller: preferred is a smaller one.
            clause.prefer_margin_mm = limit.prefer_mm.map(|prefer| (limit.least_mm - prefer) / 2.0);
            clause
        })
        .collect()
}
