//! Claim: the times of a three-ply layup agree with a model written apart from this one.
//! Source: the same physics by the method of lines in Python (SciPy, stiff BDF), and once by
//! SUNDIALS' CVODE compiled for comparison; figures from those runs, in `evidence::verify::library`.
//! Tolerance: 0.5 %; 1 % with air gaps, whose correlations the model fits on its own; the last
//! printed digit and our own error against CVODE.

use crate::bench::fixtures::{at, disc, flame, three_plies, touching};
use crate::close::{within, within_share};
use stillair::evidence::verify::library;

#[test]
fn touching_with_constant_conductivity_and_with_air() {
    let cases = library::three_plies();
    assert_eq!(cases.len(), 9);
    for case in cases {
        println!("{}: {} ± {}, apart {}", case.name, case.computed, case.error, case.expected);
        assert!(case.is_kept(), "{case:?}");
    }
}

/// The plies that other tests make up are those of the files.
#[test]
fn made_up_plies_are_those_of_the_files() {
    let (t, error) = at(disc(&touching(three_plies(1.0)), &flame(), 1e-3).rise24);
    let cases = library::three_plies();
    let case = cases.iter().find(|case| case.name == "three plies, 24 K").expect("the case");
    // last bits of a unit's conversion change which steps are taken: the numerical error remains
    within(t, case.computed, error + case.error);
    let [files, made_up] =
        [library::plies(), Some(touching(three_plies(1.0)))].map(|layup| layup.expect("a layup"));
    assert_eq!(files.plies().count(), 3);
    for (file, made_up) in files.plies().zip(made_up.plies()) {
        let (file, made_up) = (&file.fabric, &made_up.fabric);
        within_share(file.areal_density.value, made_up.areal_density.value, 1e-12);
        within_share(file.thickness.value, made_up.thickness.value, 1e-12);
        for temp in [300.0, 600.0, 1000.0] {
            let of = |fabric: &stillair::garment::fabric::Fabric| {
                (fabric.conductivity.value.at(temp), fabric.specific_heat.value.at(temp))
            };
            within_share(of(file).0, of(made_up).0, 1e-12);
            within_share(of(file).1, of(made_up).1, 1e-12);
        }
    }
}
