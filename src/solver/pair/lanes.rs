//! What binds and passes vapour, laid out for computing: `L` problems side by side.

use crate::physics::{air, sorption, vapour};
use crate::solver::pair::reacting::LaneReacting;
use crate::solver::problem::{Joint, Problem};
use crate::solver::sorbent::Supply;

/// Content of a bare face at the start over the film's least [–]: room air at half of saturation.
const FILM_START: f64 = 0.5;

/// What holds vapour at a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Holds {
    /// Nothing: the node is closed to it.
    Nothing,
    /// A film on a face that lets nothing through.
    Film,
    /// A sorbent.
    Sorbent,
}

/// The nodes of a slab that binds vapour.
#[derive(Debug, Clone)]
pub(crate) struct Run<const L: usize> {
    pub first: usize,
    pub last: usize,
    /// Share of air below which vapour flows [–].
    pub cut_off: [f64; L],
    /// Whether what its nodes hold conducts in any lane.
    pub conducts: bool,
}

/// Vapour in `L` problems of one shape.
#[derive(Debug, Clone)]
pub(crate) struct PairLanes<const L: usize> {
    pub holds: Vec<Holds>,
    /// What each node binds in balance with 65 % of saturation, or the film's least [kg/m²].
    pub at_65: Vec<[f64; L]>,
    /// One over it [m²/kg].
    pub per_at_65: Vec<[f64; L]>,
    /// Pores that belong to each node [m].
    pub pores: Vec<[f64; L]>,
    /// What each node holds at the start, bound and liquid [kg/m²].
    pub start: Vec<[f64; L]>,
    /// Kelvins by which evaporation of a kilogram per area would cool the node at the start [K·m²/kg].
    pub kelvins: Vec<[f64; L]>,
    /// Nodes in a row that hold vapour alike: how, the first, and the one after the last.
    pub stretches: Vec<(Holds, usize, usize)>,
    /// Slabs that bind vapour.
    pub runs: Vec<Run<L>>,
    /// The joints, by the node before each.
    pub joints: Vec<usize>,
    /// One over the still air that resists vapour as each link does [1/m].
    pub per_length: Vec<[f64; L]>,
    /// Half of the conductance that each further content at 65 % brings [W/(m²·K)].
    pub half_wet: Vec<[f64; L]>,
    /// What each slab sets free, where any does.
    pub supplies: Vec<Option<Supply>>,
    /// The slabs that react.
    pub reacting: Vec<LaneReacting<L>>,
    /// How many shares converted there are in all.
    pub n_entries: usize,
    /// Whether the outer face's film feels the gas that leaves it.
    pub blown: [bool; L],
}

impl<const L: usize> PairLanes<L> {
    /// Lanes of the shape of `lead`, without values; none when nothing in it binds vapour.
    pub fn empty(lead: &Problem) -> Option<PairLanes<L>> {
        if !lead.has_sorbent() {
            return None;
        }
        let n = lead.n_nodes();
        let zeros = || vec![[0.0; L]; n];
        let of_links = || vec![[0.0; L]; n - 1];
        let holds = holds(lead);
        let supplies: Vec<_> =
            lead.slabs.iter().map(|slab| slab.sorbent.and_then(|own| own.supply)).collect();
        let any = supplies.iter().any(Option::is_some);
        Some(PairLanes {
            at_65: zeros(),
            per_at_65: zeros(),
            pores: zeros(),
            start: zeros(),
            kelvins: zeros(),
            stretches: stretches(&holds),
            runs: runs(lead),
            joints: lead.links().map(|(node, _)| node).collect(),
            holds,
            per_length: of_links(),
            half_wet: of_links(),
            supplies: if any { supplies } else { Vec::new() },
            reacting: LaneReacting::all_empty(lead),
            n_entries: lead.reaction_entries().1,
            blown: [false; L],
        })
    }

    /// Puts a problem into a lane; `lumps` are the heat capacities that sit on nodes beside the slabs'.
    pub fn load(&mut self, l: usize, problem: &Problem, lumps: &[[f64; L]]) {
        for of_nodes in [&mut self.at_65, &mut self.pores, &mut self.start] {
            of_nodes.iter_mut().for_each(|value| value[l] = 0.0);
        }
        for (i, lump) in lumps.iter().enumerate() {
            self.kelvins[i][l] = lump[l];
        }
        for (slab, (first, _)) in problem.slabs.iter().zip(problem.spans()) {
            for (c, share) in shares(&slab.cells).enumerate() {
                let i = first + c;
                self.kelvins[i][l] += share * slab.medium.rho_cp.at(slab.temps_start.0);
                if let Some(sorbent) = &slab.sorbent {
                    self.at_65[i][l] += share * sorbent.bound_65;
                    self.pores[i][l] += share * sorbent.porosity;
                    self.start[i][l] += share * sorbent.held_start;
                }
            }
            let Some(sorbent) = &slab.sorbent else { continue };
            for (c, dx) in slab.cells.iter().enumerate() {
                let k = first + c;
                self.per_length[k][l] = sorbent.openness / dx;
                self.half_wet[k][l] = 0.5 * sorbent.k_wet / dx;
            }
        }
        let sorbents = problem.slabs.iter().filter_map(|slab| slab.sorbent.as_ref());
        for (run, sorbent) in self.runs.iter_mut().zip(sorbents) {
            run.cut_off[l] = sorbent.cut_off;
            run.conducts = self.half_wet[run.first].iter().any(|film| *film > 0.0);
        }
        self.load_joints(l, problem);
        self.reacting.iter_mut().for_each(|slab| slab.load(l, problem));
        self.blown[l] = problem.drive.blown;
        for (i, holds) in self.holds.iter().enumerate() {
            if *holds == Holds::Film {
                self.at_65[i][l] = sorption::FILM_LEAST;
                self.start[i][l] = FILM_START * sorption::FILM_LEAST;
            }
            let to_dry = vapour::LATENT_HEAT_DATUM / self.kelvins[i][l];
            // a face's film is as little as its own least, whatever stands behind it
            let of_film = 1.0 / sorption::FILM_LEAST;
            self.kelvins[i][l] = if *holds == Holds::Film { of_film } else { to_dry };
            self.per_at_65[i][l] = 1.0 / self.at_65[i][l];
        }
    }

    fn load_joints(&mut self, l: usize, problem: &Problem) {
        for (k, joint) in problem.links() {
            let still = match joint {
                Joint::Conductance(h) => air::conductivity(vapour::TEMP_DATUM).value / h,
                Joint::Air { thickness, .. } => thickness,
                Joint::Shared => unreachable!("a shared face is no link"),
            };
            self.per_length[k][l] = 1.0 / still;
        }
    }
}

/// What of a slab's cells belongs to each of its nodes [m].
fn shares(cells: &[f64]) -> impl Iterator<Item = f64> {
    let before = std::iter::once(0.0).chain(cells.iter().copied());
    let after = cells.iter().copied().chain([0.0]);
    before.zip(after).map(|(before, after)| 0.5 * (before + after))
}

/// Nodes in a row that hold vapour alike.
fn stretches(holds: &[Holds]) -> Vec<(Holds, usize, usize)> {
    let mut stretches: Vec<(Holds, usize, usize)> = Vec::new();
    for (i, own) in holds.iter().enumerate() {
        match stretches.last_mut() {
            Some((holds, _, end)) if holds == own => *end = i + 1,
            _ => stretches.push((*own, i, i + 1)),
        }
    }
    stretches
}

/// Slabs that bind vapour, without values.
fn runs<const L: usize>(problem: &Problem) -> Vec<Run<L>> {
    let slabs = problem.slabs.iter().zip(problem.spans());
    let run = |(_, (first, last))| Run { first, last, cut_off: [1.0; L], conducts: false };
    slabs.filter(|(slab, _)| slab.sorbent.is_some()).map(run).collect()
}

/// What holds vapour at each node: sorbents at theirs, films at closed faces before open air.
fn holds(problem: &Problem) -> Vec<Holds> {
    let mut holds = vec![Holds::Nothing; problem.n_nodes()];
    holds[0] = Holds::Film;
    for (node, _) in problem.links() {
        holds[node] = Holds::Film;
        holds[node + 1] = Holds::Film;
    }
    for (slab, (first, last)) in problem.slabs.iter().zip(problem.spans()) {
        if slab.sorbent.is_some() {
            holds[first..=last].fill(Holds::Sorbent);
        }
    }
    holds
}
