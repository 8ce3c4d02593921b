//! Claim: the times of a three-ply layup agree with a model written apart from this one.
//! Source: the same physics by the method of lines in Python (SciPy, stiff BDF), and once by
//! SUNDIALS' CVODE compiled for comparison; figures from those runs.
//! Tolerance: 0.5 %; 1 % with air gaps, whose correlations the model fits on its own; the last
//! printed digit and our own error against CVODE.

use crate::close::{within, within_share};
use crate::fixtures::{at, disc, flame, gap, layup, ply, three_plies, touching};

const GOAL: f64 = 1e-3;

#[test]
fn three_touching_plies() {
    let figures = disc(&touching(three_plies(1.0)), &flame(), GOAL);
    within_share(at(figures.rise12).0, 6.894, 5e-3);
    within_share(at(figures.rise24).0, 10.012, 5e-3);
    within_share(at(figures.stoll).0, 8.170, 5e-3);
}

#[test]
fn the_same_by_cvode() {
    let (t, error) = at(disc(&touching(three_plies(1.0)), &flame(), 1e-4).rise24);
    // a run on a fine mesh to a tight tolerance: our error and its last digit remain
    within(t, 10.0129, 5e-5 + error);
    assert!(error < 1e-3);
}

#[test]
fn constant_conductivity() {
    let figures = disc(&touching(three_plies(0.0)), &flame(), GOAL);
    within_share(at(figures.rise12).0, 9.871, 5e-3);
    within_share(at(figures.rise24).0, 15.376, 5e-3);
}

#[test]
fn gaps_on_both_sides_of_the_felt() {
    let [outer, felt, inner] = three_plies(1.0).map(ply);
    let apart = layup(vec![outer, gap(1.0), felt, gap(1.0), inner]);
    let figures = disc(&apart, &flame(), GOAL);
    within_share(at(figures.rise12).0, 10.08, 0.01);
    within_share(at(figures.rise24).0, 14.72, 0.01);
    within_share(at(figures.stoll).0, 12.86, 0.01);
}
