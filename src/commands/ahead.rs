//! Lines of the record that are dated ahead of the clock.

use std::time::{SystemTime, UNIX_EPOCH};

use borewright_planner::read::fault::plain;
use borewright_planner::record::{FILE, Log, time};

use crate::status;

/// Clocks and zones differ by less, seconds.
const DAY_S: u64 = 86_400;

/// Says on standard error which lines tell a time that has not come. The clock is no input of a plan: its findings do not
/// hang on it.
pub(super) fn remark(log: &Log) {
    const FIRST: usize = 5;
    let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    let latest = time::written(now.saturating_add(DAY_S));
    let ahead = log.entries.iter().filter(|e| {
        let at = e.fields.get("at");
        time::is_written(at) && at > latest.as_str()
    });
    let told: Vec<String> = ahead
        .take(FIRST)
        .map(|e| {
            let at = plain(e.fields.get("at"), 30);
            format!("{FILE} line {} is dated {at}, ahead of the clock: that has not come yet", e.line)
        })
        .collect();
    status::remark(&told);
}
