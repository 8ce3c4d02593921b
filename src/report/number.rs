//! How numbers are printed: as many digits as their error allows, and never a non-number.

use crate::physics::units::{PERCENT, Quantity};

/// Shown in place of a value that is not a finite number.
const NOT_A_NUMBER: &str = "not a number";

/// No time or heat is printed with more decimals than this.
const MOST_DECIMALS: i32 = 3;

/// A value and its error with the digits that the error allows, such as `("14.72", "0.02")`.
///
/// The error is rounded up to one digit (two when the first is a 1), so it is never understated.
pub fn with_error(value: f64, error: f64) -> (String, String) {
    if !value.is_finite() || !error.is_finite() {
        return (NOT_A_NUMBER.to_string(), NOT_A_NUMBER.to_string());
    }
    let decimals = decimals_for(error.abs());
    let step = 10_f64.powi(-decimals);
    // The small allowance keeps 0.02 from becoming 0.03 by the last bit.
    let up = (error.abs() / step - 1e-9).ceil().max(1.0) * step;
    let shown = decimals.max(0) as usize;
    let value = (value / step).round() * step;
    (fixed(value, shown), format!("{up:.shown$}"))
}

/// Decimals that an error allows: −1 means that tens are the last digit known.
fn decimals_for(error: f64) -> i32 {
    if error <= 10_f64.powi(-MOST_DECIMALS) {
        return MOST_DECIMALS;
    }
    let exponent = error.log10().floor() as i32;
    let first = error / 10_f64.powi(exponent);
    let decimals = if first < 1.95 { 1 - exponent } else { -exponent };
    decimals.min(MOST_DECIMALS)
}

/// A value with a fixed number of decimals; no "-0".
pub fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return NOT_A_NUMBER.to_string();
    }
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_string(),
        _ => text,
    }
}

/// A value with so many significant digits, without an exponent between 0.0001 and 1e7.
pub fn significant(value: f64, digits: i32) -> String {
    if !value.is_finite() {
        return NOT_A_NUMBER.to_string();
    }
    if value == 0.0 {
        return "0".to_string();
    }
    if !(1e-4..1e7).contains(&value.abs()) {
        return format!("{value:.*e}", (digits - 1).max(0) as usize);
    }
    // Rounding first: 9.996 has one digit more before the point once it is 10.0.
    let exponent = value.abs().log10().floor() as i32;
    let step = 10_f64.powi(exponent - digits + 1);
    let rounded = (value / step).round() * step;
    let exponent = rounded.abs().log10().floor() as i32;
    fixed(rounded, (digits - 1 - exponent).max(0) as usize)
}

/// A value with up to so many decimals, trailing zeros dropped: 4, 0.5, 12.25.
pub fn short(value: f64, most_decimals: usize) -> String {
    let text = fixed(value, most_decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}

/// How a unit of files and output prints what is in SI.
pub trait Shown {
    /// With a fixed number of decimals.
    fn fixed(&self, si: f64, decimals: usize) -> String;
    /// With up to so many decimals.
    fn short(&self, si: f64, most_decimals: usize) -> String;
    /// With so many significant digits.
    fn significant(&self, si: f64, digits: i32) -> String;
}

impl Shown for Quantity {
    fn fixed(&self, si: f64, decimals: usize) -> String {
        fixed(self.outside(si), decimals)
    }

    fn short(&self, si: f64, most_decimals: usize) -> String {
        short(self.outside(si), most_decimals)
    }

    fn significant(&self, si: f64, digits: i32) -> String {
        significant(self.outside(si), digits)
    }
}

/// A share as a percentage with one decimal and its sign, `0.256` as `+25.6`; 0 has none.
pub fn signed(share: f64) -> String {
    let text = PERCENT.fixed(share, 1);
    if share < 0.0 || text == "0.0" { text } else { format!("+{text}") }
}

/// A share as a percentage without the sign, `0.256` as `25.6`; "–" for a share of nothing.
pub fn percent(part: f64, whole: f64) -> String {
    if whole == 0.0 { "–".to_string() } else { PERCENT.fixed(part / whole, 1) }
}

/// A time that was looked at and in which something did not come [s], in at most four digits and never
/// more than it was: "not within 56.91 s" is still so.
pub fn looked_at(t_end: f64) -> String {
    if !(t_end.is_finite() && t_end > 0.0) {
        return short(t_end, 3);
    }
    // no finer than what is printed, so that nothing is rounded up again
    let unit = 10f64.powi(t_end.log10().floor() as i32 - 3).max(10f64.powi(-MOST_DECIMALS));
    // a time that is given in four digits is not to lose its last one to a rounded product
    short((t_end / unit + 1e-9).floor() * unit, 3)
}

#[cfg(test)]
mod tests {
    use super::{fixed, percent, short, significant, with_error};

    #[track_caller]
    fn check(value: f64, error: f64, expected: (&str, &str)) {
        let (number, give) = with_error(value, error);
        assert_eq!((number.as_str(), give.as_str()), expected, "{value} ± {error}");
    }

    #[test]
    fn digits_follow_the_error() {
        check(14.7234, 0.02, ("14.72", "0.02"));
        check(14.7234, 0.021, ("14.72", "0.03"));
        check(14.7234, 0.012, ("14.723", "0.012"));
        check(14.7234, 0.4, ("14.7", "0.4"));
        check(14.7234, 3.0, ("15", "3"));
        check(1234.0, 40.0, ("1230", "40"));
        check(1.0, 0.0, ("1.000", "0.001"));
        check(1.0, 1e-9, ("1.000", "0.001"));
        check(-0.00001, 0.01, ("0.000", "0.010"));
    }

    #[test]
    fn the_error_is_never_understated() {
        for i in 1..2000 {
            let error = 0.00037 * f64::from(i);
            let printed: f64 = with_error(5.0, error).1.parse().unwrap();
            assert!(printed >= error * (1.0 - 1e-6), "{error} printed as {printed}");
        }
    }

    #[test]
    fn what_is_no_number_says_so() {
        check(f64::NAN, 0.1, ("not a number", "not a number"));
        check(1.0, f64::INFINITY, ("not a number", "not a number"));
        assert_eq!(fixed(f64::NEG_INFINITY, 1), "not a number");
        assert_eq!(significant(f64::NAN, 3), "not a number");
    }

    #[test]
    fn significant_digits() {
        for (value, expected) in [
            (0.05234, "0.0523"),
            (9.996, "10.0"),
            (1234.5, "1230"),
            (0.0, "0"),
            (3.2e-8, "3.20e-8"),
            (-0.5, "-0.500"),
        ] {
            assert_eq!(significant(value, 3), expected);
        }
    }

    /// Never more than was looked at: what is said stays true.
    #[test]
    fn a_time_looked_at_has_four_digits_and_is_rounded_down() {
        let cases = [
            (56.918_4, "56.91"),
            (60.0, "60"),
            (62.35, "62.35"),
            (0.123_49, "0.123"),
            (119.99, "119.9"),
        ];
        for (t, expected) in cases {
            assert_eq!(super::looked_at(t), expected);
        }
        for i in 1..4000 {
            let t = 0.0173 * f64::from(i * i);
            let told: f64 = super::looked_at(t).parse().unwrap();
            assert!(
                told <= t * (1.0 + 1e-9) && told >= t - (1e-3 * t).max(1e-3),
                "{t} told as {told}"
            );
        }
    }

    #[test]
    fn short_and_percent() {
        assert_eq!(
            [short(4.0, 2), short(0.5, 2), short(80.0, 0), short(-0.001, 2)],
            ["4", "0.5", "80", "0"]
        );
        assert_eq!(percent(1.0, 4.0), "25.0");
        assert_eq!(percent(1.0, 0.0), "–");
    }
}
