//! One bore's limits as a field over the plane: positive where a centre may stand.

use std::collections::BTreeSet;

use borewright_geometry::{Bound, Constraint, Spread};

use super::MadeBy;
use crate::place::seated::Positions;
use crate::plan::judge::FACTOR;

/// How far from its target and its planned centre a zone is looked for, mm; bores are moved by tenths.
const LOOKED_FOR_MM: f64 = 2.5;

/// What is asked of every limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Level {
    /// A verdict of go.
    Go,
    /// A margin of at least 0.
    Possible,
}

/// One limit's demand: margin - reserve must not be negative.
#[derive(Debug, Clone)]
pub(super) struct Demand {
    pub(super) made_by: MadeBy,
    on: On,
}

#[derive(Debug, Clone)]
enum On {
    Bound(Box<Constraint>),
    /// Inside a rectangle, least and most of x and y.
    Window([[f64; 2]; 2]),
}

impl Demand {
    /// What the margin has beyond the demand, mm.
    pub(super) fn value_mm(&self, at: [f64; 2]) -> f64 {
        match &self.on {
            On::Bound(bound) => {
                let m = bound.bound.margin(at);
                m.value_mm - bound.reserve_mm(m.line_mm)
            }
            On::Window([x, y]) => (at[0] - x[0]).min(x[1] - at[0]).min(at[1] - y[0]).min(y[1] - at[1]),
        }
    }

    /// The value and how it grows with the centre.
    pub(super) fn slope(&self, at: [f64; 2]) -> (f64, [f64; 2]) {
        const STEP_MM: f64 = 1e-6;
        match &self.on {
            On::Bound(bound) => {
                let m = bound.bound.margin(at);
                let turning = bound.reserve_gradient(m.line_mm);
                let gradient = [0, 1].map(|k| m.gradient[k] - turning[k]);
                (self.value_mm(at), gradient)
            }
            On::Window(_) => {
                let value = self.value_mm(at);
                let gradient = [0, 1].map(|k| {
                    let mut moved = at;
                    moved[k] += STEP_MM;
                    (self.value_mm(moved) - value) / STEP_MM
                });
                (value, gradient)
            }
        }
    }

    /// The value, and the most that it can change within `half_mm` of `at`, mm.
    ///
    /// A margin changes by no more than the centre moves; its reserve with the direction of the line it is measured
    /// along.
    pub(super) fn value_and_reach_mm(&self, at: [f64; 2], half_mm: f64) -> (f64, f64) {
        let On::Bound(bound) = &self.on else { return (self.value_mm(at), half_mm) };
        let m = bound.bound.margin(at);
        (m.value_mm - bound.reserve_mm(m.line_mm), half_mm + bound.reserve_swing_mm(m.line_mm, half_mm))
    }
}

/// All demands on one centre, and the rectangle that they are looked at in.
#[derive(Debug, Clone)]
pub(super) struct Field {
    pub(super) demands: Vec<Demand>,
    /// Least and most of x and y, mm; empty where most is not above least.
    pub(super) window_mm: [[f64; 2]; 2],
}

impl Field {
    /// The field of one bore, its neighbours at their planned centres.
    pub(super) fn of(positions: &Positions, index: usize, level: Level) -> Self {
        let bore = &positions.bores[index];
        let mut demands = Demands::default();
        for c in bore.clauses.iter().filter(|c| c.binding) {
            let made_by = MadeBy {
                limit: c.limit,
                feature: c.feature.clone(),
                depth: c.depth_mm,
                clock: c.clock_deg,
                preferred: false,
            };
            demands.ask(level, &made_by, c.constraint, c.prefer_margin_mm);
        }
        for &(a, b) in &positions.pairs {
            let Some(other) = [(a, b), (b, a)].iter().find(|(own, _)| *own == index).map(|pair| pair.1)
            else {
                continue;
            };
            let neighbour = &positions.bores[other];
            for c in &positions.pair_clauses {
                let made_by = MadeBy {
                    limit: c.limit,
                    feature: format!("{} to cylinder {}", c.feature, neighbour.site.cylinder),
                    depth: c.depth_mm,
                    clock: None,
                    preferred: false,
                };
                let bound = Bound::Outside { centre_mm: neighbour.planned_mm, radius_mm: c.apart.least_mm };
                let kept = Constraint::new(bound, c.apart.spread, c.apart.give, FACTOR);
                demands.ask(level, &made_by, kept, c.prefer_margin_mm);
            }
        }
        Self::within(demands.all, &[bore.target_mm, bore.planned_mm])
    }

    /// Looks round these places, and no farther than the circles to stay inside.
    fn within(mut demands: Vec<Demand>, round_mm: &[[f64; 2]]) -> Self {
        let mut window_mm = [0, 1].map(|k| {
            let of = || round_mm.iter().map(|at| at[k]);
            [
                of().fold(f64::INFINITY, f64::min) - LOOKED_FOR_MM,
                of().fold(f64::NEG_INFINITY, f64::max) + LOOKED_FOR_MM,
            ]
        });
        demands.push(Demand {
            made_by: MadeBy {
                limit: "none",
                feature: "no limit within what was looked at".into(),
                depth: None,
                clock: None,
                preferred: false,
            },
            on: On::Window(window_mm),
        });
        for demand in &demands {
            let On::Bound(kept) = &demand.on else { continue };
            let Bound::Inside { centre_mm, radius_mm } = kept.bound else { continue };
            let radius = radius_mm - kept.least_reserve_mm();
            for k in 0..2 {
                window_mm[k][0] = window_mm[k][0].max(centre_mm[k] - radius);
                window_mm[k][1] = window_mm[k][1].min(centre_mm[k] + radius);
            }
        }
        Self { demands, window_mm }
    }

    /// The least of all demands, mm: not negative where a centre may stand.
    #[cfg(test)]
    pub(super) fn value_mm(&self, at: [f64; 2]) -> f64 {
        self.demands.iter().map(|d| d.value_mm(at)).fold(f64::INFINITY, f64::min)
    }
}

/// Demands, each once.
#[derive(Default)]
struct Demands {
    all: Vec<Demand>,
    /// Every demand so far by its bits, which can be ordered: bound, certainty, level. Its reserve follows from
    /// these.
    stand: BTreeSet<([u64; 14], [u64; 4], bool)>,
}

impl Demands {
    /// Adds a limit's demands at a level, unless the very same one stands already.
    fn ask(&mut self, level: Level, made_by: &MadeBy, kept: Constraint, prefer_margin_mm: Option<f64>) {
        let mut add = |kept: Constraint, preferred: bool| {
            let Spread { x_mm, y_mm, all_mm } = kept.spread;
            let surely = [x_mm, y_mm, all_mm, kept.give].map(f64::to_bits);
            if self.stand.insert((kept.bound.bits(), surely, preferred)) {
                let made_by = MadeBy { preferred, ..made_by.clone() };
                self.all.push(Demand { made_by, on: On::Bound(Box::new(kept)) });
            }
        };
        match level {
            Level::Possible => add(kept.asked(0.0), false),
            Level::Go => {
                add(kept.asked(FACTOR), false);
                if let Some(margin) = prefer_margin_mm {
                    add(Constraint::new(kept.bound.tightened(margin), kept.spread, kept.give, 0.0), true);
                }
            }
        }
    }
}
