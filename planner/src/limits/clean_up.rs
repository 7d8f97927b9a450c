//! The tool must clean up all round: least radial stock on every pocket cylinder below the flange.

use borewright_geometry::Bound;
use borewright_geometry::clock::distance_mm;

use super::{Asked, Clause, Judges, LEAN, PLACE, SURFACE, Stated, metal};
use crate::job::limits::CLEAN_UP;
use crate::job::{Limit, Surface};
use crate::plan::worked::{Origin, Symbol, Worked};
use crate::survey::{CylinderSurvey, RadiusSource};

/// Stock all round.
pub(crate) const LIMIT: Stated = Stated::metal(
    CLEAN_UP,
    "clean-up all round",
    "Least radial stock all round on every pocket cylinder below the flange.",
    Judges::Bore(clauses),
);

/// What a margin is worked from.
const WORKING: [Symbol; 8] = [
    Symbol::mm(
        "m",
        "stock all round beyond the limit",
        Origin::Figure("R - sqrt((x - x_o)^2 + (y - y_o)^2) - r - w"),
    ),
    Symbol::mm("R", "radius of the pocket", Origin::Sleeve("body")),
    Symbol::mm(
        "x_o",
        "the old bore as seen from the cut's centre at the deck, along",
        Origin::Formula("x_f + l_x * d"),
    ),
    Symbol::mm("y_o", "the same across", Origin::Formula("y_f + l_y * d")),
    Symbol::mm("r", "farthest old metal from the old bore's centre", Origin::Radius),
    Symbol::mm("w", "the limit", Origin::Stated("limits.clean_up")),
    Symbol::mm("x_f", "centre of the old bore at that depth, along", Origin::Circles),
    Symbol::mm("y_f", "the same across", Origin::Circles),
];

/// The metal that a cut must reach at one depth.
struct Metal {
    depth_mm: f64,
    centre_mm: [f64; 2],
    farthest_mm: f64,
    source: RadiusSource,
    axis_u_mm: f64,
    surface: Surface,
}

/// R - (|c(d) - m(d)| + r(d)) - clean_up, r the farthest metal, at both ends of every cylinder that is cut from the
/// parent bore, and at every circle read between them about that circle's own centre.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    asked.job.limits.get(LIMIT.name).map_or_else(Vec::new, |limit| keeping(asked, limit))
}

/// The clauses of clean up on one bore: both ends of every dry step below the flange and, where the parent was
/// measured, circles between them.
fn keeping(asked: &Asked<'_>, limit: Limit) -> Vec<Clause> {
    let dry = asked.pocket.steps.iter().filter(|step| !step.wet);
    dry.flat_map(|step| {
        let (from, to) = (step.depths.from_mm, step.depths.to_mm);
        let read = asked.found.parent_bore(asked.job).into_iter().flat_map(move |bore| {
            let rings = bore.rings.iter().filter(move |r| from <= r.depth_mm && r.depth_mm <= to);
            rings.map(|ring| Metal {
                depth_mm: ring.depth_mm,
                centre_mm: ring.centre_mm,
                farthest_mm: ring.metal_mm[1],
                source: RadiusSource::Measured,
                axis_u_mm: ring.u_mm,
                surface: bore.surface,
            })
        });
        let ends = [from, to].map(|depth| at_end(asked, asked.found, depth));
        ends.into_iter().chain(farthest_out(asked, read.collect())).map(|there| {
            let bound = Bound::Inside {
                centre_mm: asked.seen_from_deck(there.centre_mm, there.depth_mm),
                radius_mm: step.radius_mm - there.farthest_mm - limit.least_mm,
            };
            let spread = asked.surface_spread(there.axis_u_mm, there.source, 0.0);
            let [x, y] = there.centre_mm;
            let [x_o, y_o] = asked.seen_from_deck(there.centre_mm, there.depth_mm);
            let kept = [step.radius_mm, x_o, y_o, there.farthest_mm, limit.least_mm, x, y].into_iter();
            let kept = kept.chain(asked.lean(there.depth_mm)).chain(asked.surface_parts(
                there.axis_u_mm,
                there.source,
                0.0,
            ));
            let worked = Worked::of(&[&WORKING, &PLACE, &LEAN, &SURFACE], kept.collect())
                .on(there.surface.word(), there.source == RadiusSource::Description);
            let mut clause = metal(&LIMIT, limit, step.name.clone(), bound, spread, worked);
            clause.depth_mm = Some(there.depth_mm);
            clause.with_radius = 1.0;
            clause
        })
    })
    .collect()
}

/// The circles that could be the one which a cut fails to reach. One that lies wholly within another, whose
/// uncertainty is no smaller, cannot.
///
/// So that of thousands of circles on one bore only some tens become clauses.
fn farthest_out(asked: &Asked<'_>, mut read: Vec<Metal>) -> Vec<Metal> {
    read.sort_by(|a, b| b.farthest_mm.total_cmp(&a.farthest_mm));
    let mut kept: Vec<Metal> = Vec::new();
    for metal in read {
        let centre = asked.seen_from_deck(metal.centre_mm, metal.depth_mm);
        let within = |other: &Metal| {
            let apart = distance_mm(asked.seen_from_deck(other.centre_mm, other.depth_mm), centre);
            other.farthest_mm >= metal.farthest_mm + apart && other.axis_u_mm >= metal.axis_u_mm
        };
        if !kept.iter().any(within) {
            kept.push(metal);
        }
    }
    kept
}

/// The parent bore at an end of a cylinder: about the fitted axis, which is carried beyond the depths read.
fn at_end(asked: &Asked<'_>, found: &CylinderSurvey, depth_mm: f64) -> Metal {
    let lean = asked.job.instruments.lean;
    let (bore, farthest_mm, source) = match (found.parent_bore(asked.job), &asked.job.block.parent.liner) {
        (Some(parent), _) => (parent, parent.farthest_mm(depth_mm), RadiusSource::Measured),
        (None, Some(liner)) => {
            (found.bore_of(Surface::Liner), liner.outside_mm / 2.0, RadiusSource::Description)
        }
        (None, None) => (&found.now, found.now.farthest_mm(depth_mm), RadiusSource::Measured),
    };
    let axis_u_mm = bore.axis_u_mm(depth_mm, lean);
    let surface = bore.surface;
    Metal { depth_mm, centre_mm: bore.axis.at(depth_mm), farthest_mm, source, axis_u_mm, surface }
}
