//! Days as tables have them.

use jiff::civil::Date;

/// A date as year-month-day; none for anything else.
pub fn parse_date(word: &str) -> Option<Date> {
    let plain = word.len() == 10 && word.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    plain.then(|| word.parse().ok()).flatten()
}
