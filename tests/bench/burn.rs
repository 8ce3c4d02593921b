//! Claim: the flux and duration of each row of ASTM F1930's validation table give a burn
//! integral of 1 at the basal layer.
//! Source: `skin_validation.csv` (from memory, with columns recomputed apart from this
//! model), `skin_layers.csv`, `henriques.csv`.
//! Tolerance: 0.1, as the standard asks; 0.5 % against the recomputed columns, which print
//! four digits and come from another mesh.

use crate::bench::fixtures::{fabric, flame, skin, touching};
use crate::close::{within, within_share};
use crate::reference::rows;
use stillair::bench::assemble::{Assembly, Backing, PartKind, Setup, assemble};
use stillair::bench::trace::Trace;
use stillair::bench::watch_skin::{SkinEvents, SkinWatch};
use stillair::evidence::verify::standards;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Drive, Piece, Problem};

/// Skin alone: the bench's own mesh of it, without the ply in front.
fn bare_skin(drive: Drive, level: usize) -> Assembly {
    let skin = skin();
    let cover = touching([fabric(100.0, 0.5, 0.05, 0.0)]);
    let covered = assemble(&cover, &flame(), Backing::Skin(&skin), &Setup::level(level));
    let problem = Problem {
        slabs: covered.problem.slabs[1..].to_vec(),
        joints: covered.problem.joints[1..].to_vec(),
        back: covered.problem.back,
        drive,
        source: None,
    };
    let mut parts: Vec<_> =
        covered.parts.into_iter().filter(|part| part.kind == PartKind::Skin).collect();
    for (part, (first, last)) in parts.iter_mut().zip(problem.spans()) {
        (part.first, part.last) = (first, last);
    }
    Assembly { problem, parts, node_behind: 0, limits: Vec::new() }
}

/// Burn integral at the end, at the end of exposure, and peak [°C].
fn burn(q: f64, duration: f64, level: usize) -> (f64, f64, f64) {
    let piece = |t_end, q: f64| Piece {
        t_end,
        h: (0.0, 0.0),
        temp_gas: 300.0,
        p_vapour: 0.0,
        q_rad: (q, q),
    };
    let pieces = vec![piece(duration, q), piece(600.0, 0.0)];
    let assembly =
        bare_skin(Drive { pieces, emissivity: 0.0, temp_surround: 300.0, blown: false }, level);
    let skin = skin();
    let (basal, dermal) = (assembly.parts[0].last, assembly.parts[1].last);
    let mut events = SkinEvents::new(&skin, basal, dermal);
    events.flame_end = duration;
    let mut watch = SkinWatch::new(Trace::new(&assembly), events);
    let options = Options { tol: 2e-3 / 8f64.powi(level as i32), ..Options::default() };
    march(&assembly.problem, &options, &mut watch).expect("a march");
    let row = watch.trace.t.iter().position(|t| *t == duration).expect("the end of exposure");
    (watch.events.basal.omega, watch.omegas[row][0], watch.events.peak.0 - 273.15)
}

/// Extrapolated from two levels, with three times the step as error.
fn settled(q: f64, duration: f64) -> [(f64, f64); 3] {
    let (coarse, fine) = (burn(q, duration, 3), burn(q, duration, 4));
    let value = |c: f64, f: f64| (f + (f - c) / 3.0, (f - c).abs());
    [value(coarse.0, fine.0), value(coarse.1, fine.1), value(coarse.2, fine.2)]
}

#[test]
fn twelve_rows_of_the_validation_table() {
    let table = rows("skin_validation.csv");
    let cases = standards::skin_table();
    assert_eq!((table.len(), cases.len()), (12, 12));
    for (row, case) in table.iter().zip(&cases) {
        let (q, duration) =
            (row.number("absorbed_heat_flux_W_m2"), row.number("exposure_duration_s"));
        let [total, at_end, peak] = settled(q, duration);
        println!(
            "{q} W/m² for {duration} s: omega {:.4} ± {:.4} (apart: {}), at the end of exposure {:.4} ({}), peak {:.3} °C ({})",
            total.0,
            total.1,
            row.text("recomputed_omega_total"),
            at_end.0,
            row.text("recomputed_omega_at_end_of_exposure"),
            peak.0,
            row.text("recomputed_peak_basal_T_C"),
        );
        within(case.expected, row.number("required_omega_second_degree"), 0.0);
        within(case.bound, row.number("tolerance_abs"), 0.0);
        assert!(case.is_kept(), "{case:?}");
        // the layered skin of the shelf, without the bench's mesh of a cover in front
        within(case.computed, total.0, case.error + total.1);
        within_share(total.0, row.number("recomputed_omega_total"), 5e-3);
        within_share(at_end.0, row.number("recomputed_omega_at_end_of_exposure"), 5e-3);
        within(peak.0, row.number("recomputed_peak_basal_T_C"), 0.01);
        assert!(total.1 < 5e-3 && peak.1 < 0.01, "{total:?} {peak:?}");
    }
}

#[test]
fn damage_goes_on_after_the_exposure() {
    for row in rows("skin_validation.csv") {
        let (q, duration) =
            (row.number("absorbed_heat_flux_W_m2"), row.number("exposure_duration_s"));
        let (total, at_end, _) = burn(q, duration, 1);
        assert!(total > 1.2 * at_end, "{q} W/m²: {at_end} at the end, {total} in all");
    }
}
