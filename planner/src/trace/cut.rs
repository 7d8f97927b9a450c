//! The rows of a list: step by step, bore by bore.

use super::way::{Own, Way};
use super::{Tracer, ledge};
use crate::plan::moves::{Move, MoveKind};
use crate::plan::sentence::{Sentence, before_mm, mm, signed_before_mm};
use crate::plan::touch::{TOUCH_DEPTH_MM, TRIED_BEYOND_MM};
use crate::plan::{Pass, Stage, Stop};
use crate::say;

/// "stop 7, ", as the sheet and the record number it.
fn numbered(pass: &Pass) -> String {
    pass.stop_number.map_or_else(String::new, |number| format!("stop {number}, "))
}

/// Of what a cut is the first.
#[derive(Clone, Copy)]
struct First {
    /// Since the head was set.
    set_anew: bool,
    /// Its step is the first of the list.
    of_stage: bool,
}

impl Tracer<'_> {
    /// What a tool is set to before a step, or for one cylinder of it.
    fn setting(&self, pass: &Pass, part: &str) -> Sentence {
        let tool = pass.tool.as_deref().unwrap_or("tool");
        let metal = match pass.stage {
            Stage::Finish => &self.job.sleeves[self.positions.sleeve].material,
            _ => &self.job.block.parent.material,
        };
        let warm = self.job.at_cutting_words(pass.diameter, metal.expansion_per_k);
        let (step, size) = (pass.step, pass.diameter);
        match &pass.mill {
            Some(mill) => say!(
                "step {}: {}, a cutter of {}, mills {} to {}{}",
                step,
                tool,
                mm(mill.cutter, 3),
                part,
                mm(size, 3),
                warm
            ),
            None if warm.is_empty() => say!("step {}: {} set to {}, {}", step, tool, mm(size, 3), part),
            None => say!("step {}: {} set to {} at 20 C{}, {}", step, tool, mm(size, 3), warm, part),
        }
    }

    /// Every row of a list.
    pub(super) fn moves(&self, stage: Stage, passes: &[&Pass]) -> Vec<Move> {
        let clear = self.coordinate(self.clear_mm(stage));
        let mut way = Way::new(clear, self.stop_mm(stage, passes));
        if stage == Stage::Finish {
            // Rapids clear a plate only where the job gives its thickness, so the stop says whether one is to be
            // on.
            let deck =
                if self.job.finish.plate_mm.is_some() { "torque plate on" } else { "bare deck, no plate" };
            way.stop(
                &Move::of,
                say!("{deck}, main caps torqued; zero re-indicated from the mains, never from a sleeve"),
            );
        }
        for of_step in passes.chunk_by(|a, b| a.step == b.step) {
            let Some(first) = of_step.first() else { continue };
            let step = |kind| Move { pass: Some(first.step), ..Move::of(kind) };
            way.stop(&step, self.setting(first, &first.feature));
            let (mut set_mm, mut set_anew) = (first.diameter, true);
            let mut before: Option<[f64; 2]> = None;
            for pass in of_step {
                let Some([x, y]) = self.told(pass.cylinder) else { continue };
                if pass.mill.is_none() && pass.diameter != set_mm {
                    // A sleeve measured for its bore asks for a pocket of its own.
                    (set_mm, set_anew) = (pass.diameter, true);
                    way.stop(&step, self.setting(pass, &format!("cylinder {}", pass.cylinder)));
                }
                let own =
                    |kind| Move { cylinder: Some(pass.cylinder), pass: Some(pass.step), ..Move::of(kind) };
                let across = before.map_or_else(Sentence::new, |[from_x, from_y]| {
                    say!(", step X {} Y {}", signed_before_mm(x - from_x, 3), signed_before_mm(y - from_y, 3))
                });
                before = Some([x, y]);
                let at = pass.mill.as_ref().map_or([x, y], |mill| self.milled_start(pass, mill, [x, y]));
                way.over(&own, at, pass.rpm, say!("cylinder {}{}", pass.cylinder, across));
                if let Some(mill) = &pass.mill {
                    let heights = (clear, self.cut_off_mm(stage));
                    way.extend(self.milled(pass, mill, [x, y], heights, &own).into_iter().flatten());
                    measure(&mut way, &own, pass);
                    continue;
                }
                let proves = self.proves(pass, First { set_anew, of_stage: first.step == passes[0].step });
                set_anew = false;
                if proves {
                    self.touch_first(&mut way, &own, pass, at);
                }
                self.bore(&mut way, &own, pass);
                if !(proves && stage == Stage::Rough) {
                    // Measured before the next bore is cut the same way, not after all of them.
                    measure(&mut way, &own, pass);
                }
                if stage == Stage::Rough && way.is_down() {
                    way.add(Move { z_mm: Some(clear), ..own(MoveKind::Rapid) });
                }
            }
        }
        way.end()
    }

    /// Whether the first cut of a bore is tried: in the pocket the head's setting, in rough and finish the place.
    fn proves(&self, pass: &Pass, first: First) -> bool {
        match pass.stage {
            Stage::Pocket => first.set_anew && pass.to - pass.from > TRIED_BEYOND_MM,
            stage => first.of_stage && pass.to - self.cut_off_mm(stage) > TRIED_BEYOND_MM,
        }
    }

    /// A short cut, a stop to look at it, and back down: a bore that bites on the wrong side can still be saved.
    fn touch_first(&self, way: &mut Way, own: Own<'_>, pass: &Pass, at: [f64; 2]) {
        let pocket = pass.stage == Stage::Pocket;
        let feed = Some(self.feed(pass.feed));
        let depth = if pocket { pass.from + TOUCH_DEPTH_MM } else { TOUCH_DEPTH_MM };
        let note = if pocket {
            // The depth that the row goes to: a part that begins deep down is tried deep down.
            say!("trial cut to depth {}", before_mm(self.coordinate(depth), 3))
        } else {
            say!("first touch, {} deep", before_mm(TOUCH_DEPTH_MM, 0))
        };
        let down = Some(self.coordinate(-depth));
        way.add(Move { z_mm: down, feed_mm_per_min: feed, note, ..own(MoveKind::Feed) });
        way.add(Move { z_mm: Some(way.clear_mm()), feed_mm_per_min: feed, ..own(MoveKind::Feed) });
        let look = pass.stop.as_ref().map_or_else(|| "look which side is cut".into(), Stop::whole);
        let tried = if pocket { "trial cut: " } else { "" };
        way.stop(own, say!("{}cylinder {}: {}{}", numbered(pass), pass.cylinder, tried, look));
        way.over(own, at, pass.rpm, say!("back over cylinder {}", pass.cylinder));
    }

    /// Down to depth with the spindle turning, and, but for roughing, out again at feed.
    fn bore(&self, way: &mut Way, own: Own<'_>, pass: &Pass) {
        let feed = self.feed(pass.feed);
        let to = pass.to - self.cut_off_mm(pass.stage);
        if let Some(floor) = self.ledge(pass) {
            way.extend(ledge::moves(floor, pass.rpm, feed, self.units(), own));
        } else {
            let note = say!("to depth {}", before_mm(self.coordinate(to), 3));
            let down = Some(self.coordinate(-to));
            way.add(Move { z_mm: down, feed_mm_per_min: Some(feed), note, ..own(MoveKind::Feed) });
        }
        if pass.stage != Stage::Rough {
            let clear = Some(way.clear_mm());
            way.add(Move { z_mm: clear, feed_mm_per_min: Some(feed), ..own(MoveKind::Feed) });
        }
        // On a rough bore the tip may drag a line, but the spindle must stand while it comes up fast.
        way.add(own(MoveKind::SpindleOff));
    }

    /// The depth of the ledge a finishing pass ends on, mm; `None` where it runs out below or is no ledge.
    fn ledge(&self, pass: &Pass) -> Option<f64> {
        let below = self.positions.pocket.depth_mm();
        let floor = pass.to < below - ledge::STRETCH_MM || pass.flat_end;
        (pass.stage == Stage::Pocket && floor && pass.to > ledge::STRETCH_MM).then_some(pass.to)
    }
}

/// The stop that a pass ends in, where it has one.
fn measure(way: &mut Way, own: Own<'_>, pass: &Pass) {
    if let Some(stop) = &pass.stop {
        way.stop(own, say!("{}cylinder {}: {}", numbered(pass), pass.cylinder, stop.whole()));
    }
}
