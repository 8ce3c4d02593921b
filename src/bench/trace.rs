//! What every watch keeps: curves, the plies' peaks and limits, and the heat account.

use crate::bench::assemble::{Assembly, PartKind};
use crate::solver::root::crossing;
use crate::solver::watch::Step;

/// Where a time is located within a step [s].
pub const T_TOL: f64 = 1e-9;

/// Time within a step at which a node first rises through `level` [K], if it does.
pub fn rise_through(step: &Step, node: usize, level: f64) -> Option<f64> {
    let (from, to) = (step.temp0(node) - level, step.temp1(node) - level);
    (from < 0.0 && to >= 0.0)
        .then(|| crossing(step.t0, step.t1, T_TOL, |t| step.temp(node, t) - level))
}

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
    /// Rate of temperature of the node behind the layup at those times [K/s].
    pub slope_behind: Vec<f64>,
    /// Net heat in through the outer face at those times [J/m²].
    pub heat_in: Vec<f64>,
    /// Highest temperature of each ply [K], outermost first.
    pub peaks: Vec<f64>,
    /// When each ply passed its limit [s].
    pub limits_passed: Vec<Option<f64>>,
    limits: Vec<f64>,
    faces: Vec<(usize, usize)>,
    node_behind: usize,
}

impl Trace {
    /// An empty record for an assembly whose plies have the given limits [K].
    pub fn new(assembly: &Assembly, limits: &[f64]) -> Trace {
        let faces: Vec<(usize, usize)> = assembly
            .parts
            .iter()
            .filter(|part| part.kind == PartKind::Ply)
            .map(|part| (part.first, part.last))
            .collect();
        Trace {
            t: Vec::new(),
            temps: Vec::new(),
            n_nodes: assembly.problem.n_nodes(),
            contents: Vec::new(),
            slope_behind: Vec::new(),
            heat_in: Vec::new(),
            peaks: vec![0.0; faces.len()],
            limits_passed: vec![None; faces.len()],
            limits: limits.to_vec(),
            faces,
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

    /// Takes a step down.
    pub fn note(&mut self, step: &Step) {
        let n = self.n_nodes;
        if self.t.is_empty() {
            self.t.push(step.t0);
            self.temps.extend((0..n).map(|i| step.temp0(i)));
            if step.has_vapour() {
                self.contents.extend((0..n).map(|i| step.content0(i)));
            }
            self.slope_behind.push(step.slope0(self.node_behind));
            self.heat_in.push(0.0);
        }
        self.t.push(step.t1);
        self.temps.extend((0..n).map(|i| step.temp1(i)));
        if step.has_vapour() {
            self.contents.extend((0..n).map(|i| step.content1(i)));
        }
        self.slope_behind.push(step.slope1(self.node_behind));
        self.heat_in.push(step.heat_in);
        for (j, (first, last)) in self.faces.iter().enumerate() {
            for node in *first..=*last {
                self.peaks[j] = self.peaks[j].max(step.temp1(node));
                if let Some(t) = rise_through(step, node, self.limits[j]) {
                    let before = self.limits_passed[j].unwrap_or(f64::INFINITY);
                    self.limits_passed[j] = Some(before.min(t));
                }
            }
        }
    }
}
