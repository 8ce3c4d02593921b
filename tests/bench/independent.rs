//! Claim: the times of a three-ply layup agree with a model written apart from this one.
//! Source: the same physics by the method of lines in Python (SciPy, stiff BDF), and once by
//! SUNDIALS' CVODE compiled for comparison; figures from those runs, in `study::verify::library`.
//! Tolerance: 0.5 %; 1 % with air gaps, whose correlations the model fits on its own; the last
//! printed digit and our own error against CVODE.

use crate::close::within;
use crate::fixtures::{at, disc, flame, three_plies, touching};
use stillair::study::verify::library;

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
    within(t, case.computed, 1e-6 * error.max(1.0));
}
