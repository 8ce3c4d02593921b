//! Claim: a patch over none or all of a quilting is the quilting without or with it, over a quilting
//! that is none it is the patch alone, and between the two the disc averages what skin does not.
//! Source: the exposures and quiltings themselves; the heat into the disc by conservation of energy.
//! Tolerance: the printed errors of both; 1e-9 of the heat.

use stillair::bench::expose::Behind;
use stillair::bench::outcome::{DiscFigures, When};
use stillair::garment::layup::{Pattern, Quilting};
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::patch::Patch;
use stillair::study::patched::expose_patched;
use stillair::study::quilt::outcome::QuiltedPatch;
use stillair::study::quilt::patched::N_POINTS_MOST;
use stillair::study::quilt::{N_POINTS, QuiltError, Quilted, patched, quilt};
use stillair::study::run::Terms;

use crate::study::rig::{Rig, quilting, rig};

fn patch(share: f64, thread: f64) -> Patch {
    let shelf = Shelf::built_in().unwrap();
    let fabric = shelf.fabric("embroidery-aramid-250").expect("on the shelf").clone();
    Patch { fabric, share, thread }
}

fn asked(rig: &Rig, quilting: &Quilting, patch: &Patch) -> (Quilted, QuiltedPatch) {
    let question = rig.question(Behind::Both);
    let (layup, exposure) = (&rig.layup, &rig.exposure);
    let case = rig.case(quilting, &question);
    let found = patched(&case, patch, 6).unwrap();
    let mut whole = quilt(layup, quilting, exposure, &question, 6).unwrap();
    whole.patch = Some(found.clone());
    (whole, found)
}

fn times(figures: &DiscFigures) -> [When; 3] {
    [figures.rise12, figures.rise24, figures.stoll]
}

/// Two times agree within their errors together.
#[track_caller]
fn agree(one: When, other: When) {
    let (When::At { t: a, error: da }, When::At { t: b, error: db }) = (one, other) else {
        panic!("{one:?} and {other:?}")
    };
    assert!((a - b).abs() <= da + db, "{a} ± {da} and {b} ± {db}");
}

fn demo() -> Quilting {
    quilting(Pattern::Square, [30.0, 2.0, 1.5, 1.4])
}

#[test]
fn none_and_all_of_the_area_are_quiltings() {
    let rig = rig("three-ply-quilted-blank");
    for (share, thread) in [(0.0, 0.0), (1.0, 0.0), (1.0, 0.03)] {
        let (whole, found) = asked(&rig, &demo(), &patch(share, thread));
        let (both, under) = (found.both.unwrap(), found.under_disc.unwrap());
        let alone = if share == 0.0 { &whole.disc.as_ref().unwrap().shared } else { &under };
        for (one, other) in times(&both.figures).into_iter().zip(times(&alone.figures)) {
            agree(one, other);
        }
        assert!(both.numerics.goal_met && both.numerics.audit < 1e-9, "{:?}", both.numerics);
        let skin = if share == 0.0 { whole.skin.as_ref() } else { found.under_skin.as_ref() };
        for t in [5.0, 10.0, 14.0, 16.0, 30.0] {
            assert_eq!(whole.burnt_by(t), Some(skin.unwrap().burnt.by(t)), "{share} at {t} s");
        }
    }
}

/// Without width and loft every place is the flat layup, so that only the patch is left.
#[test]
fn a_quilting_that_is_none_leaves_the_patch_alone() {
    let rig = rig("three-ply-quilted-blank");
    let thickness = 1e3 * rig.layup.plies_thickness();
    let none = quilting(Pattern::Channels, [30.0, 0.0, 0.0, thickness]);
    for share in [0.2, 0.7] {
        let patch = patch(share, 0.0);
        let (_, found) = asked(&rig, &none, &patch);
        let terms = Terms {
            exposure: &rig.exposure,
            skin: &rig.skin,
            error_goal: 5e-3,
            quilts: Quilts::LeftOut,
        };
        let flat = expose_patched(&rig.layup, &patch, &terms).unwrap();
        let [rise12, rise24, stoll] = times(&found.both.unwrap().figures);
        agree(rise12, flat.disc.rise12);
        agree(rise24, flat.disc.rise24);
        agree(stoll, flat.disc.stoll);
    }
}

#[test]
fn the_disc_lies_between_its_places_and_grows_with_the_share() {
    let rig = rig("three-ply-quilted-blank");
    let mut before = 0.0;
    for share in [0.0, 0.3, 0.7, 1.0] {
        let (whole, found) = asked(&rig, &demo(), &patch(share, 0.0));
        let t = found.both.as_ref().unwrap().figures.rise24.t().unwrap();
        assert!(t > before, "{t} at {share}");
        before = t;
        let (beside, under) = (whole.skin.as_ref().unwrap(), found.under_skin.as_ref().unwrap());
        // a further ply delays the burn at every place, the stitch line's among them
        for (one, other) in beside.places.iter().zip(&under.places) {
            let second = [one, other].map(|place| place.degrees[1].t().unwrap());
            assert!(second[0] < second[1], "{second:?} at {:?}", one.path.place);
        }
        for t in [9.0, 13.0, 18.0] {
            let (a, b) = (beside.burnt.by(t), under.burnt.by(t));
            let mean = whole.burnt_by(t).unwrap();
            assert!(b <= mean && mean <= a, "{b} {mean} {a} at {t} s");
        }
    }
}

#[test]
fn thread_lets_heat_through_to_the_outer_ply() {
    let rig = rig("three-ply-quilted-blank");
    let time = |thread| {
        let (_, found) = asked(&rig, &demo(), &patch(1.0, thread));
        found.under_disc.unwrap().figures.rise24.t().unwrap()
    };
    assert!(time(0.05) < time(0.0));
}

#[test]
fn more_points_than_lanes_are_refused() {
    let rig = rig("three-ply-quilted-blank");
    let (question, quilting) = (rig.question(Behind::Disc), demo());
    let case = rig.case(&quilting, &question);
    let found = patched(&case, &patch(0.5, 0.0), N_POINTS_MOST + 1);
    assert!(matches!(found, Err(QuiltError::TooManyPoints { .. })), "{found:?}");
    const { assert!(N_POINTS <= N_POINTS_MOST, "what the command asks for must fit") };
}
