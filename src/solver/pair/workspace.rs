//! Room for the Newton iteration of both unknowns.

use crate::solver::media::Point;
use crate::solver::pair::fields::Fields;
use crate::solver::pair::front::{Front, Moving};

/// Room for the Newton iteration; entries a node unless they say otherwise.
#[derive(Debug, Clone)]
pub(crate) struct PairWorkspace<const L: usize> {
    pub points: Vec<Point<L>>,
    /// Heat without vapour: content [J/m²], capacity, rate [W/m²] and its derivatives by the
    /// temperatures at the node, before and after it [W/(m²·K)].
    pub heat: Vec<[f64; L]>,
    pub diag: Vec<[f64; L]>,
    pub before: Vec<[f64; L]>,
    pub after: Vec<[f64; L]>,
    pub front: Front<L>,
    pub fields: Fields,
    /// How the air of each joint moves.
    pub moving: Vec<Moving<L>>,
    pub supplied: Vec<[f64; L]>,
    /// Shares of mass lost, a slab's nodes.
    pub lost: Vec<[f64; L]>,
    /// Heat of vapour at each node [J/kg]: so many rows of vapour are taken from its row of heat.
    pub carried: Vec<[f64; L]>,
    /// Blocks of the eliminated matrix, by their parts: what a row takes of the one before, one over
    /// its pivot, and what of the one after its own unknowns take.
    pub lower: [Vec<[f64; L]>; 4],
    pub inverse: [Vec<[f64; L]>; 4],
    pub upper: [Vec<[f64; L]>; 4],
    /// Corrections of temperature and content.
    pub delta_t: Vec<[f64; L]>,
    pub delta_w: Vec<[f64; L]>,
    /// Heat and vapour beyond the goal.
    pub excess: Vec<[f64; L]>,
    pub excess_w: Vec<[f64; L]>,
    pub last: Last<L>,
    pub measured: Measured<L>,
}

/// The last node, whose temperature may be all lanes' together.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Last<const L: usize> {
    /// Its eliminated block, and one over the pivot of its temperature.
    pub pivot: [[f64; L]; 4],
    pub per_pivot: [f64; L],
    /// Its rate of heat, with derivatives by its own temperature and content and by those of the
    /// node before.
    pub rate: [f64; L],
    pub by_own: [[f64; L]; 2],
    pub by_before: [[f64; L]; 2],
}

/// What corrections amount to.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Measured<const L: usize> {
    /// Largest correction, and how far the largest lies beyond what is allowed [K].
    pub size: [f64; L],
    pub beyond: [f64; L],
    /// Lowest and highest temperature they lead to [K].
    pub lowest: [f64; L],
    pub highest: [f64; L],
    /// Above 0 where one was held back.
    pub over: [f64; L],
    /// Negative where one leads across the highest temperature so far.
    pub turned: [f64; L],
    /// The first node's corrections as solved for, where NaN would be seen.
    pub first: [[f64; L]; 2],
}

impl<const L: usize> PairWorkspace<L> {
    /// Room for `n` nodes and `n_joints` joints; what it holds means nothing before a stage is evaluated.
    pub fn new(n: usize, n_joints: usize) -> PairWorkspace<L> {
        let zeros = || vec![[0.0; L]; n];
        let blocks = || std::array::from_fn(|_| zeros());
        let none = [0.0; L];
        PairWorkspace {
            points: vec![Point::ZERO; n],
            heat: zeros(),
            diag: zeros(),
            before: zeros(),
            after: zeros(),
            front: Front::CLOSED,
            fields: Fields::new(n * L),
            moving: vec![[none; 3]; n_joints],
            supplied: zeros(),
            lost: zeros(),
            carried: zeros(),
            lower: blocks(),
            inverse: blocks(),
            upper: blocks(),
            delta_t: zeros(),
            delta_w: zeros(),
            excess: zeros(),
            excess_w: zeros(),
            last: Last {
                pivot: [none; 4],
                per_pivot: none,
                rate: none,
                by_own: [none; 2],
                by_before: [none; 2],
            },
            measured: Measured {
                size: none,
                beyond: none,
                lowest: none,
                highest: none,
                over: none,
                turned: none,
                first: [none; 2],
            },
        }
    }
}
