//! Views of a run of the built-in checks: text, JSON, CSV and a page that prints.

pub mod columns;
pub mod comparisons;
pub mod json;
pub mod page;
pub mod text;

use crate::physics::units::PERCENT;
use crate::report::number::{Shown, significant};

/// A share as percent with its sign, `−8.1`.
pub fn percent(share: f64) -> String {
    let text = PERCENT.fixed(share, 1);
    match text.strip_prefix('-') {
        Some(size) => format!("−{size}"),
        None if text.starts_with(|c: char| c.is_ascii_digit()) && share > 0.0 => format!("+{text}"),
        None => text,
    }
}

/// A value with so many digits; what is not reached and a run that failed say so.
pub fn digits(value: f64, n: i32) -> String {
    match value {
        _ if value.is_nan() => "failed".to_string(),
        f64::INFINITY => "never".to_string(),
        _ => significant(value, n),
    }
}

/// Both ends of a range, or the one value that both are.
pub fn ends((low, high): (f64, f64), n: i32) -> String {
    let (low, high) = (digits(low, n), digits(high, n));
    if low == high { low } else { format!("{low} to {high}") }
}

#[cfg(test)]
mod tests {
    use super::{ends, percent};

    #[test]
    fn signs_and_ranges() {
        assert_eq!([percent(0.081), percent(-0.0812), percent(0.0)], ["+8.1", "−8.1", "0.0"]);
        assert_eq!(percent(f64::NAN), "not a number");
        assert_eq!(ends((4.2, 5.5), 3), "4.20 to 5.50");
        assert_eq!(ends((1.0, 1.0), 3), "1.00");
        assert_eq!(ends((1.0, f64::INFINITY), 2), "1.0 to never");
        assert_eq!(ends((f64::NAN, f64::NAN), 2), "failed");
    }
}
