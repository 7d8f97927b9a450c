//! The bores that a list is to cut, and how far each is.

use super::flaw::{At, Flaws};
use super::reference::{Basis, List, Pass, Reference, Tool};
use crate::plan::cylinder_words;

/// How deep the first touch of a bore goes, mm (`docs/formats.md`): shallower shows too little, deeper spoils the
/// bore if the position is wrong. Typed again on purpose: read from the writer, a slip there would prove itself.
pub(super) const TOUCH_MM: f64 = 10.0;
/// Room for the last bits of sums and differences, mm.
pub(super) const BITS_MM: f64 = 1e-6;

/// One pass of the plan, in the list's own coordinates, and what was seen of it.
pub(super) struct Bore<'a> {
    pub(super) pass: &'a Pass,
    /// Planned centre as a list would tell it, mm.
    pub(super) centre: [f64; 2],
    /// Planned depth below the list's zero, mm.
    pub(super) to: f64,
    /// What a depth may differ from that, mm.
    rounded: f64,
    /// Whether the list may cut it at all.
    pub(super) allowed: bool,
    /// Lowest Z reached so far; `None` before it was begun.
    pub(super) floor: Option<f64>,
    /// Stops since it was begun.
    pub(super) stops: usize,
    /// Stops since it is at its depth.
    pub(super) measured: usize,
}

impl Bore<'_> {
    /// Whether the bore is at its depth.
    pub(super) fn is_done(&self) -> bool {
        self.floor.is_some_and(|floor| (floor + self.to).abs() <= self.rounded)
    }

    pub(super) fn named(&self) -> String {
        format!("cylinder {} in step {}", self.pass.cylinder, self.pass.step)
    }
}

/// Every bore of the list's bank and stage, in the order of work.
pub(super) struct Bores<'a> {
    pub(super) all: Vec<Bore<'a>>,
    pub(super) basis: &'a Basis,
    /// Index of the one begun last.
    pub(super) latest: Option<usize>,
}

impl<'a> Bores<'a> {
    pub(super) fn of(list: &'a List, plan: &'a Reference) -> Self {
        let own = plan.passes.iter().filter(|p| p.bank == list.bank && p.stage == list.stage);
        let all = own
            .map(|pass| Bore {
                pass,
                centre: list.proof.listed([pass.x, pass.y]),
                to: pass.to - list.proof.cut_off,
                rounded: list.proof.unit().rounded(),
                allowed: list.cylinders.contains(&pass.cylinder) && plan.may_cut(pass.cylinder),
                floor: None,
                stops: 0,
                measured: 0,
            })
            .collect();
        Self { all, basis: &list.proof, latest: None }
    }

    /// The bores of a step.
    pub(super) fn of_step(&self, step: u32) -> impl Iterator<Item = (usize, &Bore<'a>)> {
        self.all.iter().enumerate().filter(move |(_, b)| b.pass.step == step)
    }

    /// The first pass of a step, for its tool, speed and feed, which all bores of the bank share.
    pub(super) fn any(&self, step: u32) -> Option<&'a Pass> {
        self.of_step(step).next().map(|(_, b)| b.pass)
    }

    pub(super) fn tool(&self, pass: &Pass) -> Option<&'a Tool> {
        let name = pass.tool.as_deref()?;
        self.basis.tools.iter().find(|t| t.name == name)
    }

    /// The bore of a step that stands nearest to a place, with its distance, mm.
    pub(super) fn nearest(&self, step: u32, place: [f64; 2]) -> Option<(usize, f64)> {
        self.of_step(step)
            .map(|(i, b)| (i, (b.centre[0] - place[0]).hypot(b.centre[1] - place[1])))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// The first step of the list.
    pub(super) fn first_step(&self) -> Option<u32> {
        self.all.iter().find(|b| b.allowed).map(|b| b.pass.step)
    }

    /// Whether a pass of the pocket ends on a ledge: a deeper one of the same cylinder goes on below, or a step is
    /// left there.
    pub(super) fn on_ledge(&self, pass: &Pass) -> bool {
        let deepest = self
            .all
            .iter()
            .filter(|b| b.pass.cylinder == pass.cylinder)
            .map(|b| b.pass.to)
            .fold(0.0, f64::max);
        pass.stage == "pocket" && (pass.ledge || pass.to < deepest - BITS_MM || pass.flat_end)
    }

    /// Whether the first cut of a bore is a touch: that it stands where it should, or, in the pocket, that the head is
    /// set right wherever it was set anew.
    pub(super) fn proves(&self, index: usize) -> bool {
        let bore = &self.all[index];
        if self.tool(bore.pass).is_some_and(|tool| tool.kind == "milling") {
            return false;
        }
        if bore.pass.stage == "pocket" {
            let before = self.all[..index].iter().rev().find(|b| b.allowed);
            let set_anew = before.is_none_or(|b| {
                b.pass.step != bore.pass.step || (b.pass.diameter - bore.pass.diameter).abs() > BITS_MM
            });
            return set_anew && bore.pass.to - bore.pass.from > 2.0 * TOUCH_MM;
        }
        self.first_step() == Some(bore.pass.step) && bore.to > 2.0 * TOUCH_MM
    }

    /// How deep that touch goes, mm: below where the pass begins to cut.
    pub(super) fn touch(&self, index: usize) -> f64 {
        let bore = &self.all[index];
        if bore.pass.stage == "pocket" { bore.pass.from + TOUCH_MM } else { TOUCH_MM }
    }

    /// Notes that a bore is begun, or gone on with: in its order, after the stop of the one before.
    pub(super) fn begin(&mut self, index: usize, at: At, flaws: &mut Flaws) {
        if self.latest == Some(index) {
            return;
        }
        let from = self.latest.map_or(0, |latest| latest + 1);
        if index < from {
            let found = format!("{} behind {}", self.all[index].named(), self.all[from - 1].named());
            flaws.add(at, "order", found, "the order of the plan");
        }
        self.leave(at, flaws);
        self.missing(from..index, at, "passed over", flaws);
        self.latest = Some(self.latest.map_or(index, |latest| latest.max(index)));
    }

    /// Notes that the work goes on elsewhere: the bore before must be at its depth and measured.
    fn leave(&self, at: At, flaws: &mut Flaws) {
        let Some(bore) = self.latest.map(|i| &self.all[i]) else { return };
        if let Some(floor) = bore.floor.filter(|floor| *floor > -bore.to && !bore.is_done()) {
            let unit = self.basis.unit();
            let found = format!("{} left at Z{}", bore.named(), unit.show(floor));
            flaws.add(at, "unfinished", found, format!("Z{} first", unit.show(-bore.to)));
        }
        // The one stop of a roughing cut that proves position comes after its first touch.
        let at_touch = bore.pass.stage == "rough" && self.latest.is_some_and(|i| self.proves(i));
        let stops = if at_touch { bore.stops } else { bore.measured };
        if bore.pass.stop.is_some() && stops == 0 {
            let found = format!("no stop to measure after {}", bore.named());
            flaws.add(at, "stop_missing", found, "M0 before the next bore");
        }
    }

    /// Notes that the list ends.
    pub(super) fn end(&self, at: At, flaws: &mut Flaws) {
        self.leave(at, flaws);
        let from = self.latest.map_or(0, |latest| latest + 1);
        self.missing(from..self.all.len(), at, "never cut", flaws);
    }

    /// Names the bores of a stretch of the work that should have been cut, step by step.
    fn missing(&self, stretch: std::ops::Range<usize>, at: At, how: &str, flaws: &mut Flaws) {
        let lost: Vec<&Bore<'_>> =
            self.all.get(stretch).unwrap_or_default().iter().filter(|b| b.allowed).collect();
        for of_step in lost.chunk_by(|a, b| a.pass.step == b.pass.step) {
            let numbers: Vec<u32> = of_step.iter().map(|b| b.pass.cylinder).collect();
            let found = format!("{} in step {} {how}", cylinder_words(&numbers), of_step[0].pass.step);
            flaws.add(at, "missing", found, "every pass of the plan");
        }
    }
}
