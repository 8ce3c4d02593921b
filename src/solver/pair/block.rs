//! 2×2 blocks: first row heat, second vapour; first column temperature, second content.

use crate::solver::pack::Pack;
use crate::solver::pair::chunk::{at, put};

/// A block per lane.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Block<const L: usize, const W: bool> {
    /// Heat by temperature.
    pub tt: Pack<L, W>,
    /// Heat by content.
    pub tw: Pack<L, W>,
    /// Vapour by temperature.
    pub wt: Pack<L, W>,
    /// Vapour by content.
    pub ww: Pack<L, W>,
}

/// A pair of numbers per lane: of heat or temperature, and of vapour.
pub(crate) type Two<const L: usize, const W: bool> = [Pack<L, W>; 2];

impl<const L: usize, const W: bool> Block<L, W> {
    /// All parts 0.
    pub const ZERO: Block<L, W> =
        Block { tt: Pack::ZERO, tw: Pack::ZERO, wt: Pack::ZERO, ww: Pack::ZERO };

    /// The block of `L` entries of four flat fields from `k` on.
    #[inline(always)]
    pub fn at([tt, tw, wt, ww]: [&[f64]; 4], k: usize) -> Block<L, W> {
        Block { tt: at(tt, k), tw: at(tw, k), wt: at(wt, k), ww: at(ww, k) }
    }

    /// Puts the block where [`Block::at`] finds it.
    #[inline(always)]
    pub fn put(&self, [tt, tw, wt, ww]: &mut [&mut [f64]; 4], k: usize) {
        put(tt, k, self.tt);
        put(tw, k, self.tw);
        put(wt, k, self.wt);
        put(ww, k, self.ww);
    }

    /// Each part put through `f`.
    #[inline(always)]
    pub fn map(&self, f: impl Fn(Pack<L, W>) -> Pack<L, W>) -> Block<L, W> {
        Block { tt: f(self.tt), tw: f(self.tw), wt: f(self.wt), ww: f(self.ww) }
    }

    /// The difference, part by part.
    #[inline(always)]
    pub fn minus(&self, other: &Block<L, W>) -> Block<L, W> {
        Block {
            tt: self.tt - other.tt,
            tw: self.tw - other.tw,
            wt: self.wt - other.wt,
            ww: self.ww - other.ww,
        }
    }

    /// The sum, part by part.
    #[inline(always)]
    pub fn plus(&self, other: &Block<L, W>) -> Block<L, W> {
        Block {
            tt: self.tt + other.tt,
            tw: self.tw + other.tw,
            wt: self.wt + other.wt,
            ww: self.ww + other.ww,
        }
    }

    /// The product of the matrices, this one first.
    #[inline(always)]
    pub fn times(&self, other: &Block<L, W>) -> Block<L, W> {
        Block {
            tt: self.tt * other.tt + self.tw * other.wt,
            tw: self.tt * other.tw + self.tw * other.ww,
            wt: self.wt * other.tt + self.ww * other.wt,
            ww: self.wt * other.tw + self.ww * other.ww,
        }
    }

    /// The matrix times a pair.
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

    /// The determinant.
    #[inline(always)]
    pub fn determinant(&self) -> Pack<L, W> {
        self.tt * self.ww - self.tw * self.wt
    }

    /// The determinant times the inverse, whether or not there is one.
    #[inline(always)]
    pub fn adjugate(&self) -> Block<L, W> {
        Block { tt: self.ww, tw: -self.tw, wt: -self.wt, ww: self.tt }
    }

    /// The inverse; not finite where the determinant is 0.
    #[inline(always)]
    pub fn inverse(&self) -> Block<L, W> {
        let per_det = 1.0 / self.determinant();
        self.adjugate().map(|part| part * per_det)
    }
}
