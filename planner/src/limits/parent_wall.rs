//! The wall left in the parent metal behind the pocket, at every reading.

use borewright_geometry::Bound;
use borewright_geometry::clock::clocks_apart_deg;

use super::{Asked, Clause, Judges, LEAN, PLACE, SURFACE, Stated, metal, walls_unread};
use crate::job::limits::{PARENT_WALL, PARENT_WALL_THRUST};
use crate::job::{Limit, Rotation};
use crate::plan::worked::{Origin, Symbol, Unit, Worked};
use crate::survey::{RadiusSource, SurfaceAt};

/// Readings within this of the major thrust side count as thrust, degrees.
const THRUST_WITHIN_DEG: f64 = 45.0;

/// Wall left in the casting.
pub const LIMIT: Stated =
    Stated::metal(PARENT_WALL, "parent wall", "Least wall left in the parent metal.", Judges::Bore(clauses))
        .unless(walls_unread::lack);

/// The least wall near the major thrust side; its figures stand under `parent_wall` all the same.
pub const THRUST: Stated = Stated::metal(
    PARENT_WALL_THRUST,
    "parent wall on the thrust side",
    "In place of parent_wall within 45 degrees of the major thrust side.",
    Judges::With(&LIMIT),
);

/// What a margin is worked from, by the key that states the limit.
const fn working(key: &'static str) -> [Symbol; 10] {
    [
        Symbol::mm(
            "m",
            "wall left beyond the limit",
            Origin::Figure("sqrt((x - x_w)^2 + (y - y_w)^2) - R - w"),
        ),
        Symbol::mm(
            "x_w",
            "far side of the wall as seen from the cut's centre at the deck, along",
            Origin::Formula("x_s + (r + t) * cos(a * pi / 180) + l_x * d"),
        ),
        Symbol::mm("y_w", "the same across", Origin::Formula("y_s + (r + t) * sin(a * pi / 180) + l_y * d")),
        Symbol::mm("R", "radius of the pocket", Origin::Sleeve("body")),
        Symbol::mm("w", "the limit", Origin::Stated(key)),
        Symbol::mm("t", "the wall as read", Origin::Row),
        Symbol::new("a", "the clock it was read at", Unit::Angle, Origin::Row),
        Symbol::mm("r", "radius of the surface it was read from", Origin::Radius),
        Symbol::mm("x_s", "centre of that surface at that depth, along", Origin::Circles),
        Symbol::mm("y_s", "the same across", Origin::Circles),
    ]
}

const WORKING: [Symbol; 10] = working("limits.parent_wall");
const ON_THRUST: [Symbol; 10] = working("limits.parent_wall_thrust");

/// |p - c(d)| - R - least for every reading; p stands the wall beyond the surface it was measured from.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let limits = &asked.job.limits;
    if limits.get(LIMIT.name).is_none() && limits.get(THRUST.name).is_none() {
        return Vec::new();
    }
    let set_ups = asked.job.set_ups.iter().enumerate();
    let readings = set_ups.flat_map(|(index, set_up)| set_up.walls.iter().map(move |wall| (index, wall)));
    readings
        .filter(|(_, wall)| wall.cylinder == asked.site.cylinder)
        .filter_map(|(set_up, reading)| {
            let wall = reading.wall_mm?;
            let (stated, limit) = limit_at(asked, reading.clock_deg)?;
            let step = asked.pocket.at(reading.depth_mm).filter(|step| !step.wet)?;
            let SurfaceAt { centre_mm: middle, radius_mm: radius, source } =
                asked.found.surface(asked.job, reading.surface, reading.depth_mm)?;
            let (sin, cos) = reading.clock_deg.to_radians().sin_cos();
            let far = radius + wall;
            let end = [middle[0] + far * cos, middle[1] + far * sin];
            let bound = Bound::Outside {
                centre_mm: asked.seen_from_deck(end, reading.depth_mm),
                radius_mm: step.radius_mm + limit.least_mm,
            };
            let instruments = &asked.job.instruments;
            let bore = asked.found.bore_of(reading.surface);
            let axis_u = bore.axis_u_mm(reading.depth_mm, instruments.lean);
            let spread = asked.surface_spread(axis_u, source, instruments.wall_mm);
            let [x_w, y_w] = asked.seen_from_deck(end, reading.depth_mm);
            let [x_s, y_s] = middle;
            let clock = reading.clock_deg;
            let kept = [x_w, y_w, step.radius_mm, limit.least_mm, wall, clock, radius, x_s, y_s];
            let kept = kept.into_iter().chain(asked.lean(reading.depth_mm)).chain(asked.surface_parts(
                axis_u,
                source,
                instruments.wall_mm,
            ));
            let kept = kept.collect();
            let worked = if stated == THRUST.name {
                Worked::of(&[&ON_THRUST, &PLACE, &LEAN, &SURFACE], kept)
            } else {
                Worked::of(&[&WORKING, &PLACE, &LEAN, &SURFACE], kept)
            };
            let worked = worked
                .on(bore.surface.word(), source == RadiusSource::Description)
                .read_at(set_up, reading.line);
            let mut clause = metal(&LIMIT, limit, step.name.clone(), bound, spread, worked);
            clause.depth_mm = Some(reading.depth_mm);
            clause.clock_deg = Some(reading.clock_deg);
            Some(clause)
        })
        .collect()
}

/// Whether a clock lies within 45 degrees of the thrust side, 45 itself counted in whatever its last bit.
fn within_thrust(clock_deg: f64, side_deg: f64) -> bool {
    clocks_apart_deg(clock_deg, side_deg) <= THRUST_WITHIN_DEG + 1e-9
}

/// The thrust limit near the major thrust side where one is set, else the general one, and its name.
fn limit_at(asked: &Asked<'_>, clock_deg: f64) -> Option<(&'static str, Limit)> {
    let limits = &asked.job.limits;
    match (asked.job.block.rotation.map(Rotation::thrust_clock_deg), limits.get(THRUST.name)) {
        (Some(side), Some(thrust)) if within_thrust(clock_deg, side) => Some((THRUST.name, thrust)),
        _ => limits.get(LIMIT.name).map(|limit| (LIMIT.name, limit)),
    }
}
