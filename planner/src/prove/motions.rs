//! Rules of motion: rapids, feeds, how far, how deep.

use super::bores::BITS_MM;
use super::control::{Motion, Way};
use super::reference::Pass;
use super::sweep::{Cutter, Swept};
use super::walk::Walk;

/// The last stretch onto a ledge, mm, and the feed on it, mm a turn, as `docs/formats.md` and
/// `docs/calculations.md` have them.
const LEDGE_MM: f64 = 0.2;
const LEDGE_FEED_MM: f64 = 0.025;
/// The end of it, mm, and how many turns it takes at least.
const DWELL_MM: f64 = 0.005;
const DWELL_TURNS: f64 = 2.0;
/// A cutter goes down or up in what is open at this many times its feed at most.
const OPEN: f64 = 2.0;

impl<'a> Walk<'a, '_> {
    /// Depth, reach and travel of a target.
    pub(super) fn reach(&mut self, motion: &Motion) {
        let (unit, within) = (self.basis.unit(), self.basis.unit().step());
        // An arc is wider than its ends: both sides of its circle count.
        let radius = match (motion.way, motion.from, motion.to) {
            (Way::Arc { .. }, _, [Some(x), Some(y), _]) => (x - motion.centre[0]).hypot(y - motion.centre[1]),
            _ => 0.0,
        };
        let wide = |axis: usize, told: f64| match axis {
            0 | 1 if radius > 0.0 => vec![motion.centre[axis] - radius, motion.centre[axis] + radius],
            _ => vec![told],
        };
        let told = motion.to.iter().enumerate().filter_map(|(axis, told)| Some((axis, (*told)?)));
        for (axis, value) in
            told.flat_map(|(axis, told)| wide(axis, told).into_iter().map(move |v| (axis, v)))
        {
            let [least, most] = &mut self.reached[axis];
            if value < least.0 {
                *least = (value, motion.at);
            }
            if value > most.0 {
                *most = (value, motion.at);
            }
            let name = ["X", "Y", "Z"][axis];
            let Some(zero) = self.basis.zero else { continue };
            let [from, to] = self.basis.travel[axis];
            let place = zero[axis] + value;
            if place < from - BITS_MM || place > to + BITS_MM {
                let found =
                    format!("{name}{}, in the machine {name} {}", unit.show(value), unit.signed(place));
                let expected = format!("{} to {}, its travel", unit.coarse(from), unit.coarse(to));
                self.flaws.add(motion.at, "travel", found, expected);
            }
        }
        let Some(z) = motion.to[2] else { return };
        if z < -self.basis.deepest - within {
            let found = format!("Z{}, below the room under the bore", unit.show(z));
            let expected = format!("at lowest Z{}", unit.show(-self.basis.deepest));
            self.flaws.add(motion.at, "room_below", found, expected);
        }
        let tool = self.pass().and_then(|p| self.bores.tool(p));
        let plate = self.basis.plate.unwrap_or(0.0);
        if let Some(tool) = tool.filter(|t| plate - z > t.reach + within) {
            let found =
                format!("Z{}, {} below what stands on the deck", unit.show(z), unit.coarse(plate - z));
            self.flaws.add(
                motion.at,
                "tool_reach",
                found,
                format!("at most {}, the tool's reach", unit.coarse(tool.reach)),
            );
        }
    }

    /// The span of each axis where the machine does not know the zero.
    pub(super) fn spans(&mut self) {
        if self.basis.zero.is_some() {
            return;
        }
        for (axis, name) in ["X", "Y", "Z"].into_iter().enumerate() {
            let [(least, below), (most, above)] = self.reached[axis];
            let [from, to] = self.basis.travel[axis];
            if most - least > to - from + BITS_MM {
                let at = if most.abs() > least.abs() { above } else { below };
                let unit = self.basis.unit();
                let found = format!(
                    "{name} from {} to {}, a span of {} {}",
                    unit.show(least),
                    unit.show(most),
                    unit.coarse(most - least),
                    unit.short()
                );
                self.flaws.add(
                    at,
                    "travel",
                    found,
                    format!("at most {}, the travel", unit.coarse(to - from)),
                );
            }
        }
    }

    /// The pass of the bore that a move is nearest to, and its planned depth.
    fn here(&self, motion: &Motion) -> Option<(&'a Pass, f64)> {
        let place = [motion.from[0].or(motion.to[0])?, motion.from[1].or(motion.to[1])?];
        let (index, _) = self.bores.nearest(self.step?, place)?;
        self.bores.all.get(index).map(|b| (b.pass, b.to))
    }

    /// Holds a move against what its kind may do.
    pub(super) fn by_its_way(&mut self, motion: &Motion, heights: [f64; 2]) {
        match motion.way {
            Way::Rapid => self.rapid(motion, heights),
            Way::Feed | Way::Arc { .. } => self.fed(motion, heights),
        }
    }

    /// A rapid stays clear of the deck, or inside what is open with the tool standing or room to the wall.
    fn rapid(&mut self, motion: &Motion, [from, to]: [f64; 2]) {
        let (unit, at) = (self.basis.unit(), motion.at);
        let clear = unit.show(self.basis.clearance);
        let across = motion.to[0] != motion.from[0] || motion.to[1] != motion.from[1];
        if self.is_clear(from) && self.is_clear(to) {
            return;
        }
        let place = |p: [Option<f64>; 3]| match p {
            [Some(x), Some(y), _] => Some([x, y]),
            _ => None,
        };
        let shown = match place(motion.to) {
            Some([x, y]) => format!("X{} Y{}", unit.show(x), unit.show(y)),
            None => "a place never told".to_owned(),
        };
        let (radius, milling) = match self.cutter() {
            Some(Cutter::Boring(radius)) => (radius, false),
            Some(Cutter::Milling(radius)) => (radius, true),
            None => (f64::INFINITY, false),
        };
        let inside = |p: [Option<f64>; 3], open: &[Swept]| {
            place(p).is_some_and(|p| open.iter().any(|o| o.takes(p, radius, from.min(to), unit.step())))
        };
        let room = inside(motion.from, &self.open) && inside(motion.to, &self.open);
        if across {
            if !room {
                let found = format!("a rapid across at Z{} to {shown}", unit.show(from.min(to)));
                self.flaws.add(
                    at,
                    "rapid_across",
                    found,
                    format!("Z{clear} or above, clear of what stands there"),
                );
            }
        } else if to < from {
            if !room {
                let what = if to < 0.0 { "into metal" } else { "below the clearance" };
                let found = format!("a rapid down to Z{} at {shown}, {what}", unit.show(to));
                self.flaws.add(at, "rapid_down", found, format!("feed, or Z{clear} or above"));
            }
        } else if !milling {
            if !self.is_clear(to) {
                let found = format!("a rapid up that ends in the bore, at Z{}", unit.show(to));
                self.flaws.add(at, "rapid_out", found, format!("Z{clear}, clear of what stands there"));
            }
            if self.turning {
                let found = "a rapid out of the bore while the spindle turns";
                self.flaws.add(at, "rapid_out", found, "M5 first, or feed");
            } else if self.list.stage != "rough" {
                let found =
                    format!("a rapid out of a bore of the {} stage, which drags a line", self.list.stage);
                self.flaws.add(at, "rapid_out", found, "feed, with the spindle turning");
            }
        }
    }

    /// A milling cutter comes up fast only where nothing touches it.
    pub(super) fn rapids_out(&mut self, down: &[Motion], cutter: Cutter, swept: &Swept) {
        let Cutter::Milling(radius) = cutter else { return };
        for motion in down.iter().filter(|m| m.way == Way::Rapid && m.to[2] > m.from[2]) {
            let place = [motion.from[0].unwrap_or(f64::NAN), motion.from[1].unwrap_or(f64::NAN)];
            let low = motion.from[2].unwrap_or(f64::NAN);
            if !swept.takes(place, radius, low, self.basis.unit().step()) {
                let found = "a rapid up along the wall";
                self.flaws.add(motion.at, "rapid_out", found, "away from the wall first");
            }
        }
    }

    /// A feed move below the clearance turns at the planned speed and goes at the planned feed.
    fn fed(&mut self, motion: &Motion, [from, to]: [f64; 2]) {
        let unit = self.basis.unit();
        // Half of the last digit of a feed.
        let feed_step = unit.feed_step() / 2.0;
        if self.is_clear(from) && self.is_clear(to) {
            let found = format!("a feed move at Z{}, where nothing is cut", unit.show(to));
            self.flaws.add(motion.at, "cuts_nothing", found, "a rapid, or a target in the bore");
            return;
        }
        if matches!(motion.way, Way::Arc { anticlockwise: false }) {
            let found = "a circle clockwise, which puts the cut on the other side of the cutter";
            self.flaws.add(motion.at, "side_of_cut", found, "G3: round the inside it climbs");
        }
        if motion.from[2].is_none() {
            let found = "a cut before any Z is told";
            self.flaws.add(motion.at, "height_unknown", found, "Z first, clear of the deck");
        }
        let Some((pass, planned_to)) = self.here(motion) else { return };
        match motion.rpm {
            None => {
                let found = "a cut while the spindle stands";
                self.flaws.add(motion.at, "spindle", found, format!("S{:.0} M3 before it", pass.rpm));
            }
            Some((rpm, told)) if (rpm - pass.rpm).abs() > 0.5 => {
                let found = format!("a speed of {rpm:.0} in step {}", pass.step);
                self.flaws.add(told, "speed", found, format!("{:.0}, as planned", pass.rpm));
            }
            Some(_) => {}
        }
        let Some((feed, told)) = motion.feed else { return };
        let planned = pass.feed.max(unit.feed_step());
        if let Some(Cutter::Milling(radius)) = self.cutter() {
            let place = [motion.from, motion.to].map(|p| p[0].zip(p[1]).map(|(x, y)| [x, y]));
            let in_the_open = place[0] == place[1]
                && place[0].is_some_and(|p| self.open.iter().any(|o| o.takes(p, radius, from.min(to), 0.0)));
            if in_the_open && feed <= OPEN * planned + OPEN * feed_step + BITS_MM {
                return;
            }
        }
        let down = to < from && motion.way == Way::Feed && planned_to > LEDGE_MM && self.bores.on_ledge(pass);
        let near = |above: f64| down && (to + planned_to - above).abs() <= unit.step() + BITS_MM;
        if near(0.0) || near(DWELL_MM) {
            self.onto_ledge(motion, [from, to], (feed, pass.rpm, planned), near(0.0));
        } else if (feed - planned).abs() > self.feed_off(planned) {
            let found = format!("a feed of {} in step {}", unit.show_feed(feed), pass.step);
            self.flaws.add(told, "feed", found, format!("{}, as planned", unit.show_feed(planned)));
        }
    }

    /// What a feed may differ from the planned one, mm/min: half of its last digit, and a whole one where that
    /// would be beyond the machine's fastest.
    fn feed_off(&self, planned: f64) -> f64 {
        let step = self.basis.unit().feed_step();
        let share = if planned + step / 2.0 > self.basis.feed { 1.0 } else { 0.5 };
        step * share + BITS_MM
    }

    /// The way onto a ledge: its last stretch slowly, the end of that over two turns.
    fn onto_ledge(
        &mut self,
        motion: &Motion,
        [from, to]: [f64; 2],
        (feed, rpm, planned): (f64, f64, f64),
        at_end: bool,
    ) {
        let unit = self.basis.unit();
        let (slowest, within) = (unit.feed_step(), unit.step());
        let slow = (rpm * LEDGE_FEED_MM).max(slowest).min(planned);
        let stretch = from - to;
        let (wanted, expected) = if at_end {
            (DWELL_MM, format!("the last {} over {DWELL_TURNS:.0} turns", unit.show(DWELL_MM)))
        } else {
            let (above, end) = (unit.coarse(LEDGE_MM), unit.show(DWELL_MM));
            (LEDGE_MM - DWELL_MM, format!("{} from {above} to {end} above it", unit.show_feed(slow)))
        };
        let fits = if at_end {
            let most = (rpm * DWELL_MM / DWELL_TURNS).max(slowest);
            feed <= most + BITS_MM && feed >= most.min(planned) - slowest - BITS_MM
        } else {
            (feed - slow).abs() <= slowest / 2.0 + BITS_MM
        };
        if !fits {
            let found = format!("a feed of {} onto the ledge at Z{}", unit.show_feed(feed), unit.show(to));
            self.flaws.add(motion.at, "ledge_feed", found, expected);
        } else if (stretch - wanted).abs() > within + BITS_MM {
            let found =
                format!("{} onto the ledge at a feed of {}", unit.show(stretch), unit.show_feed(feed));
            self.flaws.add(motion.at, "ledge_feed", found, expected);
        }
    }
}
