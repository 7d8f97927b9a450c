//! A control as it acts on the words: the modes that stay on, the moves, the spindle.

use super::flaw::{At, Flaws};
use super::unit::Unit;
use super::words::Block;

/// Room for the last bits of a feed, mm/min.
const BITS: f64 = 1e-9;

/// What the machine can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Able {
    /// What the list is in.
    pub(super) unit: Unit,
    /// The number of the machine's G word for that.
    pub(super) unit_number: u32,
    /// Least and most spindle speed, 1/min.
    pub(super) rpm: [f64; 2],
    /// Fastest feed, mm/min.
    pub(super) feed: f64,
}

/// The way a move goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// G0.
    Rapid,
    /// G1.
    Feed,
    /// G2, G3: a circle in X and Y, straight in Z.
    Arc {
        /// Whether it is G3.
        anticlockwise: bool,
    },
}

/// One move; a coordinate that the list has not told yet is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Motion {
    pub(super) at: At,
    pub(super) way: Way,
    /// X, Y, Z before, mm.
    pub(super) from: [Option<f64>; 3],
    /// X, Y, Z after, mm.
    pub(super) to: [Option<f64>; 3],
    /// Of an arc, mm.
    pub(super) centre: [f64; 2],
    /// mm/min, and where it was told.
    pub(super) feed: Option<(f64, At)>,
    /// Turns a minute and where they were told; `None` while the spindle stands.
    pub(super) rpm: Option<(f64, At)>,
}

/// What happens at a block.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    Motion(Box<Motion>),
    SpindleOn,
    SpindleOff,
    /// M0.
    Stop,
    /// M30.
    End,
}

/// A block as it is acted upon, with the comments before it in one line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Event {
    pub(super) at: At,
    pub(super) what: What,
    pub(super) note: String,
    /// Where the comment starts.
    pub(super) note_at: At,
}

/// The modes that stay on from block to block.
#[derive(Default)]
struct Modes {
    plane: bool,
    units: bool,
    absolute: bool,
    per_minute: bool,
    way: Option<Way>,
    at: [Option<f64>; 3],
    feed: Option<(f64, At)>,
    speed: Option<(f64, At)>,
    turning: bool,
    ended: bool,
}

/// Goes through the blocks as a control would.
pub(super) fn run(blocks: &[Block], able: &Able, flaws: &mut Flaws) -> Vec<Event> {
    let mut modes = Modes::default();
    let mut events = Vec::new();
    let mut last: Option<u32> = None;
    for block in blocks {
        if modes.ended {
            flaws.add(block.at, "after_end", "a block behind M30", "M30 in the last block");
        }
        match (block.at.block, last) {
            (None, _) => {
                flaws.add(block.at, "unnumbered", "a block without N", "N at the head of every block")
            }
            (Some(n), Some(before)) if n <= before => {
                flaws.add(block.at, "numbering", format!("N{n} behind N{before}"), "numbers that grow");
            }
            _ => {}
        }
        last = block.at.block.or(last);
        let mut event = |what| {
            let note_at = block.notes.first().map_or(block.at, |n| n.line.into());
            let texts: Vec<&str> = block.notes.iter().map(|n| n.text.as_str()).collect();
            events.push(Event { at: block.at, what, note: texts.join(" "), note_at });
        };
        modes.preparatory(block, able, flaws);
        modes.figures(block, able, flaws);
        if let Some(motion) = modes.motion(block, able, flaws) {
            event(What::Motion(Box::new(motion)));
        }
        if let Some(what) = modes.miscellaneous(block, flaws) {
            event(what);
        }
    }
    if !modes.ended && !blocks.is_empty() {
        let at = blocks.last().map_or_else(At::default, |b| b.at);
        flaws.add(at, "no_end", "the last block, without M30", "M30 in the last block");
    }
    events
}

impl Modes {
    /// Sets the modes that the G words of a block name; a word that comes twice, is no part of the format, or asks
    /// for a second kind of move is told in `flaws`.
    fn preparatory(&mut self, block: &Block, able: &Able, flaws: &mut Flaws) {
        let mut ways = 0;
        for (index, &g) in block.g.iter().enumerate() {
            if block.g[..index].contains(&g) {
                flaws.add(block.at, "twice", format!("G{g} twice"), "each word once");
            }
            match g {
                0..=3 => {
                    ways += 1;
                    self.way = Some(match g {
                        0 => Way::Rapid,
                        1 => Way::Feed,
                        _ => Way::Arc { anticlockwise: g == 3 },
                    });
                }
                17 => self.plane = true,
                90 => self.absolute = true,
                94 => self.per_minute = true,
                _ if g == able.unit_number => {
                    if self.units {
                        flaws.add(
                            block.at,
                            "unit_twice",
                            format!("G{g} a second time"),
                            "the unit told once",
                        );
                    }
                    self.units = true;
                }
                _ => {
                    let what = match g {
                        20 | 70 if able.unit == Unit::Mm => "inches",
                        20 | 70 => "the inch word of other machines",
                        21 | 71 if able.unit == Unit::Inch => "millimetres",
                        21 | 71 => "the millimetre word of other machines",
                        91 => "steps instead of coordinates",
                        18 | 19 => "another plane",
                        93 | 95 => "another kind of feed",
                        80..=89 => "a canned cycle",
                        _ => "a word that not every control reads alike",
                    };
                    let expected = format!("G0 G1 G2 G3 G17 G{} G90 G94 and nothing else", able.unit_number);
                    flaws.add(block.at, "unknown_word", format!("G{g}, {what}"), expected);
                }
            }
        }
        if ways > 1 {
            flaws.add(block.at, "two_motions", "two kinds of move in one block", "one of G0 G1 G2 G3");
        }
    }

    fn figures(&mut self, block: &Block, able: &Able, flaws: &mut Flaws) {
        if let Some(tenths) = block.feed {
            let (unit, feed) = (able.unit, able.unit.feed(tenths));
            let shown = unit.show_feed(feed);
            if feed <= 0.0 {
                flaws.add(block.at, "feed", format!("a feed of {shown}"), "a feed above nothing");
            }
            if feed > able.feed + BITS {
                let expected = format!("at most {}, the machine's fastest", unit.show_feed(able.feed));
                flaws.add(block.at, "feed", format!("a feed of {shown} {}/min", unit.short()), expected);
            }
            self.feed = Some((feed, block.at));
        }
        if let Some(speed) = block.speed {
            let speed = small(speed);
            if speed < able.rpm[0] || speed > able.rpm[1] {
                let expected = format!("{:.0} to {:.0}, what the machine turns", able.rpm[0], able.rpm[1]);
                flaws.add(block.at, "speed", format!("a speed of {speed:.0} 1/min"), expected);
            }
            self.speed = Some((speed, block.at));
        }
    }

    /// The move that a block makes, in mm whatever the list's unit; `None` where it makes none or an unreadable
    /// one. What a control could take in two ways is told in `flaws`.
    fn motion(&mut self, block: &Block, able: &Able, flaws: &mut Flaws) -> Option<Motion> {
        let [x, y, z, i, j] = block.lengths.map(|l| l.map(|l| able.unit.length(l)));
        let told = block.g.iter().any(|g| *g <= 3);
        if [x, y, z, i, j] == [None; 5] {
            if told {
                flaws.add(block.at, "no_target", "a move without a target", "X, Y or Z");
            }
            return None;
        }
        let Some(way) = self.way.filter(|_| told) else {
            let found = "a target without the kind of move";
            flaws.add(block.at, "no_motion_word", found, "G0, G1, G2 or G3 in every block that moves");
            return None;
        };
        if !(self.plane && self.units && self.absolute && self.per_minute) {
            let unit = format!("the unit (G{})", able.unit_number);
            let unsaid = [
                (self.plane, "the plane (G17)"),
                (self.units, unit.as_str()),
                (self.absolute, "absolute coordinates (G90)"),
                (self.per_minute, "feed per minute (G94)"),
            ];
            let unsaid: Vec<&str> = unsaid.iter().filter(|u| !u.0).map(|u| u.1).collect();
            let found = format!("a move before {} is set", unsaid.join(" and "));
            flaws.add(
                block.at,
                "modes",
                found,
                format!("G17, G{}, G90 and G94 before the first move", able.unit_number),
            );
            // Said once; every later move would say the same.
            (self.plane, self.units, self.absolute, self.per_minute) = (true, true, true, true);
        }
        let from = self.at;
        let to = [x.or(from[0]), y.or(from[1]), z.or(from[2])];
        self.at = to;
        let mut motion = Motion {
            at: block.at,
            way,
            from,
            to,
            centre: [0.0; 2],
            feed: self.feed.filter(|_| way != Way::Rapid),
            rpm: self.speed.filter(|_| self.turning),
        };
        match way {
            Way::Rapid | Way::Feed => {
                if i.is_some() || j.is_some() {
                    let expected = "I and J with G2 and G3 only";
                    flaws.add(block.at, "arc", "a straight move with a circle's centre", expected);
                }
            }
            Way::Arc { .. } => motion.centre = arc([x, y, i, j], &motion, able.unit, flaws)?,
        }
        if way != Way::Rapid && self.feed.is_none() {
            flaws.add(block.at, "no_feed", "a cut before any feed is told", "F in it or before it");
        }
        Some(motion)
    }

    /// What the M word of a block orders of spindle or list; `None` where it has none or an unknown one. Two of
    /// them, or one beside a move, is told in `flaws`.
    fn miscellaneous(&mut self, block: &Block, flaws: &mut Flaws) -> Option<What> {
        let [m, rest @ ..] = block.m.as_slice() else { return None };
        if !rest.is_empty() {
            flaws.add(block.at, "two_orders", "several M words in one block", "one M word");
        }
        if block.lengths != [None; 5] {
            let found = "a spindle word or a stop in a block that moves";
            flaws.add(
                block.at,
                "order_and_move",
                found,
                "a block of its own: controls differ in which comes first",
            );
        }
        match m {
            0 => Some(What::Stop),
            3 => {
                if self.speed.is_none() {
                    flaws.add(block.at, "no_speed", "M3 before any speed is told", "S with it");
                }
                self.turning = true;
                Some(What::SpindleOn)
            }
            5 => {
                self.turning = false;
                Some(What::SpindleOff)
            }
            30 => {
                self.ended = true;
                Some(What::End)
            }
            _ => {
                flaws.add(block.at, "unknown_word", format!("M{m}"), "M0 M3 M5 M30 and nothing else");
                None
            }
        }
    }
}

/// The centre of an arc, where its ends lie on one circle about it.
fn arc(told: [Option<f64>; 4], motion: &Motion, unit: Unit, flaws: &mut Flaws) -> Option<[f64; 2]> {
    let ([Some(x), Some(y), Some(i), Some(j)], [Some(from_x), Some(from_y), _]) = (told, motion.from) else {
        let expected = "X, Y, I and J all written, from a place that is known";
        flaws.add(motion.at, "arc", "a circle that is not wholly told", expected);
        return None;
    };
    let centre = [from_x + i, from_y + j];
    let (start, end) = (i.hypot(j), (x - centre[0]).hypot(y - centre[1]));
    if start < unit.arc() || (start - end).abs() > unit.arc() {
        let [start, end] = [start, end].map(|r| unit.show(r));
        let found = format!("an arc that starts {start} and ends {end} {} from its centre", unit.short());
        flaws.add(motion.at, "arc", found, format!("the same distance within {}", unit.fine(unit.arc())));
        return None;
    }
    Some(centre)
}

/// A count of digits as a number; none has more than nine of them.
fn small(count: i64) -> f64 {
    f64::from(i32::try_from(count).unwrap_or(i32::MAX))
}
