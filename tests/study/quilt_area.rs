//! Claim: the area of a cell is spread over the distance to the stitch lines as its geometry says,
//! and the points over it carry that area exactly.
//! Source: plane geometry; distances are measured on a fine grid, means are integrals done by hand.
//! Tolerance: rounding for the integrals; a grid's own count, one part in its rows.

use stillair::garment::layup::Pattern;
use stillair::study::quilt::cell::{Cell, thread_mass};
use stillair::study::quilt::path::paths;

use crate::study::rig::{agree, quilting};

/// Distance of a point to the nearest of parallel lines `pitch` apart, whose normal is turned by `angle`.
fn to_lines((x, y): (f64, f64), pitch: f64, angle: f64) -> f64 {
    let along = (x * angle.cos() + y * angle.sin()) / pitch;
    pitch * (along - along.round()).abs()
}

/// Share of the points of a grid over many cells that lie farther than `s` from lines at `angles`.
fn counted(angles: &[f64], pitch: f64, s: f64) -> f64 {
    const N: usize = 1500;
    // an irrational number of cells each way, so that the grid favours no place
    let side = pitch * 17.0 * std::f64::consts::SQRT_2;
    let at = |i: usize| side * (i as f64 + 0.5) / N as f64;
    let beyond = |x: f64, y: f64| angles.iter().all(|angle| to_lines((x, y), pitch, *angle) > s);
    let n: usize = (0..N).map(|i| (0..N).filter(|j| beyond(at(i), at(*j))).count()).sum();
    n as f64 / (N * N) as f64
}

#[test]
fn shares_beyond_a_distance_are_those_measured_on_a_grid() {
    let turned = |degrees: [f64; 2]| degrees.map(f64::to_radians).to_vec();
    for (pattern, angles) in [
        (Pattern::Channels, vec![0.3]),
        (Pattern::Square, turned([0.0, 90.0])),
        (Pattern::Diamond, turned([45.0, 135.0])),
        (Pattern::Diamond, turned([30.0, 150.0])),
    ] {
        let cell = Cell { pattern, pitch: 0.04, stitch_width: 0.002 };
        for s in [0.0005, 0.001, 0.005, 0.012, 0.018] {
            let (formula, grid) = (cell.share_beyond(s), counted(&angles, cell.pitch, s));
            assert!((formula - grid).abs() < 5e-3, "{pattern:?} {s}: {formula} and {grid}");
        }
    }
}

#[test]
fn shares_add_up_and_the_stitch_line_has_its_own() {
    for (pattern, stitch) in [(Pattern::Channels, 0.05), (Pattern::Square, 0.0975)] {
        for n in [1, 2, 5, 14, 30] {
            let all = paths(&quilting(pattern, [40.0, 2.0, 1.5, 1.4]), n);
            agree("sum", all.iter().map(|path| path.share).sum(), 1.0, 1e-13);
            agree("stitch line", all[0].share, stitch, 1e-12);
            assert!(all.windows(2).all(|pair| pair[0].distance < pair[1].distance));
            assert!(all.windows(2).all(|pair| pair[0].air <= pair[1].air));
        }
    }
}

/// With v = 1 − u: ∫ (1 − v²) over du is 2/3 and of its square 8/15 for channels; over 2v dv they
/// are 1/2 and 1/3 for squares. Both are polynomials in the share of the area: two points are exact.
#[test]
fn means_of_the_loft_are_the_integrals() {
    for (pattern, mean, mean_square, n) in
        [(Pattern::Channels, 2.0 / 3.0, 8.0 / 15.0, 3), (Pattern::Diamond, 0.5, 1.0 / 3.0, 2)]
    {
        let quilting = quilting(pattern, [40.0, 2.0, 1.5, 1.4]);
        let all = paths(&quilting, n);
        let lofted = 1.0 - all[0].share;
        let sum = |power: i32| -> f64 {
            all.iter().map(|path| path.share * (path.air / 1.5e-3).powi(power)).sum()
        };
        agree("mean", sum(1) / lofted, mean, 1e-13);
        agree("mean", Cell::of(&quilting).height_mean(), mean, 1e-15);
        agree("mean square", sum(2) / lofted, mean_square, 1e-13);
    }
}

/// Mean distance to the sides: p/4 in a channel, p/6 in a square (the height of a pyramid's centre).
#[test]
fn the_mean_distance_comes_nearer_with_more_points() {
    let mean = |pattern, n| -> f64 {
        let all = paths(&quilting(pattern, [40.0, 0.0, 1.5, 1.4]), n);
        all.iter().map(|path| path.share * path.distance).sum()
    };
    agree("channels", mean(Pattern::Channels, 4), 0.010, 1e-13);
    let errors: Vec<f64> =
        [4, 8, 16].iter().map(|n| (mean(Pattern::Square, *n) / (0.04 / 6.0) - 1.0).abs()).collect();
    assert!(
        errors[2] < 1e-3 && errors[0] > 4.0 * errors[1] && errors[1] > 4.0 * errors[2],
        "{errors:?}"
    );
}

/// 0.12 g/m of thread: one line each 40 mm is 25 m/m², two sets of lines 50 m/m².
#[test]
fn thread_weighs_its_length() {
    let mass = |pattern| thread_mass(&quilting(pattern, [40.0, 2.0, 1.5, 1.4])).unwrap();
    agree("channels", mass(Pattern::Channels), 3.0e-3, 1e-12);
    agree("diamond", mass(Pattern::Diamond), 6.0e-3, 1e-12);
}
