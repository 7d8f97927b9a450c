//! The way of a tool between cuts: how it goes up for a stop, across, and down again.

use crate::plan::moves::{Move, MoveKind};
use crate::plan::sentence::Sentence;

/// Gives a row its cylinder and pass.
pub(super) type Own<'a> = &'a dyn Fn(MoveKind) -> Move;

/// Rows as they are added, and where the tool is.
pub(super) struct Way {
    moves: Vec<Move>,
    /// Rapids across stay here, mm.
    clear_mm: f64,
    /// Stops are taken here, mm.
    stop_mm: f64,
    /// Where Z was last told; `None` before anything is.
    height_mm: Option<f64>,
    turning: bool,
}

impl Way {
    /// A way with nothing told yet: its first row will be the way up.
    pub(super) fn new(clear_mm: f64, stop_mm: f64) -> Self {
        Self { moves: Vec::new(), clear_mm, stop_mm, height_mm: None, turning: false }
    }

    /// Where rapids across stay, mm.
    pub(super) fn clear_mm(&self) -> f64 {
        self.clear_mm
    }

    /// Whether the tool is below where rapids stay.
    pub(super) fn is_down(&self) -> bool {
        self.height_mm.is_some_and(|height| height < self.clear_mm)
    }

    /// One more row.
    pub(super) fn add(&mut self, row: Move) {
        self.height_mm = row.z_mm.or(self.height_mm);
        self.turning = match row.kind {
            MoveKind::SpindleOn => true,
            MoveKind::SpindleOff => false,
            _ => self.turning,
        };
        self.moves.push(row);
    }

    /// Several more.
    pub(super) fn extend(&mut self, rows: impl IntoIterator<Item = Move>) {
        rows.into_iter().for_each(|row| self.add(row));
    }

    /// Up to where a gauge gets below the tool, the spindle still.
    pub(super) fn up(&mut self, own: Own<'_>) {
        if self.turning {
            self.add(own(MoveKind::SpindleOff));
        }
        if self.height_mm != Some(self.stop_mm) {
            let note =
                if self.height_mm.is_none() { "up before anything else" } else { "up, out of the way" };
            let up = Some(self.stop_mm);
            self.add(Move { z_mm: up, note: note.into(), ..own(MoveKind::Rapid) });
        }
    }

    /// A stop, up there.
    pub(super) fn stop(&mut self, own: Own<'_>, note: Sentence) {
        self.up(own);
        self.add(Move { note, ..own(MoveKind::Stop) });
    }

    /// Over a bore, X and Y both told, then down to where rapids stay; the spindle starts there.
    pub(super) fn over(&mut self, own: Own<'_>, [x, y]: [f64; 2], rpm: f64, note: Sentence) {
        self.add(Move { x_mm: Some(x), y_mm: Some(y), note, ..own(MoveKind::Rapid) });
        if self.height_mm.is_none_or(|height| height > self.clear_mm) {
            self.add(Move { z_mm: Some(self.clear_mm), ..own(MoveKind::Rapid) });
        }
        self.add(Move { rpm: Some(rpm), ..own(MoveKind::SpindleOn) });
    }

    /// Up, and the end.
    pub(super) fn end(mut self) -> Vec<Move> {
        self.up(&Move::of);
        self.add(Move::of(MoveKind::End));
        self.moves
    }
}
