//! A ring of points seen from near its middle, and how far off the best centre can be.

use nalgebra::Vector2;

use super::lists::sector;

/// The directions kept of a ring; the gap between two that are kept is never less than the true one.
const DIRECTIONS: u32 = 256;
/// Most steps of a search for a root; one that has not come to rest by then never does.
const MOST_STEPS: usize = 200;

/// A ring of points seen from a place inside it.
pub(super) struct Ring {
    /// The distance of the nearest point.
    pub(super) inner: f64,
    /// The distance of the farthest point.
    pub(super) outer: f64,
    /// Directions of some points, round the clock.
    directions: Vec<Vector2<f64>>,
}

impl Ring {
    pub(super) fn about(centre: Vector2<f64>, points: &[Vector2<f64>]) -> Self {
        let mut some: Vec<Option<Vector2<f64>>> = vec![None; DIRECTIONS as usize];
        let (mut least, mut most) = (f64::INFINITY, 0.0f64);
        for at in points {
            let away = at - centre;
            let squared = away.norm_squared();
            least = least.min(squared);
            most = most.max(squared);
            some[sector(away, DIRECTIONS)].get_or_insert(away);
        }
        let directions = some.into_iter().flatten().filter_map(|away| away.try_normalize(0.0)).collect();
        Self { inner: least.sqrt(), outer: most.sqrt(), directions }
    }

    /// How far from here a zone as thin as this one can have its centre; `None` where the points do not tell.
    /// See [`minimum_zone_circle`](super::minimum_zone_circle).
    pub(super) fn zone_reach(&self) -> Option<f64> {
        let spread = self.spread();
        let twice = 2.0 * (self.outer - self.inner);
        let mut reach = 0.0;
        for _ in 0..MOST_STEPS {
            let next = (twice + reach * reach / (2.0 * (self.inner - reach))) / spread;
            if next.is_nan() || next >= self.inner / 2.0 {
                return None;
            }
            if next - reach <= f64::EPSILON * self.inner {
                // Rounding on the safe side.
                return Some(next * (1.0 + 1e-9));
            }
            reach = next;
        }
        None
    }

    /// The least width of the directions' outline: over all ways to look, the least of what lies between the
    /// foremost and the hindmost.
    fn spread(&self) -> f64 {
        let sides = self.directions.iter().zip(self.directions.iter().cycle().skip(1));
        let width = |(a, b): (&Vector2<f64>, &Vector2<f64>)| {
            let along = (b - a).try_normalize(0.0)?;
            Some(self.directions.iter().map(|c| along.perp(&(c - a)).abs()).fold(0.0, f64::max))
        };
        let least = sides.filter_map(width).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    }

    /// How far from here, within the hull of the points, a centre can have a larger inscribed circle than
    /// here; `None` where the points do not tell.
    ///
    /// Within half the widest gap of any way out there is a point, at some distance a from here; from a place
    /// d out it is sqrt(a² + d² - 2 a d cos(gap/2)) away or less, which for d between the two roots is less
    /// than the least distance here. The greater root must lie outside the hull.
    pub(super) fn inscribed_reach(&self) -> Option<f64> {
        let sides = self.directions.iter().zip(self.directions.iter().cycle().skip(1));
        let turn = |(a, b): (&Vector2<f64>, &Vector2<f64>)| {
            a.perp(b).atan2(a.dot(b)).rem_euclid(std::f64::consts::TAU)
        };
        let gap = sides.map(turn).fold(0.0, f64::max);
        if self.directions.len() < 3 || gap >= std::f64::consts::PI {
            return None;
        }
        let ahead = (gap / 2.0).cos();
        let under = (self.outer * ahead).powi(2) - (self.outer - self.inner) * (self.outer + self.inner);
        if under <= 0.0 {
            return None;
        }
        let (middle, aside) = (self.outer * ahead, under.sqrt());
        let past_hull = |reach: f64| reach > self.outer * (1.0 + 1e-9);
        let told = past_hull(middle + aside) && past_hull(2.0 * self.inner * ahead);
        told.then(|| (self.outer - self.inner) * (self.outer + self.inner) / (middle + aside) * (1.0 + 1e-9))
    }
}

/// One edge of a convex hull: places x inside it have `inward`·x ≥ `from`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wall {
    /// Of length 1.
    pub(super) inward: Vector2<f64>,
    pub(super) from: f64,
}

impl Wall {
    /// How far inside a place is; negative outside.
    pub(super) fn inside_by(&self, at: Vector2<f64>) -> f64 {
        self.inward.dot(&at) - self.from
    }
}

/// The edges of the convex hull (A. M. Andrew's chain, Information Processing Letters 9, 1979).
pub(super) fn hull(points: &[Vector2<f64>]) -> Vec<Wall> {
    let mut sorted = points.to_vec();
    sorted.sort_unstable_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |points: &mut dyn Iterator<Item = &Vector2<f64>>| {
        let mut chain: Vec<Vector2<f64>> = Vec::new();
        for &at in points {
            while let [.., a, b] = chain[..]
                && (b - a).perp(&(at - b)) <= 0.0
            {
                chain.pop();
            }
            chain.push(at);
        }
        chain
    };
    let (below, above) = (chain(&mut sorted.iter()), chain(&mut sorted.iter().rev()));
    let edges = |chain: &[Vector2<f64>]| -> Vec<Wall> {
        let wall = |pair: &[Vector2<f64>]| {
            let along = (pair[1] - pair[0]).try_normalize(0.0)?;
            let inward = Vector2::new(-along.y, along.x);
            Some(Wall { inward, from: inward.dot(&pair[0]).min(inward.dot(&pair[1])) })
        };
        chain.windows(2).filter_map(wall).collect()
    };
    [edges(&below), edges(&above)].concat()
}

/// The centre and half side of a square that holds all points.
pub(super) fn square_round(points: &[Vector2<f64>]) -> (Vector2<f64>, f64) {
    let mut least = Vector2::repeat(f64::INFINITY);
    let mut most = -least;
    for at in points {
        least = least.inf(at);
        most = most.sup(at);
    }
    ((least + most) / 2.0, (most - least).amax() / 2.0 * (1.0 + 1e-12))
}
