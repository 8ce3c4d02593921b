//! Claim: a patch over none or all of the area is the layup without or with it, and between the
//! two the disc averages what skin does not.

use stillair::garment::exposure::Orientation;
use stillair::study::patch::{Patch, with_patch};
use stillair::study::patched::expose_patched;

use crate::study_gap::fixtures::{agree, exposed, flame, layup, shelf, skin, terms, times};

const LAYUPS: [&str; 3] = ["three-ply-loose", "single-outer-195", "published-assembly-1"];

fn patch(share: f64, thread: f64) -> Patch {
    let fabric = shelf().fabric("embroidery-aramid-250").expect("on the shelf").clone();
    Patch { fabric, share, thread }
}

#[test]
fn none_and_all_of_the_area_are_exposures() {
    let shelf = shelf();
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let terms = terms(&exposure, skin(&shelf));
    for name in LAYUPS {
        let layup = layup(&shelf, name);
        for (share, thread) in [(0.0, 0.0), (0.0, 0.03), (1.0, 0.0), (1.0, 0.03)] {
            let patch = patch(share, thread);
            let found = expose_patched(&layup, &patch, &terms).unwrap();
            let alone = if share == 0.0 { layup.clone() } else { with_patch(&layup, &patch) };
            let [rise12, rise24, stoll, _] = times(&exposed(&alone, &terms));
            agree(found.disc.rise12, rise12);
            agree(found.disc.rise24, rise24);
            agree(found.disc.stoll, stoll);
            assert!(found.disc.goal_met && found.disc.audit < 1e-9, "{:?}", found.disc);
            assert_eq!(times(&found.beside), times(&exposed(&layup, &terms)));
            assert_eq!(times(&found.under), times(&exposed(&with_patch(&layup, &patch), &terms)));
        }
    }
}

#[test]
fn the_disc_averages_and_goes_on_growing_with_the_share() {
    let shelf = shelf();
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let terms = terms(&exposure, skin(&shelf));
    let layup = layup(&shelf, "three-ply-loose");
    let mut before = 0.0;
    for share in [0.0, 0.1, 0.3, 0.6, 1.0] {
        let found = expose_patched(&layup, &patch(share, 0.0), &terms).unwrap();
        let t = found.disc.rise24.t().unwrap();
        assert!(t > before, "{t} at {share}");
        before = t;
        assert_eq!(found.patch.added(), share * 0.25);
        let [beside, under] = [&found.beside, &found.under].map(|o| times(o)[3].t().unwrap());
        assert!(under > beside, "a further ply delays the burn");
    }
}

#[test]
fn thread_lets_heat_through_as_far_as_the_first_gap() {
    let shelf = shelf();
    let layup = layup(&shelf, "three-ply-loose");
    let (bare, pierced) =
        (with_patch(&layup, &patch(1.0, 0.0)), with_patch(&layup, &patch(1.0, 0.04)));
    let k = |layup: &stillair::garment::layup::Layup, j: usize| {
        layup.plies().nth(j).unwrap().fabric.conductivity.value.at(400.0)
    };
    for j in 0..2 {
        let expected = 0.96 * k(&bare, j) + 0.04 * 0.25;
        assert!((k(&pierced, j) - expected).abs() < 1e-12, "ply {j}");
    }
    for j in 2..4 {
        assert_eq!(k(&pierced, j), k(&bare, j), "ply {j} lies behind the first gap");
    }
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let terms = terms(&exposure, skin(&shelf));
    let t = |layup| times(&exposed(layup, &terms))[1].t().unwrap();
    assert!(t(&pierced) < t(&bare));
}
