//! What a chain holds and gains of vapour at one moment of a step.

use crate::solver::pack::Pack;
use crate::solver::pair::block::Block;
use crate::solver::rates::Rates;
use crate::solver::tridiagonal::weighted;

/// Values at one set of unknowns, one entry a node, beside those of heat.
#[derive(Debug, Clone)]
pub(crate) struct PairRates<const L: usize> {
    /// Derivative of the heat by the content [J/kg].
    pub heat_w: Vec<[f64; L]>,
    /// All that is held [kg/m²].
    pub store: Vec<[f64; L]>,
    /// Its derivative by the temperature [kg/(m²·K)].
    pub store_t: Vec<[f64; L]>,
    /// Its derivative by the content [–].
    pub store_w: Vec<[f64; L]>,
    /// Net rate [kg/(m²·s)].
    pub gain: Vec<[f64; L]>,
    /// Heat that conversion takes up while it goes on [W/m²].
    pub taken: Vec<[f64; L]>,
    /// What passes the outer face.
    pub passing: Passing<L>,
}

/// Vapour that passes the outer face, and what supplies set free.
#[derive(Debug, Clone)]
pub(crate) struct Passing<const L: usize> {
    /// Into the chain [kg/(m²·s)].
    pub inwards: [f64; L],
    /// Its derivative by the face's temperature [kg/(m²·s·K)].
    pub by_t: [f64; L],
    /// Its derivative by the face's content [1/s].
    pub by_w: [f64; L],
    /// Set free by supplies [kg/(m²·s)].
    pub supplied: [f64; L],
    /// Heat that the vapour brings in [W/m²].
    pub q_in: [f64; L],
    /// Its derivative by the face's temperature [W/(m²·K)].
    pub q_in_by_t: [f64; L],
    /// Its derivative by the face's content [W/kg].
    pub q_in_by_w: [f64; L],
}

impl<const L: usize> Passing<L> {
    /// Nothing passes.
    pub const NOTHING: Passing<L> = Passing {
        inwards: [0.0; L],
        by_t: [0.0; L],
        by_w: [0.0; L],
        supplied: [0.0; L],
        q_in: [0.0; L],
        q_in_by_t: [0.0; L],
        q_in_by_w: [0.0; L],
    };

    /// Takes over the vapour that passes, without heat and derivatives, in one lane.
    pub fn take(&mut self, other: &Passing<L>, l: usize) {
        self.inwards[l] = other.inwards[l];
        self.supplied[l] = other.supplied[l];
    }
}

impl<const L: usize> PairRates<L> {
    /// Nothing held and nothing passing, of `n` nodes.
    pub fn new(n: usize) -> PairRates<L> {
        let zeros = || vec![[0.0; L]; n];
        PairRates {
            heat_w: zeros(),
            store: zeros(),
            store_t: zeros(),
            store_w: vec![[1.0; L]; n],
            gain: zeros(),
            taken: zeros(),
            passing: Passing::NOTHING,
        }
    }
}

impl<const L: usize> PairRates<L> {
    /// What a node's heat and vapour gain by its temperature and content.
    #[inline(always)]
    pub fn block<const W: bool>(&self, rates: &Rates<L>, i: usize) -> Block<L, W> {
        Block {
            tt: Pack(rates.cap[i]),
            tw: Pack(self.heat_w[i]),
            wt: Pack(self.store_t[i]),
            ww: Pack(self.store_w[i]),
        }
    }

    /// Takes over the net rates and what comes from outside, in one lane.
    pub fn take(&mut self, other: &PairRates<L>, l: usize) {
        for (own, other) in self.gain.iter_mut().zip(&other.gain) {
            own[l] = other[l];
        }
        self.passing.take(&other.passing, l);
    }

    /// Slope of the temperature of the last node, which all lanes share, and those of its contents
    /// [K/s, kg/(m²·s)].
    pub fn tied_slopes(&self, weights: &[f64; L], rates: &Rates<L>) -> (f64, [f64; L]) {
        let last = rates.rate.len() - 1;
        let (mut rate, mut cap) = ([0.0; L], [0.0; L]);
        for l in 0..L {
            let carried = self.heat_w[last][l] / self.store_w[last][l];
            rate[l] = rates.rate[last][l] - carried * self.gain[last][l];
            cap[l] = rates.cap[last][l] - carried * self.store_t[last][l];
        }
        let temp = weighted(weights, &rate) / weighted(weights, &cap);
        let content = std::array::from_fn(|l| {
            (self.gain[last][l] - self.store_t[last][l] * temp) / self.store_w[last][l]
        });
        (temp, content)
    }
}

/// Rates of temperature and content at a node that keep both accounts [K/s, kg/(m²·s)].
#[inline(always)]
pub(crate) fn slopes<const L: usize, const W: bool>(
    rates: &Rates<L>,
    own: &PairRates<L>,
    i: usize,
) -> [Pack<L, W>; 2] {
    let block = own.block::<W>(rates, i);
    block.inverse().on([Pack(rates.rate[i]) - Pack(own.taken[i]), Pack(own.gain[i])])
}
