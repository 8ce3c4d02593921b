//! Skin without clothing under a flux that it absorbs, then insulated, as the manikin standards check their skin.

use crate::bench::assemble::{Grading, Mesh};
use crate::bench::watch_skin::SkinEvents;
use crate::evidence::verify::rig::Reading;
use crate::garment::skin::Skin;
use crate::physics::law::Law;
use crate::solver::error::SolverError;
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::problem::{Back, Drive, Joint, Medium, Piece, Problem, Sink, Slab};
use crate::solver::root::crossing;

/// Time after which nothing can be damaged any more [s].
const T_END: f64 = 600.0;
/// Levels of refinement of the two runs that a value is extrapolated from.
const LEVELS: [usize; 2] = [3, 4];

/// Skin alone under `q` [W/m²] absorbed for `duration` [s], then insulated.
fn problem(skin: &Skin, (q, duration): (f64, f64), level: usize) -> Problem {
    let depth_all: f64 = skin.layers.iter().map(|layer| layer.thickness).sum();
    let mut depth = 0.0;
    let mut at = |thickness: f64| {
        let start = depth;
        depth += thickness;
        let rise = skin.temp_core - skin.temp_surface;
        [start, depth].map(|x| skin.temp_surface + rise * x / depth_all)
    };
    let mesh = Mesh::level(level);
    let slab = |(j, layer): (usize, &crate::garment::skin::SkinLayer)| {
        let grading =
            if j == 0 { Grading::Equal } else { Grading::FromFace { ratio: 1.3, finer: 1.0 } };
        let [outer, inner] = at(layer.thickness);
        let sink = Sink { rate: layer.perfusion, temp: skin.temp_core };
        Slab {
            medium: Medium {
                k: Law::constant(layer.k),
                rho_cp: Law::constant(layer.rho_cp),
                changes: Vec::new(),
                sink: (layer.perfusion > 0.0).then_some(sink),
            },
            cells: mesh.cells(layer.thickness, layer.k / layer.rho_cp, grading),
            extinction: None,
            sorbent: None,
            reacting: None,
            temps_start: (outer, inner),
        }
    };
    let slabs: Vec<Slab> = skin.layers.iter().enumerate().map(slab).collect();
    let piece = |t_end, q: f64| Piece {
        t_end,
        h: (0.0, 0.0),
        temp_gas: 300.0,
        p_vapour: 0.0,
        q_rad: (q, q),
    };
    let pieces = vec![piece(duration, q), piece(duration + T_END, 0.0)];
    Problem {
        joints: vec![Joint::Shared; slabs.len() - 1],
        slabs,
        back: Back::Held,
        drive: Drive { pieces, emissivity: 0.0, temp_surround: 300.0, blown: false },
        source: None,
    }
}

/// Burn integral at the basal layer once skin has cooled [–], at one level of refinement.
fn omega_at(skin: &Skin, pulse: (f64, f64), level: usize) -> Result<f64, SolverError> {
    let problem = problem(skin, pulse, level);
    let spans = problem.spans();
    let mut events = SkinEvents::new(skin, spans[0].1, spans[1].1);
    events.flame_end = pulse.1;
    let options = Options { tol: 2e-3 / 8f64.powi(level as i32), ..Options::default() };
    march(&problem, &options, &mut events)?;
    Ok(events.basal.omega)
}

/// Burn integral at the basal layer of bare skin [–]; NaN where the solver gives up.
///
/// - `pulse`: absorbed flux [W/m²] and its duration [s]
pub fn omega(skin: &Skin, pulse: (f64, f64)) -> Reading {
    let [coarse, fine] = LEVELS.map(|level| omega_at(skin, pulse, level).unwrap_or(f64::NAN));
    Reading::of_levels(coarse, fine)
}

/// Duration of a flux `q` [W/m²] that gives bare skin a burn integral of 1, looked for between `within` [s]; NaN if it is not there.
pub fn time_to_second_degree(skin: &Skin, q: f64, within: (f64, f64)) -> Reading {
    let [coarse, fine] = LEVELS.map(|level| {
        // the integral spans many decades: its logarithm is nearly straight
        let off = |t: f64| match omega_at(skin, (q, t), level - 1) {
            Ok(omega) => omega.max(1e-9).ln(),
            Err(_) => f64::NAN,
        };
        if off(within.0) < 0.0 && off(within.1) > 0.0 {
            crossing(within.0, within.1, 1e-5 * within.0, off)
        } else {
            f64::NAN
        }
    });
    Reading::of_levels(coarse, fine)
}
