//! Lists of points: the nearest, the farthest, and which of them any centre in a square can touch.

use nalgebra::Vector2;

/// The point farthest from a place, with the squared distance.
pub(super) fn farthest(points: &[Vector2<f64>], from: Vector2<f64>) -> Option<(Vector2<f64>, f64)> {
    foremost(points, |at| -(at - from).norm_squared()).map(|(at, value)| (at, -value))
}

/// The point nearest to a place, with the squared distance.
pub(super) fn nearest(points: &[Vector2<f64>], from: Vector2<f64>) -> Option<(Vector2<f64>, f64)> {
    foremost(points, |at| (at - from).norm_squared())
}

/// The points compared at a time: enough that keeping the place of the best costs nothing beside them.
const STRIDE: usize = 256;
/// The minima kept side by side, so that the processor need not wait for one before the next.
const LANES: usize = 4;

/// The first point with the least value, and the value.
fn foremost(points: &[Vector2<f64>], value: impl Fn(&Vector2<f64>) -> f64) -> Option<(Vector2<f64>, f64)> {
    let lesser = |a: f64, b: f64| if a < b { a } else { b };
    let mut best: Option<(&[Vector2<f64>], f64)> = None;
    for stride in points.chunks(STRIDE) {
        let (lanes, rest) = stride.as_chunks::<LANES>();
        let mut least = [f64::INFINITY; LANES];
        for lane in lanes {
            for (least, at) in least.iter_mut().zip(lane) {
                *least = lesser(value(at), *least);
            }
        }
        let least = least.into_iter().chain(rest.iter().map(&value)).fold(f64::INFINITY, lesser);
        if best.is_none_or(|(_, before)| least < before) {
            best = Some((stride, least));
        }
    }
    let (stride, least) = best?;
    stride.iter().find(|at| value(at) <= least).map(|&at| (at, least))
}

/// A square of centres with sides along the axes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Square {
    pub(super) centre: Vector2<f64>,
    /// Half a side.
    pub(super) half: f64,
}

impl Square {
    /// The distance from the centre to a corner.
    pub(super) fn corner(&self) -> f64 {
        self.half * std::f64::consts::SQRT_2
    }

    /// A place, or the nearest one in the square.
    pub(super) fn kept(&self, at: Vector2<f64>) -> Vector2<f64> {
        let away = at - self.centre;
        self.centre + away.sup(&Vector2::repeat(-self.half)).inf(&Vector2::repeat(self.half))
    }

    /// The four quarters of the square.
    pub(super) fn quarters(&self) -> [Self; 4] {
        let half = self.half / 2.0;
        [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)]
            .map(|(x, y)| Self { centre: self.centre + Vector2::new(x, y) * half, half })
    }
}

/// Which end of the distances matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// Points that can be the nearest.
    Near,
    /// Points that can be the farthest.
    Far,
}

/// Lists no longer than this are not worth thinning.
const SHORT: usize = 24;
/// The most sectors that a long list is sorted into; more than that cost more memory than they spare points.
const MOST_SECTORS: u32 = 4_096;
/// The points per sector of a list that is not long.
const PER_SECTOR: usize = 4;

/// The points that can be the nearest (or farthest) from some centre in the square; a few others may be left.
///
/// A point p gives way to q where |p - c|² - |q - c|² ≥ 2 (p - q)·x for every x of the square, from its centre
/// c: then q is as near from all of them. Compared are the points of one sector with its nearest.
pub(super) fn thinned(points: &[Vector2<f64>], square: &Square, side: Side) -> Vec<Vector2<f64>> {
    let sign = if side == Side::Near { 1.0 } else { -1.0 };
    let best = match side {
        Side::Near => nearest(points, square.centre),
        Side::Far => farthest(points, square.centre),
    };
    let Some((_, best_squared)) = best.filter(|_| points.len() > SHORT) else { return points.to_vec() };
    let limit = best_squared.sqrt() + sign * 2.0 * square.corner();
    // A little wider than need be, for rounding.
    let limit_squared = if limit > 0.0 { limit * limit * (1.0 + sign * 1e-14) } else { sign * limit };
    let mut kept: Vec<Vector2<f64>> = points
        .iter()
        .copied()
        .filter(|at| sign * ((at - square.centre).norm_squared() - limit_squared) <= 0.0)
        .collect();
    if kept.len() <= SHORT {
        return kept;
    }
    let sectors = u32::try_from(kept.len() / PER_SECTOR).unwrap_or(u32::MAX).clamp(8, MOST_SECTORS);
    let mut leaders: Vec<Option<Vector2<f64>>> = vec![None; sectors as usize];
    for &at in &kept {
        let leader = &mut leaders[sector(at - square.centre, sectors)];
        let ahead = |than: Vector2<f64>| {
            sign * ((at - square.centre).norm_squared() - (than - square.centre).norm_squared()) < 0.0
        };
        if leader.is_none_or(ahead) {
            *leader = Some(at);
        }
    }
    kept.retain(|&at| {
        let Some(leader) = leaders[sector(at - square.centre, sectors)] else { return true };
        let apart = at - leader;
        let behind = sign * ((at - square.centre).norm_squared() - (leader - square.centre).norm_squared());
        // One of several equal points would do, but the leader itself must stay.
        apart == Vector2::zeros() || behind < 2.0 * square.half * (apart.x.abs() + apart.y.abs())
    });
    kept
}

/// The sector of a direction, of `sectors` that share the turn (evenly along |x| + |y| = 1, not in angle).
pub(super) fn sector(away: Vector2<f64>, sectors: u32) -> usize {
    let size = away.x.abs() + away.y.abs();
    if size == 0.0 {
        return 0;
    }
    let ahead = 1.0 - away.x / size;
    let share = if away.y < 0.0 { 4.0 - ahead } else { ahead } / 4.0;
    whole(share * f64::from(sectors)).min(sectors - 1) as usize
}

/// The whole part of a number from 0 to the number of sectors.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "`as` keeps to the ends for what does not fit, and has no other rounding than towards zero"
)]
fn whole(value: f64) -> u32 {
    value as u32
}
