//! A constraint: what a centre must keep, how surely, and how it is judged where it stands.

use crate::inside::{normal_below, probability_between, probability_inside, radius_within};
use crate::place::{Bound, Margin, SAME_PLACE_MM, Spread};
use crate::reserve::Reserve;

/// A bound with the uncertainty of its margin, and how it gives when limits are eased.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constraint {
    /// The bound.
    pub bound: Bound,
    /// Standard uncertainty of the margin.
    pub spread: Spread,
    /// How much the margin grows for each mm of easing; 0 where it does not give.
    pub give: f64,
    /// How surely it must be kept: Phi(z); 0 where the margin alone counts.
    z: f64,
    /// What the margin must be beyond 0 to be kept so surely.
    reserve: Kept,
}

/// What a bound keeps in reserve.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "a few are held at once, and read far oftener than moved")]
pub(super) enum Kept {
    /// The error acts along one line: z times its standard uncertainty there.
    AlongTheLine,
    /// A reserve of its own, even all round or by the direction from the middle of a circle.
    By(Reserve),
    /// About one direction: the reserve there and how it changes with the line.
    Here(f64, [f64; 2]),
}

impl Constraint {
    /// A bound that must be kept with probability Phi(z); `z` of 0 asks for a margin of at least 0.
    #[must_use]
    pub fn new(bound: Bound, spread: Spread, give: f64, z: f64) -> Self {
        Self { bound, spread, give, z, reserve: Self::kept(bound, spread, z) }
    }

    fn kept(bound: Bound, spread: Spread, z: f64) -> Kept {
        match bound {
            _ if z <= 0.0 => Kept::By(Reserve::Even(0.0)),
            Bound::Inside { radius_mm, .. } => Kept::By(Reserve::of(radius_mm, spread.sigma(), z)),
            Bound::Between { axis, half_mm, .. } => {
                Kept::By(Reserve::between(half_mm, spread.sigma()[axis], z))
            }
            _ => Kept::AlongTheLine,
        }
    }

    /// This bound, giving by `give` for each mm that limits are eased by.
    #[must_use]
    pub fn giving(&self, give: f64) -> Self {
        Self { give, ..*self }
    }

    /// This bound asked with the certainty `z`, in standard uncertainties.
    #[must_use]
    pub fn asked(&self, z: f64) -> Self {
        if (z - self.z).abs() > 0.0 { Self::new(self.bound, self.spread, self.give, z) } else { *self }
    }

    /// This bound with the reserve that it has once eased by `eased_mm`, near the line from centre to bound
    /// `line_mm`.
    ///
    /// A larger circle keeps less in reserve.
    #[must_use]
    pub(crate) fn eased(&self, eased_mm: f64, line_mm: [f64; 2]) -> Self {
        const TURN_RAD: f64 = 1e-4;
        let more = self.give * eased_mm;
        if self.z <= 0.0 || more.abs() <= 0.0 {
            return *self;
        }
        let reserve = match self.bound {
            Bound::Inside { radius_mm, .. } => {
                let (radius, sigma) = (radius_mm + more, self.spread.sigma());
                let [dx, dy] = line_mm;
                let t = dy.atan2(dx);
                let at = |t: f64| radius - radius_within(radius, sigma, t, self.z);
                let length = dx.hypot(dy);
                let turn = if length < SAME_PLACE_MM || (sigma[0] - sigma[1]).abs() < 1e-12 {
                    0.0
                } else {
                    (at(t + TURN_RAD) - at(t - TURN_RAD)) / (2.0 * TURN_RAD * length * length)
                };
                Kept::Here(at(t), [-turn * dy, turn * dx])
            }
            Bound::Between { axis, half_mm, .. } => {
                Kept::By(Reserve::between(half_mm + more, self.spread.sigma()[axis], self.z))
            }
            _ => self.reserve,
        };
        Self { reserve, ..*self }
    }

    /// What the margin must be at the end of this line from the bound's middle, mm.
    #[must_use]
    pub fn reserve_mm(&self, line_mm: [f64; 2]) -> f64 {
        match &self.reserve {
            Kept::AlongTheLine => self.z * self.spread.along(line_mm),
            Kept::By(reserve) => reserve.towards(line_mm),
            Kept::Here(mm, _) => *mm,
        }
    }

    /// How the reserve changes with the line, no unit.
    #[must_use]
    pub fn reserve_gradient(&self, line_mm: [f64; 2]) -> [f64; 2] {
        match &self.reserve {
            Kept::AlongTheLine => self.spread.gradient(line_mm).map(|g| g * self.z),
            Kept::By(reserve) => reserve.gradient(line_mm),
            Kept::Here(_, gradient) => *gradient,
        }
    }

    /// Whether the error can leave the bound on more than one side: a circle to stay inside, a zone between two lines.
    #[must_use]
    pub fn is_two_sided(&self) -> bool {
        matches!(self.bound, Bound::Inside { .. } | Bound::Between { .. })
    }

    /// A reserve that the bound has at least in every direction, mm.
    #[must_use]
    pub fn least_reserve_mm(&self) -> f64 {
        // A circle or a zone lies within a half plane, so its reserve is at least that of a half plane.
        self.z * self.spread.least()
    }

    /// The most by which the reserve can change where the line moves by `moved_mm`, mm.
    #[must_use]
    pub fn reserve_swing_mm(&self, line_mm: [f64; 2], moved_mm: f64) -> f64 {
        let nearest = line_mm[0].hypot(line_mm[1]) - moved_mm;
        let (swing, turning) = match &self.reserve {
            Kept::By(reserve) => reserve.swing(),
            Kept::Here(..) => (f64::INFINITY, f64::INFINITY),
            Kept::AlongTheLine => {
                let Spread { x_mm: x, y_mm: y, all_mm } = self.spread;
                let least = self.spread.least();
                let most = x.abs().max(y.abs()).hypot(all_mm);
                let slope = if least > 0.0 { (x * x - y * y).abs() / (2.0 * least) } else { f64::INFINITY };
                (self.z * (most - least), self.z * slope)
            }
        };
        // The nearest place of a hole below a recess can jump, and the line with it.
        let jumps = matches!(self.bound, Bound::RecessClearOf { .. });
        if swing <= 0.0 || jumps || nearest <= SAME_PLACE_MM {
            swing
        } else {
            swing.min(turning * moved_mm / nearest)
        }
    }

    /// The margin at a centre, its standard uncertainty and the probability that it is kept.
    #[must_use]
    pub fn judged(&self, at_mm: [f64; 2]) -> Judged {
        let margin = self.bound.margin(at_mm);
        let u_mm = self.spread.along(margin.line_mm);
        let sigma = self.spread.sigma();
        let probability = match self.bound {
            Bound::Inside { radius_mm, .. } => probability_inside(margin.line_mm, radius_mm, sigma),
            Bound::Between { axis, half_mm, .. } => {
                probability_between(margin.line_mm[axis], half_mm, sigma[axis])
            }
            _ => one_sided(margin.value_mm, u_mm),
        };
        Judged { margin, u_mm, probability }
    }
}

/// A bound at one centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The margin.
    pub margin: Margin,
    /// Standard uncertainty of the margin, mm.
    pub u_mm: f64,
    /// The probability that the bound is kept.
    pub probability: f64,
}

/// The probability that a margin with a normal error along one line is not negative.
#[must_use]
pub fn one_sided(margin_mm: f64, u_mm: f64) -> f64 {
    if u_mm > 0.0 { normal_below(margin_mm / u_mm) } else { f64::from(u8::from(margin_mm >= 0.0)) }
}

/// One centre to be placed.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Where it should stand, mm.
    pub target_mm: [f64; 2],
    /// Its bounds.
    pub constraints: Vec<Constraint>,
}
