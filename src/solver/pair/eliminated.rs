//! The eliminated Newton matrix: its last node, and further right-hand sides.

use crate::solver::pack::Pack;
use crate::solver::pair::block::{Block, Two};
use crate::solver::pair::workspace::{Last, PairWorkspace};
use crate::solver::target::per_target;
use crate::solver::tridiagonal::weighted;

impl<const L: usize> PairWorkspace<L> {
    /// Factors the last node's block and turns its right-hand side into its correction.
    ///
    /// Its content is eliminated lane by lane, then the lanes' temperatures are weighted together
    /// where they are tied.
    pub fn solve_last(&mut self, ties: Option<&[f64; L]>) {
        let [tt, tw, wt, ww] = self.last.pivot;
        let own: [f64; L] = std::array::from_fn(|l| tt[l] - tw[l] * wt[l] / ww[l]);
        self.last.per_pivot = match ties {
            Some(ties) => [1.0 / weighted(ties, &own); L],
            None => own.map(|own| 1.0 / own),
        };
        let n = self.delta_t.len();
        let rhs = (self.delta_t[n - 1], self.delta_w[n - 1]);
        (self.delta_t[n - 1], self.delta_w[n - 1]) = self.last.solve(rhs, ties);
    }
}

per_target! {
    /// Solves the matrix last eliminated for another right-hand side of heat and vapour, in place.
    pub(crate) fn solve_again<const L: usize, const W: bool>(
        workspace: &PairWorkspace<L>,
        rhs: (&mut [[f64; L]], &mut [[f64; L]]),
        ties: Option<&[f64; L]>,
    ) {
        let (heat, vapour) = rhs;
        let PairWorkspace { lower, inverse, upper, carried, last, .. } = workspace;
        let block = |[tt, tw, wt, ww]: &[Vec<[f64; L]>; 4], i: usize| Block::<L, W> {
            tt: Pack(tt[i]),
            tw: Pack(tw[i]),
            wt: Pack(wt[i]),
            ww: Pack(ww[i]),
        };
        let n = heat.len();
        let mut before: Two<L, W> = [Pack::ZERO; 2];
        for i in 0..n {
            let from = block(lower, i).on(before);
            let own = Pack(heat[i]) - Pack(carried[i]) * Pack(vapour[i]);
            before = [own + from[0], Pack(vapour[i]) + from[1]];
            if i + 1 < n {
                before = block(inverse, i).on(before);
            } else {
                let (own_t, own_w) = last.solve((before[0].0, before[1].0), ties);
                before = [Pack(own_t), Pack(own_w)];
            }
            (heat[i], vapour[i]) = (before[0].0, before[1].0);
        }
        for i in (0..n.saturating_sub(1)).rev() {
            let from = block(upper, i).on(before);
            before = [Pack(heat[i]) - from[0], Pack(vapour[i]) - from[1]];
            (heat[i], vapour[i]) = (before[0].0, before[1].0);
        }
    }
}

impl<const L: usize> Last<L> {
    fn solve(
        &self,
        (heat, vapour): ([f64; L], [f64; L]),
        ties: Option<&[f64; L]>,
    ) -> ([f64; L], [f64; L]) {
        let [_, tw, wt, ww] = self.pivot;
        let mut own: [f64; L] = std::array::from_fn(|l| heat[l] - tw[l] * vapour[l] / ww[l]);
        if let Some(ties) = ties {
            own = [weighted(ties, &own); L];
        }
        let temp = std::array::from_fn(|l| own[l] * self.per_pivot[l]);
        let content = |l: usize| (vapour[l] - wt[l] * temp[l]) / ww[l];
        (temp, std::array::from_fn(content))
    }
}
