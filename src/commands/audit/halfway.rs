//! How far an audit came, kept in the user's cache: one that is broken off goes on, one that ends is remembered.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use borewright_archive::{Archive, Halfway, Head, Sum, Time, Watch};
use serde::{Deserialize, Serialize};

use super::plans::Plans;
use super::progress::Progress;
use crate::cache;

/// What is read anew after a kill takes no longer than that.
const EVERY: Duration = Duration::from_secs(5);
/// An audit that was broken off longer ago than that begins anew: what it read may have changed since.
const OLD: i64 = 7 * 24 * 3600;

/// An audit under way.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct State {
    format: String,
    /// When it was begun.
    pub(super) begun: Time,
    /// The last record there was then, with its sum.
    number: u32,
    sum: Option<Sum>,
    pub(super) content: Halfway,
    pub(super) plans: Plans,
}

const FORMAT: &str = "borewright/audit-halfway/1";

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Seen {
    number: u32,
    sum: Sum,
}

impl State {
    pub(super) fn new(archive: &Archive, begun: Time) -> Self {
        let number = archive.last().unwrap_or_default();
        let sum = archive.record(number).ok().map(|r| r.sha256);
        let (content, plans) = (Halfway::default(), Plans::default());
        Self { format: FORMAT.to_owned(), begun, number, sum, content, plans }
    }

    /// One that was broken off, where it is of this archive and not too old.
    pub(super) fn broken_off(kept: &Kept, archive: &Archive, now: Time) -> Option<Self> {
        let state: Self = serde_json::from_slice(&cache::get(kept.halfway.as_ref()?)?).ok()?;
        let same = archive.record(state.number).is_ok_and(|r| Some(r.sha256) == state.sum);
        let age = now.seconds() - state.begun.seconds();
        (state.format == FORMAT && same && (0..OLD).contains(&age)).then_some(state)
    }
}

/// Where it is kept; nowhere where there is no cache.
#[derive(Debug, Default)]
pub(super) struct Kept {
    halfway: Option<PathBuf>,
    seen: Option<PathBuf>,
    last: Option<Instant>,
}

impl Kept {
    pub(super) fn at(folder: Option<PathBuf>) -> Self {
        let file = |name: &str| folder.as_ref().map(|f| f.join(name));
        Self { halfway: file("audit-halfway.json"), seen: file("audit-seen.json"), last: None }
    }

    /// Where the last whole audit saw the chain end.
    pub(super) fn seen(&self) -> Option<Head> {
        let seen: Seen = serde_json::from_slice(&cache::get(self.seen.as_ref()?)?).ok()?;
        Some(Head { number: seen.number, sum: seen.sum })
    }

    /// Keeps how far it is, now and then.
    pub(super) fn halfway(&mut self, state: &State) {
        let (Some(path), now) = (&self.halfway, Instant::now()) else { return };
        let due = self.last.get_or_insert(now);
        if now.duration_since(*due) >= EVERY {
            *due = now;
            if let Ok(bytes) = serde_json::to_vec(state) {
                cache::put(path, &bytes);
            }
        }
    }

    /// It ended: there is nothing to go on with. What it saw is remembered only where nothing was wrong.
    pub(super) fn ended(&self, head: Option<Head>) {
        if let Some(path) = &self.halfway {
            let _ = std::fs::remove_file(path);
        }
        let seen = head.map(|head| Seen { number: head.number, sum: head.sum });
        if let (Some(path), Some(seen)) = (&self.seen, seen)
            && let Ok(bytes) = serde_json::to_vec(&seen)
        {
            cache::put(path, &bytes);
        }
    }
}

/// Tells people how far it is, and the cache.
pub(super) struct Watching<'a> {
    pub(super) progress: &'a mut Progress,
    pub(super) kept: &'a mut Kept,
    pub(super) state: &'a mut State,
}

impl Watch for Watching<'_> {
    fn at(&mut self, stage: borewright_archive::Stage) {
        self.progress.of_archive(stage);
    }

    fn halfway(&mut self, halfway: &Halfway) {
        self.state.content = halfway.clone();
        self.kept.halfway(self.state);
    }
}
