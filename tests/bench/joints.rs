//! Claim: two faces that touch keep thin still air between them, as deep as their voids
//! together, across which air conducts and radiation passes; a layup whose faces share one
//! temperature stays what the independent model says.
//! Source: still air of Lemmon and others 2000 and 2004 (`air_coolprop.csv`) in series with the
//! exchange of two grey surfaces (Incropera and DeWitt, Fundamentals of Heat and Mass Transfer,
//! equation 13.19); independent model as in `independent.rs`.
//! Tolerance: 1 % for the conductivity of the air as fitted; 0.5 % against the independent
//! model, 1 % with gaps; identical numbers where two descriptions mean one thing.

use std::path::PathBuf;

use crate::bench::fixtures::{
    at, disc, fabric, flame, gap, known, layup, outcome, ply, three_plies,
};
use crate::close::within_share;
use crate::reference::rows;
use stillair::bench::assemble::{Backing, PartKind, Setup, assemble};
use stillair::bench::expose::Behind;
use stillair::bench::outcome::DiscFigures;
use stillair::garment::exposure::{Exposure, Orientation};
use stillair::garment::layup::{Entry, Layup, PlyJoint};
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;
use stillair::solver::problem::{Back, Joint};

/// Plies whose faces keep their voids [µm].
fn rough(voids_um: [f64; 3]) -> Layup {
    let mut stack: Vec<Entry> = three_plies(1.0).map(ply).into();
    for (entry, um) in stack.iter_mut().zip(voids_um) {
        let Entry::Ply(ply) = entry else { panic!("plies only") };
        ply.joint = PlyJoint::Faces;
        ply.fabric.face_void = known(um * 1e-6);
    }
    layup(stack)
}

fn file(name: &str) -> (Layup, Exposure) {
    let shelf = Shelf::built_in().expect("the built-in shelf");
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/reference/layups");
    let layup = read_layup(&folder.join(name), &shelf).unwrap_or_else(|faults| panic!("{faults}"));
    (layup, shelf.exposure("check-80").expect("on the shelf").clone())
}

#[track_caller]
fn agrees(figures: &DiscFigures, [rise12, rise24, stoll]: [f64; 3], share: f64) {
    within_share(at(figures.rise12).0, rise12, share);
    within_share(at(figures.rise24).0, rise24, share);
    within_share(at(figures.stoll).0, stoll, share);
}

#[test]
fn the_files_of_the_independent_model_still_agree_with_it() {
    let (touching, exposure) = file("check-three-ply.toml");
    agrees(&disc(&touching, &exposure, 1e-3), [6.894, 10.012, 8.170], 5e-3);
    let (apart, exposure) = file("check-three-ply-gaps.toml");
    agrees(&disc(&apart, &exposure, 1e-3), [10.08, 14.72, 12.86], 1e-2);
}

#[test]
fn a_joint_resists_as_still_air_and_radiation_do() {
    let air = rows("air_coolprop.csv");
    let k_at = |kelvin: f64| {
        let row = air.iter().find(|row| row.number("temperature_K") == kelvin).expect("a row");
        row.number("conductivity_W_mK")
    };
    // between the rows of 275 and 300 K the curve is straight to four digits
    let k = k_at(275.0) + (k_at(300.0) - k_at(275.0)) * (298.15 - 275.0) / 25.0;
    let film = |emissivity: f64| {
        let exchange = 1.0 / (1.0 / 0.9 + 1.0 / emissivity - 1.0);
        4.0 * 5.670374419e-8 * 298.15f64.powi(3) * exchange
    };
    let heat = outcome(&rough([30.0, 60.0, 90.0]), &flame(), Behind::Disc, 5e-3).disc.unwrap().heat;
    let joints: Vec<_> =
        heat.parts.iter().filter(|part| part.name == "joint between faces").collect();
    let depths = [90e-6, 150e-6, 90e-6];
    assert_eq!(joints.len(), depths.len());
    for (joint, (depth, emissivity)) in joints.iter().zip(depths.iter().zip([0.9, 0.9, 0.95])) {
        within_share(joint.resistance_cold, 1.0 / (k / depth + film(emissivity)), 1e-2);
        assert!(joint.is_gap && joint.temp_outer > joint.temp_inner, "{joint:?}");
    }
}

#[test]
fn a_joint_is_a_still_gap_of_its_depth() {
    let mut exposure = flame();
    exposure.orientation = Orientation::Still;
    let [outer, felt, inner] = three_plies(1.0).map(ply);
    let apart = layup(vec![outer, gap(0.09), felt, gap(0.15), inner, gap(0.09)]);
    let touching = rough([30.0, 60.0, 90.0]);
    let times = |layup: &Layup| at(disc(layup, &exposure, 2e-3).rise24).0;
    within_share(times(&touching), times(&apart), 1e-9);
}

#[test]
fn air_below_a_micrometre_counts_as_none() {
    let chain = |voids_um| {
        let assembly = assemble(&rough(voids_um), &flame(), Backing::Disc, &Setup::level(0));
        (assembly.problem.joints.clone(), assembly.parts.len())
    };
    assert_eq!(chain([0.0; 3]), (vec![Joint::Shared; 2], 3));
    assert_eq!(chain([0.4, 0.4, 0.4]), (vec![Joint::Shared; 2], 3));
    let (joints, n_parts) = chain([0.6, 0.6, 0.6]);
    assert!(joints.iter().all(|joint| matches!(joint, Joint::Air { .. })), "{joints:?}");
    // the last face against the smooth disc has its own void alone
    assert_eq!(n_parts, 5);
}

#[test]
fn joints_lengthen_by_more_the_deeper_they_are() {
    let time = |voids| at(disc(&rough(voids), &flame(), 2e-3).rise24);
    let (smooth, rough, coarse) = (time([0.0; 3]), time([30.0; 3]), time([90.0; 3]));
    println!("{smooth:?} {rough:?} {coarse:?}");
    assert!(rough.0 - smooth.0 > rough.1 + smooth.1);
    assert!(coarse.0 - rough.0 > coarse.1 + rough.1);
}

#[test]
fn a_joint_to_a_gap_or_spacer_is_none() {
    let mut plies = three_plies(1.0).map(|fabric| {
        let Entry::Ply(mut ply) = ply(fabric) else { panic!("a ply") };
        ply.joint = PlyJoint::Faces;
        Entry::Ply(ply)
    });
    let last = plies[2].clone();
    let mut exposure = flame();
    exposure.spacer = 6.4e-3;
    let apart = layup(vec![plies[0].clone(), gap(1.0), std::mem::replace(&mut plies[1], last)]);
    let assembly = assemble(&apart, &exposure, Backing::Disc, &Setup::level(0));
    let kinds: Vec<PartKind> = assembly.parts.iter().map(|part| part.kind).collect();
    assert_eq!(kinds, [PartKind::Ply, PartKind::Gap, PartKind::Ply, PartKind::Gap]);
    // the voids of both faces, 20 µm each, stand on top of the gap, the last one's before the disc
    let depth = |joint: &Joint| match joint {
        Joint::Air { thickness, .. } => *thickness,
        _ => panic!("{joint:?}"),
    };
    within_share(depth(&assembly.problem.joints[0]), 1.04e-3, 1e-12);
    let Back::Lump { joint, .. } = &assembly.problem.back else { panic!("a disc") };
    within_share(depth(joint), 6.42e-3, 1e-12);
    let single = layup(vec![ply(fabric(200.0, 0.5, 0.05, 0.0))]);
    assert_eq!(assemble(&single, &flame(), Backing::Disc, &Setup::level(0)).parts.len(), 1);
}
