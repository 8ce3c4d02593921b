//! Reactions laid out for computing: `L` problems side by side.

use crate::solver::problem::Problem;
use crate::solver::reaction::Reaction;

/// A reaction per lane; masses and heats per volume.
#[derive(Debug, Clone)]
pub(crate) struct LaneReaction<const L: usize> {
    /// Share of the slab's mass that it acts on [–].
    pub share: [f64; L],
    /// Residue [kg/m³] and heat [J/m³] that conversion keeps.
    pub residue: [f64; L],
    pub heat: [f64; L],
    /// Gas and vapour that it sets free [kg/m³].
    pub gas: [f64; L],
    pub vapour: [f64; L],
    /// Share of the slab's mass that is lost with it [–].
    pub lost: [f64; L],
    pub ln_rate: [f64; L],
    pub temp_activation: [f64; L],
}

/// The reactions of a slab per lane.
#[derive(Debug, Clone)]
pub(crate) struct LaneReacting<const L: usize> {
    /// The slab.
    pub slab: usize,
    /// Its first node and how many it has.
    pub first: usize,
    pub n_nodes: usize,
    /// Its first entry among the shares converted.
    pub entry: usize,
    pub reactions: Vec<LaneReaction<L>>,
    pub thinning: [f64; L],
    pub k_radiation: [f64; L],
}

impl<const L: usize> LaneReaction<L> {
    const NONE: LaneReaction<L> = LaneReaction {
        share: [0.0; L],
        residue: [0.0; L],
        heat: [0.0; L],
        gas: [0.0; L],
        vapour: [0.0; L],
        lost: [0.0; L],
        ln_rate: [0.0; L],
        temp_activation: [1.0; L],
    };

    fn load(&mut self, l: usize, reaction: &Reaction, rho: f64) {
        self.share[l] = reaction.rho / rho;
        self.residue[l] = reaction.rho * reaction.residue;
        self.heat[l] = reaction.heat_kept();
        self.gas[l] = reaction.gas();
        self.vapour[l] = reaction.vapour();
        self.lost[l] = reaction.rho / rho * (1.0 - reaction.residue);
        self.ln_rate[l] = reaction.ln_rate;
        self.temp_activation[l] = reaction.temp_activation;
    }
}

impl<const L: usize> LaneReacting<L> {
    /// The slabs of the shape of `lead` that react, without values.
    pub fn all_empty(lead: &Problem) -> Vec<LaneReacting<L>> {
        let (begins, _) = lead.reaction_entries();
        let spans = lead.spans();
        let of = |(j, slab): (usize, &crate::solver::problem::Slab)| {
            slab.reacting.as_ref().map(|own| LaneReacting {
                slab: j,
                first: spans[j].0,
                n_nodes: slab.cells.len() + 1,
                entry: begins[j],
                reactions: vec![LaneReaction::NONE; own.reactions.len()],
                thinning: [0.0; L],
                k_radiation: [0.0; L],
            })
        };
        lead.slabs.iter().enumerate().filter_map(of).collect()
    }

    /// Puts a problem's slab into a lane.
    pub fn load(&mut self, l: usize, problem: &Problem) {
        let Some(own) = &problem.slabs[self.slab].reacting else {
            unreachable!("shapes were compared")
        };
        for (lane, reaction) in self.reactions.iter_mut().zip(&own.reactions) {
            lane.load(l, reaction, own.rho);
        }
        self.thinning[l] = own.thinning;
        self.k_radiation[l] = own.k_radiation;
    }

    /// Entry of reaction `r` at the slab's node `c`.
    #[inline(always)]
    pub fn at(&self, r: usize, c: usize) -> usize {
        self.entry + r * self.n_nodes + c
    }
}
