//! Claim: a change that happens once takes its heat once, and gives none back; radiation
//! absorbed in depth is Beer's law, control volume by control volume.
//! Source: heat of evaporation and of the liquid's warming, in closed form; Beer's law.
//! Tolerance: 1e-6 of the water's heat; 1e-9 in the account; rounding for the shares.

use crate::close::{within, within_share};
use crate::solver::rig::{Probe, flux_drive, medium, single, slab};
use stillair::physics::moisture::{WATER_LATENT_HEAT, WATER_SPECIFIC_HEAT};
use stillair::solver::grid::graded_cells;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Change, Drive, Piece, Problem};
use stillair::solver::watch::{Next, Step, Watch};

pub const TEMP: f64 = 298.15;
const WATER: f64 = 30.0;
const DRY: f64 = 4e5;
const THICKNESS: f64 = 1e-3;

pub fn tight() -> Options {
    Options { tol: 1e-7, dt_start: 1e-5, ..Options::default() }
}

/// A moist slab with an insulated back, 30 kg of water in a cubic metre.
pub fn moist(pieces: Vec<Piece>) -> Problem {
    let mut body =
        slab(medium(0.06, DRY + WATER * WATER_SPECIFIC_HEAT), vec![THICKNESS / 10.0; 10], TEMP);
    body.medium.changes = vec![Change {
        heat: WATER * WATER_LATENT_HEAT,
        rho_cp_lost: WATER * WATER_SPECIFIC_HEAT,
        k_lost: 0.0,
        temp_lo: 348.15,
        temp_hi: 398.15,
    }];
    single(
        body,
        Back::Insulated,
        Drive { pieces, emissivity: 0.0, temp_surround: TEMP, blown: false },
    )
}

pub fn piece(t_end: f64, q: f64, h: f64) -> Piece {
    Piece { t_end, h: (h, h), temp_gas: TEMP, p_vapour: 0.0, q_rad: (q, q) }
}

/// The water's own heat per area: warmed until it leaves, on average at 100 °C, and evaporated.
fn of_water() -> f64 {
    WATER * (WATER_LATENT_HEAT + WATER_SPECIFIC_HEAT * (373.15 - TEMP)) * THICKNESS
}

#[test]
fn all_latent_heat_is_taken_up() {
    // 200 kJ/m² in 5 s, then 60 s to come to one temperature
    let problem = moist(vec![piece(5.0, 40e3, 0.0), piece(65.0, 0.0, 0.0)]);
    let n = problem.n_nodes();
    let wanted = (0..n).map(|i| (65.0, i)).collect();
    let mut probe = Probe { wanted, read: vec![f64::NAN; n] };
    let ledger = march(&problem, &tight(), &mut probe).expect("a march");
    within_share(ledger.heat_in, 200e3, 1e-12);
    assert!(ledger.residual() <= 1e-9, "{}", ledger.residual());
    let (first, last) = (probe.read[0], probe.read[n - 1]);
    assert!(last > 400.0, "all is dry at {last} K");
    within(first, last, 1e-6);
    let dry = DRY * THICKNESS * (last - TEMP);
    within_share(200e3 - dry, of_water(), 1e-6);
}

#[test]
fn nothing_condenses_on_cooling() {
    let problem =
        moist(vec![piece(5.0, 40e3, 0.0), piece(65.0, 0.0, 0.0), piece(2000.0, 0.0, 200.0)]);
    let mut probe = Probe { wanted: vec![(2000.0, 10)], read: vec![f64::NAN] };
    let ledger = march(&problem, &tight(), &mut probe).expect("a march");
    within(probe.read[0], TEMP, 1e-6);
    // cold again, and the water's heat has not come back
    within_share(ledger.heat_stored, of_water(), 1e-6);
    assert!(ledger.residual() <= 1e-9, "{}", ledger.residual());
}

#[test]
fn a_second_heating_is_that_of_a_dry_slab() {
    let again = [
        piece(5.0, 40e3, 0.0),
        piece(65.0, 0.0, 0.0),
        piece(2000.0, 0.0, 200.0),
        piece(2002.0, 2e4, 0.0),
        piece(2062.0, 0.0, 0.0),
    ];
    let mut probe = Probe { wanted: vec![(2062.0, 10)], read: vec![f64::NAN] };
    march(&moist(again.to_vec()), &tight(), &mut probe).expect("a march");
    within(probe.read[0], TEMP + 4e4 / (DRY * THICKNESS), 1e-5);
}

/// Temperatures and their peaks at the end.
struct Peaks {
    temps: Vec<f64>,
    peaks: Vec<f64>,
}

impl Watch for Peaks {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.temps = (0..step.n_nodes()).map(|i| step.temp1(i)).collect();
        self.peaks.resize(step.n_nodes(), TEMP);
        for (peak, temp) in self.peaks.iter_mut().zip(&self.temps) {
            *peak = peak.max(*temp);
        }
        Next::Go
    }
}

#[test]
fn stored_heat_is_the_mediums_own() {
    // stopped half dry, and again while cooling down
    for pieces in [vec![piece(1.5, 40e3, 0.0)], vec![piece(1.5, 40e3, 0.0), piece(6.0, 0.0, 100.0)]]
    {
        let problem = moist(pieces);
        let mut watch = Peaks { temps: vec![], peaks: vec![] };
        let ledger = march(&problem, &Options::default(), &mut watch).expect("a march");
        let medium = &problem.slabs[0].medium;
        let heat = |i: usize| medium.heat(watch.temps[i], watch.peaks[i]) - medium.heat(TEMP, TEMP);
        let cells = problem.slabs[0].cells.iter().enumerate();
        let stored: f64 = cells.map(|(c, dx)| 0.5 * dx * (heat(c) + heat(c + 1))).sum();
        within_share(ledger.heat_stored, stored, 1e-12);
        assert!(watch.peaks[0] > 398.15 && watch.peaks[10] < 348.15, "{:?}", watch.peaks);
    }
}

/// Slopes of all nodes at the start.
struct FirstSlopes(Vec<f64>);

impl Watch for FirstSlopes {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.0 = (0..step.n_nodes()).map(|i| step.slope0(i)).collect();
        Next::Stop
    }
}

#[test]
fn radiation_is_absorbed_by_beers_law() {
    let (extinction, rho_cp, q, cap_area): (f64, f64, f64, f64) = (1500.0, 4e5, 1e4, 5514.7);
    let cells = graded_cells(1e-3, 7, 1.4);
    let mut body = slab(medium(0.05, rho_cp), cells.clone(), TEMP);
    body.extinction = Some(extinction);
    let joint = stillair::solver::problem::Joint::Conductance(100.0);
    let back = Back::Lump { joint, cap_area, temp_start: TEMP };
    let mut slopes = FirstSlopes(vec![]);
    march(&single(body, back, flux_drive(q, 1.0)), &tight(), &mut slopes).expect("a march");
    // at one temperature nothing flows: each node's heating is what it absorbs
    let mut shares = Vec::new();
    let mut depth = 0.0;
    for i in 0..=cells.len() {
        let before = if i > 0 { 0.5 * cells[i - 1] } else { 0.0 };
        let after = cells.get(i).map_or(0.0, |dx| 0.5 * dx);
        let share = slopes.0[i] * rho_cp * (before + after) / q;
        let from = (-extinction * (depth - before)).exp();
        let to = (-extinction * (depth + after)).exp();
        within(share, from - to, 1e-12);
        shares.push(share);
        depth += 2.0 * after;
    }
    let behind = slopes.0[cells.len() + 1] * cap_area / q;
    within(behind, (-extinction * 1e-3).exp(), 1e-12);
    within(shares.iter().sum::<f64>() + behind, 1.0, 1e-12);
}

#[test]
fn an_opaque_slab_absorbs_at_its_face() {
    let body = slab(medium(0.05, 4e5), vec![1e-4; 5], TEMP);
    let mut slopes = FirstSlopes(vec![]);
    march(&single(body, Back::Insulated, flux_drive(1e4, 1.0)), &tight(), &mut slopes)
        .expect("a march");
    within(slopes.0[0] * 4e5 * 0.5e-4, 1e4, 1e-8);
    assert!(slopes.0[1..].iter().all(|slope| *slope == 0.0));
}
