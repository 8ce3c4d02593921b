//! Claim: the march gives the published answers of transient and steady conduction.
//! Source: `worked_examples.csv`, `two_layer_wall.csv`, `slab_and_disc.csv` and
//! `semi_infinite_convection.csv`; each case names its own.
//! Tolerance: half a unit of the last printed digit (2e-4, as their rows say, for the one-term
//! coefficients) and the solver's own numerical error,
//! which must be below that, or below 1e-4 of the rise for the computed tables.
//!
//! Left out: `si_q_copper_fd_*`, which show other methods' errors on coarse meshes.

use crate::reference::rows;
use stillair::evidence::verify::{Case, Checked, Group, run};

fn report(checked: &[Checked]) -> String {
    let mut faults = String::new();
    for case in checked.iter().flat_map(|checked| &checked.cases) {
        let Case { name, computed, error, expected, source, bound, unit, .. } = case;
        let off = case.difference();
        let line = format!(
            "{name}: computed {computed} ± {error:.1e} {unit}, expected {expected} ({source}), off by {off:.1e}, bound {bound:.1e}\n",
        );
        print!("{line}");
        if !case.is_kept() {
            faults += &line;
        }
    }
    faults
}

/// A case that bears the id of a row repeats the row's expected value, to the digits of the row.
fn same_as_rows(checked: &[Checked]) -> usize {
    let table = rows("worked_examples.csv");
    let mut n = 0;
    for case in checked.iter().flat_map(|checked| &checked.cases) {
        let id = case.name.split(',').next().unwrap_or_default();
        if let Some(row) = table.iter().find(|row| row.text("id") == id) {
            let values = row.text("expected").split(';').map(|v| v.parse::<f64>().expect("number"));
            let nearest = values.map(|v| (v - case.expected).abs()).fold(f64::INFINITY, f64::min);
            let derived = case.name.ends_with("back") || case.name.ends_with("face");
            let known = nearest <= 1e-12 * case.expected.abs();
            assert!(known || derived, "{}: {} is not in its row", case.name, case.expected);
            n += 1;
        }
    }
    n
}

#[test]
fn every_bound_is_kept() {
    for group in Group::ALL {
        let checked = run(&[group], || ());
        assert!(!checked.is_empty() && checked.iter().all(|checked| checked.group == group));
        let faults = report(&checked);
        assert!(faults.is_empty(), "\n{faults}");
        let n = same_as_rows(&checked);
        assert!(n > 10, "only {n} cases of {group:?} bear the id of a row");
    }
}
