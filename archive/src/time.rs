//! Dates and times of the world's clock, as they stand in a record.

use std::fmt;
use std::time::{SystemTime, UNIX_EPOCH};

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A second of universal time, years 1970 to 9999; written as `2026-11-26T08:15:00Z` (RFC 3339).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Time(i64);

const DAY: i64 = 86_400;
/// Days from the start of a year of 400 that begins in March to 1970-01-01.
const TO_1970: i64 = 719_468;
const DAYS_OF_400_YEARS: i64 = 146_097;
/// 9999-12-31T23:59:59Z.
const LAST: i64 = 253_402_300_799;

impl Time {
    /// What the system's clock says; a clock before 1970 says 1970.
    #[must_use]
    pub fn now() -> Self {
        let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
        Self(i64::try_from(seconds).unwrap_or(LAST).min(LAST))
    }

    /// A time from `2026-11-26`, `2026-11-26T08:15Z` or `2026-11-26T08:15:00Z`; a day alone is its first second.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (date, clock) = match text.split_once('T') {
            None => (text, None),
            Some((date, clock)) => (date, Some(clock.strip_suffix('Z')?)),
        };
        let day = day_number(date)?;
        let second = match clock {
            None => 0,
            Some(clock) => {
                let parts: Vec<&str> = clock.split(':').collect();
                let (hour, minute, second) = match parts.as_slice() {
                    [h, m] => (*h, *m, "00"),
                    [h, m, s] => (*h, *m, *s),
                    _ => return None,
                };
                let [hour, minute, second] = [number(hour, 2)?, number(minute, 2)?, number(second, 2)?];
                (hour <= 23 && minute <= 59 && second <= 59).then_some(hour * 3600 + minute * 60 + second)?
            }
        };
        Some(Self(day * DAY + second))
    }

    /// The first second of a year, month or day: `2025`, `2025-03`, `2025-03-14`.
    #[must_use]
    pub fn first_of(text: &str) -> Option<Self> {
        match text.len() {
            4 => Self::parse(&format!("{text}-01-01")),
            7 => Self::parse(&format!("{text}-01")),
            _ => Self::parse(text),
        }
    }

    /// The first second after a year, month or day; after a time to the second, that second.
    #[must_use]
    pub fn after(text: &str) -> Option<Self> {
        let first = Self::first_of(text)?;
        let next = match text.len() {
            4 => Self::parse(&format!("{:04}-01-01", number(text, 4)? + 1)),
            7 => {
                let (year, month) = text.split_once('-')?;
                let (year, month) = (number(year, 4)?, number(month, 2)?);
                let (year, month) = if month == 12 { (year + 1, 1) } else { (year, month + 1) };
                Self::parse(&format!("{year:04}-{month:02}-01"))
            }
            10 => Some(Self((first.0 + DAY).min(LAST))),
            _ => Some(Self((first.0 + 1).min(LAST))),
        };
        next.or(Some(Self(LAST)))
    }

    /// From seconds since 1970.
    #[must_use]
    pub fn from_seconds(seconds: i64) -> Option<Self> {
        (0..=LAST).contains(&seconds).then_some(Self(seconds))
    }

    /// Seconds since 1970.
    #[must_use]
    pub fn seconds(self) -> i64 {
        self.0
    }

    /// The day alone, `2026-11-26`.
    #[must_use]
    pub fn day(self) -> String {
        let (year, month, day) = date_of(self.0.div_euclid(DAY));
        format!("{year:04}-{month:02}-{day:02}")
    }
}

/// A whole number of just so many digits; `None` of any other text.
fn number(text: &str, digits: usize) -> Option<i64> {
    (text.len() == digits && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
}

/// Days since 1970-01-01 of a date; `None` of one that does not exist.
fn day_number(date: &str) -> Option<i64> {
    let mut parts = date.split('-');
    let (year, month, day) =
        (number(parts.next()?, 4)?, number(parts.next()?, 2)?, number(parts.next()?, 2)?);
    if parts.next().is_some() || year < 1970 || !(1..=12).contains(&month) || day < 1 {
        return None;
    }
    // The year is taken to begin in March, so that a leap day is its last.
    let (of_year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let (era, in_era) = (of_year.div_euclid(400), of_year.rem_euclid(400));
    let in_year = (153 * month + 2) / 5 + day - 1;
    let days = era * DAYS_OF_400_YEARS + in_era * 365 + in_era / 4 - in_era / 100 + in_year - TO_1970;
    // A date that there is not, such as 31 February, comes back as another one.
    (date_of(days) == (year, if month > 9 { month - 9 } else { month + 3 }, day)).then_some(days)
}

/// Year, month and day of a day since 1970-01-01.
fn date_of(days: i64) -> (i64, i64, i64) {
    let from_march = days + TO_1970;
    let (era, in_era) = (from_march.div_euclid(DAYS_OF_400_YEARS), from_march.rem_euclid(DAYS_OF_400_YEARS));
    let year = (in_era - in_era / 1460 + in_era / 36_524 - in_era / 146_096) / 365;
    let in_year = in_era - (365 * year + year / 4 - year / 100);
    let month = (5 * in_year + 2) / 153;
    let day = in_year - (153 * month + 2) / 5 + 1;
    let (month, next) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    (era * 400 + year + next, month, day)
}

impl fmt::Display for Time {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let second = self.0.rem_euclid(DAY);
        write!(f, "{}T{:02}:{:02}:{:02}Z", self.day(), second / 3600, second / 60 % 60, second % 60)
    }
}

impl Serialize for Time {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Time {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let time = Self::parse(&text).filter(|time| time.to_string() == text);
        time.ok_or_else(|| de::Error::custom("expected a time like 2026-11-26T08:15:00Z"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_seconds_are_their_dates() {
        // Source: `date -u -d @951782400` and the others, GNU coreutils.
        for (seconds, text) in [
            (0, "1970-01-01T00:00:00Z"),
            (951_782_400, "2000-02-29T00:00:00Z"),
            (4_107_542_399, "2100-02-28T23:59:59Z"),
            (4_107_542_400, "2100-03-01T00:00:00Z"),
            (1_795_680_900, "2026-11-26T08:15:00Z"),
            (LAST, "9999-12-31T23:59:59Z"),
        ] {
            assert_eq!(Time(seconds).to_string(), text);
            assert_eq!(Time::parse(text), Some(Time(seconds)));
        }
    }

    #[test]
    fn every_day_of_two_centuries_comes_back() {
        for days in 0..73_000 {
            let time = Time(days * DAY);
            assert_eq!(Time::parse(&time.day()), Some(time));
        }
    }

    #[test]
    fn what_is_no_time_is_refused() {
        for text in [
            "2026-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-1-1",
            "1969-12-31",
            "2026-11-26T24:00Z",
            "2026-11-26T08:15:00",
            "2026-11-26T08:15:60Z",
            "+026-11-26",
            "2026-11-26-01",
            "",
            "T",
            "2026-04-31",
        ] {
            assert_eq!(Time::parse(text), None, "{text}");
        }
    }

    #[test]
    fn a_year_a_month_and_a_day_have_an_end() {
        let ends = |text| Time::after(text).map(|t| t.to_string());
        assert_eq!(ends("2025").as_deref(), Some("2026-01-01T00:00:00Z"));
        assert_eq!(ends("2025-12").as_deref(), Some("2026-01-01T00:00:00Z"));
        assert_eq!(ends("2024-02-28").as_deref(), Some("2024-02-29T00:00:00Z"));
        assert_eq!(ends("9999").as_deref(), Some("9999-12-31T23:59:59Z"));
        assert_eq!(ends("last week"), None);
    }
}
