//! Claim: what each input adds to the spread is the same whether a surface through the draws tells it or a
//! design of its own, each run anew.
//! Source: Sobol's indices by the estimators of Saltelli et al. 2010, which `study::odds::indices` is checked
//! for against Ishigami's function; the surface knows nothing of them.
//! Tolerance: the two half widths together, which are those of a 95 % interval each; one share in twenty
//! may lie beyond them, none beyond twice that.

use stillair::bench::figure::Figured;
use stillair::garment::band::Factors;
use stillair::garment::target::{Figure, Judged};
use stillair::study::answer::Quilts;
use stillair::study::figure::Ask;
use stillair::study::odds::defaults;
use stillair::study::odds::inputs::{Further, Inputs};
use stillair::study::odds::result::{Odds, Shares, odds};
use stillair::study::odds::work::{Plan, Work};

use crate::study::rig::{Rig, rig};

fn drawn(name: &str, model: Factors, plan: Plan, t_end: Option<f64>) -> Odds {
    let Rig { layup, mut exposure, skin } = rig(name);
    exposure.t_end = t_end.unwrap_or(exposure.t_end);
    let (quilts, error_goal) = (Quilts::Computed, 5e-3);
    let (nominal, skin) = (&exposure, &skin);
    let ask = Ask { figure: Figure::Rise24, nominal, skin, error_goal, quilts, n_points: 3 };
    let further = Further { flux: defaults::FLUX, model };
    let inputs = Inputs::of(&layup, nominal, further);
    let mut work = Work::begin(&layup, ask, plan, inputs).unwrap();
    while !work.is_done() {
        work.block().unwrap();
    }
    odds(&work, Judged::Lowest, 12.0).unwrap()
}

const BAND: Factors = Factors { lower: 0.9, upper: 1.1 };

fn same_shares(name: &str, model: Factors, n_sets: usize, n_rows: usize) {
    let quick = drawn(name, model, Plan { n_sets, n_specimens: 3, n_rows: 0, seed: 1 }, None);
    let rows = drawn(name, model, Plan { n_sets: 16, n_specimens: 1, n_rows, seed: 2 }, None);
    let Shares::Surface { left, .. } = quick.shares else { panic!("{:?}", quick.shares) };
    assert!(left < 0.01, "{left}");
    assert_eq!(rows.shares, Shares::Rows);
    let (mut n, mut n_off, mut sum) = (0, 0, 0.0);
    for one in &quick.contributions {
        let other = rows.contributions.iter().find(|c| c.input == one.input).unwrap();
        assert_eq!(one.swing, other.swing);
        let (found, expected) = (one.index.unwrap(), other.index.unwrap());
        sum += found.first_order.value;
        let pairs = [(found.first_order, expected.first_order), (found.total, expected.total)];
        for (found, expected) in pairs {
            let within = found.half_width + expected.half_width;
            let off = (found.value - expected.value).abs();
            assert!(off <= 2.0 * within, "{name}, input {}: {found:?}, {expected:?}", one.input);
            assert!(found.half_width < 0.05, "{found:?}");
            n += 1;
            n_off += usize::from(off > within);
        }
    }
    assert!(20 * n_off <= n, "{name}: {n_off} of {n}");
    assert!(sum <= 1.0 && sum > 0.9, "{name}: all inputs alone add up to {sum}");
}

#[test]
fn a_flat_stack_has_the_same_shares_either_way() {
    same_shares("two-ply-outer-knit", Factors::EXACT, 256, 256);
    same_shares("three-ply-loose", BAND, 256, 128);
}

#[test]
fn a_quilted_layup_has_the_same_shares_either_way() {
    same_shares("three-ply-quilted-blank", BAND, 192, 64);
}

/// Half of the draws end before they get there, so that no surface runs through their figures.
#[test]
fn shares_that_a_surface_cannot_tell_are_not_told() {
    let plan = Plan { n_sets: 256, n_specimens: 1, n_rows: 0, seed: 1 };
    let whole = drawn("two-ply-outer-knit", Factors::EXACT, plan, None);
    let mut times: Vec<f64> = whole.drawn.iter().map(|drawn: &Figured| drawn.value).collect();
    times.sort_by(f64::total_cmp);
    let short = drawn("two-ply-outer-knit", Factors::EXACT, plan, Some(times[60]));
    let Shares::Rough { left } = short.shares else { panic!("{:?}", short.shares) };
    assert!(left > 0.05, "{left}");
    assert!(short.contributions.iter().all(|one| one.index.is_none()));
    let few = Plan { n_sets: 16, ..plan };
    assert_eq!(drawn("two-ply-outer-knit", BAND, few, None).shares, Shares::None);
}
