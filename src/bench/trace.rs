//! What every watch keeps: curves, the plies' peaks and limits, and the heat account.

use crate::bench::assemble::Assembly;
use crate::bench::ply_limit::LimitWatch;
use crate::solver::watch::Step;

/// Record of nodal temperatures and of each ply's fate.
#[derive(Debug, Clone)]
pub struct Trace {
    /// Times of the accepted steps, 0 first [s].
    pub t: Vec<f64>,
    /// Temperatures of all nodes, `n_nodes` at each of those times [K].
    temps: Vec<f64>,
    n_nodes: usize,
    /// What all nodes hold of water at those times [kg/m²]; empty where none moves.
    contents: Vec<f64>,
    /// Shares of all reactions converted at those times [–]; empty where nothing reacts.
    converted: Vec<f64>,
    n_entries: usize,
    /// Rate of temperature of the node behind the layup at those times [K/s].
    pub slope_behind: Vec<f64>,
    /// Net heat in through the outer face at those times [J/m²].
    pub heat_in: Vec<f64>,
    /// Highest temperature of each ply [K], outermost first.
    pub peaks: Vec<f64>,
    /// The plies' limits and when each was passed.
    pub limits: LimitWatch,
    node_behind: usize,
}

impl Trace {
    /// An empty record for an assembly.
    pub fn new(assembly: &Assembly) -> Trace {
        Trace {
            t: Vec::new(),
            temps: Vec::new(),
            n_nodes: assembly.problem.n_nodes(),
            contents: Vec::new(),
            converted: Vec::new(),
            n_entries: 0,
            slope_behind: Vec::new(),
            heat_in: Vec::new(),
            peaks: vec![0.0; assembly.limits.len()],
            limits: LimitWatch::new(assembly),
            node_behind: assembly.node_behind,
        }
    }

    /// Temperatures of all nodes at one of the times [K].
    pub fn row(&self, row: usize) -> &[f64] {
        &self.temps[row * self.n_nodes..(row + 1) * self.n_nodes]
    }

    /// Temperatures of all nodes, a row for each of the times [K].
    pub fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.temps.chunks_exact(self.n_nodes)
    }

    /// The mean record of tied paths by their shares of the area [–], which add up to 1; what the plies
    /// came to is the first path's.
    ///
    /// Panics: if there is no path.
    pub fn mean(paths: &[(&Trace, f64)]) -> Trace {
        let mean = |of: fn(&Trace) -> &[f64]| -> Vec<f64> {
            let n = of(paths[0].0).len();
            (0..n).map(|i| paths.iter().map(|(one, share)| share * of(one)[i]).sum()).collect()
        };
        Trace {
            temps: mean(|one| &one.temps),
            contents: mean(|one| &one.contents),
            slope_behind: mean(|one| &one.slope_behind),
            heat_in: mean(|one| &one.heat_in),
            ..paths[0].0.clone()
        }
    }

    /// What all nodes hold of water at one of the times, bound and liquid [kg/m²]; empty where none moves.
    pub fn contents(&self, row: usize) -> &[f64] {
        match self.contents.is_empty() {
            true => &[],
            false => &self.contents[row * self.n_nodes..(row + 1) * self.n_nodes],
        }
    }

    /// Shares of all reactions converted at one of the times [–]; empty where nothing reacts.
    pub fn converted(&self, row: usize) -> &[f64] {
        &self.converted[row * self.n_entries..(row + 1) * self.n_entries]
    }

    /// Puts the last row where the accounts stand at the end of a run in which vapour moves.
    pub fn settle(&mut self, end: &Step) {
        let from = self.temps.len() - self.n_nodes;
        for i in 0..self.n_nodes {
            self.temps[from + i] = end.temp1(i);
            self.contents[from + i] = end.content1(i);
        }
    }

    /// Takes a step down.
    pub fn note(&mut self, step: &Step) {
        let n = self.n_nodes;
        if self.t.is_empty() {
            self.t.push(step.t0);
            self.temps.extend((0..n).map(|i| step.temp0(i)));
            if step.has_vapour() {
                self.contents.extend((0..n).map(|i| step.content0(i)));
            }
            self.n_entries = step.n_entries();
            self.converted.extend((0..self.n_entries).map(|e| step.converted0(e)));
            self.slope_behind.push(step.slope0(self.node_behind));
            self.heat_in.push(0.0);
        }
        self.t.push(step.t1);
        self.temps.extend((0..n).map(|i| step.temp1(i)));
        if step.has_vapour() {
            self.contents.extend((0..n).map(|i| step.content1(i)));
        }
        self.converted.extend((0..self.n_entries).map(|e| step.converted1(e)));
        self.slope_behind.push(step.slope1(self.node_behind));
        self.heat_in.push(step.heat_in);
        self.limits.note(step);
        for (limit, peak) in self.limits.limits.iter().zip(&mut self.peaks) {
            *peak = limit.nodes().map(|node| step.temp1(node)).fold(*peak, f64::max);
        }
    }
}
