//! 2×2 blocks: first row heat, second vapour; first column temperature, second content.

use crate::solver::pack::Pack;
use crate::solver::pair::chunk::{at, put};

/// A block per lane.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Block<const L: usize, const W: bool> {
    pub tt: Pack<L, W>,
    pub tw: Pack<L, W>,
    pub wt: Pack<L, W>,
    pub ww: Pack<L, W>,
}

/// A pair of numbers per lane: of heat or temperature, and of vapour.
pub(crate) type Two<const L: usize, const W: bool> = [Pack<L, W>; 2];

impl<const L: usize, const W: bool> Block<L, W> {
    pub const ZERO: Block<L, W> =
        Block { tt: Pack::ZERO, tw: Pack::ZERO, wt: Pack::ZERO, ww: Pack::ZERO };

    /// The block of node `i` from lane `l` on, of a field of `n_lanes` lanes and four numbers a node.
    #[inline(always)]
    pub fn at(field: &[f64], i: usize, (l, n_lanes): (usize, usize)) -> Block<L, W> {
        let own = |part: usize| at(field, (4 * i + part) * n_lanes + l);
        Block { tt: own(0), tw: own(1), wt: own(2), ww: own(3) }
    }

    /// Puts the block where [`Block::at`] finds it.
    #[inline(always)]
    pub fn put(&self, field: &mut [f64], i: usize, (l, n_lanes): (usize, usize)) {
        for (part, own) in [self.tt, self.tw, self.wt, self.ww].into_iter().enumerate() {
            put(field, (4 * i + part) * n_lanes + l, own);
        }
    }

    #[inline(always)]
    pub fn map(&self, f: impl Fn(Pack<L, W>) -> Pack<L, W>) -> Block<L, W> {
        Block { tt: f(self.tt), tw: f(self.tw), wt: f(self.wt), ww: f(self.ww) }
    }

    #[inline(always)]
    pub fn minus(&self, other: &Block<L, W>) -> Block<L, W> {
        Block {
            tt: self.tt - other.tt,
            tw: self.tw - other.tw,
            wt: self.wt - other.wt,
            ww: self.ww - other.ww,
        }
    }

    #[inline(always)]
    pub fn times(&self, other: &Block<L, W>) -> Block<L, W> {
        Block {
            tt: self.tt * other.tt + self.tw * other.wt,
            tw: self.tt * other.tw + self.tw * other.ww,
            wt: self.wt * other.tt + self.ww * other.wt,
            ww: self.wt * other.tw + self.ww * other.ww,
        }
    }

    #[inline(always)]
    pub fn on(&self, [t, w]: Two<L, W>) -> Two<L, W> {
        [self.tt * t + self.tw * w, self.wt * t + self.ww * w]
    }

    /// Its row of heat less `factor` times its row of vapour.
    #[inline(always)]
    pub fn less_carried(&self, factor: Pack<L, W>) -> Block<L, W> {
        let Block { tt, tw, wt, ww } = *self;
        Block { tt: tt - factor * wt, tw: tw - factor * ww, wt, ww }
    }

    #[inline(always)]
    pub fn inverse(&self) -> Block<L, W> {
        let per_det = 1.0 / (self.tt * self.ww - self.tw * self.wt);
        Block {
            tt: self.ww * per_det,
            tw: -(self.tw * per_det),
            wt: -(self.wt * per_det),
            ww: self.tt * per_det,
        }
    }
}
