//! What each node holds and what each link lets through: entry by entry of flat fields, entry
//! `i·n_lanes + l`, as many at a time as the processor takes.

use crate::physics::vapour;
use crate::solver::pack::Pack;
use crate::solver::pair::chunk::{at, in_spans, put};
use crate::solver::pair::lanes::{Holds, PairLanes, Run};
use crate::solver::pair::link::{PairFlux, Passage, Potential, potential, transport};
use crate::solver::pair::wet::{self, Wet};

/// Values at nodes and links, at given unknowns.
#[derive(Debug, Clone)]
pub(crate) struct Fields {
    /// See [`Wet`], in its order.
    pub nodes: [Vec<f64>; 10],
    /// Potential within a slab, with its derivatives.
    pub potentials: [Vec<f64>; 3],
    /// See [`PairFlux`], in its order.
    pub fluxes: [Vec<f64>; 10],
}

impl Fields {
    /// Fields of `n` entries, so many nodes times so many lanes, that hold nothing.
    pub fn new(n: usize) -> Fields {
        let zeros = |_| vec![0.0; n];
        let mut nodes = std::array::from_fn(zeros);
        nodes[STORE_W] = vec![1.0; n];
        Fields { nodes, potentials: std::array::from_fn(zeros), fluxes: std::array::from_fn(zeros) }
    }

    /// Looks at the chain at given unknowns; `moving` tells how the air of each joint moves.
    pub fn look<const L: usize>(
        &mut self,
        pair: &PairLanes<L>,
        temps: &[[f64; L]],
        contents: &[[f64; L]],
        moving: &[[[f64; L]; 3]],
    ) {
        let mut all = Look {
            n_lanes: L,
            temps: temps.as_flattened(),
            contents: contents.as_flattened(),
            per_at_65: pair.per_at_65.as_flattened(),
            pores: pair.pores.as_flattened(),
            per_length: pair.per_length.as_flattened(),
            half_wet: pair.half_wet.as_flattened(),
            cut_off: &[],
            moving: None,
            conducts: false,
            nodes: &mut self.nodes,
            potentials: &mut self.potentials,
            fluxes: &mut self.fluxes,
        };
        for (holds, first, end) in &pair.stretches {
            match holds {
                Holds::Nothing => {}
                Holds::Film => films(&mut all, L, (first * L, end * L)),
                Holds::Sorbent => sorbents(&mut all, L, (first * L, end * L)),
            }
        }
        for Run { first, last, cut_off, conducts } in &pair.runs {
            all.cut_off = cut_off;
            all.conducts = *conducts;
            potentials(&mut all, L, (first * L, (last + 1) * L));
            cells(&mut all, L, (first * L, last * L));
        }
        for (joint, k) in pair.joints.iter().enumerate() {
            all.moving = Some(moving[joint].as_flattened());
            joints(&mut all, L, (k * L, (k + 1) * L));
        }
    }
}

/// Place of [`Wet::store_w`] among its fields.
const STORE_W: usize = 9;

/// What a look reads and writes, flat.
struct Look<'a> {
    n_lanes: usize,
    temps: &'a [f64],
    contents: &'a [f64],
    per_at_65: &'a [f64],
    pores: &'a [f64],
    per_length: &'a [f64],
    half_wet: &'a [f64],
    /// Cut-off of the slab at hand, per lane.
    cut_off: &'a [f64],
    /// How the air of the joint at hand moves, three numbers a lane.
    moving: Option<&'a [f64]>,
    conducts: bool,
    nodes: &'a mut [Vec<f64>; 10],
    potentials: &'a mut [Vec<f64>; 3],
    fluxes: &'a mut [Vec<f64>; 10],
}

impl Look<'_> {
    #[inline(always)]
    fn put_wet<const C: usize, const W: bool>(&mut self, e: usize, wet: &Wet<C, W>) {
        let Wet { p, p_t, p_w, ratio, heat, heat_t, heat_w, store, store_t, store_w } = *wet;
        let parts = [p, p_t, p_w, ratio, heat, heat_t, heat_w, store, store_t, store_w];
        for (field, part) in self.nodes.iter_mut().zip(parts) {
            put(field, e, part);
        }
    }

    /// Pressure and its derivatives at a node.
    #[inline(always)]
    fn pressure<const C: usize, const W: bool>(&self, e: usize) -> [Pack<C, W>; 3] {
        [at(&self.nodes[0], e), at(&self.nodes[1], e), at(&self.nodes[2], e)]
    }

    #[inline(always)]
    fn potential<const C: usize, const W: bool>(&self, e: usize) -> Potential<C, W> {
        let [value, by_t, by_w] = &*self.potentials;
        Potential { value: at(value, e), by_t: at(by_t, e), by_w: at(by_w, e) }
    }

    #[inline(always)]
    fn put_flux<const C: usize, const W: bool>(&mut self, e: usize, flux: &PairFlux<C, W>) {
        let PairFlux { q, q_t, q_w, j, j_t, j_w } = *flux;
        let parts = [q, q_t[0], q_t[1], q_w[0], q_w[1], j, j_t[0], j_t[1], j_w[0], j_w[1]];
        for (field, part) in self.fluxes.iter_mut().zip(parts) {
            put(field, e, part);
        }
    }
}

in_spans! { fn sorbents(all: &mut Look<'_>) by sorbents_at }

#[inline(always)]
fn sorbents_at<const C: usize, const W: bool>(all: &mut Look<'_>, e: usize) {
    let (temp, content) = (at(all.temps, e), at(all.contents, e));
    let wet = wet::bound::<C, W>(temp, content, at(all.per_at_65, e), at(all.pores, e));
    all.put_wet(e, &wet);
}

in_spans! { fn films(all: &mut Look<'_>) by films_at }

#[inline(always)]
fn films_at<const C: usize, const W: bool>(all: &mut Look<'_>, e: usize) {
    let wet = wet::film::<C, W>(at(all.temps, e), at(all.contents, e));
    all.put_wet(e, &wet);
}

in_spans! { fn potentials(all: &mut Look<'_>) by potentials_at }

#[inline(always)]
fn potentials_at<const C: usize, const W: bool>(all: &mut Look<'_>, e: usize) {
    let cut_off = match all.n_lanes {
        1 => Pack::<C, W>::all(all.cut_off[0]),
        n => at(all.cut_off, e % n),
    };
    let Potential { value, by_t, by_w } = potential(all.pressure(e), cut_off);
    for (field, part) in all.potentials.iter_mut().zip([value, by_t, by_w]) {
        put(field, e, part);
    }
}

in_spans! { fn cells(all: &mut Look<'_>) by cells_at }

#[inline(always)]
fn cells_at<const C: usize, const W: bool>(all: &mut Look<'_>, e: usize) {
    let n = all.n_lanes;
    let temps = [at::<C, W>(all.temps, e), at(all.temps, e + n)];
    let (value, slope) = transport(temps[0], temps[1]);
    let per_length = at(all.per_length, e);
    let slope = slope * per_length;
    let passage = Passage { value: value * per_length, by_t: [slope; 2] };
    let (before, after) = (all.potential(e), all.potential(e + n));
    let mut flux = PairFlux::of_vapour(&passage, [&before, &after], temps);
    if all.conducts {
        let ratios = [at(&all.nodes[3], e), at(&all.nodes[3], e + n)];
        let per_at_65 = [at(all.per_at_65, e), at(all.per_at_65, e + n)];
        flux.add_conduction(at(all.half_wet, e), ratios, temps, per_at_65);
    }
    all.put_flux(e, &flux);
}

in_spans! { fn joints(all: &mut Look<'_>) by joints_at }

#[inline(always)]
fn joints_at<const C: usize, const W: bool>(all: &mut Look<'_>, e: usize) {
    let n = all.n_lanes;
    let temps = [at::<C, W>(all.temps, e), at(all.temps, e + n)];
    let open = Pack::all(vapour::CUT_OFF_OPEN);
    let potentials = [potential(all.pressure(e), open), potential(all.pressure(e + n), open)];
    let (value, slope) = transport(temps[0], temps[1]);
    let per_length = at(all.per_length, e);
    let (value, slope) = (value * per_length, slope * per_length);
    let passage = match all.moving {
        None => Passage { value, by_t: [slope; 2] },
        Some(moving) => {
            let part = |part: usize| at(moving, part * n + e % n);
            let more = part(0);
            let by_t = [slope * more + value * part(1), slope * more + value * part(2)];
            Passage { value: value * more, by_t }
        }
    };
    let flux = PairFlux::of_vapour(&passage, [&potentials[0], &potentials[1]], temps);
    all.put_flux(e, &flux);
}
