//! A milled pass as moves: down in the middle, in by an arc, round and down, once flat, out by an arc, up.

use borewright_geometry::Helix;

use super::Tracer;
use crate::plan::moves::{Move, MoveKind};
use crate::plan::sentence::Sentence;
use crate::plan::{Mill, Pass};
use crate::say;

impl Tracer<'_> {
    /// The cutter's way in the list's coordinates, mm.
    fn helix(&self, pass: &Pass, mill: &Mill, middle_mm: [f64; 2], cut_off_mm: f64) -> Helix {
        let height = |depth: f64| self.coordinate(cut_off_mm - depth);
        Helix {
            middle_mm,
            path_radius_mm: self.coordinate(mill.path_radius),
            from_mm: height(mill.start),
            to_mm: height(pass.to),
            step_down_mm: mill.step_down,
            grid_mm: self.units().step_mm(),
        }
    }

    /// Where the cutter goes down: beside the middle by less than a step, so that its arcs close on whole steps.
    pub(super) fn milled_start(&self, pass: &Pass, mill: &Mill, middle_mm: [f64; 2]) -> [f64; 2] {
        self.helix(pass, mill, middle_mm, 0.0).start_mm().map(|v| self.coordinate(v))
    }

    /// Moves from the clearance plane above [`Self::milled_start`] back to it, the spindle already turning.
    ///
    /// Anticlockwise seen from above: with a right-hand cutter that climbs round the inside. X, Y of the middle as
    /// told to the machine; every coordinate on a whole step. `None` where the pass has no way, which its schedule
    /// has told.
    pub(super) fn milled(
        &self,
        pass: &Pass,
        mill: &Mill,
        middle_mm: [f64; 2],
        (clear_mm, cut_off_mm): (f64, f64),
        own: &dyn Fn(MoveKind) -> Move,
    ) -> Option<Vec<Move>> {
        let helix = self.helix(pass, mill, middle_mm, cut_off_mm);
        let way = helix.way()?;
        let turns = helix.turns().unwrap_or(mill.turns);
        let feed = self.feed(pass.feed).max(self.units().feed_step_mm());
        let mut moves = vec![Move {
            z_mm: Some(helix.from_mm),
            feed_mm_per_min: Some(feed),
            note: "down in the open middle".into(),
            ..own(MoveKind::Feed)
        }];
        let last = way.len() - 1;
        for (i, step) in way.iter().enumerate() {
            let kind = if step.centre_mm.is_some() { MoveKind::Anticlockwise } else { MoveKind::Feed };
            let note = match i {
                0 => "in".into(),
                1 => say!("round and down, {} turns", turns),
                _ if i == last => "out".into(),
                _ if i == last - 2 => "once round flat".into(),
                _ => Sentence::new(),
            };
            moves.push(Move {
                x_mm: Some(self.coordinate(step.end_mm[0])),
                y_mm: Some(self.coordinate(step.end_mm[1])),
                z_mm: Some(self.coordinate(step.end_mm[2])),
                i_mm: step.centre_mm.map(|c| self.coordinate(c[0])),
                j_mm: step.centre_mm.map(|c| self.coordinate(c[1])),
                feed_mm_per_min: Some(feed),
                note,
                ..own(kind)
            });
        }
        moves.push(Move {
            z_mm: Some(clear_mm),
            note: "up in the open middle".into(),
            ..own(MoveKind::Rapid)
        });
        moves.push(own(MoveKind::SpindleOff));
        Some(moves)
    }
}
