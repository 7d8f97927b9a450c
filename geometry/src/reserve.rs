//! The reserve that a circle or a zone keeps for the error of a point inside it.
//!
//! Lengths mm.

use std::collections::VecDeque;
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::{PoisonError, RwLock};

use crate::inside::{
    least_radius, normal_below, normal_quantile, probability_between, radius_of_sure, radius_within, root,
};
use crate::sample::count;

/// Terms of the series by direction: enough for sigmas that differ tenfold.
const TERMS: usize = 33;

/// Numbers of terms tried in turn, since sigmas that differ little need fewer; each reuses the directions of the
/// one before.
const TRIED: [usize; 3] = [9, 17, TERMS];

/// A series is complete where its last two terms are below this, mm.
const ENDED_MM: f64 = 1e-9;

/// Reserves that are remembered: all bores of a job ask for the same few.
const MOST_KNOWN: usize = 64;

/// Reserves already worked out, by the bits of what was asked: most of a plan's time would go into the same few.
static KNOWN: RwLock<VecDeque<([u64; 4], Reserve)>> = RwLock::new(VecDeque::new());

/// What a circle keeps in reserve for an error of the point inside it, by direction: a point that stands nearer the
/// edge than the reserve is not inside with the probability asked.
///
/// Reserve = R - r(t), r the radius of the line of that probability in direction t. It has the symmetries of the
/// two axes, so a series in cos 2kt through evenly spaced directions gives it to 1e-8 mm, and to 1e-5 where one
/// sigma is ten times the other.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "a few are held at once, and read far oftener than moved")]
pub enum Reserve {
    /// Alike in every direction, mm.
    Even(f64),
    /// By direction: coefficients of cos 2kt, mm.
    Turning([f64; TERMS]),
}

impl Reserve {
    /// The reserve of a circle of `radius` for sigmas along x and y, so that the point is inside with Phi(z).
    #[must_use]
    pub fn of(radius: f64, sigma: [f64; 2], z: f64) -> Self {
        let asked = [radius, sigma[0], sigma[1], z].map(f64::to_bits);
        let known = KNOWN.read().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, known)) = known.iter().find(|(of, _)| *of == asked) {
            return *known;
        }
        drop(known);
        let found = Self::found(radius, sigma, z);
        let mut known = KNOWN.write().unwrap_or_else(PoisonError::into_inner);
        if !known.iter().any(|(of, _)| *of == asked) {
            if known.len() == MOST_KNOWN {
                known.pop_front();
            }
            known.push_back((asked, found));
        }
        found
    }

    /// The reserve of a circle of this radius, mm, worked out anew rather than looked up.
    fn found(radius: f64, sigma: [f64; 2], z: f64) -> Self {
        let alike = (sigma[0].abs() - sigma[1].abs()).abs() <= 1e-12;
        let middle = least_radius(sigma, z);
        if alike || radius <= middle {
            let kept = radius_within(radius, sigma, 0.0, z);
            return Self::Even(radius - kept);
        }
        let mut values = [None; TERMS];
        let mut terms = [0.0; TERMS];
        for tried in TRIED {
            let every = (TERMS - 1) / (tried - 1);
            let at =
                |j: usize| radius - radius_of_sure(radius, sigma, FRAC_PI_2 * count(j) / count(TERMS - 1), z);
            let own: Vec<f64> =
                (0..tried).map(|j| *values[j * every].get_or_insert_with(|| at(j * every))).collect();
            // The discrete cosine transform of the first kind; the ends count half.
            let steps = count(tried - 1);
            let half = |j: usize| if j == 0 || j == tried - 1 { 0.5 } else { 1.0 };
            for (k, term) in terms.iter_mut().take(tried).enumerate() {
                let sum: f64 =
                    (0..tried).map(|j| half(j) * own[j] * (PI * count(j) * count(k) / steps).cos()).sum();
                *term = 2.0 / steps * half(k) * sum;
            }
            if terms[tried - 2..tried].iter().all(|term| term.abs() < ENDED_MM) {
                break;
            }
        }
        Self::Turning(terms)
    }

    /// The reserve of a zone between two parallel lines, `half` to either side of its middle.
    #[must_use]
    pub fn between(half: f64, u: f64, z: f64) -> Self {
        let asked = normal_below(z);
        let sure =
            |off: f64, half: f64| normal_quantile(probability_between(off, half, u)).clamp(-38.0, 38.0) - z;
        if u <= 0.0 {
            return Self::Even(0.0);
        }
        if probability_between(0.0, half, u) < asked {
            return Self::Even(root(|h| -sure(0.0, h), 0.0, (z.abs() + 3.0) * u));
        }
        Self::Even(half - root(|off| sure(off, half), 0.0, (half - z * u).max(0.0) + 1e-12))
    }

    /// The reserve towards (dx, dy), mm; without a direction the largest.
    #[must_use]
    pub fn towards(&self, [dx, dy]: [f64; 2]) -> f64 {
        match self {
            Self::Even(mm) => *mm,
            Self::Turning(_) if dx.hypot(dy) <= 0.0 => self.towards([1.0, 0.0]).max(self.towards([0.0, 1.0])),
            Self::Turning(terms) => multiples([dx, dy]).zip(terms).map(|([cos, _], a)| a * cos).sum(),
        }
    }

    /// How the reserve changes with the vector (dx, dy), no unit; zero without a direction.
    #[must_use]
    pub fn gradient(&self, [dx, dy]: [f64; 2]) -> [f64; 2] {
        let square = dx * dx + dy * dy;
        match self {
            Self::Turning(terms) if square > 0.0 => {
                let turn: f64 = multiples([dx, dy])
                    .zip(terms)
                    .enumerate()
                    .map(|(k, ([_, sin], a))| -a * 2.0 * count(k) * sin)
                    .sum();
                [-turn * dy / square, turn * dx / square]
            }
            _ => [0.0, 0.0],
        }
    }

    /// The most by which the reserve differs between two directions, mm, and changes with one radian of turn, mm.
    #[must_use]
    pub fn swing(&self) -> (f64, f64) {
        match self {
            Self::Even(_) => (0.0, 0.0),
            Self::Turning(terms) => {
                let of = |by: fn(f64) -> f64| {
                    terms.iter().enumerate().skip(1).map(|(k, a)| by(count(k)) * a.abs()).sum::<f64>()
                };
                (of(|_| 2.0), of(|k| 2.0 * k))
            }
        }
    }
}

/// cos 2kt and sin 2kt for k = 0, 1, 2, … of the direction t of a vector, by the addition theorem.
fn multiples([dx, dy]: [f64; 2]) -> impl Iterator<Item = [f64; 2]> {
    let square = dx * dx + dy * dy;
    let (cos, sin) = ((dx * dx - dy * dy) / square, 2.0 * dx * dy / square);
    std::iter::successors(Some([1.0, 0.0]), move |[c, s]| Some([c * cos - s * sin, s * cos + c * sin]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inside::probability_inside;

    #[test]
    fn a_reserve_gives_just_the_probability_asked_in_every_direction() {
        for (radius, sigma) in
            [(0.04, [0.0155, 0.0057]), (0.5, [0.0155, 0.0057]), (0.05, [0.006, 0.06]), (0.02, [0.005, 0.005])]
        {
            let reserve = Reserve::of(radius, sigma, 1.65);
            if probability_inside([0.0, 0.0], radius, sigma) < normal_below(1.65) {
                assert!(reserve.towards([1.0, 0.0]) > radius);
                continue;
            }
            for step in 0..37 {
                let (sin, cos) = (f64::from(step) * 0.17).sin_cos();
                let far = radius - reserve.towards([cos, sin]);
                let z = normal_quantile(probability_inside([far * cos, far * sin], radius, sigma));
                assert!((z - 1.65).abs() < 1e-4, "{radius} {sigma:?} {step}: {z}");
            }
        }
    }

    #[test]
    fn a_reserve_turns_as_its_gradient_says() {
        let reserve = Reserve::of(0.04, [0.0155, 0.0057], 1.65);
        let (at, h) = ([0.004, -0.007], 1e-8);
        for axis in 0..2 {
            let mut moved = at;
            moved[axis] += h;
            let slope = (reserve.towards(moved) - reserve.towards(at)) / h;
            assert!((slope - reserve.gradient(at)[axis]).abs() < 1e-4, "{slope} {:?}", reserve.gradient(at));
        }
    }

    #[test]
    fn a_series_that_ends_early_ends_where_all_directions_do() {
        let near = [([0.0062, 0.0057], 1e-8), ([0.0061, 0.0042], 1e-8), ([0.0155, 0.0057], 1e-8)];
        for (sigma, within) in near.into_iter().chain([([0.006, 0.06], 1e-5)]) {
            for radius in [0.08, 0.3, 2.0] {
                let reserve = Reserve::of(radius, sigma, 1.65);
                // Directions that no series was made of.
                for step in 0..60 {
                    let t = FRAC_PI_2 * (f64::from(step) + 0.37) / 60.0;
                    let (sin, cos) = t.sin_cos();
                    let exact = radius - radius_within(radius, sigma, t, 1.65);
                    let off = (reserve.towards([cos, sin]) - exact).abs();
                    assert!(off < within, "{sigma:?} {radius} {t}: {off}");
                }
            }
        }
    }

    #[test]
    fn a_large_circle_asks_hardly_more_than_a_half_plane() {
        let reserve = Reserve::of(10.0, [0.005, 0.005], 1.65).towards([1.0, 0.0]);
        assert!((reserve - 1.65 * 0.005).abs() < 1e-5, "{reserve}");
    }

    #[test]
    fn a_reserve_asked_for_again_is_the_same_to_the_bit() {
        let fresh = Reserve::found(0.04, [0.0155, 0.0057], 1.65);
        for _ in 0..3 {
            assert_eq!(Reserve::of(0.04, [0.0155, 0.0057], 1.65), fresh);
            // More than are remembered come between.
            for n in 1..=70 {
                let _ = Reserve::of(0.04 + f64::from(n) * 1e-3, [0.005, 0.005], 1.65);
            }
        }
    }
}
