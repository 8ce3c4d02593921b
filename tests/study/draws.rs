//! Claim: draws corrected from the coarsest mesh have the spread of draws that are settled each, within the
//! numerical error that is told; near the end of a run and beyond it they are the settled ones.
//! Source: the same draws settled on finer and finer meshes, which `bench::refine` is checked for.
//! Tolerance: what `Shortcut` tells from draws computed both ways, as a share of each quantile.
//! Layups and exposures of the shelf; the dry ones are the same without their regain.

use stillair::bench::figure::Figured;
use stillair::garment::band::Factors;
use stillair::garment::exposure::Exposure;
use stillair::garment::layup::{Entry, Layup};
use stillair::garment::target::{Figure, Judged};
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::figure::Ask;
use stillair::study::odds::defaults;
use stillair::study::odds::inputs::{Further, Inputs};
use stillair::study::odds::result::{Odds, odds};
use stillair::study::odds::work::{Plan, Work};

fn layup(shelf: &Shelf, name: &str, dry: bool) -> Layup {
    let (text, path) = (shelf.layup_text(name).unwrap(), shelf.layup_path(name).unwrap());
    let mut layup = read_layup_text(text, path, shelf).unwrap();
    for entry in &mut layup.stack {
        if let (Entry::Ply(ply), true) = (entry, dry) {
            ply.fabric.regain.value = 0.0;
        }
    }
    layup
}

/// What is drawn of a layup, as a whole: corrected from the coarsest mesh, then settled draw by draw.
fn both_ways(layup: &Layup, exposure: &Exposure, figure: Figure, n_sets: usize) -> [Odds; 2] {
    let shelf = Shelf::built_in().unwrap();
    let skin = shelf.skin("f1930-iso13506").unwrap();
    let (quilts, error_goal) = (Quilts::Computed, 5e-3);
    let ask = Ask { figure, nominal: exposure, skin, error_goal, quilts, n_points: 3 };
    let further = Further { flux: defaults::FLUX, model: Factors::EXACT };
    let plan = Plan { n_sets, n_specimens: 1, n_rows: 0, seed: 1 };
    let begun = Work::begin(layup, ask, plan, Inputs::of(layup, exposure, further)).unwrap();
    let settled = Work { shortcut: None, ..begun.clone() };
    assert_ne!(
        begun.fingerprint(),
        settled.fingerprint(),
        "a checkpoint of the other way is refused"
    );
    [begun, settled].map(|mut work| {
        while !work.is_done() {
            work.block().unwrap();
        }
        odds(&work, Judged::Lowest, 0.0).unwrap()
    })
}

#[track_caller]
fn same_spread(name: &str, dry: bool, exposure: &str, figure: Figure, n_sets: usize) {
    let shelf = Shelf::built_in().unwrap();
    let layup = layup(&shelf, name, dry);
    let exposure = shelf.exposure(exposure).unwrap();
    let [quick, settled] = both_ways(&layup, exposure, figure, n_sets);
    let shortcut = quick.shortcut.expect("the coarsest mesh is close enough");
    assert!(shortcut.n_checked == 16 && shortcut.off <= 5e-3, "{shortcut:?}");
    assert!(quick.draw_error() > settled.draw_error());
    assert_ne!(quick.drawn, settled.drawn, "both ways are the same way");
    let quantiles = |of: &Odds| [of.tolerances.low, of.tolerances.median, of.tolerances.high];
    for (found, expected) in quantiles(&quick).into_iter().zip(quantiles(&settled)) {
        let off = (found.value / expected.value - 1.0).abs();
        assert!(found.reached && expected.reached, "{found:?}, not {expected:?}");
        assert!(off <= shortcut.off, "{found:?}, not {expected:?}: {off}, {shortcut:?}");
    }
}

#[test]
fn a_dry_stack_has_the_same_spread_either_way() {
    same_spread("three-ply-loose", true, "flame-80", Figure::Rise24, 256);
    same_spread("two-ply-outer-knit", true, "mixed-84-contact", Figure::Tpp, 256);
}

#[test]
fn a_moist_stack_has_the_same_spread_either_way() {
    same_spread("three-ply-loose", false, "flame-80", Figure::Rise24, 256);
    same_spread("single-outer-195", false, "radiant-20", Figure::Rise24, 256);
}

#[test]
fn a_quilted_layup_has_the_same_spread_either_way() {
    same_spread("three-ply-quilted-blank", false, "flame-80", Figure::Rise24, 96);
    same_spread("three-ply-quilted-blank", true, "radiant-20", Figure::Rise12, 96);
}

/// Cut short where one draw in five is not there yet.
#[test]
fn what_is_not_reached_is_the_same_either_way() {
    let shelf = Shelf::built_in().unwrap();
    let layup = layup(&shelf, "three-ply-loose", false);
    let whole = shelf.exposure("flame-80").unwrap();
    let [_, settled] = both_ways(&layup, whole, Figure::Rise24, 64);
    let mut times: Vec<f64> = settled.drawn.iter().map(|drawn| drawn.value).collect();
    times.sort_by(f64::total_cmp);
    let short = Exposure { t_end: times[51] + 1e-3, ..whole.clone() };
    let [quick, settled] = both_ways(&layup, &short, Figure::Rise24, 64);
    assert!(quick.shortcut.is_some());
    let n_over = settled.drawn.iter().filter(|drawn| !drawn.reached).count();
    assert!((8..=16).contains(&n_over), "{n_over}");
    for (found, expected) in quick.drawn.iter().zip(&settled.drawn) {
        assert_eq!(found.reached, expected.reached, "{found:?}, not {expected:?}");
        if expected.value > 0.99 * short.t_end {
            assert_eq!(found, expected, "settled near the end");
        }
    }
    assert_eq!(quick.tolerances.high, Figured { value: short.t_end, reached: false });
    assert_eq!(quick.tolerances.high, settled.tolerances.high);
}

/// An error that the coarsest mesh cannot keep to is kept to by settling every draw.
#[test]
fn a_small_error_asks_for_finer_meshes() {
    let shelf = Shelf::built_in().unwrap();
    let layup = layup(&shelf, "three-ply-loose", false);
    let exposure = shelf.exposure("flame-80").unwrap();
    let skin = shelf.skin("f1930-iso13506").unwrap();
    let begun = |figure: Figure, error_goal: f64| {
        let quilts = Quilts::Computed;
        let ask = Ask { figure, nominal: exposure, skin, error_goal, quilts, n_points: 3 };
        let further = Further { flux: defaults::FLUX, model: Factors::EXACT };
        let plan = Plan { n_sets: 16, n_specimens: 1, n_rows: 0, seed: 1 };
        Work::begin(&layup, ask, plan, Inputs::of(&layup, exposure, further)).unwrap().shortcut
    };
    assert!(begun(Figure::Rise24, 5e-3).is_some());
    assert_eq!(begun(Figure::Rise24, 2e-4), None);
    assert_eq!(begun(Figure::SecondDegree, 5e-3), None, "skin is settled always");
}
