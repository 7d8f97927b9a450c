//! The sweep of a tool on one way down and up: an upright cylinder, whichever way it was driven.

use std::f64::consts::TAU;

use super::control::{Motion, Way};
use super::flaw::{At, Flaws};
use super::unit::Unit;

/// What turns in the spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cutter {
    /// A head set to a radius, mm: bores where it is driven straight down.
    Boring(f64),
    /// A cutter of a radius, mm: clears what it is driven round.
    Milling(f64),
}

/// An upright cylinder that is open from the deck down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Swept {
    /// Where its deepest place was first reached.
    pub(super) at: At,
    /// Where its circle was driven.
    pub(super) round_at: At,
    /// Its centre, mm.
    pub(super) centre: [f64; 2],
    /// Its radius, mm.
    pub(super) radius: f64,
    /// Its floor, mm above the deck: negative.
    pub(super) floor: f64,
    /// Radius of what may still stand in its middle, mm; 0 where nothing does.
    pub(super) core: f64,
}

impl Swept {
    /// Whether a tool of a radius goes down to a height at a place without touching, with `spare` to the wall.
    pub(super) fn takes(&self, place: [f64; 2], radius: f64, height: f64, spare: f64) -> bool {
        height >= self.floor - 1e-9
            && self.core <= 0.0
            // Distances are written out in this room: the second reader shares none of the writer's sums.
            && (place[0] - self.centre[0]).hypot(place[1] - self.centre[1]) + radius + spare <= self.radius
    }
}

/// A move whose ends are known.
#[derive(Debug, Clone, Copy)]
struct Piece {
    at: At,
    way: Way,
    from: [f64; 3],
    to: [f64; 3],
    centre: [f64; 2],
    unit: Unit,
}

impl Piece {
    fn of(motion: &Motion, unit: Unit) -> Option<Self> {
        let [from, to] = [motion.from, motion.to].map(|p| match p {
            [Some(x), Some(y), Some(z)] => Some([x, y, z]),
            _ => None,
        });
        Some(Self { at: motion.at, way: motion.way, from: from?, to: to?, centre: motion.centre, unit })
    }

    fn is_arc(&self) -> bool {
        matches!(self.way, Way::Arc { .. })
    }

    /// Radius of an arc's path, mm.
    fn radius(&self) -> f64 {
        let r = |p: [f64; 3]| (p[0] - self.centre[0]).hypot(p[1] - self.centre[1]);
        f64::midpoint(r(self.from), r(self.to))
    }

    /// Where an arc starts, radians, and how far it goes round anticlockwise from there, or from its end.
    fn span(&self) -> [f64; 2] {
        let angle = |p: [f64; 3]| (p[1] - self.centre[1]).atan2(p[0] - self.centre[0]);
        let (mut start, mut end) = (angle(self.from), angle(self.to));
        if !matches!(self.way, Way::Arc { anticlockwise: true }) {
            std::mem::swap(&mut start, &mut end);
        }
        let round = (end - start).rem_euclid(TAU);
        // An arc that ends where it starts goes once round; the two count as one place within a last digit, as an
        // angle.
        let nothing = self.unit.arc() / self.radius().max(self.unit.arc());
        [start, if round < nothing || TAU - round < nothing { TAU } else { round }]
    }

    /// How high an arc passes an angle, mm; `None` where it does not.
    fn height_at(&self, angle: f64) -> Option<f64> {
        let [start, round] = self.span();
        let on = (angle - start).rem_euclid(TAU);
        let [from, to] = if matches!(self.way, Way::Arc { anticlockwise: true }) {
            [self.from[2], self.to[2]]
        } else {
            [self.to[2], self.from[2]]
        };
        (on <= round).then(|| from + (to - from) * on / round)
    }

    /// The farthest that any place of its path is from a point, mm.
    fn farthest(&self, point: [f64; 2]) -> f64 {
        let away = |x: f64, y: f64| (x - point[0]).hypot(y - point[1]);
        let ends = away(self.from[0], self.from[1]).max(away(self.to[0], self.to[1]));
        if !self.is_arc() {
            return ends;
        }
        let off = away(self.centre[0], self.centre[1]);
        let (radius, [start, round]) = (self.radius(), self.span());
        let outward = (self.centre[1] - point[1]).atan2(self.centre[0] - point[0]);
        if off < 1e-9 || (outward - start).rem_euclid(TAU) <= round { off + radius } else { ends }
    }
}

/// What a bore is planned to be, in the list's coordinates, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Planned {
    /// Its centre.
    pub(super) centre: [f64; 2],
    /// Its radius.
    pub(super) radius: f64,
    /// How far out from the middle nothing stands any more.
    pub(super) open: f64,
    /// Height where its wall begins.
    pub(super) top: f64,
    /// Most that a cutter goes down from one round to the next, where it is milled.
    pub(super) step_down: Option<f64>,
}

/// The cylinder that one way down and up sweeps; `None` where it sweeps none, and why is told in `flaws`.
pub(super) fn sweep(
    motions: &[Motion],
    cutter: Cutter,
    planned: &Planned,
    unit: Unit,
    flaws: &mut Flaws,
) -> Option<Swept> {
    let pieces: Vec<Piece> = motions.iter().filter_map(|m| Piece::of(m, unit)).collect();
    if pieces.is_empty() || pieces.len() < motions.len() {
        let at = motions.first().map_or_else(At::default, |m| m.at);
        flaws.add(at, "place_unknown", "a cut at a place that was never told", "X, Y and Z before it");
        return None;
    }
    match cutter {
        Cutter::Boring(radius) => bored(&pieces, radius, flaws),
        Cutter::Milling(radius) => milled(&pieces, radius, planned, unit, flaws),
    }
}

/// Straight down and up again: anything else with a boring head cuts no bore.
fn bored(pieces: &[Piece], radius: f64, flaws: &mut Flaws) -> Option<Swept> {
    let first = pieces.first()?;
    let centre = [first.from[0], first.from[1]];
    let mut swept =
        Swept { at: first.at, round_at: first.at, centre, radius, floor: f64::INFINITY, core: 0.0 };
    for piece in pieces {
        if piece.is_arc() || piece.farthest(centre) > 1e-9 {
            let found = "a boring head driven across in the bore";
            flaws.add(piece.at, "across_in_bore", found, "straight down and up");
            return None;
        }
        if piece.to[2] < swept.floor {
            (swept.floor, swept.at) = (piece.to[2], piece.at);
        }
    }
    Some(swept)
}

/// Round and down: the widest circle on the floor is the wall, and nothing goes beyond the planned one.
fn milled(pieces: &[Piece], cutter: f64, planned: &Planned, unit: Unit, flaws: &mut Flaws) -> Option<Swept> {
    let near = unit.arc();
    let first = pieces.first()?;
    let outside = |p: &&Piece| p.farthest(planned.centre) + cutter > planned.radius + near;
    for piece in pieces.iter().filter(outside) {
        let reached = piece.farthest(planned.centre) + cutter;
        let found =
            format!("a path that cuts {} {} from the bore's centre", unit.show(reached), unit.short());
        let expected = format!("at most {}, the wall", unit.show(planned.radius));
        flaws.add(piece.at, "outside_circle", found, expected);
    }
    let low = |p: &Piece| p.from[2].min(p.to[2]);
    let floor = pieces.iter().map(low).fold(f64::INFINITY, f64::min);
    let on_floor = |p: &&Piece| p.is_arc() && p.from[2].max(p.to[2]) <= floor + 1e-9;
    let arcs: Vec<&Piece> = pieces.iter().filter(on_floor).collect();
    let deepest = pieces.iter().find(|p| low(p) <= floor).unwrap_or(first);
    let Some(widest) = arcs.iter().map(|a| a.radius()).reduce(f64::max) else {
        let (code, found) = if pieces.iter().any(Piece::is_arc) {
            ("floor_open", format!("no circle at the lowest place, Z{}", unit.show(floor)))
        } else {
            ("no_circle", "a milling cutter driven down without a circle".to_owned())
        };
        flaws.add(deepest.at, code, found, "a full circle at the floor");
        return None;
    };
    let wall = |a: &Piece| widest - a.radius() <= near;
    let last = arcs.iter().rev().find(|a| wall(a))?;
    let centre = last.centre;
    let same = |a: &Piece| (a.centre[0] - centre[0]).hypot(a.centre[1] - centre[1]) <= near;
    // How much of a ring of some radius is gone over at the floor.
    let gone_over =
        |ring: f64| covered(arcs.iter().copied().filter(|a| same(a) && (a.radius() - ring).abs() <= near));
    let whole = |ring: f64| gone_over(ring) >= TAU - 2.0 * near / ring;
    if !whole(widest) {
        let found = format!("{:.0} degrees of the circle at the floor", gone_over(widest).to_degrees());
        flaws.add(last.at, "floor_open", found, "all 360");
        return None;
    }
    let walls: Vec<&Piece> =
        pieces.iter().filter(|p| p.is_arc() && same(p) && wall(p) && p.radius() - widest <= near).collect();
    if let Some((at, [from, to])) = planned.step_down.and_then(|step| gap(&walls, planned.top, step, near)) {
        let found = format!("the wall passed over from Z{} to Z{}", unit.show(from), unit.show(to));
        let most = planned.step_down.unwrap_or_default();
        flaws.add(at, "wall_open", found, format!("at most {} from round to round", unit.show(most)));
    }
    // Rings cut at the floor, from the wall inwards, as long as each meets what is already open.
    let mut rings: Vec<f64> =
        arcs.iter().filter(|a| same(a)).map(|a| a.radius()).filter(|r| *r > near).collect();
    rings.sort_by(|a, b| b.total_cmp(a));
    let mut core = widest - cutter;
    for ring in rings {
        if ring + cutter >= core && whole(ring) {
            core = core.min(ring - cutter);
        }
    }
    let core = if core <= planned.open + near { 0.0 } else { core };
    Some(Swept { at: deepest.at, round_at: last.at, centre, radius: widest + cutter, floor, core })
}

/// Where a wall is passed over: some side of it that no round comes by within a step down.
fn gap(walls: &[&Piece], top: f64, step_down: f64, near: f64) -> Option<(At, [f64; 2])> {
    /// Sides looked at: far more than the parts that a round is written in.
    const SIDES: u32 = 72;
    (0..SIDES).find_map(|side| {
        // Off the quarter points, where parts of a round meet.
        let angle = (f64::from(side) + 0.37) * TAU / f64::from(SIDES);
        let mut heights: Vec<(f64, At)> =
            walls.iter().filter_map(|p| Some((p.height_at(angle)?, p.at))).collect();
        heights.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut above = top;
        heights.into_iter().find_map(|(height, at)| {
            let from = above;
            above = above.min(height);
            (from - height > step_down + near).then_some((at, [from, height]))
        })
    })
}

/// How much of a circle some arcs of it go over together, radians.
fn covered<'a>(arcs: impl Iterator<Item = &'a Piece>) -> f64 {
    let mut spans: Vec<[f64; 2]> = Vec::new();
    for arc in arcs {
        let [start, round] = arc.span();
        let start = start.rem_euclid(TAU);
        spans.push([start, (start + round).min(TAU)]);
        if start + round > TAU {
            spans.push([0.0, start + round - TAU]);
        }
    }
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut reached, mut sum) = (0.0_f64, 0.0);
    for [from, to] in spans {
        sum += (to - from.max(reached)).max(0.0);
        reached = reached.max(to);
    }
    sum
}
