//! From data to paper along one axis: range, ticks and place.

use crate::chart::error::ChartError;
use crate::chart::text::number;

/// A linear scale: data `from`..`to` lies at paper `at_from`..`at_to`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Scale {
    pub from: f64,
    pub to: f64,
    pub at_from: f64,
    pub at_to: f64,
}

impl Scale {
    /// The place of a value on paper.
    pub fn place(&self, value: f64) -> f64 {
        self.at_from + (value - self.from) / (self.to - self.from) * (self.at_to - self.at_from)
    }

    /// Whether a value lies in the range, ends included.
    pub fn holds(&self, value: f64) -> bool {
        self.from <= value && value <= self.to
    }
}

/// Tick values with the decimals that tell them apart.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ticks {
    pub values: Vec<f64>,
    pub decimals: usize,
}

impl Ticks {
    /// The ticks as text.
    pub fn labels(&self) -> Vec<String> {
        self.values.iter().map(|v| number(*v, self.decimals)).collect()
    }
}

/// The step of 1, 2, 2.5 or 5 times a power of ten that gives at most `most` intervals, with its decimals.
fn nice_step(span: f64, most: usize) -> (f64, usize) {
    let raw = span / most.max(1) as f64;
    let mut power = raw.log10().floor() as i32;
    loop {
        for (factor, extra) in [(1.0, 0), (2.0, 0), (2.5, 1), (5.0, 0)] {
            let step = factor * 10f64.powi(power);
            // a step of 2.5 reads well as 25 or 0.25, never with a decimal more than its neighbours
            if step >= raw * (1.0 - 1e-9) && !(factor == 2.5 && power == 0) {
                return (step, usize::try_from(extra - power).unwrap_or(0));
            }
        }
        power += 1;
    }
}

/// Ticks inside `from`..`to`, at most `most` intervals.
pub(crate) fn ticks(from: f64, to: f64, most: usize) -> Ticks {
    let (step, decimals) = nice_step(to - from, most);
    let first = (from / step - 1e-6).ceil() as i64;
    let last = (to / step + 1e-6).floor() as i64;
    Ticks { values: (first..=last).map(|i| i as f64 * step).collect(), decimals }
}

/// The range widened to whole steps; a flat range gets room on both sides.
pub(crate) fn widened(from: f64, to: f64, most: usize) -> (f64, f64) {
    let (from, to) = if to - from > 1e-12 * from.abs().max(to.abs()).max(1e-12) {
        (from, to)
    } else {
        let room = if from == 0.0 { 1.0 } else { from.abs() * 0.1 };
        (from - room, to + room)
    };
    if !(to - from).is_finite() || to - from < 1e-100 {
        return (from, to);
    }
    let (step, _) = nice_step(to - from, most);
    ((from / step + 1e-9).floor() * step, (to / step - 1e-9).ceil() * step)
}

/// The given range if it is one, else that of the values, widened.
pub(crate) fn range_of(
    part: &str,
    given: Option<(f64, f64)>,
    values: impl Iterator<Item = f64>,
    most: usize,
) -> Result<(f64, f64), ChartError> {
    let checked = |(from, to): (f64, f64)| {
        // a span too narrow for its numbers, or too wide for any, has no ticks
        let span = to - from;
        let wide = span.is_finite() && span > 1e-12 * from.abs().max(to.abs()) && span > 1e-100;
        let error = ChartError::BadRange { part: part.to_owned(), from, to };
        if wide { Ok((from, to)) } else { Err(error) }
    };
    if let Some(given) = given {
        return checked(given);
    }
    let (low, high) =
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    if low > high {
        return Err(ChartError::Empty { part: part.to_owned() });
    }
    checked(widened(low, high, most))
}

/// Ticks of both axes.
pub(crate) type TickPair<'a> = (&'a Ticks, &'a Ticks);

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(from: f64, to: f64, most: usize, expected: &[&str]) {
        assert_eq!(ticks(from, to, most).labels(), expected);
    }

    #[test]
    fn ticks_are_round() {
        check(0.0, 30.0, 6, &["0", "5", "10", "15", "20", "25", "30"]);
        check(0.0, 1.0, 5, &["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]);
        check(-20.0, 20.0, 4, &["\u{2212}20", "\u{2212}10", "0", "10", "20"]);
        check(0.0, 0.1, 4, &["0.000", "0.025", "0.050", "0.075", "0.100"]);
    }

    #[test]
    fn spans_without_ticks_are_refused() {
        let ranges = [(0.0, 5e-324), (1.0, 1.0 + 1e-15), (-1e308, 1e308), (f64::NAN, 1.0)];
        for range in ranges {
            assert!(range_of("axis", Some(range), std::iter::empty(), 5).is_err(), "{range:?}");
        }
        for values in [[-1e308, 1e308], [1e-200, 2e-200], [5e-324, 5e-324]] {
            assert!(range_of("axis", None, values.into_iter(), 5).is_err(), "{values:?}");
        }
    }

    #[test]
    fn a_flat_range_gets_room() {
        let (from, to) = widened(5.0, 5.0, 5);
        assert!(from < 5.0 && to > 5.0);
        let (from, to) = widened(0.0, 0.0, 5);
        assert!(from < 0.0 && to > 0.0);
    }
}
