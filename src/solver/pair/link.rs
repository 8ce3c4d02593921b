//! Vapour that crosses a link from one node to the next, and the heat it carries.

use crate::physics::{air, vapour};
use crate::solver::pack::Pack;
use crate::solver::pair::wet::enthalpy_vapour;

/// Fluxes from one node to the next and their derivatives, by the node before and by the one after.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PairFlux<const L: usize, const W: bool> {
    /// Heat [W/m²].
    pub q: Pack<L, W>,
    pub q_t: [Pack<L, W>; 2],
    pub q_w: [Pack<L, W>; 2],
    /// Vapour [kg/(m²·s)].
    pub j: Pack<L, W>,
    pub j_t: [Pack<L, W>; 2],
    pub j_w: [Pack<L, W>; 2],
}

/// What drives vapour at a node [–], with its derivatives by temperature and content.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Potential<const L: usize, const W: bool> {
    pub value: Pack<L, W>,
    pub by_t: Pack<L, W>,
    pub by_w: Pack<L, W>,
}

/// What a link lets through per potential [kg/(m²·s)], with its derivatives by both temperatures.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Passage<const L: usize, const W: bool> {
    pub value: Pack<L, W>,
    pub by_t: [Pack<L, W>; 2],
}

/// [`vapour::stefan`] at a node of a vapour pressure with its derivatives.
#[inline(always)]
pub(crate) fn potential<const L: usize, const W: bool>(
    [p, p_t, p_w]: [Pack<L, W>; 3],
    cut_off: Pack<L, W>,
) -> Potential<L, W> {
    let air = Pack::all(1.0) - (1.0 / air::PRESSURE) * p;
    let held = air.or_larger(cut_off);
    let slope = 1.0 / (air::PRESSURE * held);
    Potential { value: (held - air) / cut_off - held.ln(), by_t: slope * p_t, by_w: slope * p_w }
}

/// [`vapour::transport`] at the mean of two temperatures within 2e-6, and its derivative by either.
#[inline(always)]
pub(crate) fn transport<const L: usize, const W: bool>(
    before: Pack<L, W>,
    after: Pack<L, W>,
) -> (Pack<L, W>, Pack<L, W>) {
    const POWER: f64 = vapour::DIFFUSIVITY_POWER - 1.0;
    const G: [f64; 7] = vapour::GROWTH;
    let sum = before + after;
    // the power law by its polynomial: in pairs, so that sums do not wait for one another
    let u2 = (0.5 / vapour::TEMP_DATUM) * sum;
    let u = u2.sqrt();
    let pair = |k: usize| Pack::all(G[k]) + G[k + 1] * u;
    let u4 = u2 * u2;
    let grown = (pair(0) + u2 * pair(2)) + u4 * (pair(4) + G[6] * u2);
    let value = vapour::TRANSPORT_DATUM * grown;
    (value, POWER * value / sum)
}

impl<const L: usize, const W: bool> PairFlux<L, W> {
    /// The vapour that a link lets through between two nodes, with its heat: that in the middle between
    /// them, which errs by the square of the link's length (that of the node it leaves, by its length).
    #[inline(always)]
    pub fn of_vapour(
        passage: &Passage<L, W>,
        [before, after]: [&Potential<L, W>; 2],
        temps: [Pack<L, W>; 2],
    ) -> PairFlux<L, W> {
        let drop = before.value - after.value;
        let Passage { value, by_t } = *passage;
        let j = value * drop;
        let j_t = [by_t[0] * drop + value * before.by_t, by_t[1] * drop - value * after.by_t];
        let j_w = [value * before.by_w, -(value * after.by_w)];
        let enthalpy = enthalpy_vapour(0.5 * (temps[0] + temps[1]));
        let by_temp = (0.5 * vapour::VAPOUR_SPECIFIC_HEAT) * j;
        PairFlux {
            q: j * enthalpy,
            q_t: [j_t[0] * enthalpy + by_temp, j_t[1] * enthalpy + by_temp],
            q_w: [j_w[0] * enthalpy, j_w[1] * enthalpy],
            j,
            j_t,
            j_w,
        }
    }

    /// Adds what a link conducts because it is wet, by the mean of both nodes; `half` is half of
    /// what each content at 65 % brings.
    #[inline(always)]
    pub fn add_conduction(
        &mut self,
        half: Pack<L, W>,
        ratios: [Pack<L, W>; 2],
        temps: [Pack<L, W>; 2],
        per_at_65: [Pack<L, W>; 2],
    ) {
        let one = Pack::all(1.0);
        let beyond = |ratio: Pack<L, W>| (ratio - one).or_larger(Pack::ZERO);
        let film = half * (beyond(ratios[0]) + beyond(ratios[1]));
        let diff = temps[0] - temps[1];
        self.q += film * diff;
        self.q_t[0] += film;
        self.q_t[1] -= film;
        for side in 0..2 {
            let wetter = ratios[side].at_least(one);
            self.q_w[side] += wetter.only(half * diff * per_at_65[side]);
        }
    }
}
