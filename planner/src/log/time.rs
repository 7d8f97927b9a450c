//! Instants as they are written: ISO 8601, UTC, to the second.

/// Seconds of a day.
const DAY: u64 = 86_400;

/// An instant since the beginning of 1970 UTC as `2026-03-01T09:30:05Z`.
///
/// Source: ISO 8601; the calendar from days by counting eras of 400 years (proleptic Gregorian).
///
/// ```
/// # use borewright_planner::record::time::written;
/// assert_eq!(written(951_782_400), "2000-02-29T00:00:00Z");
/// assert_eq!(written(1_772_357_405), "2026-03-01T09:30:05Z");
/// ```
#[must_use]
pub fn written(seconds: u64) -> String {
    // Days from 1 March of the year 0, so that a leap day ends its year.
    let days = seconds / DAY + 719_468;
    let (era, of_era) = (days / 146_097, days % 146_097);
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let (month, year) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    let year = era * 400 + year_of_era + year;
    let second = seconds % DAY;
    format!("{year:04}-{month:02}-{day:02}T{:02}:{:02}:{:02}Z", second / 3600, second / 60 % 60, second % 60)
}

/// Whether a text is an instant as [`written`]; such texts sort as they follow each other.
#[must_use]
pub fn is_written(text: &str) -> bool {
    let shape = "0000-00-00T00:00:00Z";
    text.len() == shape.len()
        && text.bytes().zip(shape.bytes()).all(|(b, s)| if s == b'0' { b.is_ascii_digit() } else { b == s })
}

/// Whether two times of a record are of one day and so near that the earlier line may only have waited to be
/// written.
pub(super) fn is_just_before(earlier: &str, later: &str) -> bool {
    const NEAR_S: u32 = 30;
    let seconds = |at: &str| -> Option<u32> {
        let parts = [at.get(11..13)?, at.get(14..16)?, at.get(17..19)?].map(|part| part.parse::<u32>().ok());
        let [Some(h), Some(m), Some(s)] = parts else { return None };
        Some(3600 * h + 60 * m + s)
    };
    earlier.get(..10) == later.get(..10)
        && seconds(earlier).zip(seconds(later)).is_some_and(|(a, b)| b.saturating_sub(a) <= NEAR_S)
}

const AN_INSTANT: &str =
    "an instant of UTC such as 2026-03-01T09:30:00Z, `2026-03-01 09:30`, or 09:30 of today";

/// An instant as a person gives it, as [`written`]: so itself, `2026-03-01 09:30`, or `09:30` of the day of `now`;
/// all UTC, as the record is. `now`: seconds since the beginning of 1970 UTC.
///
/// ```
/// # use borewright_planner::record::time::given;
/// // 2026-03-01T09:30:05Z
/// assert_eq!(given("08:15", 1_772_357_405).unwrap(), "2026-03-01T08:15:00Z");
/// assert!(given("09:31", 1_772_357_405).unwrap_err().contains("not come yet"));
/// ```
///
/// # Errors
/// What is expected: text that is none of these, a day or an hour that there is not, a time of today that
/// is still to come, an instant of another day that is more than a day ahead of `now`: clocks and zones differ by less.
pub fn given(text: &str, now: u64) -> Result<String, &'static str> {
    let text = text.trim();
    let (now, latest) = (written(now), written(now.saturating_add(DAY)));
    let today = now.get(..10).unwrap_or_default();
    let minutes = |text: &str| text.len() == 5;
    let (at, of_today) = match text.split_once(' ') {
        _ if is_written(text) => (text.to_owned(), false),
        Some((day, time)) if minutes(time) => (format!("{day}T{time}:00Z"), false),
        None if minutes(text) => (format!("{today}T{text}:00Z"), true),
        _ => return Err(AN_INSTANT),
    };
    if !is_written(&at) || !is_real(&at) {
        return Err(AN_INSTANT);
    }
    if of_today && at > now {
        return Err(
            "a time of today (UTC) that has come: this one has not come yet; say the day, as `2026-03-01 09:30`",
        );
    }
    if at > latest {
        return Err("an instant that has come: this one is more than a day ahead of the clock (UTC)");
    }
    Ok(at)
}

/// Whether there is such a day, hour, minute and second; `at` has the shape of [`written`].
fn is_real(at: &str) -> bool {
    let number =
        |from: usize, to: usize| at.get(from..to).and_then(|n| n.parse::<u32>().ok()).unwrap_or(u32::MAX);
    let (year, month, day) = (number(0, 4), number(5, 7), number(8, 10));
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        _ => 0,
    };
    (1..=days).contains(&day) && number(11, 13) < 24 && number(14, 16) < 60 && number(17, 19) < 60
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 2026-03-01T09:30:05Z.
    const NOW: u64 = 1_772_357_405;

    #[test]
    fn an_instant_is_taken_whole_by_its_day_and_minute_or_by_its_minute_of_today() {
        for (text, at) in [
            ("2026-02-27T23:59:59Z", "2026-02-27T23:59:59Z"),
            ("2026-02-27 16:40", "2026-02-27T16:40:00Z"),
            ("2024-02-29 00:00", "2024-02-29T00:00:00Z"),
            ("09:30", "2026-03-01T09:30:00Z"),
            (" 00:00 ", "2026-03-01T00:00:00Z"),
        ] {
            assert_eq!(given(text, NOW).as_deref(), Ok(at), "{text}");
        }
    }

    #[test]
    fn an_instant_over_a_day_ahead_of_the_clock_is_refused() {
        for at in ["2026-03-02T09:30:05Z", "2026-03-02 09:30", "2026-03-01 23:59"] {
            assert!(given(at, NOW).is_ok(), "{at}");
        }
        for at in ["2026-03-02T09:30:06Z", "2026-03-03 00:00", "2062-03-01 09:30", "9999-12-31T23:59:59Z"] {
            assert!(given(at, NOW).unwrap_err().contains("more than a day ahead"), "{at}");
        }
    }

    #[test]
    fn what_is_no_instant_is_refused() {
        for text in [
            "",
            "noon",
            "9:30",
            "24:00",
            "09:60",
            "0930",
            "2026-02-29 09:30",
            "2026-13-01 09:30",
            "2026-04-31 09:30",
            "2026-00-01 09:30",
            "2026-03-00 09:30",
            "26-03-01 09:30",
            "2026-03-01  09:30",
            "2026-03-01 9:30",
            "2026-03-01T09:30",
            "2026-03-01T25:00:00Z",
            "09:3\u{660}",
            "\u{e9}\u{e9}:",
            "+1:+1",
            "2026-03-01 09:30 Z",
        ] {
            assert!(given(text, NOW).is_err(), "{text}");
        }
        assert!(given("23:59", NOW).unwrap_err().contains("say the day"));
    }
}
