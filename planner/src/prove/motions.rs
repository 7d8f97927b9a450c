//! How a tool may move: rapids, feeds, how far, how deep.

use super::bores::{BITS_MM, WITHIN_MM};
use super::control::{Motion, Way};
use super::reference::Pass;
use super::sweep::{Cutter, Swept};
use super::walk::Walk;

/// Half of the last digit of a feed, mm/min.
const FEED_STEP: f64 = 0.05;
/// The last stretch onto a ledge, mm, and the feed on it, mm a turn, as `docs/formats.md` and
/// `docs/calculations.md` have them.
const LEDGE_MM: f64 = 0.2;
const LEDGE_FEED_MM: f64 = 0.025;
/// The end of it, mm, and how many turns it takes at least.
const DWELL_MM: f64 = 0.005;
const DWELL_TURNS: f64 = 2.0;
/// The slowest feed that a list tells, mm/min.
const SLOWEST: f64 = 0.1;
/// A cutter goes down or up in what is open at this many times its feed at most.
const OPEN: f64 = 2.0;

impl<'a> Walk<'a, '_> {
    /// Depth, reach and travel of a target.
    pub(super) fn reach(&mut self, motion: &Motion) {
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
                let found = format!("{name}{value:.3}, in the machine {name} {place:+.3}");
                self.flaws.add(motion.at, "travel", found, format!("{from:.1} to {to:.1}, its travel"));
            }
        }
        let Some(z) = motion.to[2] else { return };
        if z < -self.basis.deepest - WITHIN_MM {
            let found = format!("Z{z:.3}, below the room under the bore");
            self.flaws.add(motion.at, "room_below", found, format!("at lowest Z{:.3}", -self.basis.deepest));
        }
        let tool = self.pass().and_then(|p| self.bores.tool(p));
        let plate = self.basis.plate.unwrap_or(0.0);
        if let Some(tool) = tool.filter(|t| plate - z > t.reach + WITHIN_MM) {
            let found = format!("Z{z:.3}, {:.1} below what stands on the deck", plate - z);
            self.flaws.add(
                motion.at,
                "tool_reach",
                found,
                format!("at most {:.1}, the tool's reach", tool.reach),
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
                let found = format!("{name} from {least:.3} to {most:.3}, a span of {:.1} mm", most - least);
                self.flaws.add(at, "travel", found, format!("at most {:.1}, the travel", to - from));
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
        let clear = self.basis.clearance;
        let at = motion.at;
        let across = motion.to[0] != motion.from[0] || motion.to[1] != motion.from[1];
        if self.is_clear(from) && self.is_clear(to) {
            return;
        }
        let place = |p: [Option<f64>; 3]| match p {
            [Some(x), Some(y), _] => Some([x, y]),
            _ => None,
        };
        let shown = match place(motion.to) {
            Some([x, y]) => format!("X{x:.3} Y{y:.3}"),
            None => "a place never told".to_owned(),
        };
        let (radius, milling) = match self.cutter() {
            Some(Cutter::Boring(radius)) => (radius, false),
            Some(Cutter::Milling(radius)) => (radius, true),
            None => (f64::INFINITY, false),
        };
        let inside = |p: [Option<f64>; 3], open: &[Swept]| {
            place(p).is_some_and(|p| open.iter().any(|o| o.takes(p, radius, from.min(to), WITHIN_MM)))
        };
        let room = inside(motion.from, &self.open) && inside(motion.to, &self.open);
        if across {
            if !room {
                let found = format!("a rapid across at Z{:.3} to {shown}", from.min(to));
                self.flaws.add(
                    at,
                    "rapid_across",
                    found,
                    format!("Z{clear:.3} or above, clear of what stands there"),
                );
            }
        } else if to < from {
            if !room {
                let what = if to < 0.0 { "into metal" } else { "below the clearance" };
                let found = format!("a rapid down to Z{to:.3} at {shown}, {what}");
                self.flaws.add(at, "rapid_down", found, format!("feed, or Z{clear:.3} or above"));
            }
        } else if !milling {
            if !self.is_clear(to) {
                let found = format!("a rapid up that ends in the bore, at Z{to:.3}");
                self.flaws.add(at, "rapid_out", found, format!("Z{clear:.3}, clear of what stands there"));
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
            if !swept.takes(place, radius, low, WITHIN_MM) {
                let found = "a rapid up along the wall";
                self.flaws.add(motion.at, "rapid_out", found, "away from the wall first");
            }
        }
    }

    /// A feed move below the clearance turns at the planned speed and goes at the planned feed.
    fn fed(&mut self, motion: &Motion, [from, to]: [f64; 2]) {
        if self.is_clear(from) && self.is_clear(to) {
            let found = format!("a feed move at Z{to:.3}, where nothing is cut");
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
        let planned = pass.feed.max(SLOWEST);
        if let Some(Cutter::Milling(radius)) = self.cutter() {
            let place = [motion.from, motion.to].map(|p| p[0].zip(p[1]).map(|(x, y)| [x, y]));
            let in_the_open = place[0] == place[1]
                && place[0].is_some_and(|p| self.open.iter().any(|o| o.takes(p, radius, from.min(to), 0.0)));
            if in_the_open && feed <= OPEN * planned + OPEN * FEED_STEP + BITS_MM {
                return;
            }
        }
        let down = to < from && motion.way == Way::Feed && planned_to > LEDGE_MM && self.bores.on_ledge(pass);
        let near = |above: f64| down && (to + planned_to - above).abs() <= WITHIN_MM + BITS_MM;
        if near(0.0) || near(DWELL_MM) {
            self.onto_ledge(motion, [from, to], (feed, pass.rpm, planned), near(0.0));
        } else if (feed - planned).abs() > FEED_STEP + BITS_MM {
            let found = format!("a feed of {feed:.1} in step {}", pass.step);
            self.flaws.add(told, "feed", found, format!("{planned:.1}, as planned"));
        }
    }

    /// The way onto a ledge: its last stretch slowly, the end of that over two turns.
    fn onto_ledge(
        &mut self,
        motion: &Motion,
        [from, to]: [f64; 2],
        (feed, rpm, planned): (f64, f64, f64),
        at_end: bool,
    ) {
        let slow = (rpm * LEDGE_FEED_MM).max(SLOWEST).min(planned);
        let stretch = from - to;
        let (wanted, expected) = if at_end {
            (DWELL_MM, format!("the last {DWELL_MM:.3} over {DWELL_TURNS:.0} turns"))
        } else {
            (LEDGE_MM - DWELL_MM, format!("{slow:.1} from {LEDGE_MM:.1} to {DWELL_MM:.3} above it"))
        };
        let fits = if at_end {
            let most = (rpm * DWELL_MM / DWELL_TURNS).max(SLOWEST);
            feed <= most + BITS_MM && feed >= most.min(planned) - 2.0 * FEED_STEP - BITS_MM
        } else {
            (feed - slow).abs() <= FEED_STEP + BITS_MM
        };
        if !fits {
            let found = format!("a feed of {feed:.1} onto the ledge at Z{to:.3}");
            self.flaws.add(motion.at, "ledge_feed", found, expected);
        } else if (stretch - wanted).abs() > WITHIN_MM + BITS_MM {
            let found = format!("{stretch:.3} onto the ledge at a feed of {feed:.1}");
            self.flaws.add(motion.at, "ledge_feed", found, expected);
        }
    }
}
