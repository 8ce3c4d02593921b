//! Claim: as a gap closes, the layup goes over into the one whose faces touch; from 0 to 3 mm its
//! resistance and the time to 24 K rise with the gap, between plies, before the disc and before skin.
//! Source: the resistance of a plane layer of still air rises with its thickness (Incropera and
//! DeWitt, Fundamentals of Heat and Mass Transfer, section 3.1); air between horizontal plates stands
//! still below Ra = 1708, at 3 mm whatever its temperatures (Hollands and others 1976).
//! Tolerance: rounding for the order; at the closing end 1e-6 of the value for each 1e-8 m of gap,
//! 1e-8 m of air being some 1e-5 of a layup's resistance when its voids are of 100 µm and radiation
//! across them adds its share.

use crate::bench::fixtures::{
    at, disc, flame, gap, known, layup, on_skin, outcome, ply, three_plies,
};
use crate::close::within_share;
use stillair::bench::expose::Behind;
use stillair::garment::layup::{Entry, Layup, PlyJoint};

/// Gaps [mm], 0 for faces that touch.
const GAPS: [f64; 11] = [0.0, 1e-5, 1e-3, 0.01, 0.03, 0.1, 0.3, 0.6, 1.0, 2.0, 3.0];

/// Three plies whose faces keep voids, with a gap behind one of them.
fn parted(which: usize, mm: f64) -> Layup {
    let mut stack: Vec<Entry> = Vec::new();
    for (j, fabric) in three_plies(1.0).into_iter().enumerate() {
        let Entry::Ply(mut one) = ply(fabric) else { panic!("a ply") };
        one.joint = PlyJoint::Faces;
        one.fabric.face_void = known([36e-6, 60e-6, 48e-6][j]);
        stack.push(Entry::Ply(one));
        if j == which && mm > 0.0 {
            stack.push(gap(mm));
        }
    }
    layup(stack)
}

#[track_caller]
fn rises_from_touching(values: &[f64]) {
    assert!(values.windows(2).all(|pair| pair[1] > pair[0]), "{values:?}");
    within_share(values[1], values[0], 1e-5);
}

#[test]
fn resistance_rises_from_that_of_touching_faces() {
    for which in 0..3 {
        let resistance = |mm: &f64| -> f64 {
            let run = outcome(&parted(which, *mm), &flame(), Behind::Disc, 5e-3).disc.unwrap();
            run.heat.parts.iter().map(|part| part.resistance_cold).sum()
        };
        rises_from_touching(&GAPS.iter().map(resistance).collect::<Vec<_>>());
    }
}

#[test]
fn the_time_to_24_kelvin_rises_from_that_of_touching_faces() {
    for which in 0..3 {
        let time = |mm: &f64| at(disc(&parted(which, *mm), &flame(), 2e-3).rise24).0;
        rises_from_touching(&GAPS.iter().map(time).collect::<Vec<_>>());
    }
}

#[test]
fn the_time_to_a_burn_rises_from_that_of_touching_faces() {
    for which in 0..3 {
        let time = |mm: &f64| at(on_skin(&parted(which, *mm), &flame(), 5e-3).second_degree).0;
        rises_from_touching(&GAPS.iter().map(time).collect::<Vec<_>>());
    }
}
