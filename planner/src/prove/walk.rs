//! The way through a list: step by step, bore by bore, each held against the plan.

use super::bores::{BITS_MM, Bores};
use super::control::{Event, Motion, What};
use super::flaw::{At, Flaws};
use super::reference::{Basis, List, Pass, Reference};
use super::rounded::Told;
use super::sweep::{Cutter, Planned, Swept, sweep};
use super::unit::Unit;

/// What an old bore may be narrower than its mean, mm: wear, taper and barrel. Common practice, no source.
const OLD_BORE_MM: f64 = 0.5;
/// A bore farther than this from every planned one is not taken for one of them, mm: far above a slip of a digit
/// that leaves it recognisable, far below the distance of two bores.
const SAME_BORE_MM: f64 = 5.0;

/// What a walk came to.
#[derive(Debug, Default)]
pub(super) struct Walked {
    pub(super) features: usize,
    pub(super) largest: f64,
    pub(super) notes: Vec<String>,
}

pub(super) struct Walk<'a, 'f> {
    pub(super) list: &'a List,
    pub(super) basis: &'a Basis,
    pub(super) bores: Bores<'a>,
    pub(super) flaws: &'f mut Flaws,
    /// Cylinders that are open: old bores, earlier lists, and what this one has swept.
    pub(super) open: Vec<Swept>,
    /// The step that the last tool stop named.
    pub(super) step: Option<u32>,
    /// The diameter that the last tool stop told, where it told one of the plan's, mm.
    pub(super) set: Option<f64>,
    /// Whether the last tool stop named a step that the plan does not have, which was told there.
    pub(super) step_unknown: bool,
    /// The way down that is not up again yet.
    down: Vec<Motion>,
    pub(super) turning: bool,
    /// Whether the list has stopped for anything but a tool.
    pub(super) has_stopped: bool,
    height: Option<f64>,
    /// Where X or Y was last told, and the cylinder that the comment there names.
    across: (At, Option<u32>),
    /// Where each cylinder was told to stand.
    told: Vec<(u32, [f64; 2], At)>,
    /// Least and most of X, Y, Z that is told, and where.
    pub(super) reached: [[(f64, At); 2]; 3],
    pub(super) result: Walked,
}

pub(super) fn walk(events: &[Event], list: &List, plan: &Reference, flaws: &mut Flaws) -> Walked {
    let basis = &list.proof;
    let bores = Bores::of(list, plan);
    let never = [(f64::INFINITY, At::default()), (f64::NEG_INFINITY, At::default())];
    let mut walk = Walk {
        list,
        basis,
        open: open_before(list, plan),
        bores,
        flaws,
        step: None,
        set: None,
        step_unknown: false,
        down: Vec::new(),
        turning: false,
        has_stopped: false,
        height: None,
        across: (At::default(), None),
        told: Vec::new(),
        reached: [never; 3],
        result: Walked::default(),
    };
    for event in events {
        walk.event(event);
    }
    let last = events.last().map_or_else(At::default, |e| e.at);
    walk.end(last);
    walk.result
}

/// What is open before the list starts: the old bores for roughing, what roughing cut for the pocket, nothing
/// that is known for the finish bore.
fn open_before(list: &List, plan: &Reference) -> Vec<Swept> {
    let basis = &list.proof;
    let own =
        |stage: &'static str| plan.passes.iter().filter(move |p| p.bank == list.bank && p.stage == stage);
    match list.stage.as_str() {
        "rough" => {
            let here = |n: u32| own("rough").any(|p| p.cylinder == n);
            let old = plan.cylinders.iter().filter(|c| here(c.cylinder)).map(|c| c.measured);
            old.map(|m| Swept {
                at: At::default(),
                round_at: At::default(),
                centre: basis.listed([m.x, m.y]),
                radius: m.diameter / 2.0 - m.tilt.x.hypot(m.tilt.y) * basis.deepest - OLD_BORE_MM,
                floor: -basis.deepest,
                core: 0.0,
            })
            .collect()
        }
        "pocket" => own("rough")
            .map(|p| Swept {
                at: At::default(),
                round_at: At::default(),
                centre: basis.listed([p.x, p.y]),
                radius: p.diameter / 2.0,
                floor: -p.to,
                core: 0.0,
            })
            .collect(),
        _ => Vec::new(),
    }
}

impl<'a> Walk<'a, '_> {
    /// Whether a height clears everything that stands on the deck; the plan's is written to the list's last digit.
    pub(super) fn is_clear(&self, z: f64) -> bool {
        z >= self.basis.clearance - self.basis.unit().rounded()
    }

    /// The pass that gives the current step its tool, speed and feed.
    pub(super) fn pass(&self) -> Option<&'a Pass> {
        self.bores.any(self.step?)
    }

    /// What turns in the spindle.
    pub(super) fn cutter(&self) -> Option<Cutter> {
        let pass = self.pass()?;
        match self.bores.tool(pass) {
            Some(tool) if tool.kind == "milling" => Some(Cutter::Milling(tool.diameter[0] / 2.0)),
            _ => Some(Cutter::Boring(self.set.unwrap_or(pass.diameter) / 2.0)),
        }
    }

    /// Takes one event of the list in, and tells what breaks a rule of spindle and stops: a stop while it turns, a
    /// tool left in the bore.
    fn event(&mut self, event: &Event) {
        let in_bore = self.height.is_some_and(|z| !self.is_clear(z));
        match &event.what {
            What::Motion(motion) => self.motion(motion, event),
            What::SpindleOn => {
                if in_bore {
                    let found = "the spindle started in the bore";
                    self.flaws.add(event.at, "spindle", found, "started above the deck");
                }
                self.turning = true;
            }
            What::SpindleOff => self.turning = false,
            What::Stop => {
                if self.turning {
                    self.flaws.add(event.at, "spindle", "a stop while the spindle turns", "M5 before it");
                }
                if in_bore {
                    self.flaws.add(
                        event.at,
                        "stop",
                        "a stop with the tool in the bore",
                        "the tool clear of the deck",
                    );
                }
                if event.note.starts_with("step ") {
                    self.tool_stop(event);
                } else {
                    self.has_stopped = true;
                    if let Some(bore) = self.bores.latest.and_then(|i| self.bores.all.get_mut(i)) {
                        bore.stops += 1;
                        bore.measured += usize::from(bore.is_done());
                    }
                }
            }
            What::End => {
                if self.turning {
                    self.flaws.add(event.at, "spindle", "an end while the spindle turns", "M5 before it");
                }
                if in_bore {
                    self.flaws.add(
                        event.at,
                        "stop",
                        "an end with the tool in the bore",
                        "the tool clear of the deck",
                    );
                }
            }
        }
    }

    /// Takes one move in: held against travel, reach and the rules of its kind; once the tool is up again, all
    /// moves since it went down are held against the bore.
    fn motion(&mut self, motion: &Motion, event: &Event) {
        if motion.to[0] != motion.from[0] || motion.to[1] != motion.from[1] {
            let named = event.note.strip_prefix("cylinder ").and_then(|rest| {
                rest.split(|c: char| !c.is_ascii_digit()).next().and_then(|n| n.parse().ok())
            });
            self.across = (motion.at, named);
            self.step_across(motion, event);
        }
        self.reach(motion);
        let Some(z) = motion.to[2] else {
            self.flaws.add(
                motion.at,
                "height_unknown",
                "a move across before any Z is told",
                "Z first, clear of the deck",
            );
            return;
        };
        // The height it comes from was not told; it is taken to come from above.
        let from = motion.from[2].unwrap_or(f64::INFINITY);
        self.height = Some(z);
        let (was_clear, is_clear) = (self.is_clear(from), self.is_clear(z));
        self.by_its_way(motion, [from, z]);
        if was_clear && is_clear {
            return;
        }
        self.down.push(*motion);
        if is_clear {
            self.up();
        }
    }

    /// The tool is clear again: what it swept is a bore of the plan, or nothing that may be cut.
    fn up(&mut self) {
        let unit = self.basis.unit();
        let down = std::mem::take(&mut self.down);
        let Some(first) = down.first() else { return };
        let (Some(step), Some(cutter)) = (self.step, self.cutter()) else {
            if self.step_unknown {
                return;
            }
            self.flaws.add(
                first.at,
                "step",
                "a cut before any tool is set",
                "a stop with the comment `step n`",
            );
            return;
        };
        let place = [first.from[0].unwrap_or(f64::NAN), first.from[1].unwrap_or(f64::NAN)];
        let planned = self.bores.nearest(step, place).and_then(|(i, _)| self.bores.all.get(i)).map(|b| {
            let radius = b.pass.diameter / 2.0;
            Planned {
                centre: b.centre,
                radius,
                open: radius - b.pass.stock.max,
                top: self.basis.cut_off - b.pass.from,
                step_down: b.pass.mill.map(|mill| mill.step_down),
            }
        });
        let swept = planned.and_then(|planned| sweep(&down, cutter, &planned, unit, self.flaws));
        let Some(swept) = swept else { return };
        self.rapids_out(&down, cutter, &swept);
        let centre = swept.centre;
        let (mut at, named) = self.across;
        if matches!(cutter, Cutter::Milling(_)) {
            // Its centre is that of the circle on the floor, not where it came down.
            at = swept.round_at;
        }
        let Some((nearest, far)) = self.bores.nearest(step, centre) else { return };
        let of_name = named.and_then(|n| self.bores.of_step(step).find(|(_, b)| b.pass.cylinder == n));
        let index = if far <= 3.0 * unit.step() { nearest } else { of_name.map_or(nearest, |(i, _)| i) };
        let bore = &self.bores.all[index];
        let (cylinder, planned, pass, allowed) = (bore.pass.cylinder, bore.centre, bore.pass, bore.allowed);
        let to = bore.to;
        let apart = (centre[0] - planned[0]).hypot(centre[1] - planned[1]);
        if let Some(n) = named.filter(|n| *n != cylinder) {
            let found = format!("the comment names cylinder {n}, the place is cylinder {cylinder}'s");
            self.flaws.add(at, "cylinder_named", found, "one and the same");
        }
        if !allowed {
            let found = format!("cylinder {cylinder} cut, which is withheld");
            self.flaws.add(at, "withheld", found, "no coordinates for it");
        }
        let milled = matches!(cutter, Cutter::Milling(_));
        Told { cylinder, at, told: centre, planned, milled, basis: self.basis }.judge(self.flaws);
        self.told.push((cylinder, centre, at));
        let fits = apart <= SAME_BORE_MM;
        let depth = self.depth(index, &swept, &down);
        let radius = 2.0 * (swept.radius - pass.diameter / 2.0).abs();
        // A circle's ends are rounded on their own; what a head is set to is one figure.
        let within = if milled { unit.step() + BITS_MM } else { unit.rounded() };
        if radius > within {
            let found =
                format!("{} {} across at cylinder {cylinder}", unit.show(2.0 * swept.radius), unit.short());
            let expected = format!("{}, as planned", unit.show(pass.diameter));
            self.flaws.add(swept.round_at, "diameter", found, expected);
        }
        if swept.core > 0.0 {
            let found = format!(
                "a core of {} {} left standing in cylinder {cylinder}",
                unit.show(2.0 * swept.core),
                unit.short()
            );
            self.flaws.add(swept.round_at, "core", found, "all of it cut");
        }
        if fits && depth {
            self.result.features += 1;
            let off = [0, 1].map(|k| (centre[k] - planned[k]).abs());
            let largest = off[0].max(off[1]).max(radius).max((swept.floor + to).abs());
            self.result.largest = self.result.largest.max(largest);
        }
        self.open.push(swept);
    }

    /// Holds a floor against the plan; whether the bore is then at its depth.
    fn depth(&mut self, index: usize, swept: &Swept, down: &[Motion]) -> bool {
        let (at, unit) = (self.across.0, self.basis.unit());
        let (proves, touch) = (self.bores.proves(index), self.bores.touch(index));
        let bore = &self.bores.all[index];
        let (named, to) = (bore.named(), bore.to);
        if bore.is_done() {
            let first = down.first().map_or(at, |m| m.at);
            self.flaws.add(first, "twice_cut", format!("{named} cut a second time"), "each pass once");
        }
        let again = bore.floor.is_some() && self.bores.latest == Some(index);
        if again && proves && bore.stops == 0 {
            let first = down.first().map_or(at, |m| m.at);
            let found = format!("{named} gone on with after the first touch, without a stop");
            self.flaws.add(first, "stop_missing", found, "M0 to look which side is cut");
        }
        if !again {
            self.bores.begin(index, at, self.flaws);
        }
        let bore = &mut self.bores.all[index];
        let fresh = bore.floor.is_none();
        let floor = swept.floor;
        bore.floor = Some(bore.floor.map_or(floor, |before| before.min(floor)));
        let reached = -floor;
        if reached > to + unit.rounded() {
            let found = format!("Z{}, below the floor of {named}", unit.show(floor));
            self.flaws.add(swept.at, "too_deep", found, format!("Z{}", unit.show(-to)));
            return false;
        }
        if fresh && proves {
            if (reached - touch).abs() > unit.rounded() {
                let found = format!("{named} first cut {} deep", unit.show(reached));
                let expected = format!("a first touch {} deep, and a stop to look", unit.show(touch));
                self.flaws.add(swept.at, "touch_missing", found, expected);
            } else {
                return false;
            }
        }
        if reached < to - unit.rounded() {
            let found = format!("Z{}, above the floor of {named}", unit.show(floor));
            self.flaws.add(swept.at, "too_shallow", found, format!("Z{}", unit.show(-to)));
            return false;
        }
        true
    }

    fn end(&mut self, at: At) {
        if !self.down.is_empty() {
            self.up();
        }
        self.bores.end(at, self.flaws);
        self.spans();
        self.pairs();
    }

    /// Holds neighbours, both where the list puts them, against the limits between them: together they may lose one
    /// step of rounding and no more.
    fn pairs(&mut self) {
        let unit = self.basis.unit();
        for near in &self.basis.near {
            let of = |n: u32| {
                let told = self.told.iter().rev().find(|t| t.0 == n)?;
                let pass = self.bores.all.iter().find(|b| b.pass.cylinder == n)?;
                Some((self.basis.in_bank([told.1[0] - pass.centre[0], told.1[1] - pass.centre[1]]), told.2))
            };
            let Some((own, at)) = of(near.cylinder) else { continue };
            let Some((other, _)) = near.against.and_then(of) else { continue };
            let step = [own[0] - other[0], own[1] - other[1]];
            let margin = near.margin + near.towards[0] * step[0] + near.towards[1] * step[1];
            if margin < near.margin.min(0.0) - unit.step() - BITS_MM {
                let found = format!(
                    "cylinders {} and {} as told leave {} {} beyond the limit {}",
                    near.cylinder,
                    near.against.unwrap_or_default(),
                    unit.fine(margin),
                    unit.short(),
                    near.limit.replace('_', " ")
                );
                self.flaws.add(
                    at,
                    "limit",
                    found,
                    format!(
                        "{}, less {} at most",
                        unit.fine(near.margin),
                        match unit {
                            Unit::Mm => "a thousandth",
                            Unit::Inch => "a ten-thousandth",
                        }
                    ),
                );
            }
        }
    }
}
