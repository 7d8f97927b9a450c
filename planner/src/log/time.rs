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
