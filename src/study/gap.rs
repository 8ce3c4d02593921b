//! Air gaps: how a layup's figures go with the thickness of one gap, or of all together.

use rayon::prelude::*;

use crate::bench::assemble::{Assembly, Backing, PartKind, Setup, assemble};
use crate::bench::batch::{End, march_all};
use crate::bench::expose::{BenchError, options};
use crate::bench::outcome::When;
use crate::bench::refine::{Readings, Refined, refine_all};
use crate::bench::watch_skin::SkinEvents;
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, PlyJoint};
use crate::garment::press::pressed_layup;
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::problem::{Back, Joint, Problem};
use crate::solver::watch::Watch;
use crate::study::gap_heat::{GapAccount, GapWatch};
use crate::study::gap_point::{GapHeat, GapPoint};
use crate::study::gap_turn::{Turn, turn};
use crate::study::quilt::lay::takes_air;
use crate::study::run::{Terms, Timed, disc_times, disc_watch, skin_times, skin_watch};

/// Which gaps a sweep opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Swept {
    /// The one behind this ply, counted from 1; made if the plies touch there.
    BehindPly(usize),
    /// The one between the last ply and what is behind.
    Behind,
    /// All that the layup has between its plies, each of the same thickness; where it has none but is
    /// quilted, all joints between plies that its loft opens.
    All,
}

/// A sweep and what it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct GapSweep {
    /// The layup as given.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// Which gaps were swept.
    pub swept: Swept,
    /// Plies behind which the swept gaps lie, counted from 1.
    pub plies: Vec<usize>,
    /// One point a thickness, in the order asked for.
    pub points: Vec<GapPoint>,
    /// Where more air stops helping, and why; none for fewer than three settled points.
    pub turn: Option<Turn>,
}

/// Why a layup has no such gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoGap {
    /// The layup has fewer plies: their number.
    Plies(usize),
    /// Nowhere do its plies stand apart.
    AllTouch,
}

/// The plies behind which the swept gaps lie, counted from 1.
///
/// Errors: a ply that is not there; no gap at all between the plies.
pub fn swept_plies(layup: &Layup, swept: Swept) -> Result<Vec<usize>, NoGap> {
    let n_plies = layup.plies().count();
    match swept {
        Swept::Behind => Ok(vec![n_plies]),
        Swept::BehindPly(ply) if (1..=n_plies).contains(&ply) => Ok(vec![ply]),
        Swept::BehindPly(_) => Err(NoGap::Plies(n_plies)),
        Swept::All => {
            let mut found = standing_apart(layup);
            if found.is_empty() && layup.quilting.is_some() {
                let opens = takes_air(layup).into_iter().enumerate();
                found = opens.filter_map(|(j, opens)| opens.then_some(j + 1)).collect();
            }
            if found.is_empty() { Err(NoGap::AllTouch) } else { Ok(found) }
        }
    }
}

/// Plies behind which the layup has a gap and then another ply, counted from 1.
fn standing_apart(layup: &Layup) -> Vec<usize> {
    let n_plies = layup.plies().count();
    let mut ply = 0;
    let mut found = Vec::new();
    for entry in &layup.stack {
        match entry {
            Entry::Ply(_) => ply += 1,
            Entry::Gap(_) if ply < n_plies => found.push(ply),
            Entry::Gap(_) => {}
        }
    }
    found
}

/// The layup with the gaps behind `plies` set to `gap` [m]; a joint there gives way to the air.
pub fn with_gap(layup: &Layup, plies: &[usize], gap: f64) -> Layup {
    let air = || {
        let thickness = Known::new(gap, Provenance::Invented, "sweep");
        Entry::Gap(Gap { thickness })
    };
    let mut stack = Vec::new();
    let mut ply = 0;
    for entry in &layup.stack {
        match entry {
            Entry::Ply(one) => {
                ply += 1;
                let mut one = one.clone();
                let opened = plies.contains(&ply);
                if opened {
                    one.joint = PlyJoint::Faces;
                }
                stack.push(Entry::Ply(one));
                if opened {
                    stack.push(air());
                }
            }
            Entry::Gap(_) if plies.contains(&ply) => {}
            Entry::Gap(_) => stack.push(entry.clone()),
        }
    }
    Layup { stack, ..layup.clone() }
}

/// Sweeps gaps over `thicknesses` [m], each above 0, several side by side in the solver and spread
/// over the threads; the result depends on neither.
///
/// - `plies`: from [`swept_plies`]
///
/// Errors: the first point that the solver gives up on.
pub fn sweep(
    layup: &Layup,
    terms: &Terms,
    (swept, plies): (Swept, &[usize]),
    thicknesses: &[f64],
) -> Result<GapSweep, BenchError> {
    if !matches!(layup.stack.first(), Some(Entry::Ply(_))) {
        return Err(BenchError::NoPlyOutermost);
    }
    let pressed = pressed_layup(layup);
    let layups: Vec<Layup> =
        thicknesses.iter().map(|gap| with_gap(&pressed, plies, *gap)).collect();
    let discs = before_disc(&layups, terms, plies);
    let burns = second_degrees(&layups, terms);
    let failed = |behind| move |source| BenchError::Solver { behind, source };
    let mut points = Vec::with_capacity(layups.len());
    for ((gap, disc), burn) in thicknesses.iter().zip(discs).zip(burns) {
        let disc = disc.map_err(failed("disc"))?;
        points.push(point(*gap, plies, disc, burn.map_err(failed("skin"))?));
    }
    let turn = turn(&points);
    Ok(GapSweep {
        layup: layup.clone(),
        exposure: terms.exposure.clone(),
        swept,
        plies: plies.to_vec(),
        points,
        turn,
    })
}

/// All layups before the disc, each refined for itself.
fn before_disc(
    layups: &[Layup],
    terms: &Terms,
    plies: &[usize],
) -> Vec<Result<Refined<GapWatch>, SolverError>> {
    let watch = |assembly: &Assembly, limits: &[f64]| GapWatch {
        disc: disc_watch(terms.exposure, assembly, limits),
        gaps: accounts(assembly, plies),
    };
    refine_all(layups.len(), terms.error_goal, |level, open| {
        let runs = run_all((layups, open), terms.exposure, (Backing::Disc, level), watch);
        let read = |(watch, ledger): (GapWatch, Ledger)| {
            let ways = watch.gaps.iter().map(|gap| gap.ways);
            let values = ways.flat_map(|w| [w.conduction, w.convection, w.radiation]).collect();
            let readings = Readings { times: disc_times(&watch.disc), values, t_end: ledger.t };
            (watch, readings)
        };
        runs.into_iter().map(|run| run.map(read)).collect()
    })
}

/// Times to a second-degree burn of all layups, each refined for itself.
fn second_degrees(layups: &[Layup], terms: &Terms) -> Vec<Result<When, SolverError>> {
    let (exposure, skin) = (terms.exposure, terms.skin);
    let watch = |assembly: &Assembly, limits: &[f64]| skin_watch(exposure, skin, assembly, limits);
    let refined = refine_all(layups.len(), terms.error_goal, |level, open| {
        let runs = run_all((layups, open), exposure, (Backing::Skin(skin), level), watch);
        let read = |(watch, ledger): (Timed<SkinEvents>, Ledger)| {
            let times = skin_times(&watch);
            ((), Readings { times, values: Vec::new(), t_end: ledger.t })
        };
        runs.into_iter().map(|run| run.map(read)).collect()
    });
    refined.into_iter().map(|one| one.map(|refined| refined.times[2])).collect()
}

/// One level of the layups in `open`, side by side in the solver.
fn run_all<W: Watch + Send>(
    (layups, open): (&[Layup], &[usize]),
    exposure: &Exposure,
    (backing, level): (Backing, usize),
    watch: impl Fn(&Assembly, &[f64]) -> W + Sync,
) -> Vec<End<W>> {
    let laid = |i: &usize| assemble(&layups[*i], exposure, backing, &Setup::level(level));
    let made: Vec<Assembly> = open.par_iter().map(laid).collect();
    let problems: Vec<&Problem> = made.iter().map(|one| &one.problem).collect();
    march_all(&problems, &options(level, &backing), |place| {
        let layup = &layups[open[place]];
        let limits: Vec<f64> = layup.plies().map(|ply| ply.fabric.temp_limit.value).collect();
        watch(&made[place], &limits)
    })
}

/// The point of a gap from its run before the disc and its burn.
fn point(gap: f64, plies: &[usize], refined: Refined<GapWatch>, burn: When) -> GapPoint {
    let gaps = &refined.finest.gaps;
    let heat = plies.iter().zip(gaps).zip(refined.values.chunks_exact(3));
    let limits = refined.times[3..].iter().filter_map(|when| match when {
        When::At { t, .. } | When::Unsettled { t } => Some(*t),
        When::NotWithin { .. } => None,
    });
    GapPoint {
        gap,
        rise24: refined.times[1],
        stoll: refined.times[2],
        second_degree: burn,
        heat: heat
            .map(|((ply, account), ways)| GapHeat {
                ply: *ply,
                conduction: ways[0],
                convection: ways[1],
                radiation: ways[2],
                quadrature: account.quadrature,
                rayleigh_most: account.rayleigh_most,
            })
            .collect(),
        t_valid: limits.min_by(f64::total_cmp),
    }
}

/// Empty accounts of the gaps behind `plies` in front of the disc.
fn accounts(assembly: &Assembly, plies: &[usize]) -> Vec<GapAccount> {
    let lump = match assembly.problem.back {
        Back::Lump { joint, .. } => Some(joint),
        _ => None,
    };
    let joints: Vec<Joint> = assembly.problem.joints.iter().copied().chain(lump).collect();
    let last_nodes: Vec<usize> =
        assembly.parts.iter().filter(|p| p.kind == PartKind::Ply).map(|p| p.last).collect();
    plies.iter().filter_map(|ply| GapAccount::new(last_nodes[ply - 1], &joints[ply - 1])).collect()
}
