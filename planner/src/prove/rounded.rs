//! Rounded centres: whether each, as printed, still keeps the limits that the plan keeps.

use super::bores::BITS_MM;
use super::flaw::{At, Flaws};
use super::reference::{Basis, Near};

/// What a margin worked out from the plan's figures may be off, mm: they are rounded, and a margin bends by
/// less than this over two steps of a list.
const BENDS_MM: f64 = 2e-6;

/// A centre as it is told, against the planned one, both in the list's coordinates.
pub(super) struct Told<'a> {
    pub(super) cylinder: u32,
    pub(super) at: At,
    pub(super) told: [f64; 2],
    pub(super) planned: [f64; 2],
    /// Whether it is the middle of a circle, told from a start that is rounded on its own.
    pub(super) milled: bool,
    pub(super) basis: &'a Basis,
}

impl Told<'_> {
    /// The least margin of the limits in reach at a place, and the limit, mm.
    fn least(&self, place: [f64; 2]) -> Option<(f64, &Near)> {
        let step = self.basis.in_bank([place[0] - self.planned[0], place[1] - self.planned[1]]);
        let own = self.basis.near.iter().filter(|n| n.cylinder == self.cylinder);
        own.map(|n| (n.margin + n.towards[0] * step[0] + n.towards[1] * step[1], n))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The places of the grid about the planned centre, out to two steps.
    fn grid(&self) -> Vec<[f64; 2]> {
        let step = self.basis.unit().step();
        let corner = self.planned.map(|v| (v / step).floor());
        let steps = [-1.0, 0.0, 1.0, 2.0];
        let place = |i: f64, j: f64| [(corner[0] + i) * step, (corner[1] + j) * step];
        steps.iter().flat_map(|i| steps.iter().map(move |j| place(*i, *j))).collect()
    }

    /// Tells where a centre is not the nearest step in X and Y; one step off is allowed where a limit is in reach,
    /// two where no nearer place keeps the limits.
    pub(super) fn judge(&self, flaws: &mut Flaws) {
        let (unit, step) = (self.basis.unit(), self.basis.unit().step());
        let off = |p: [f64; 2]| (p[0] - self.planned[0]).abs().max((p[1] - self.planned[1]).abs());
        let shown = |p: [f64; 2]| format!("X{} Y{}", unit.show(p[0]), unit.show(p[1]));
        let far = off(self.told);
        let least = self.least(self.told);
        let at_plan = self.least(self.planned).map_or(f64::INFINITY, |(m, _)| m);
        let keeps = |p: [f64; 2]| self.least(p).is_none_or(|(m, _)| m >= at_plan.min(0.0) - BENDS_MM);
        let kept_near = || self.grid().into_iter().filter(|p| off(*p) <= step).any(keeps);
        let may_be_farther = far <= 2.0 * step + BITS_MM && least.is_some() && !kept_near();
        // Nothing but a limit in reach moves a centre off the nearest step.
        let within = if self.milled || least.is_some() { step + BITS_MM } else { unit.rounded() };
        if far > within && !may_be_farther {
            let expected = format!("{} for cylinder {}, rounded", shown(self.planned), self.cylinder);
            flaws.add(self.at, "centre", format!("a bore at {}", shown(self.told)), expected);
            return;
        }
        let Some((margin, near)) = least.filter(|_| !keeps(self.told)) else { return };
        let better = self.grid().into_iter().filter_map(|p| Some((self.least(p)?.0, p)));
        let best = better.max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((reached, place)) = best.filter(|(reached, _)| *reached > margin + BENDS_MM) {
            let found = format!(
                "{} of cylinder {} leaves {} {} beyond the limit {}",
                shown(self.told),
                self.cylinder,
                unit.fine(margin),
                unit.short(),
                near.limit.replace('_', " ")
            );
            flaws.add(
                self.at,
                "limit",
                found,
                format!("{}, which leaves {}", shown(place), unit.fine(reached)),
            );
        }
    }
}
