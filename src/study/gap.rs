//! Air gaps: how a layup's figures go with the thickness of one gap, or of all together.

use rayon::prelude::*;

use crate::bench::assemble::{Assembly, Backing, PartKind, Setup};
use crate::bench::expose::{BenchError, run_level};
use crate::bench::outcome::When;
use crate::bench::refine::{Readings, refine};
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, PlyJoint};
use crate::garment::press::pressed_layup;
use crate::solver::error::SolverError;
use crate::solver::problem::{Back, Joint};
use crate::study::gap_heat::{GapAccount, GapWatch};
use crate::study::gap_point::{GapHeat, GapPoint};
use crate::study::gap_turn::{Turn, turn};
use crate::study::run::{Terms, disc_times, disc_watch, skin_times, skin_watch};

/// Which gaps a sweep opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Swept {
    /// The one behind this ply, counted from 1; made if the plies touch there.
    BehindPly(usize),
    /// The one between the last ply and what is behind.
    Behind,
    /// All that the layup has between its plies, each of the same thickness.
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
            let mut ply = 0;
            let mut found = Vec::new();
            for entry in &layup.stack {
                match entry {
                    Entry::Ply(_) => ply += 1,
                    Entry::Gap(_) if ply < n_plies => found.push(ply),
                    Entry::Gap(_) => {}
                }
            }
            if found.is_empty() { Err(NoGap::AllTouch) } else { Ok(found) }
        }
    }
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

/// Sweeps gaps over `thicknesses` [m], each above 0, spread over the threads; the result does not
/// depend on their number.
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
    let points: Vec<Result<GapPoint, BenchError>> =
        thicknesses.par_iter().map(|gap| point(&pressed, terms, plies, *gap)).collect();
    let points = points.into_iter().collect::<Result<Vec<GapPoint>, BenchError>>()?;
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

fn point(layup: &Layup, terms: &Terms, plies: &[usize], gap: f64) -> Result<GapPoint, BenchError> {
    let layup = with_gap(layup, plies, gap);
    let failed = |behind| move |source| BenchError::Solver { behind, source };
    let mut point = disc_point(&layup, terms, plies, gap).map_err(failed("disc"))?;
    point.second_degree = second_degree(&layup, terms).map_err(failed("skin"))?;
    Ok(point)
}

/// The point but for skin.
fn disc_point(
    layup: &Layup,
    terms: &Terms,
    plies: &[usize],
    gap: f64,
) -> Result<GapPoint, SolverError> {
    let exposure = terms.exposure;
    let refined = refine(0, terms.error_goal, |level| {
        let record =
            run_level(layup, exposure, Backing::Disc, &Setup::level(level), |assembly, trace| {
                GapWatch {
                    disc: disc_watch(exposure, assembly, trace),
                    gaps: accounts(assembly, plies),
                }
            })?;
        let ways = record.watch.gaps.iter().map(|gap| gap.ways);
        let values = ways.flat_map(|w| [w.conduction, w.convection, w.radiation]).collect();
        let readings =
            Readings { times: disc_times(&record.watch.disc), values, t_end: record.ledger.t };
        Ok((record, readings))
    })?;
    let gaps = &refined.finest.watch.gaps;
    let heat = plies.iter().zip(gaps).zip(refined.values.chunks_exact(3));
    let limits = refined.times[3..].iter().filter_map(|when| match when {
        When::At { t, .. } | When::Unsettled { t } => Some(*t),
        When::NotWithin { .. } => None,
    });
    Ok(GapPoint {
        gap,
        rise24: refined.times[1],
        stoll: refined.times[2],
        second_degree: When::NotWithin { t_end: 0.0 },
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
    })
}

fn second_degree(layup: &Layup, terms: &Terms) -> Result<When, SolverError> {
    let (exposure, skin) = (terms.exposure, terms.skin);
    let refined = refine(0, terms.error_goal, |level| {
        let record = run_level(
            layup,
            exposure,
            Backing::Skin(skin),
            &Setup::level(level),
            |assembly, trace| skin_watch(exposure, skin, assembly, trace),
        )?;
        let times = skin_times(&record.watch);
        Ok(((), Readings { times, values: Vec::new(), t_end: record.ledger.t }))
    })?;
    Ok(refined.times[2])
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
