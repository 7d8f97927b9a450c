//! How much a pass takes where its circle is not that of the surface before it.

use borewright_geometry::clock::clock_deg;
use borewright_geometry::eccentric_stock;

use super::NOTHING_MM;
use crate::passes::old_surface::surfaces;
use crate::passes::{Cut, worked};
use crate::plan::worked::Figure;
use crate::plan::{Stock, TouchCut};

/// What a pass takes in one bore, over its depth.
pub(super) struct Bite {
    /// Least and most stock.
    pub(super) stock: Stock,
    /// The least share of the circle in cut.
    pub(super) in_cut: f64,
    /// What the least and the most are worked from; only the first where the stock is even all round.
    pub(super) worked: [Option<Figure>; 2],
}

/// What a pass from an open radius to another takes between two depths, mm.
pub(super) fn bite(cut: &Cut<'_>, ends_mm: [f64; 2], open_mm: f64, radius_mm: f64) -> Bite {
    let mut stock = Stock { min: f64::INFINITY, max: 0.0 };
    let mut figures = [None, None];
    let mut in_cut: f64 = 1.0;
    // What an earlier concentric pass opened is no stock.
    let cap = radius_mm - open_mm;
    for old in surfaces(cut, ends_mm) {
        let [near, far] = old.metal_mm.map(|metal| eccentric_stock(metal, radius_mm, old.apart_mm));
        let (min, max) = (far.least_mm.min(cap).max(0.0), near.most_mm.min(cap));
        let even = |bound: f64| (bound >= cap).then(|| worked::even(radius_mm, open_mm));
        if min < stock.min {
            stock.min = min;
            let against = || worked::roughed(min, &old, old.metal_mm[1], radius_mm, true);
            let none = (min <= 0.0).then(|| worked::nothing(radius_mm, old.apart_mm));
            figures[0] = Some(none.or_else(|| even(far.least_mm)).unwrap_or_else(against));
        }
        if max > stock.max {
            stock.max = max;
            let against = || worked::roughed(max, &old, old.metal_mm[0], radius_mm, false);
            figures[1] = Some(even(near.most_mm).unwrap_or_else(against));
        }
        in_cut = in_cut.min(near.in_cut.min(far.in_cut));
    }
    // A concentric pass takes one stock all round.
    if (stock.max - stock.min).abs() <= NOTHING_MM {
        figures[1] = None;
    }
    Bite { stock, in_cut, worked: figures }
}

/// The touch check of a cut whose stock is known: where it bites first and deepest, with what both are worked from.
pub(super) fn touched(cut: &Cut<'_>, stock: Stock, [least, most]: [Option<Figure>; 2]) -> TouchCut {
    let old = cut.found.now.axis.at(0.0);
    let towards = [0, 1].map(|k| cut.bore.planned_mm[k] - old[k]);
    // A stock that is even all round is worked once.
    let most = most.or_else(|| least.clone());
    TouchCut { deepest: stock.max, least: stock.min, clock: clock_deg(towards), worked: [least, most] }
}
