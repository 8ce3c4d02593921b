//! The way back: corrections from the last node to the first, held back where they go too far.

use crate::solver::pack::Pack;
use crate::solver::pair::block::{Block, Two};
use crate::solver::pair::chunk::{at, in_chunks, put, within};

/// Most that a temperature moves in one iteration [K].
pub(crate) const MOVE_MOST: f64 = 60.0;
/// Least share of its content that a node keeps in one iteration [–].
const KEPT_LEAST: f64 = 0.05;
/// Content held back by that share that the account does not feel [kg/m²].
const HELD_BACK: f64 = 1e-14;

/// Everything that the way back reads and writes, as flat fields: entry `i·n_lanes + l`.
pub(crate) struct Backward<'a> {
    pub n: usize,
    pub n_lanes: usize,
    pub upper: [&'a [f64]; 4],
    pub temps: &'a [f64],
    pub contents: &'a [f64],
    pub temps_start: &'a [f64],
    pub contents_start: &'a [f64],
    pub kelvins: &'a [f64],
    /// Highest temperatures so far, where one-way changes bend; else none.
    pub peaks: Option<&'a [f64]>,
    /// Correction allowed, per `rise_scale` plus the node's own rise.
    pub tol: f64,
    pub rise_scale: f64,
    pub delta_t: &'a mut [f64],
    pub delta_w: &'a mut [f64],
    /// See [`Measured`](crate::solver::pair::workspace::Measured), per lane.
    pub size: &'a mut [f64],
    pub beyond: &'a mut [f64],
    pub lowest: &'a mut [f64],
    pub highest: &'a mut [f64],
    pub over: &'a mut [f64],
    pub turned: &'a mut [f64],
    pub first: [&'a mut [f64]; 2],
}

in_chunks! {
    /// Substitutes backwards from the last node's correction and measures on the way.
    pub(crate) fn backward(all: &mut Backward<'_>) by chunk
}

#[inline(always)]
fn chunk<const C: usize, const W: bool>(all: &mut Backward<'_>, l: usize) {
    let len = all.n * all.n_lanes;
    let [tt, tw, wt, ww] = all.upper;
    let upper = [&tt[..len], &tw[..len], &wt[..len], &ww[..len]];
    let (temps, contents) = (&all.temps[..len], &all.contents[..len]);
    let (temps_start, contents_start) = (&all.temps_start[..len], &all.contents_start[..len]);
    let (kelvins, peaks) = (&all.kelvins[..len], all.peaks.map(|peaks| &peaks[..len]));
    let (deltas_t, deltas_w) = (&mut all.delta_t[..len], &mut all.delta_w[..len]);
    let (tol, scale) = (Pack::<C, W>::all(all.tol), Pack::all(all.rise_scale));
    let most = Pack::all(MOVE_MOST);
    let mut size = Pack::<C, W>::ZERO;
    let mut beyond = Pack::all(f64::NEG_INFINITY);
    let mut lowest = Pack::all(f64::INFINITY);
    let mut highest = Pack::ZERO;
    let mut over = Pack::all(f64::NEG_INFINITY);
    let mut turned = Pack::ZERO;
    let mut own: Two<C, W> = [Pack::ZERO; 2];
    for i in (0..all.n).rev() {
        let here = within::<C>(i * all.n_lanes + l, len);
        let rhs: Two<C, W> = [at(deltas_t, here), at(deltas_w, here)];
        own = match i + 1 == all.n {
            true => rhs,
            false => {
                let from = Block::at(upper, here).on(own);
                [rhs[0] - from[0], rhs[1] - from[1]]
            }
        };
        let (before, content) = (at(temps, here), at::<C, W>(contents, here));
        let delta_t = own[0].or_larger(-most).or_smaller(most);
        let delta_w = own[1].or_larger((KEPT_LEAST - 1.0) * content);
        over = (own[0].abs() - most).or_larger(over);
        over = (delta_w - own[1] - Pack::all(HELD_BACK)).or_larger(over);
        let temp = before + delta_t;
        if let Some(peaks) = peaks {
            let peak = at(peaks, here);
            turned = turned.or_bits((before - peak).other_bits(temp - peak));
        }
        let per_content = at::<C, W>(kelvins, here);
        let (size_t, size_w) = (delta_t.abs(), delta_w.abs() * per_content);
        let rise = (temp - at(temps_start, here)).abs();
        let rise_w = (content + delta_w - at(contents_start, here)).abs() * per_content;
        size = size_w.or_larger(size_t.or_larger(size));
        beyond = (size_t - tol * (scale + rise)).or_larger(beyond);
        beyond = (size_w - tol * (scale + rise_w)).or_larger(beyond);
        highest = temp.or_larger(highest);
        lowest = temp.or_smaller(lowest);
        put(deltas_t, here, delta_t);
        put(deltas_w, here, delta_w);
    }
    put(all.size, l, size);
    put(all.beyond, l, beyond);
    put(all.lowest, l, lowest);
    put(all.highest, l, highest);
    put(all.over, l, over);
    put(all.turned, l, turned);
    put(all.first[0], l, own[0]);
    put(all.first[1], l, own[1]);
}
