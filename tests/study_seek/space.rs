//! Claim: combinations are all there, once each, with the mass and thickness of hand sums.
//! Source: sums of the columns areal_density_g_m2 and thickness_mm of `materials/fabrics.csv`.
//! Tolerance: rounding of the sums.

use std::collections::BTreeSet;

use stillair::study::seek::space::{Fit, Space};

use crate::study_seek::fixtures::{SPARSE, brief};

#[test]
fn every_combination_is_there_once() {
    let brief = brief(SPARSE);
    let space = Space::of(&brief).unwrap();
    // outers × inners × (no felt: 16 gaps; one: 3 felts × 16 × 11; two: 3² × 16 × 11 × 11)
    assert_eq!(space.n_total(), 3 * 2 * (16 + 3 * 16 * 11 + 9 * 16 * 11 * 11));
    let mut seen = BTreeSet::new();
    for index in 0..space.n_total() {
        let candidate = space.candidate(index).unwrap();
        assert_eq!(candidate.index, index);
        assert_eq!(candidate.gaps.len(), candidate.plies.felts.len() + 2);
        assert_eq!(candidate.gaps.last(), Some(&0.0), "no range behind the inner");
        let gaps: Vec<u64> = candidate.gaps.iter().map(|gap| gap.to_bits()).collect();
        assert!(seen.insert((candidate.plies, gaps)), "{index} twice");
    }
    assert_eq!(space.candidate(space.n_total()), None);
}

#[test]
fn mass_and_thickness_are_hand_sums() {
    let brief = brief(SPARSE);
    let space = Space::of(&brief).unwrap();
    let mut n_seen = 0;
    for index in 0..space.n_total() {
        let candidate = space.candidate(index).unwrap();
        let names: Vec<&str> = space.fabrics(&candidate.plies).map(|f| f.name.as_str()).collect();
        let (mass, thickness) = match names.as_slice() {
            ["outer-aramid-150", "inner-jersey-140"] => (150.0 + 140.0, 0.34 + 0.60),
            ["outer-aramid-200", "felt-needled-100", "inner-jersey-140"] => {
                (200.0 + 100.0 + 140.0, 0.45 + 1.3 + 0.60)
            }
            ["outer-aramid-260", "felt-spunlace-85", "felt-spunlace-60", "inner-interlock-200"] => {
                (260.0 + 85.0 + 60.0 + 200.0, 0.58 + 0.8 + 0.55 + 1.03)
            }
            _ => continue,
        };
        let gaps: f64 = candidate.gaps.iter().map(|gap| 1e3 * gap).sum();
        n_seen += 1;
        assert!((1e3 * space.areal_density(&candidate) - mass).abs() < 1e-9);
        let found = 1e3 * space.thickness(&candidate);
        assert!((found - thickness - gaps).abs() < 1e-9, "{found}");
        let layup = space.layup(&candidate);
        assert_eq!(layup.areal_density(), space.areal_density(&candidate));
        assert!((1e3 * layup.thickness() - found).abs() < 1e-9);
        let within = mass <= 400.0 && thickness + gaps <= 3.0 + 1e-9;
        assert_eq!(space.fit(&candidate) == Fit::Within, within, "{names:?} {gaps}");
    }
    assert_eq!(n_seen, 16 + 16 * 11 + 16 * 11 * 11);
}
