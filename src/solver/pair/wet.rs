//! What a node holds and the pressure of its vapour, at one temperature and content per lane.
//!
//! The formulas are those of [`sorption`] and [`vapour`], written for packs; a test holds them
//! together.

use crate::physics::{sorption, vapour};
use crate::solver::pack::Pack;

/// Values at a node and their derivatives by its temperature (`t`) and content (`w`).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wet<const L: usize, const W: bool> {
    /// Vapour pressure [Pa].
    pub p: Pack<L, W>,
    pub p_t: Pack<L, W>,
    pub p_w: Pack<L, W>,
    /// Content over that at 65 % of saturation [–].
    pub ratio: Pack<L, W>,
    /// Heat of what is held, beyond that of liquid at the datum [J/m²].
    pub heat: Pack<L, W>,
    pub heat_t: Pack<L, W>,
    pub heat_w: Pack<L, W>,
    /// All that is held, vapour included [kg/m²].
    pub store: Pack<L, W>,
    pub store_t: Pack<L, W>,
    pub store_w: Pack<L, W>,
}

impl<const L: usize, const W: bool> Wet<L, W> {
    /// A node that holds nothing; its row stands for a content that does not change.
    #[inline(always)]
    pub fn nothing() -> Wet<L, W> {
        let zero = Pack::ZERO;
        Wet {
            p: zero,
            p_t: zero,
            p_w: zero,
            ratio: zero,
            heat: zero,
            heat_t: zero,
            heat_w: zero,
            store: zero,
            store_t: zero,
            store_w: Pack::all(1.0),
        }
    }
}

/// Saturation pressure and its derivative.
#[inline(always)]
fn saturation<const L: usize, const W: bool>(temp: Pack<L, W>) -> (Pack<L, W>, Pack<L, W>) {
    let [a, b, c] = vapour::SATURATION;
    let low = Pack::all(vapour::SATURATION_TEMP_LOW);
    let over = 1.0 / (temp.or_larger(low) - Pack::all(c));
    let value = (Pack::all(a) - b * over).exp();
    (value, temp.at_least(low).only(value * (b * over * over)))
}

/// [`sorption::capped`] by a film's power: x held below 1, and its derivative.
#[inline(always)]
fn capped<const L: usize, const W: bool>(x: Pack<L, W>) -> (Pack<L, W>, Pack<L, W>) {
    const { assert!(sorption::CAP_POWER_FILM == 8, "the power is written out below") };
    let one = Pack::all(1.0);
    let beyond = x.at_least(one);
    let small = beyond.pick(1.0 / x, x);
    let small2 = small * small;
    let small4 = small2 * small2;
    let high = small4 * small4;
    let grown = one + high;
    let root = ((-1.0 / f64::from(sorption::CAP_POWER_FILM)) * grown.ln()).exp();
    let slope = root / grown;
    (beyond.pick(root, x * root), beyond.pick(slope * (small * high), slope))
}

/// [`sorption::rounded`]: x held below 1 by a hyperbola, and its derivative.
#[inline(always)]
fn rounded<const L: usize, const W: bool>(x: Pack<L, W>) -> (Pack<L, W>, Pack<L, W>) {
    let one = Pack::all(1.0);
    let below = one - x;
    let s = (below * below + (4.0 * sorption::CAP_ROUND) * x).sqrt();
    let value = (2.0 * x) / (one + x + s);
    (value, (one - value) / s)
}

/// A film on a closed face.
#[inline(always)]
pub(super) fn film<const L: usize, const W: bool>(
    temp: Pack<L, W>,
    content: Pack<L, W>,
) -> Wet<L, W> {
    let x = (1.0 / sorption::FILM_LEAST) * content;
    let (activity, by_x) = capped(x);
    let (saturated, by_temp) = saturation(temp);
    let liquid = enthalpy_liquid(temp);
    Wet {
        p: activity * saturated,
        p_t: activity * by_temp,
        p_w: (1.0 / sorption::FILM_LEAST) * by_x * saturated,
        ratio: x,
        heat: content * liquid,
        heat_t: vapour::LIQUID_SPECIFIC_HEAT * content,
        heat_w: liquid,
        store: content,
        ..Wet::nothing()
    }
}

#[inline(always)]
fn enthalpy_liquid<const L: usize, const W: bool>(temp: Pack<L, W>) -> Pack<L, W> {
    vapour::LIQUID_SPECIFIC_HEAT * (temp - Pack::all(vapour::TEMP_DATUM))
}

/// Enthalpy of vapour beyond that of liquid at the datum [J/kg].
#[inline(always)]
pub(crate) fn enthalpy_vapour<const L: usize, const W: bool>(temp: Pack<L, W>) -> Pack<L, W> {
    let warmed = vapour::VAPOUR_SPECIFIC_HEAT * (temp - Pack::all(vapour::TEMP_DATUM));
    Pack::all(vapour::LATENT_HEAT_DATUM) + warmed
}

/// Uncapped humidity at a ratio and its derivative.
#[inline(always)]
fn humidity<const L: usize, const W: bool>(ratio: Pack<L, W>) -> (Pack<L, W>, Pack<L, W>) {
    const LOW: f64 = sorption::ISOTHERM_LOW;
    const HIGH: f64 = sorption::ISOTHERM_HIGH;
    let z = (1.0 / sorption::ISOTHERM_SCALE) * ratio;
    let b = Pack::all(LOW + HIGH) - (HIGH - LOW) * z;
    let root = (b * b + (4.0 * LOW * HIGH) * (z * z)).sqrt();
    let sum = root + b.abs();
    let value = b.at_least(Pack::ZERO).pick((2.0 * LOW * HIGH) * z / sum, sum / (2.0 * z));
    let slope =
        (Pack::all(LOW) + value) * (Pack::all(HIGH) - value) / (sorption::ISOTHERM_SCALE * root);
    (value, slope)
}

/// Water bound by a sorbent, with the vapour in its pores.
#[inline(always)]
pub(super) fn bound<const L: usize, const W: bool>(
    temp: Pack<L, W>,
    content: Pack<L, W>,
    per_at_65: Pack<L, W>,
    pores: Pack<L, W>,
) -> Wet<L, W> {
    let one = Pack::all(1.0);
    let ratio = content * per_at_65;
    let (humidity, humidity_slope) = humidity(ratio);
    let filled = one + sorption::HEAT_FALL * ratio;
    let per_filled = 1.0 / filled;
    let binding = sorption::HEAT_FIRST * per_filled;
    let per_temp = 1.0 / temp;
    let warmer =
        (1.0 / vapour::GAS_CONSTANT_VAPOUR) * (Pack::all(1.0 / sorption::TEMP_ISOTHERM) - per_temp);
    let loosened = (binding * warmer).exp();
    let x = humidity * loosened;
    let x_t = (1.0 / vapour::GAS_CONSTANT_VAPOUR) * (x * binding * per_temp * per_temp);
    let x_ratio =
        humidity_slope * loosened - sorption::HEAT_FALL * (x * binding * per_filled * warmer);
    let (activity, by_x) = rounded(x);
    let (saturated, saturated_t) = saturation(temp);
    let p = activity * saturated;
    let p_t = by_x * x_t * saturated + activity * saturated_t;
    let p_w = by_x * x_ratio * saturated * per_at_65;
    let room = (1.0 / vapour::GAS_CONSTANT_VAPOUR) * (pores * per_temp);
    let airborne = room * p;
    let airborne_t = room * p_t - airborne * per_temp;
    let airborne_w = room * p_w;
    let (liquid, gas) = (enthalpy_liquid(temp), enthalpy_vapour(temp));
    let bound = (sorption::HEAT_FIRST / sorption::HEAT_FALL) * (filled.ln() / per_at_65);
    Wet {
        p,
        p_t,
        p_w,
        ratio,
        heat: content * liquid - bound + airborne * gas,
        heat_t: vapour::LIQUID_SPECIFIC_HEAT * content
            + airborne_t * gas
            + vapour::VAPOUR_SPECIFIC_HEAT * airborne,
        heat_w: liquid - binding + airborne_w * gas,
        store: content + airborne,
        store_t: airborne_t,
        store_w: one + airborne_w,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solver::sorbent::Sorbent;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const AT_65: f64 = 2e-3;
    const PORES: f64 = 2e-4;

    fn wet(temp: f64, content: f64) -> Wet<1, false> {
        bound::<1, false>(Pack([temp]), Pack([content]), Pack([1.0 / AT_65]), Pack([PORES]))
    }

    /// Derivative by central differences of two steps.
    fn difference(f: impl Fn(f64) -> f64, x: f64) -> f64 {
        let central = |step: f64| (f(x + step) - f(x - step)) / (2.0 * step);
        let step = 1e-4 * x;
        (4.0 * central(0.5 * step) - central(step)) / 3.0
    }

    #[track_caller]
    fn close(slope: Pack<1, false>, by_difference: f64, scale: f64) {
        let bound = 2e-6 * (scale.abs() + slope.0[0].abs());
        assert!((slope.0[0] - by_difference).abs() <= bound, "{} {by_difference}", slope.0[0]);
    }

    proptest! {
        #[test]
        fn packs_are_as_the_formulas_of_the_source(
            temp in 260.0..900.0f64, ratio in 1e-4..4.0f64, film_ratio in 0.01..5.0f64,
        ) {
            // one square metre a metre deep, so that amounts per volume are those per area
            let sorbent = Sorbent {
                bound_65: AT_65, held_start: 0.0, porosity: PORES, openness: 1.0, cut_off: 1.0,
                k_wet: 0.0, supply: None,
            };
            let content = ratio * AT_65;
            let wet = wet(temp, content);
            let p = sorption::activity(ratio, temp) * vapour::saturation_pressure(temp).value;
            // both exponentials and both logarithms are good to 1e-11
            assert_relative_eq!(wet.p.0[0], p, max_relative = 5e-11);
            assert_relative_eq!(wet.heat.0[0], sorbent.heat(temp, content), max_relative = 1e-9, epsilon = 1e-7);
            let airborne = PORES * sorbent.airborne(temp, content);
            assert_relative_eq!(wet.store.0[0], content + airborne, max_relative = 5e-11);
            let content = film_ratio * sorption::FILM_LEAST;
            let film = film::<1, false>(Pack([temp]), Pack([content]));
            let p = sorption::activity_of_film(content) * vapour::saturation_pressure(temp).value;
            assert_relative_eq!(film.p.0[0], p, max_relative = 1e-11);
            assert_relative_eq!(film.heat.0[0], content * vapour::enthalpy_liquid(temp), max_relative = 1e-12);
        }

        #[test]
        fn derivatives_are_those_of_the_values(
            temp in 260.0..900.0f64, ratio in 1e-3..4.0f64, film_ratio in 0.01..5.0f64,
        ) {
            let content = ratio * AT_65;
            let here = wet(temp, content);
            let by_temp = |of: fn(&Wet<1, false>) -> f64| difference(|t| of(&wet(t, content)), temp);
            let by_content = |of: fn(&Wet<1, false>) -> f64| difference(|w| of(&wet(temp, w)), content);
            close(here.p_t, by_temp(|wet| wet.p.0[0]), here.p.0[0] / temp);
            close(here.heat_t, by_temp(|wet| wet.heat.0[0]), here.heat.0[0] / temp);
            close(here.store_t, by_temp(|wet| wet.store.0[0]), here.store.0[0] / temp);
            close(here.p_w, by_content(|wet| wet.p.0[0]), here.p.0[0] / content);
            close(here.heat_w, by_content(|wet| wet.heat.0[0]), here.heat.0[0] / content);
            close(here.store_w, by_content(|wet| wet.store.0[0]), here.store.0[0] / content);
            let content = film_ratio * sorption::FILM_LEAST;
            let of_film = |t: f64, w: f64| film::<1, false>(Pack([t]), Pack([w]));
            let here = of_film(temp, content);
            close(here.p_t, difference(|t| of_film(t, content).p.0[0], temp), here.p.0[0] / temp);
            close(here.p_w, difference(|w| of_film(temp, w).p.0[0], content), here.p.0[0] / content);
            close(here.heat_w, difference(|w| of_film(temp, w).heat.0[0], content), 0.0);
        }
    }
}
