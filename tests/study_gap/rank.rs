//! Claim: layups stand in the order of what is asked for, with the figures of single exposures.

use stillair::bench::outcome::When;
use stillair::garment::exposure::Orientation;
use stillair::garment::layup::Layup;
use stillair::garment::target::Figure;
use stillair::study::answer::Quilts;
use stillair::study::ordering::{By, Placed, Ranking, Versus, ranking};
use stillair::study::rank::side_by_side;

use crate::study_gap::fixtures::{ERROR_GOAL, exposed, flame, layup, shelf, skin, terms, times};

const LAYUPS: [&str; 4] =
    ["three-ply-loose", "single-outer-195", "published-assembly-1", "two-ply-outer-knit"];

#[test]
fn every_place_holds_what_expose_says() {
    let shelf = shelf();
    let exposures = [
        flame(&shelf, Orientation::HeatedFromBelow),
        shelf.exposure("radiant-40").unwrap().clone(),
    ];
    let layups: Vec<Layup> = LAYUPS.iter().map(|name| layup(&shelf, name)).collect();
    let lists =
        side_by_side(&layups, &exposures, (skin(&shelf), Quilts::Computed), ERROR_GOAL).unwrap();
    assert_eq!(lists.len(), 2);
    for (list, exposure) in lists.iter().zip(&exposures) {
        assert_eq!(list.len(), layups.len());
        for (outcome, layup) in list.iter().zip(&layups) {
            assert_eq!(outcome, &exposed(layup, &terms(exposure, skin(&shelf))));
        }
    }
}

#[test]
fn the_order_is_that_of_the_figure_and_differences_add_up() {
    let shelf = shelf();
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let layups: Vec<Layup> = LAYUPS.iter().map(|name| layup(&shelf, name)).collect();
    let lists = side_by_side(
        &layups,
        std::slice::from_ref(&exposure),
        (skin(&shelf), Quilts::Computed),
        ERROR_GOAL,
    )
    .unwrap();
    let outcomes = &lists[0];
    let of = |by, versus| ranking(outcomes, by, versus, (&exposure, shelf.bands()));
    let falls = |ranking: &Ranking, key: fn(&Placed) -> f64| {
        ranking.placed.windows(2).all(|pair| key(&pair[0]) >= key(&pair[1]))
    };
    for (i, figure) in [Figure::Rise12, Figure::Rise24, Figure::Stoll, Figure::SecondDegree]
        .into_iter()
        .enumerate()
    {
        let ranking = of(By::Figure(figure), Versus::First);
        assert!(falls(&ranking, |placed| placed.valued().unwrap().value), "{figure:?}");
        for placed in &ranking.placed {
            let When::At { t, error } = times(placed.outcome)[i] else { panic!("reached") };
            let valued = placed.valued().unwrap();
            assert_eq!((valued.value, valued.error), (t, error));
            let base = times(&outcomes[0])[i].t().unwrap();
            assert_eq!(placed.gain, Some(t - base));
            assert_eq!(placed.is_base, placed.outcome == &outcomes[0]);
            let mass = placed.outcome.layup.areal_density();
            assert_eq!(placed.added, mass - outcomes[0].layup.areal_density());
            assert!((placed.per_mass().unwrap() * mass - t).abs() < 1e-9);
        }
    }
    let best = of(By::Figure(Figure::Tpp), Versus::Best);
    assert!(best.placed[0].is_base && best.placed[0].gain == Some(0.0));
    assert!(best.placed[1..].iter().all(|placed| placed.gain.unwrap() < 0.0));
    assert!(falls(&of(By::Mass, Versus::First), |placed| -placed.outcome.layup.areal_density()));
    assert!(falls(&of(By::Thickness, Versus::First), |placed| -placed.outcome.layup.thickness()));
}

#[test]
fn what_is_never_reached_stands_first() {
    let shelf = shelf();
    let mut exposure = flame(&shelf, Orientation::HeatedFromBelow);
    exposure.t_end = 15.0;
    let layups: Vec<Layup> = LAYUPS.iter().map(|name| layup(&shelf, name)).collect();
    let lists = side_by_side(
        &layups,
        std::slice::from_ref(&exposure),
        (skin(&shelf), Quilts::Computed),
        ERROR_GOAL,
    )
    .unwrap();
    let ranking =
        ranking(&lists[0], By::Figure(Figure::Rise24), Versus::First, (&exposure, shelf.bands()));
    let known: Vec<bool> = ranking.placed.iter().map(|placed| placed.valued().is_some()).collect();
    assert!(known.contains(&false) && known.contains(&true), "{known:?}");
    assert!(known.windows(2).all(|pair| pair[0] <= pair[1]), "{known:?}");
}
