//! The least circle round points: see [`minimum_circumscribed_circle`](super::minimum_circumscribed_circle).

use nalgebra::Vector2;

use super::lists::farthest;

/// Points this much outside, as a share of the squared radius, are on the circle: a few roundings.
const OUTSIDE: f64 = 8.0 * f64::EPSILON;
/// Each step takes in one more point; ten or twenty are usual for a million points, and the cap only makes
/// sure of an end.
const MOST_STEPS: usize = 10_000;

/// A circle with the points that carry it.
#[derive(Debug, Clone)]
struct Carried {
    centre: Vector2<f64>,
    squared: f64,
    by: Vec<Vector2<f64>>,
}

impl Carried {
    fn through(by: &[Vector2<f64>]) -> Option<Self> {
        let centre = match *by {
            [a, b] => (a + b) / 2.0,
            [a, b, c] => circumcentre(a, b, c)?,
            _ => return None,
        };
        let squared = by.iter().map(|at| (at - centre).norm_squared()).fold(0.0, f64::max);
        Some(Self { centre, squared, by: by.to_vec() })
    }

    /// By how much a point is outside, as a share of the squared radius.
    fn excess(&self, at: Vector2<f64>) -> f64 {
        (at - self.centre).norm_squared() / self.squared - 1.0
    }
}

/// The centre of the circle through three points; `None` where they are on one line.
fn circumcentre(a: Vector2<f64>, b: Vector2<f64>, c: Vector2<f64>) -> Option<Vector2<f64>> {
    let (u, v) = (b - a, c - a);
    let twice_area = u.perp(&v);
    let away = Vector2::new(
        v.y * u.norm_squared() - u.y * v.norm_squared(),
        u.x * v.norm_squared() - v.x * u.norm_squared(),
    ) / (2.0 * twice_area);
    (away.x.is_finite() && away.y.is_finite()).then(|| a + away)
}

/// The centre of the least circle round `points`, which are centred and scaled and not all in one place;
/// `None` where the steps do not end.
pub(super) fn least(points: &[Vector2<f64>]) -> Option<Vector2<f64>> {
    let (first, _) = farthest(points, Vector2::zeros())?;
    let (second, _) = farthest(points, first)?;
    let mut circle = Carried::through(&[first, second])?;
    for _ in 0..MOST_STEPS {
        let (far, _) = farthest(points, circle.centre)?;
        if circle.excess(far) <= OUTSIDE {
            return Some(circle.centre);
        }
        let larger = grown(&circle, far)?;
        if larger.squared <= circle.squared {
            // Only rounding is left between the two.
            return Some(circle.centre);
        }
        circle = larger;
    }
    None
}

/// The least circle round the points that carry `circle` and a new one outside it, which is then on it.
fn grown(circle: &Carried, new: Vector2<f64>) -> Option<Carried> {
    let by = &circle.by;
    let pairs = by.iter().map(|&a| vec![a, new]);
    let triples = (0..by.len()).flat_map(|i| (0..i).map(move |j| vec![by[i], by[j], new]));
    let tried: Vec<Carried> = pairs.chain(triples).filter_map(|set| Carried::through(&set)).collect();
    let worst = |circle: &Carried| by.iter().map(|&at| circle.excess(at)).fold(0.0, f64::max);
    let holding = tried.iter().filter(|circle| worst(circle) <= OUTSIDE);
    let least = holding.min_by(|a, b| a.squared.total_cmp(&b.squared));
    // With points a rounding apart no circle may seem to hold all; the one that comes closest is taken.
    least.or_else(|| tried.iter().min_by(|a, b| worst(a).total_cmp(&worst(b)))).cloned()
}
