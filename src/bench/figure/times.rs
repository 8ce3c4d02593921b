//! The disc's times, from which every figure of the disc is read.

use crate::bench::account::heat_offered;
use crate::bench::figure::found::Found;
use crate::bench::outcome::{DiscFigures, Valued, When};
use crate::bench::refine::{Readings, Refined};
use crate::bench::watch_disc::DiscEvents;
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::solver::ledger::Ledger;

/// The disc's times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiscTimes {
    /// Time to a rise of 12 K.
    pub rise12: When,
    /// Time to a rise of 24 K.
    pub rise24: When,
    /// Time between the two [s]; none unless both were reached.
    pub rise24_less_12: Option<Valued>,
    /// Time at which the heat in the disc crosses the Stoll curve.
    pub stoll: When,
}

impl From<&DiscFigures> for DiscTimes {
    fn from(of: &DiscFigures) -> DiscTimes {
        let DiscFigures { rise12, rise24, rise24_less_12, stoll, .. } = *of;
        DiscTimes { rise12, rise24, rise24_less_12, stoll }
    }
}

/// As [`disc_readings`] were read.
impl<T> From<&Refined<T>> for DiscTimes {
    fn from(of: &Refined<T>) -> DiscTimes {
        let [rise12, rise24, stoll, ..] = of.times[..] else {
            panic!("the disc's times come first")
        };
        DiscTimes { rise12, rise24, rise24_less_12: of.between, stoll }
    }
}

/// What one run read at the disc: the times to 12 K, 24 K and Stoll, then `others` [s].
pub fn disc_readings(
    events: &DiscEvents,
    others: impl IntoIterator<Item = Option<f64>>,
    ledger: &Ledger,
) -> Readings {
    let [rise12, rise24] = events.rises;
    Readings {
        times: [rise12, rise24, events.stoll].into_iter().chain(others).collect(),
        between: rise24.zip(rise12).map(|(late, early)| late - early),
        values: Vec::new(),
        t_end: ledger.t,
        moist: ledger.has_vapour(),
    }
}

impl DiscTimes {
    /// Of one mesh alone: what its errors are, nothing tells, and they stand at 0.
    ///
    /// - `readings`: those of [`disc_readings`]
    pub fn of_one_mesh(readings: &Readings) -> DiscTimes {
        let Readings { ref times, between, t_end, .. } = *readings;
        let when = |t: Option<f64>| match t {
            Some(t) => When::At { t, error: 0.0 },
            None => When::NotWithin { t_end },
        };
        DiscTimes {
            rise12: when(times[0]),
            rise24: when(times[1]),
            rise24_less_12: between.map(|value| Valued { value, error: 0.0 }),
            stoll: when(times[2]),
        }
    }

    /// What is known of a figure; nothing of one that skin tells.
    ///
    /// - `exposure`: its flux times the Stoll time is TPP
    pub fn figure(&self, figure: Figure, exposure: &Exposure) -> Found {
        let of_time = |when| Found::of_time(when, exposure.t_end);
        match figure {
            Figure::Rise12 => of_time(self.rise12),
            Figure::Rise24 => of_time(self.rise24),
            Figure::Stoll => of_time(self.stoll),
            Figure::Tpp => of_heat(of_time(self.stoll), exposure),
            Figure::Rise24Less12 => self.between(exposure.t_end),
            Figure::SecondDegree => Found::NotAsked,
        }
    }

    /// The same with `by` [s] added to the errors of the times to 12 K, 24 K and Stoll.
    pub fn widened(self, by: [f64; 3]) -> DiscTimes {
        let wider = |when: When, by: f64| match when {
            When::At { t, error } => When::At { t, error: error + by },
            other => other,
        };
        let between = self.rise24_less_12;
        DiscTimes {
            rise12: wider(self.rise12, by[0]),
            rise24: wider(self.rise24, by[1]),
            rise24_less_12: between
                .map(|valued| Valued { error: valued.error + by[0] + by[1], ..valued }),
            stoll: wider(self.stoll, by[2]),
        }
    }

    /// The time from 12 to 24 K, or what it is at least.
    fn between(&self, t_end: f64) -> Found {
        match (self.rise12, self.rise24, self.rise24_less_12) {
            (_, When::At { t, .. }, Some(valued)) => Found::Value { valued, t, beyond: false },
            (When::NotWithin { t_end }, _, _) => Found::AtLeast { least: 0.0, t_end },
            (When::At { t, error }, When::NotWithin { t_end }, _) => {
                Found::AtLeast { least: (t_end - t - error).max(0.0), t_end }
            }
            (When::At { t: first, .. }, When::Unsettled { t }, _) => {
                Found::Unsettled { low: t - first, high: t_end - first }
            }
            _ => Found::Unsettled { low: 0.0, high: t_end },
        }
    }
}

/// A time as the heat offered until then [J/m²].
fn of_heat(found: Found, exposure: &Exposure) -> Found {
    let heat = |t: f64| heat_offered(exposure, t);
    match found {
        Found::Value { valued: Valued { value, error }, t, beyond } => {
            let error = heat(value + error) - heat(value);
            Found::Value { valued: Valued { value: heat(value), error }, t, beyond }
        }
        Found::AtLeast { least, t_end } => Found::AtLeast { least: heat(least), t_end },
        Found::Unsettled { low, high } => Found::Unsettled { low: heat(low), high: heat(high) },
        Found::NotAsked => Found::NotAsked,
    }
}

#[cfg(test)]
mod tests {
    use super::DiscTimes;
    use crate::bench::figure::found::Found;
    use crate::bench::outcome::{Valued, When};
    use crate::garment::target::Figure;
    use crate::shelf::materials::Shelf;

    fn times(rise12: When, rise24: When, stoll: When) -> DiscTimes {
        let rise24_less_12 = rise24.t().zip(rise12.t());
        let between =
            rise24_less_12.map(|(late, early)| Valued { value: late - early, error: 0.1 });
        DiscTimes { rise12, rise24, rise24_less_12: between, stoll }
    }

    fn at(t: f64) -> When {
        When::At { t, error: 0.5 }
    }

    const NOT: When = When::NotWithin { t_end: 60.0 };

    #[track_caller]
    fn check(times: DiscTimes, figure: Figure, expected: Found) {
        let shelf = Shelf::built_in().unwrap();
        // 80 kW/m² followed for 60 s: TPP is 80 kJ/m² for each second
        let found = times.figure(figure, shelf.exposure("flame-80").unwrap());
        assert_eq!(found, expected, "{figure:?} of {times:?}");
    }

    fn value(value: f64, error: f64, t: f64) -> Found {
        Found::Value { valued: Valued { value, error }, t, beyond: false }
    }

    #[test]
    fn what_was_reached_is_a_value() {
        let all = times(at(8.0), at(12.0), at(10.0));
        check(all, Figure::Rise12, value(8.0, 0.5, 8.0));
        check(all, Figure::Rise24, value(12.0, 0.5, 12.0));
        check(all, Figure::Rise24Less12, value(4.0, 0.1, 12.0));
        check(all, Figure::Stoll, value(10.0, 0.5, 10.0));
        check(all, Figure::Tpp, value(800e3, 40e3, 10.0));
        check(all, Figure::SecondDegree, Found::NotAsked);
    }

    #[test]
    fn what_was_not_reached_is_a_lower_bound() {
        let none = times(NOT, NOT, NOT);
        let least = |least| Found::AtLeast { least, t_end: 60.0 };
        check(none, Figure::Rise24, least(60.0));
        check(none, Figure::Tpp, least(4800e3));
        // nothing but its sign is known of a difference of which neither was reached
        check(none, Figure::Rise24Less12, least(0.0));
        check(times(at(50.0), NOT, NOT), Figure::Rise24Less12, least(9.5));
    }

    #[test]
    fn where_meshes_disagree_it_lies_between_both() {
        let near = When::Unsettled { t: 59.0 };
        let unsettled = |low, high| Found::Unsettled { low, high };
        check(times(at(50.0), near, near), Figure::Rise24, unsettled(59.0, 60.0));
        check(times(at(50.0), near, near), Figure::Rise24Less12, unsettled(9.0, 10.0));
        check(times(near, NOT, near), Figure::Rise24Less12, unsettled(0.0, 60.0));
        check(times(near, near, near), Figure::Tpp, unsettled(4720e3, 4800e3));
    }

    #[test]
    fn errors_of_an_area_add_to_those_of_the_times() {
        let all = times(at(8.0), at(12.0), at(10.0)).widened([0.1, 0.2, 0.3]);
        check(all, Figure::Rise12, value(8.0, 0.6, 8.0));
        check(all, Figure::Rise24, value(12.0, 0.7, 12.0));
        check(all, Figure::Rise24Less12, value(4.0, 0.1 + 0.1 + 0.2, 12.0));
        check(all, Figure::Tpp, value(800e3, 80e3 * 10.8 - 800e3, 10.0));
        check(
            times(NOT, NOT, NOT).widened([1.0; 3]),
            Figure::Rise24,
            Found::AtLeast { least: 60.0, t_end: 60.0 },
        );
    }
}
