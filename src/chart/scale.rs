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

/// How values are spread along an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spacing {
    /// Equal differences are equally far apart.
    #[default]
    Even,
    /// Equal ratios are equally far apart; values are above 0.
    Decades,
}

/// Tick values with the decimals that tell them apart; in decades, the values are logarithms.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ticks {
    pub values: Vec<f64>,
    pub decimals: usize,
    pub spacing: Spacing,
}

impl Ticks {
    /// No ticks at all.
    pub fn none() -> Ticks {
        Ticks { values: Vec::new(), decimals: 0, spacing: Spacing::Even }
    }

    /// The ticks as text.
    pub fn labels(&self) -> Vec<String> {
        let label = |value: &f64| match self.spacing {
            Spacing::Even => number(*value, self.decimals),
            Spacing::Decades => {
                let decimals = -(value + 1e-9).floor() as i64;
                number(10f64.powf(*value), usize::try_from(decimals).unwrap_or(0))
            }
        };
        self.values.iter().map(label).collect()
    }
}

/// Leading digits of the marks within a decade, the fewest marks first.
const MARKS: [&[f64]; 2] = [&[1.0], &[1.0, 2.0, 5.0]];

/// Logarithms of the marks from the last at or below `from` to the first at or above `to`.
fn decade_marks(digits: &[f64], from: f64, to: f64) -> Vec<f64> {
    let decades = from.floor() as i32..=to.ceil() as i32;
    let all: Vec<f64> =
        decades.flat_map(|d| digits.iter().map(move |x| f64::from(d) + x.log10())).collect();
    let first = all.iter().rposition(|mark| *mark <= from + 1e-9).unwrap_or(0);
    let last = all.iter().position(|mark| *mark >= to - 1e-9).unwrap_or(all.len() - 1);
    all[first..=last].to_vec()
}

/// Ticks inside `from`..`to`, both logarithms: at 1, 2 and 5 of each decade where there is room, else at 1.
pub(crate) fn decade_ticks(from: f64, to: f64, most: usize) -> Ticks {
    let inside = |digits: &[f64]| {
        let mut marks = decade_marks(digits, from, to);
        marks.retain(|mark| (from - 1e-9..=to + 1e-9).contains(mark));
        marks
    };
    let many = inside(MARKS[1]);
    let values = if many.len() <= most + 1 { many } else { inside(MARKS[0]) };
    Ticks { values, decimals: 0, spacing: Spacing::Decades }
}

/// A range of logarithms widened to marks at 1, 2 or 5 of a decade.
pub(crate) fn widened_decades(from: f64, to: f64) -> (f64, f64) {
    let to = to.max(from + 1e-3);
    let marks = decade_marks(MARKS[1], from, to);
    (marks[0].min(from), marks[marks.len() - 1].max(to))
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
    let values = (first..=last).map(|i| i as f64 * step).collect();
    Ticks { values, decimals, spacing: Spacing::Even }
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
    fn decades_are_marked_at_1_2_and_5_where_there_is_room() {
        let labels = |from: f64, to: f64, most: usize| {
            let (from, to) = widened_decades(from.log10(), to.log10());
            decade_ticks(from, to, most).labels()
        };
        assert_eq!(labels(0.03, 1.5, 8), ["0.02", "0.05", "0.1", "0.2", "0.5", "1", "2"]);
        assert_eq!(labels(3.0, 40_000.0, 8), ["10", "100", "1000", "10000"]);
        assert_eq!(labels(0.001, 0.001, 8), ["0.001", "0.002"]);
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
