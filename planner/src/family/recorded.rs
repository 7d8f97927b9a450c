//! Recorded figures of a block: sizes read, and the hours of each day.

use std::collections::BTreeMap;

use super::figures::{Figures, SizeRead};
use crate::plan::check::{Asked, Check, Of};
use crate::read::given::Units;
use crate::record::{Log, Standing};

impl Figures {
    /// Takes in what was recorded against the checks of the plan.
    pub fn record(&mut self, bytes: &[u8], checks: &[Check], units: Units) {
        let log = Log::read(bytes);
        let standing = Standing::of(&log, checks, units);
        let asked = |check: u32, cylinder: Option<u32>, reading: u32| -> Option<(&Check, &Asked)> {
            let check = checks.iter().find(|c| c.check == check)?;
            Some((check, check.at(cylinder)?.readings.iter().find(|a| a.reading == reading)?))
        };
        for reading in &standing.readings {
            let Some((check, of)) = asked(reading.check, reading.cylinder, reading.reading) else { continue };
            let size = matches!(of.of, Of::Diameter | Of::Depth | Of::Height);
            if let (true, Some(expected), Some(found)) = (size, of.expected, reading.value()) {
                self.sizes.push(SizeRead {
                    feature: check.feature.clone(),
                    of: of.of.words().to_owned(),
                    cylinder: reading.cylinder,
                    asked: expected,
                    found,
                });
            }
        }
        self.hours_recorded = hours(log.entries.iter().map(|e| e.fields.get("at")));
    }
}

/// Hours from the first to the last instant of each day, summed; `None` where no day has two.
fn hours<'a>(times: impl Iterator<Item = &'a str>) -> Option<f64> {
    let mut days: BTreeMap<&str, [u32; 2]> = BTreeMap::new();
    for time in times {
        let Some((day, clock)) = time.split_once('T') else { continue };
        let part = |from: usize| clock.get(from..from + 2).and_then(|t| t.parse::<u32>().ok());
        let (Some(hour), Some(minute)) = (part(0), part(3)) else { continue };
        let at = hour * 60 + minute;
        let [first, last] = days.entry(day).or_insert([at, at]);
        (*first, *last) = ((*first).min(at), (*last).max(at));
    }
    let minutes: u32 = days.values().map(|[first, last]| last - first).sum();
    (minutes > 0).then(|| f64::from(minutes) / 60.0)
}

#[cfg(test)]
mod tests {
    use super::hours;

    #[test]
    fn days_are_as_long_as_their_lines_are_apart() {
        let times = [
            "2026-03-01T09:30:00Z",
            "2026-03-01T16:00:00Z",
            "2026-03-02T08:00:00Z",
            "2026-03-02T09:15:00Z",
            "",
            "x",
        ];
        // 6.5 h and 1.25 h.
        assert_eq!(hours(times.into_iter()), Some(7.75));
        assert_eq!(hours(["2026-03-01T09:30:00Z"].into_iter()), None);
    }
}
