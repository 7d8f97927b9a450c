//! How far an audit is, on a terminal and nowhere else.

use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

use borewright_archive::Stage;

/// A word at most so often.
const EVERY: Duration = Duration::from_millis(100);

#[derive(Default)]
pub(super) struct Progress {
    last: Option<Instant>,
}

impl Progress {
    pub(super) fn of_archive(&mut self, stage: Stage) {
        self.told(&match stage {
            Stage::Chain(done, of) => format!("records: {done} of {of}"),
            Stage::Content(room, of, bytes) => {
                format!("what is kept: room {room} of {of}, {} MiB", bytes / 1_048_576)
            }
        });
    }

    pub(super) fn of_plans(&mut self, done: u32, of: u32) {
        self.told(&format!("planning again: {done} of {of}"));
    }

    fn told(&mut self, text: &str) {
        let mut to = std::io::stderr().lock();
        let due = self.last.is_none_or(|last| last.elapsed() >= EVERY);
        if due && to.is_terminal() {
            self.last = Some(Instant::now());
            let _ = write!(to, "\r{text:<60}");
            let _ = to.flush();
        }
    }

    /// Takes the last word away.
    pub(super) fn end(&self) {
        if self.last.is_some() {
            let _ = write!(std::io::stderr().lock(), "\r{:<60}\r", "");
        }
    }
}
