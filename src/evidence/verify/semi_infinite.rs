//! Bodies so thick that the back does not feel the face; each case shows that it does not.

use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::{
    At, Reading, deep_cells, film_drive, flux_drive, medium, single, slab, temps,
};
use crate::evidence::verify::rig::{Probe, touching};
use crate::physics::units::ICE_POINT;
use crate::solver::problem::{Back, Drive, Piece, Problem, Sink, Slab};

const BOOK: &str = "Carslaw & Jaeger, Conduction of Heat in Solids, 2nd edition, chapter 2";
const INCROPERA: &str = "Incropera & DeWitt, 6th edition, example 5.10";
const INCROPERA_STEP: &str = "Incropera & DeWitt, 6th edition, example 5.6";
const LIBRARY: &str = "transient conduction examples of an equation solver's help";
const EFFUSIVITY: &str = "contact of two semi-infinite bodies by their effusivities";
const PENNES: &str = "Laplace solution of the Pennes equation under constant flux";

/// Depths of ten diffusion lengths leave 1e-12 of the face's rise.
fn depth(alpha: f64, t: f64) -> f64 {
    10.0 * (alpha * t).sqrt()
}

fn unfelt(name: &str, temp: f64, reading: Reading) -> Case {
    Case::rounded(format!("{name}, back"), BOOK, (temp, 1e-6), reading)
}

/// Copper under constant flux, after 2 min at the face and 150 mm deep.
pub fn constant_flux() -> Vec<Case> {
    let (alpha, k, temp) = (1.17e-4, 401.0, 293.15);
    let cells = deep_cells(0.0125, 12, 1.08, depth(alpha, 120.0));
    let body = slab(medium(k, k / alpha), cells, temp);
    let problem = single(body, Back::Insulated, flux_drive(3e5, 120.0));
    let read =
        temps(&problem, &[(120.0, At::Slab(0, 0)), (120.0, At::Slab(0, 12)), (120.0, At::Last)]);
    vec![
        Case::rounded(
            "si_q_copper_surface",
            INCROPERA,
            (120.03, 0.005),
            read[0].line(-ICE_POINT, 1.0),
        )
        .in_unit("°C"),
        Case::rounded(
            "si_q_copper_150mm",
            INCROPERA,
            (45.41, 0.005),
            read[1].line(-ICE_POINT, 1.0),
        )
        .in_unit("°C"),
        unfelt("si_q_copper", temp, read[2]),
    ]
}

/// Constant flux on a body whose temperature rises with depth at the start.
pub fn linear_start() -> Vec<Case> {
    let (alpha, k, slope) = (1e-3, 100.0, 10.0);
    let cells = deep_cells(0.01, 10, 1.06, depth(alpha, 10.0));
    let thickness: f64 = cells.iter().sum();
    let mut body = slab(medium(k, k / alpha), cells, 100.0);
    body.temps_start = (100.0, 100.0 + slope * thickness);
    let problem = single(body, Back::Held, flux_drive(1e5, 10.0));
    let beyond = At::Slab(0, problem.slabs[0].cells.len() - 1);
    let before_last = 100.0 + slope * (thickness - problem.slabs[0].cells.last().unwrap_or(&0.0));
    let read = temps(&problem, &[(10.0, At::Slab(0, 10)), (10.0, beyond)]);
    vec![
        Case::rounded("si_q_linear_init", LIBRARY, (141.33, 0.005), read[0]),
        unfelt("si_q_linear_init", before_last, read[1]),
    ]
}

/// A face brought to another temperature at once: the last face is held at it, and the last
/// cell's starting line ends there, so that nothing inside has felt it at the start.
fn held_step(alpha: f64, k: f64, temps_start: (f64, f64), mesh: (f64, usize), t: f64) -> Problem {
    let mut cells = deep_cells(mesh.0, mesh.1, 1.0 + 2.0 / mesh.1 as f64, depth(alpha, t));
    cells.remove(0);
    cells.reverse();
    let (inside, face) = temps_start;
    let body = slab(medium(k, k / alpha), cells, inside);
    let last =
        Slab { temps_start: (inside, face), ..slab(medium(k, k / alpha), vec![mesh.0], face) };
    touching(vec![body, last], Back::Held, flux_drive(0.0, t))
}

/// Surface temperature step; the water main's depth follows from its temperature and gradient.
///
/// The straight start over the last cell stands for a jump only on the mesh itself, so that
/// this case is run on finer first meshes instead of halving that cell.
pub fn surface_step() -> Vec<Case> {
    let alpha = 9.547e-5;
    let wanted = |n: usize| {
        let problem = held_step(alpha, 1.0, (378.0, 303.0), (0.05 / n as f64, n), 2.0);
        let node = problem.n_nodes() - 1 - n;
        on_mesh(&problem, &[(2.0, node), (2.0, 0)], n)
    };
    let read = two_meshes(wanted, 32);
    let (k, rho_cp, t, x) = (0.52, 2050.0 * 1840.0, 5.184e6, 0.6766);
    let main = |n: usize| {
        let dx = x / n as f64;
        let problem = held_step(k / rho_cp, k, (293.15, 258.15), (dx, n), t);
        let node = problem.n_nodes() - 1 - n;
        let near = on_mesh(&problem, &[(t, node), (t, node - 1), (t, node + 1)], n);
        let gradient = (near[1] - near[2]) / (2.0 * dx);
        vec![x - (near[0] - ICE_POINT) / gradient]
    };
    let depth_main = two_meshes(main, 32);
    vec![
        Case::rounded("si_T_ees1", LIBRARY, (377.21, 0.005), read[0]),
        unfelt("si_T_ees1", 378.0, read[1]),
        Case::rounded("si_T_water_main", INCROPERA_STEP, (0.6766, 5e-5), depth_main[0])
            .in_unit("m"),
    ]
}

/// Reads nodes on the mesh as it is, with the step tolerance that goes with `n` cells.
fn on_mesh(problem: &Problem, wanted: &[(f64, usize)], n: usize) -> Vec<f64> {
    Probe::new(wanted.to_vec()).read_off(problem, n.ilog2() as usize - 3)
}

fn two_meshes(run: impl Fn(usize) -> Vec<f64>, n: usize) -> Vec<Reading> {
    let (coarse, fine) = (run(2 * n), run(4 * n));
    coarse.iter().zip(fine).map(|(c, f)| Reading::of_levels(*c, f)).collect()
}

/// A face whose temperature rises steadily: a stiff film to the starting temperature, and the
/// radiation that it takes to hold the face at the ramp.
pub fn surface_ramp() -> Vec<Case> {
    let (alpha, slope, t) = (1e-4, 3.0, 100.0);
    let h = 1e8;
    let cells = deep_cells(0.01, 10, 1.06, depth(alpha, t));
    let body = slab(medium(1.0, 1.0 / alpha), cells, 300.0);
    let piece =
        Piece { t_end: t, h: (h, h), temp_gas: 300.0, p_vapour: 0.0, q_rad: (0.0, h * slope * t) };
    let drive = Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: 300.0, blown: false };
    let problem = single(body, Back::Insulated, drive);
    let read = temps(&problem, &[(t, At::Slab(0, 10)), (t, At::Slab(0, 0)), (t, At::Last)]);
    vec![
        Case::rounded("si_ramp", LIBRARY, (383.96, 0.005), read[0]),
        Case::rounded("si_ramp, face", LIBRARY, (600.0, 1e-4), read[1]),
        unfelt("si_ramp", 300.0, read[2]),
    ]
}

/// Periodic flux, started from its steady oscillation at t = 0 and followed for half a second;
/// the flux is a chain of chords over 2 ms, which are 5e-7 too low.
pub fn periodic_flux() -> Vec<Case> {
    let (alpha, omega, q, t): (f64, f64, f64, f64) = (1e-3, 1.0, 1e4, 0.5);
    let wave = (omega / (2.0 * alpha)).sqrt();
    let exact = |x: f64, t: f64| {
        let phase = omega * t - x * wave - std::f64::consts::FRAC_PI_4;
        300.0 + q * (alpha / omega).sqrt() * (-x * wave).exp() * phase.cos()
    };
    let n_pieces = 250;
    let at = |i: usize| t * i as f64 / n_pieces as f64;
    let pieces = (0..n_pieces).map(|i| {
        let q_rad = (q * (omega * at(i)).cos(), q * (omega * at(i + 1)).cos());
        Piece { t_end: at(i + 1), h: (0.0, 0.0), temp_gas: 300.0, p_vapour: 0.0, q_rad }
    });
    let drive =
        Drive { pieces: pieces.collect(), emissivity: 0.0, temp_surround: 300.0, blown: false };
    // one cell a slab, so that the start follows the wave
    let run = |n: usize| {
        let mut x = 0.0;
        let mut slabs = Vec::new();
        for dx in deep_cells(0.05 / n as f64, n, 1.0 + 1.2 / n as f64, 25.0 / wave) {
            let temps_start = (exact(x, 0.0), exact(x + dx, 0.0));
            slabs.push(Slab { temps_start, ..slab(medium(1.0, 1.0 / alpha), vec![dx], 300.0) });
            x += dx;
        }
        let problem = touching(slabs, Back::Insulated, drive.clone());
        on_mesh(&problem, &[(t, n), (t, 0), (t, problem.n_nodes() - 1)], n)
    };
    let read = two_meshes(run, 32);
    vec![
        Case::rounded("si_q_periodic", LIBRARY, (317.22, 0.005), read[0]),
        Case::rounded("si_q_periodic, face", BOOK, (exact(0.0, t), 0.01), read[1]),
        unfelt("si_q_periodic", 300.0, read[2]),
    ]
}

/// An insulated face with a triangular hot zone at the start.
pub fn hot_zone() -> Vec<Case> {
    let (alpha, t) = (1e-3, 0.1);
    let medium = medium(1.0, 1.0 / alpha);
    let hot = Slab { temps_start: (400.0, 300.0), ..slab(medium.clone(), vec![2.5e-4; 20], 300.0) };
    let cold = slab(medium, deep_cells(2.5e-4, 0, 1.04, depth(alpha, t)), 300.0);
    let problem = touching(vec![hot, cold], Back::Insulated, flux_drive(0.0, t));
    let read = temps(&problem, &[(t, At::Slab(0, 8)), (t, At::Last)]);
    vec![
        Case::rounded("si_initial_hot_zone", LIBRARY, (313.82, 0.005), read[0]),
        unfelt("si_initial_hot_zone", 300.0, read[1]),
    ]
}

/// Two bodies brought into contact; the node between them starts at the second's temperature,
/// which misplaces the heat of half a cell.
fn contact(name: &str, expected: f64, (k, rho_cp): (f64, f64)) -> Vec<Case> {
    let t = 100.0;
    let cells = |alpha: f64| {
        let length = depth(alpha, t);
        deep_cells(2e-4 * length, 1, 1.08, length)
    };
    let mut skin_cells = cells(0.628 / 4.4e6);
    skin_cells.reverse();
    let skin = slab(medium(0.628, 4.4e6), skin_cells, 305.65);
    let body = slab(medium(k, rho_cp), cells(k / rho_cp), 333.15);
    let problem = touching(vec![skin, body], Back::Insulated, flux_drive(0.0, t));
    let wanted = [At::Slab(1, 0), At::Slab(0, 0), At::Last];
    let read = temps(&problem, &wanted.map(|at| (t, at)));
    vec![
        Case::rounded(name, EFFUSIVITY, (expected, 0.005), read[0].line(-ICE_POINT, 1.0))
            .in_unit("°C"),
        unfelt(name, 305.65, read[1]),
        unfelt(name, 333.15, read[2]),
    ]
}

/// Skin on aluminium and on wood.
pub fn contacts() -> Vec<Case> {
    let mut cases = contact("contact_formula", 58.22, (237.0, 2702.0 * 903.0));
    cases.extend(contact("contact_wood", 38.56, (0.17, 545.0 * 2385.0)));
    cases
}

/// Constant flux on perfused tissue.
pub fn perfused() -> Vec<Case> {
    let (k, rho_cp) = (0.523, 1200.0 * 3222.0);
    let cells = deep_cells(2.5e-5, 1, 1.04, depth(k / rho_cp, 60.0));
    let mut tissue = slab(medium(k, rho_cp), cells, 310.0);
    tissue.medium.sink = Some(Sink { rate: 4995.25, temp: 310.0 });
    let problem = single(tissue, Back::Insulated, flux_drive(1000.0, 60.0));
    let read = temps(&problem, &[(5.0, At::Slab(0, 0)), (60.0, At::Slab(0, 0)), (60.0, At::Last)]);
    vec![
        Case::rounded("pennes_flux, 5 s", PENNES, (1.77052, 2e-5), read[0].line(-310.0, 1.0))
            .of_scale(1.77),
        Case::rounded("pennes_flux, 60 s", PENNES, (5.99129, 2e-5), read[1].line(-310.0, 1.0))
            .of_scale(5.99),
        unfelt("pennes_flux", 310.0, read[2]),
    ]
}

/// A film on a thick body, as tabulated: `(x, t, temperature)`, all x multiples of 0.5 mm.
pub fn film(
    case: &str,
    (temp, temp_gas): (f64, f64),
    (h, k, alpha): (f64, f64, f64),
    table: &[(f64, f64, f64)],
) -> Vec<Case> {
    let t_end = table.iter().map(|row| row.1).fold(0.0, f64::max);
    let cells = deep_cells(1e-4, 100, 1.05, depth(alpha, t_end));
    let problem = single(
        slab(medium(k, k / alpha), cells, temp),
        Back::Insulated,
        film_drive(h, temp_gas, t_end),
    );
    let mut wanted: Vec<(f64, At)> =
        table.iter().map(|(x, t, _)| (*t, At::Slab(0, (x / 1e-4).round() as usize))).collect();
    wanted.push((t_end, At::Last));
    let read = temps(&problem, &wanted);
    let scale = (temp_gas - temp).abs();
    let mut cases: Vec<Case> = table
        .iter()
        .zip(&read)
        .map(|((x, t, expected), read)| {
            let name = format!("film {case}, {} mm after {t} s", x * 1e3);
            Case::exact(name, BOOK, (*expected, scale), *read)
        })
        .collect();
    cases.push(unfelt(case, temp, read[table.len()]));
    cases
}
