//! The conditioned three plies with water that moves, temperature and content at every node: what a
//! general-purpose integrator needs to know of them, and this solver's own times.
//!
//! The exported file is numbers by lines, all SI:
//!
//! 1. nodes; film coefficient, gas temperature, vapour pressure of the gas, radiation absorbed at the
//!    first node, emissivity, surroundings; start, rise, end of looking
//! 2. of vapour: gas constant, datum of temperature and latent heat there, specific heats of liquid and
//!    vapour, transport at the datum and its power, the air's pressure, cut-off of open air; three
//!    coefficients of the saturation pressure and its lowest temperature
//! 3. of sorption: scale, low and high bend and temperature of the isotherm, first heat and its fall,
//!    roundness of the cap, least film
//! 4. seven coefficients of the transport's growth, five of the air's conductivity and its range
//! 5. a line a node: heat capacity c0 + c1·T, content at the start, 1 where a sorbent binds and 0 where a
//!    film lies, content at 65 % of saturation (the least film), pores
//! 6. a line a link, from each node to the next: 1 and size, k0, k1 (k = k0 + k1·T), openness, cut-off,
//!    conductivity per further content at 65 % of a cell; or 0 and thickness, radiation exchange, 0, 0, 0, 0
//!    of still air between two faces.

use std::fmt::Write as _;

use stillair::bench::assemble::{Backing, Setup, assemble};
use stillair::bench::effects::{Effect, Without};
use stillair::bench::expose::options;
use stillair::physics::gap::Convection;
use stillair::physics::{air, sorption, vapour};
use stillair::solver::options::Options;
use stillair::solver::problem::{Back, Joint, Problem, Slab};

use crate::{N_BATCH, RISE, alone, best_by, common, line, together, varied};

/// Content of a bare face at the start over the least film [–]: that of the solver.
const FILM_START: f64 = 0.5;
/// The last one is the solution of the mesh.
const TOLERANCES: [f64; 10] = [0.96, 0.48, 0.24, 0.12, 6e-2, 3e-2, 1.6e-2, 8e-3, 1e-3, 1e-6];

/// Solves between two looks at the clock.
const MANY: usize = 200;

unsafe extern "C" {
    /// Processor time of this process; POSIX: a millionth of a second each.
    safe fn clock() -> std::ffi::c_long;
}

/// Processor time so far [µs]: unlike a wall clock it does not run while others have the processor.
fn cpu() -> f64 {
    clock() as f64
}

/// The layup's problem with water that moves or stays, without charring, then varied ones of the same shape.
pub fn problems(level: usize, n: usize, moves: bool) -> Vec<Problem> {
    let (layup, exposure) = (common::layup("moist-three-ply.toml"), common::exposure());
    let without = Without::these(match moves {
        true => &[Effect::Charring],
        false => &[Effect::MovingVapour],
    });
    let setup = Setup { without, ..Setup::level(level) };
    varied(&assemble(&layup, &exposure, Backing::Disc, &setup).problem, n)
}

/// A node as it is exported.
#[derive(Debug, Clone, Copy, Default)]
struct Node {
    cap: [f64; 2],
    start: f64,
    binds: bool,
    at_65: f64,
    pores: f64,
}

/// The file's text.
pub fn exported(problem: &Problem) -> String {
    let Back::Lump { joint: behind, cap_area, temp_start } = problem.back else { panic!("a disc") };
    let piece = problem.drive.pieces[0];
    let film = Node {
        start: FILM_START * sorption::FILM_LEAST,
        at_65: sorption::FILM_LEAST,
        ..Node::default()
    };
    let mut nodes = vec![film; problem.n_nodes()];
    let mut links = vec![String::new(); problem.n_nodes() - 1];
    let joints = problem.joints.iter().copied().chain([behind]);
    for ((slab, (first, last)), joint) in problem.slabs.iter().zip(problem.spans()).zip(joints) {
        add_slab(slab, &mut nodes[first..=last], &mut links[first..last]);
        let Joint::Air { thickness, exchange, convection: Convection::Still, cap_area } = joint
        else {
            panic!("faces with voids")
        };
        nodes[last].cap[0] += 0.5 * cap_area;
        nodes[last + 1].cap[0] += 0.5 * cap_area;
        links[last] = format!("0 {thickness} {exchange} 0 0 0 0");
    }
    nodes[problem.n_nodes() - 1].cap[0] += cap_area;
    let head = [piece.h.0, piece.temp_gas, piece.p_vapour, piece.q_rad.0];
    let more =
        [problem.drive.emissivity, problem.drive.temp_surround, temp_start, RISE, piece.t_end];
    let mut text = format!("{} {}\n", nodes.len(), row(head.into_iter().chain(more)));
    text += &constants();
    for Node { cap, start, binds, at_65, pores } in nodes {
        let parts = row([cap[0], cap[1], start, f64::from(u8::from(binds)), at_65, pores]);
        writeln!(text, "{parts}").expect("text grows");
    }
    text + &links.join("\n") + "\n"
}

fn row(numbers: impl IntoIterator<Item = f64>) -> String {
    let words: Vec<String> = numbers.into_iter().map(|number| number.to_string()).collect();
    words.join(" ")
}

fn add_slab(slab: &Slab, nodes: &mut [Node], links: &mut [String]) {
    let sorbent = slab.sorbent.expect("every ply binds");
    assert!(slab.extinction.is_none() && slab.medium.changes.is_empty() && slab.reacting.is_none());
    let ((k0, k1), (c0, c1)) = (line(&slab.medium.k), line(&slab.medium.rho_cp));
    for node in nodes.iter_mut() {
        *node = Node { binds: true, ..Node { cap: node.cap, ..Node::default() } };
    }
    for (c, dx) in slab.cells.iter().enumerate() {
        for node in &mut nodes[c..=c + 1] {
            let half = 0.5 * dx;
            node.cap[0] += half * c0;
            node.cap[1] += half * c1;
            node.start += half * sorbent.held_start;
            node.at_65 += half * sorbent.bound_65;
            node.pores += half * sorbent.porosity;
        }
        let parts = [*dx, k0, k1, sorbent.openness, sorbent.cut_off, sorbent.k_wet];
        links[c] = format!("1 {}", row(parts));
    }
}

fn constants() -> String {
    let [a, b, c] = vapour::SATURATION;
    let of_vapour = row([
        vapour::GAS_CONSTANT_VAPOUR,
        vapour::TEMP_DATUM,
        vapour::LATENT_HEAT_DATUM,
        vapour::LIQUID_SPECIFIC_HEAT,
        vapour::VAPOUR_SPECIFIC_HEAT,
        vapour::TRANSPORT_DATUM,
        vapour::DIFFUSIVITY_POWER - 1.0,
        air::PRESSURE,
        vapour::CUT_OFF_OPEN,
        a,
        b,
        c,
        vapour::SATURATION_TEMP_LOW,
    ]);
    let of_sorption = row([
        sorption::ISOTHERM_SCALE,
        sorption::ISOTHERM_LOW,
        sorption::ISOTHERM_HIGH,
        sorption::TEMP_ISOTHERM,
        sorption::HEAT_FIRST,
        sorption::HEAT_FALL,
        sorption::CAP_ROUND,
        sorption::FILM_LEAST,
    ]);
    let fits = vapour::GROWTH.into_iter().chain(air::CONDUCTIVITY);
    let fits = row(fits.chain([air::TEMP_LOW, air::TEMP_HIGH]));
    format!("{of_vapour}\n{of_sorption}\n{fits}\n")
}

/// Prints this solver's times: both fields alone and in the batch, then one field with water that stays.
pub fn run(level: usize, repeats: usize) {
    for moves in [true, false] {
        let problems = problems(level, N_BATCH, moves);
        if moves {
            let (version, n) = (env!("CARGO_PKG_VERSION"), problems[0].n_nodes());
            println!("# stillair {version}, {n} nodes of two unknowns");
        }
        let mut lines = [String::new(), String::new()];
        for tol in TOLERANCES {
            let options = Options { tol, ..options(0, &Backing::Disc) };
            let few = if tol < 1e-2 { 1 } else { repeats };
            let (single, (t, ledger)) = best_by(cpu, 10 * few, || alone(&problems[0], &options));
            let mut batch = f64::NAN;
            if tol >= 1e-2 {
                let (us, t_batch) = best_by(cpu, few.div_ceil(4), || together(&problems, &options));
                assert!(t.to_bits() == t_batch.to_bits(), "alone and among others alike");
                batch = us / N_BATCH as f64;
            }
            for (text, us) in lines.iter_mut().zip([single, batch]).filter(|(_, us)| us.is_finite())
            {
                writeln!(text, "{tol:e} {t:.12} {} {us:.3}", ledger.n_steps).expect("text grows");
            }
        }
        let names =
            if moves { ["single", "batch"] } else { ["one-field-single", "one-field-batch"] };
        for (name, text) in names.into_iter().zip(lines) {
            print!("# {name}\n{text}");
        }
    }
}

/// Prints the least time of a single solve, on whatever mesh, whose time to the rise lies within `most`
/// [–] of the solution on no mesh at all: both fields, and one with water that stays.
pub fn within(most: f64) {
    let mut least = [f64::INFINITY; 2];
    for (moves, least) in [true, false].into_iter().zip(&mut least) {
        let solved = |level: usize, tol: f64| {
            let problem = &problems(level, 1, moves)[0];
            let options = Options { tol, ..options(0, &Backing::Disc) };
            // the clock ticks in microseconds: many solves to a tick
            let (us, (t, ledger)) = best_by(cpu, 20, || {
                let mut last = alone(problem, &options);
                (1..MANY).for_each(|_| last = alone(problem, &options));
                last
            });
            (us / MANY as f64, t, ledger.n_steps)
        };
        let exact = |level: usize| {
            let options = Options { tol: 1e-6, ..options(0, &Backing::Disc) };
            alone(&problems(level, 1, moves)[0], &options).0
        };
        // errors of the mesh fall by four from one to the next
        let (coarse, fine) = (exact(2), exact(3));
        let reference = fine + (fine - coarse) / 3.0;
        println!("# {} ({reference:.5} s)", if moves { "both fields" } else { "one field" });
        for level in 0..2 {
            for tol in [0.96, 0.48, 0.24, 0.12] {
                let (us, t, n_steps) = solved(level, tol);
                let error = t / reference - 1.0;
                println!(
                    "level {level}, {tol}: {us:.1} us, {n_steps} steps, {:.3} % off",
                    1e2 * error
                );
                if error.abs() <= most {
                    *least = us.min(*least);
                }
            }
        }
    }
    let [both, one] = least;
    println!("within {} %: {both:.1} and {one:.1} us, {:.2} times", 1e2 * most, both / one);
}
