//! Claim: where a quilting comes down to a single path, it is that layup's own exposure.
//! Source: the exposure of that layup; more still air never lets more heat through (conduction
//! through a thicker layer of the same conductivity, checked with the air held still).
//! Tolerance: the same bits before skin; before the disc 1e-12, the shared lump being solved in another order.

use stillair::bench::expose::{Behind, Question, expose};
use stillair::bench::outcome::{DiscFigures, Figures, Outcome, When};
use stillair::garment::exposure::Orientation;
use stillair::garment::layup::{Entry, Layup, Pattern, PlyJoint};
use stillair::study::quilt::ask::disc_answer;
use stillair::study::quilt::lay::layup_at;
use stillair::study::quilt::path::{Path, paths};
use stillair::study::quilt::quilt;
use stillair::study::quilt::run::Asked;

use crate::study::rig::{Rig, agree, quilting, rig};

fn disc_of(outcome: &Outcome) -> &DiscFigures {
    match &outcome.disc.as_ref().unwrap().figures {
        Figures::Disc(disc) => disc,
        Figures::Skin(_) => unreachable!("the disc's run has the disc's figures"),
    }
}

#[track_caller]
fn same_times(got: &DiscFigures, expected: &DiscFigures, tolerance: f64) {
    for (name, got, expected) in [
        ("12 K", got.rise12, expected.rise12),
        ("24 K", got.rise24, expected.rise24),
        ("Stoll", got.stoll, expected.stoll),
    ] {
        agree(name, got.t().unwrap(), expected.t().unwrap(), tolerance);
    }
}

/// 2 mm of loft at the centre of the blank is the loose layup of the shelf with 1 mm in either
/// joint, the voids of the faces on top in both.
#[test]
fn the_centre_is_the_loose_layup() {
    let (blank, loose) = (rig("three-ply-quilted-blank"), rig("three-ply-loose"));
    let quilting = quilting(Pattern::Square, [40.0, 2.0, 2.0, 1.4]);
    let question = blank.question(Behind::Both);
    let quilted = quilt(&blank.layup, &quilting, &blank.exposure, &question, 4).unwrap();
    let alone = expose(&loose.layup, &loose.exposure, &question).unwrap();
    same_times(&quilted.disc.unwrap().lofted.figures, disc_of(&alone), 1e-12);
    let Figures::Skin(skin) = &alone.skin.unwrap().figures else { unreachable!("skin's run") };
    let skins = quilted.skin.unwrap();
    let centre = skins.centre();
    // both runs stop refining when every time of theirs is known: compare what has the same level
    agree("44 °C", centre.basal_44.t().unwrap(), skin.basal_44.t().unwrap(), 5e-3);
    agree("second", centre.degrees[1].t().unwrap(), skin.second_degree.t().unwrap(), 5e-3);
}

/// A single path before skin has the bits of the same layup exposed on the same mesh.
#[test]
fn a_path_before_skin_has_the_bits_of_its_layup() {
    use stillair::bench::assemble::{Backing, Setup};
    use stillair::bench::expose::{run_level, skin_watch};
    use stillair::study::quilt::run::before_skin;
    let rig = rig("three-ply-quilted-blank");
    let quilting = quilting(Pattern::Channels, [30.0, 2.0, 1.7, 1.4]);
    let question = rig.question(Behind::Skin);
    let case = rig.case(&quilting, &question);
    let all = paths(&quilting, 5);
    let runs = before_skin(&case, &all, 1).unwrap();
    for (path, run) in all.iter().zip(&runs).skip(1) {
        let layup = layup_at(&rig.layup, &quilting, path);
        let backing = Backing::Skin(&rig.skin);
        let alone =
            run_level(&layup, &rig.exposure, backing, &Setup::level(1), |assembly, trace| {
                skin_watch(assembly, trace, &rig.exposure, &question)
            });
        let alone = alone.unwrap();
        assert_eq!(run.watch.events.degrees, alone.watch.events.degrees, "{path:?}");
        assert_eq!(run.ledger, alone.ledger, "{path:?}");
    }
}

#[test]
fn without_width_and_loft_it_is_the_unquilted_layup() {
    for name in ["three-ply-quilted-blank", "three-ply-loose", "two-ply-outer-knit"] {
        let rig = rig(name);
        let mm = 1e3 * rig.layup.plies_thickness();
        let quilting = quilting(Pattern::Diamond, [40.0, 0.0, 0.0, mm]);
        let question = rig.question(Behind::Both);
        let quilted = quilt(&rig.layup, &quilting, &rig.exposure, &question, 2).unwrap();
        let disc = quilted.disc.unwrap();
        same_times(&disc.shared.figures, disc_of(&quilted.flat), 1e-11);
        assert!(disc.area_errors.iter().all(|error| error.unwrap() < 1e-9));
    }
}

/// A loft of 10 nm is none: its resistance, 10 nm over 0.026 W/(m·K), is under 1e-5 of the layup's;
/// with faces of one temperature, for which 10 nm of air stand in each of two joints, 1.5e-5.
/// Tolerance: 2e-4, the numerical errors of both runs at a goal of 1e-4 each.
#[test]
fn the_layer_that_stands_for_touching_does_not_show() {
    let mut rig = rig("three-ply-quilted-blank");
    for joint in [PlyJoint::Faces, PlyJoint::Shared] {
        for entry in &mut rig.layup.stack {
            if let Entry::Ply(ply) = entry {
                ply.joint = joint.clone();
            }
        }
        let question = Question { error_goal: 1e-4, ..rig.question(Behind::Disc) };
        let mm = 1e3 * rig.layup.plies_thickness();
        let barely = quilting(Pattern::Square, [40.0, 0.0, 1e-5, mm]);
        let quilted = quilt(&rig.layup, &barely, &rig.exposure, &question, 2).unwrap();
        same_times(&quilted.disc.as_ref().unwrap().shared.figures, disc_of(&quilted.flat), 2e-4);
    }
}

/// Time to 24 K behind one path alone.
fn rise24(rig: &Rig, layup: &Layup, path: Path, quilting_mm: [f64; 4]) -> f64 {
    let quilting = quilting(Pattern::Square, quilting_mm);
    let question = rig.question(Behind::Disc);
    let case = Asked { layup, ..rig.case(&quilting, &question) };
    let (answer, _, _) = disc_answer(&case, &[Path { share: 1.0, ..path }]).unwrap();
    match answer.figures.rise24 {
        When::At { t, .. } => t,
        other => panic!("not reached: {other:?}"),
    }
}

#[test]
fn more_still_loft_never_shortens_the_time() {
    let mut rig = rig("three-ply-quilted-blank");
    rig.exposure.orientation = Orientation::Still;
    let layup = rig.layup.clone();
    let times: Vec<f64> = [0.0, 0.2, 0.5, 1.0, 2.0, 4.0, 8.0]
        .iter()
        .map(|loft| {
            let mm = [40.0, 2.0, *loft, 1.4];
            let path = *paths(&quilting(Pattern::Square, mm), 1).last().unwrap();
            rise24(&rig, &layup, path, mm)
        })
        .collect();
    assert!(times.windows(2).all(|pair| pair[1] > pair[0]), "{times:?}");
    let pressed: Vec<f64> = [2.35, 2.0, 1.6, 1.2]
        .iter()
        .map(|pressed| {
            let mm = [40.0, 2.0, 1.5, *pressed];
            rise24(&rig, &layup, paths(&quilting(Pattern::Square, mm), 1)[0], mm)
        })
        .collect();
    assert!(pressed.windows(2).all(|pair| pair[1] < pair[0]), "{pressed:?}");
}
