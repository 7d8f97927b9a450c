//! Metal between the pocket and stud holes.

use borewright_geometry::Bound;
use borewright_geometry::clock::clock_deg;

use super::{Asked, Clause, DATUM, Judges, LEAN, Lack, PLACE, Stated, metal};
use crate::job::limits::STUD_WALL;
use crate::plan::sentence::mm;
use crate::plan::worked::{Origin, Symbol, Worked};
use crate::say;

/// Pocket to stud.
pub(super) const LIMIT: Stated =
    Stated::metal(STUD_WALL, "wall to a stud", "Pocket to stud hole.", Judges::Bore(clauses))
        .unless(not_described);

/// The lack of a limit on stud holes where the block's description does not say where they are, or only of one
/// bank.
fn not_described(asked: &Asked<'_>) -> Option<Lack> {
    let limit = asked.job.limits.get(LIMIT.name)?;
    let block = &asked.job.block;
    if block.studs_told {
        // Studs of one bank alone are not all: the other head is bolted down as well.
        let of = |bank: usize| block.studs.iter().any(|s| s.bank == bank);
        let other = (0..block.banks.len()).any(of);
        return (other && !of(asked.bank)).then(|| Lack {
            code: "studs_not_described",
            short: "the block does not describe all of it",
            text: say!(
                "a wall of {} to studs is asked for, and the block's description has those of another bank only: list \
                 this bank's under `studs`",
                mm(limit.least_mm, 3)
            ),
        });
    }
    Some(Lack {
        code: "studs_not_described",
        short: "the block does not describe all of it",
        text: say!(
            "a wall of {} to studs is asked for, and the block's description does not say where they are: \
             list them under `studs`, or say `studs: []` where none come near a bore",
            mm(limit.least_mm, 3)
        ),
    })
}

/// What a margin is worked from.
const WORKING: [Symbol; 8] = [
    Symbol::mm(
        "m",
        "wall to the stud beyond the limit",
        Origin::Figure("sqrt((x - x_o)^2 + (y - y_o)^2) - R - D_h / 2 - w"),
    ),
    Symbol::mm(
        "x_o",
        "the stud hole as seen from the cut's centre at the deck, along",
        Origin::Formula("x_h + l_x * d"),
    ),
    Symbol::mm("y_o", "the same across", Origin::Formula("y_h + l_y * d")),
    Symbol::mm("R", "radius of the pocket", Origin::Sleeve("body")),
    Symbol::mm("D_h", "diameter of the stud hole", Origin::Block("studs")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.stud_wall")),
    Symbol::mm("x_h", "the stud hole, along", Origin::Block("studs")),
    Symbol::mm("y_h", "the same across", Origin::Block("studs")),
];

/// |c(d) - h| - R - r_h - stud_wall, for every cylinder of the pocket that shares a depth with the hole, at both
/// ends of what they share.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let Some(limit) = asked.job.limits.get(LIMIT.name) else { return Vec::new() };
    let studs = asked.job.block.studs.iter().filter(|s| s.bank == asked.bank);
    studs
        .flat_map(|stud| {
            let both = asked
                .pocket
                .features()
                .filter_map(move |feature| Some((feature, feature.depths.shared(&stud.depths)?)));
            both.flat_map(move |(feature, shared)| {
                let radius_mm = feature.radius_mm + stud.diameter_mm / 2.0 + limit.least_mm;
                let [x, y] = stud.centre_mm;
                // The stud is named by its direction from the bore, which is found at the block and needs no unit.
                let [true_x, true_y] = asked.true_mm();
                let clock = clock_deg([x - true_x, y - true_y]).round() % 360.0;
                [shared.from_mm, shared.to_mm].map(|depth| {
                    let centre_mm = asked.seen_from_deck(stud.centre_mm, depth);
                    let bound = Bound::Outside { centre_mm, radius_mm };
                    let name = format!("{} to the stud at clock {clock:.0}", feature.name);
                    let [x_o, y_o] = centre_mm;
                    let kept = [x_o, y_o, feature.radius_mm, stud.diameter_mm, limit.least_mm, x, y];
                    let kept = kept.into_iter();
                    let kept = kept.chain(asked.lean(depth)).chain(asked.datum_worked());
                    let worked = Worked::of(&[&WORKING, &PLACE, &LEAN, &DATUM], kept.collect());
                    let mut clause = metal(&LIMIT, limit, name, bound, asked.datum_spread(), worked);
                    clause.depth_mm = Some(depth);
                    clause.with_radius = if feature.is_flange() { 0.0 } else { -1.0 };
                    clause
                })
            })
        })
        .collect()
}
