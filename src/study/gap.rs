//! Air gaps: how a layup's figures go with the thickness of one gap, or of all together.

use rayon::prelude::*;

use crate::bench::assemble::{Assembly, Backing, PartKind, Setup, assemble};
use crate::bench::batch::{End, march_all};
use crate::bench::expose::{Behind, BenchError, Question, options};
use crate::bench::figure::{DiscTimes, disc_readings, t_valid};
use crate::bench::lies::Stack;
use crate::bench::outcome::{Run, When};
use crate::bench::refine::{Readings, Refined, Value, refine, refine_all};
use crate::bench::vapour::HeldBehind;
use crate::bench::watch_skin::SkinEvents;
use crate::garment::brief::GapPlace;
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, PlyJoint};
use crate::garment::press::pressed_layup;
use crate::garment::stitched::takes_air;
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::problem::{Back, Joint, Problem};
use crate::solver::tied::march_paths;
use crate::solver::watch::Watch;
use crate::study::answer::{AnswerError, Quilts, admit, as_computed, stack};
use crate::study::gap_heat::{GapAccount, GapWatch};
use crate::study::gap_point::{GapHeat, GapPoint};
use crate::study::gap_turn::{Turn, turn};
use crate::study::quilt::ask::with_area;
use crate::study::quilt::path::Place;
use crate::study::quilt::record::skin_at;
use crate::study::quilt::run::Asked;
use crate::study::quilt::screen::N_POINTS;
use crate::study::run::{Terms, Timed, disc_watch, skin_times, skin_watch};
use crate::study::seek::space::place_behind;

/// Which gaps a sweep opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Swept {
    /// The one behind this ply, counted from 1; made if the plies touch there.
    BehindPly(usize),
    /// The one between the last ply and what is behind.
    Behind,
    /// All that the layup has between its plies, each of the same thickness; where it has none but is
    /// quilted, all joints between plies that its loft opens, on top of the loft.
    All,
    /// Those in a place that a brief knows: behind the outermost ply, between those in the middle, before or
    /// behind the innermost.
    Place(GapPlace),
}

/// A sweep and what it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct GapSweep {
    /// The layup as given.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// Whether its quilting was computed.
    pub quilts: Quilts,
    /// Which gaps were swept.
    pub swept: Swept,
    /// Plies behind which the swept gaps lie, counted from 1.
    pub plies: Vec<usize>,
    /// One point a thickness, in the order asked for.
    pub points: Vec<GapPoint>,
    /// Where more air stops helping, and why; none for fewer than three settled points.
    pub turn: Option<Turn>,
}

impl GapSweep {
    /// How the layup lay.
    pub fn stack(&self) -> Stack<'_> {
        stack(&self.layup, self.quilts)
    }
}

/// Why a layup has no such gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoGap {
    /// The layup has fewer plies: their number.
    Plies(usize),
    /// Nowhere do its plies stand apart.
    AllTouch,
    /// It has too few plies for that place: their number.
    Place(usize),
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
        // a lone ply is outer and inner in one
        Swept::Place(GapPlace::BehindInner) => Ok(vec![n_plies]),
        Swept::Place(place) => {
            let n_felts = n_plies.saturating_sub(2);
            let lies_there = |ply: &usize| place_behind(ply - 1, n_felts) == place;
            let found: Vec<usize> = (1..n_plies).filter(lies_there).collect();
            if found.is_empty() { Err(NoGap::Place(n_plies)) } else { Ok(found) }
        }
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

/// The layup with the gaps behind `plies` set to `gap` [m]; a joint there gives way to the air. At 0 the
/// faces touch, nothing between them but their voids.
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
                if opened && gap > 0.0 {
                    stack.push(air());
                }
            }
            Entry::Gap(_) if plies.contains(&ply) => {}
            Entry::Gap(_) => stack.push(entry.clone()),
        }
    }
    Layup { stack, ..layup.clone() }
}

/// [`sweep`] of several layups, each with the plies behind which its gaps lie.
///
/// Errors: [`AnswerError`], the first point that could not be computed.
pub fn sweep_each<'a>(
    layups: impl IntoIterator<Item = (&'a Layup, &'a Vec<usize>)>,
    terms: &Terms,
    swept: Swept,
    thicknesses: &[f64],
) -> Result<Vec<GapSweep>, AnswerError> {
    let each = layups.into_iter();
    each.map(|(layup, plies)| sweep(layup, terms, (swept, plies), thicknesses)).collect()
}

/// Sweeps gaps over `thicknesses` [m], 0 where faces touch, several side by side in the solver and spread
/// over the threads; the result depends on neither.
///
/// - `plies`: from [`swept_plies`]
///
/// A quilted layup stays quilted: the swept air stands on top of the loft, and not under stitch lines,
/// but for the gap behind the innermost ply, which stands everywhere.
///
/// Errors: [`AnswerError`], the first point that could not be computed.
pub fn sweep(
    layup: &Layup,
    terms: &Terms,
    (swept, plies): (Swept, &[usize]),
    thicknesses: &[f64],
) -> Result<GapSweep, AnswerError> {
    if !matches!(layup.stack.first(), Some(Entry::Ply(_))) {
        return Err(AnswerError::Bench(BenchError::NoPlyOutermost));
    }
    admit(layup, terms.quilts)?;
    let pressed = pressed_layup(&as_computed(layup, terms.quilts));
    let layups: Vec<Layup> =
        thicknesses.iter().map(|gap| with_gap(&pressed, plies, *gap)).collect();
    let failed = |behind| move |source| AnswerError::Bench(BenchError::Solver { behind, source });
    let (discs, burns) = match pressed.quilting {
        Some(_) => before_both_quilted(&layups, terms, plies).into_iter().unzip(),
        None => (before_disc(&layups, terms, plies), second_degrees(&layups, terms)),
    };
    let (discs, burns): (Vec<Discs>, Vec<Burns>) = (discs, burns);
    let mut points = Vec::with_capacity(layups.len());
    for ((gap, disc), burn) in thicknesses.iter().zip(discs).zip(burns) {
        let disc = disc.map_err(failed("disc"))?;
        points.push(point(*gap, plies, disc, burn.map_err(failed("skin"))?));
    }
    let turn = turn(&points);
    Ok(GapSweep {
        layup: layup.clone(),
        exposure: terms.exposure.clone(),
        quilts: terms.quilts,
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
    let watch = |assembly: &Assembly| GapWatch {
        disc: disc_watch(terms.exposure, assembly),
        gaps: accounts(assembly, plies),
    };
    refine_all(layups.len(), terms.error_goal, |level, open| {
        let runs = run_all((layups, open), terms.exposure, (Backing::Disc, level), watch);
        runs.into_iter().map(|run| run.map(read)).collect()
    })
}

/// What a watch of the gaps tells.
fn read((watch, ledger): (GapWatch, Ledger)) -> (GapWatch, Readings) {
    let ways = watch.gaps.iter().map(|gap| gap.ways);
    let values = ways.flat_map(|w| w.each().map(Value::from)).collect();
    let passed = watch.disc.limits.passed.iter().copied();
    let readings = Readings { values, ..disc_readings(&watch.disc.events, passed, &ledger) };
    (watch, readings)
}

/// The disc and the gaps of a layup, refined.
type Discs = Result<Refined<GapWatch>, SolverError>;
/// What skin behind it suffers.
type Burns = Result<Burn, SolverError>;

/// A second-degree burn.
struct Burn {
    /// Its time; of a quilted layup at a stitch line.
    second_degree: When,
    /// That at the middle of a quilted layup's cell.
    at_centre: Option<When>,
    /// When the first ply passes its limit in front of skin [s], of a quilted layup at a stitch line.
    t_valid: Option<f64>,
}

/// All layups, each quilted, before the one disc behind its cell and before skin at both places.
fn before_both_quilted(layups: &[Layup], terms: &Terms, plies: &[usize]) -> Vec<(Discs, Burns)> {
    let question = Question::plain(Behind::Both, terms.skin, terms.error_goal);
    let one = |layup: &Layup| {
        let quilting = layup.quilting.as_ref().expect("only quilted layups come here");
        let asked =
            Asked { layup, quilting, exposure: terms.exposure, question: &question, patch: None };
        (behind_cell(&asked, plies), both_places(&asked))
    };
    layups.par_iter().map(one).collect()
}

/// The disc behind a cell, heat through the gaps by the paths' shares of the area.
fn behind_cell(asked: &Asked, plies: &[usize]) -> Discs {
    let all = with_area(asked, N_POINTS);
    refine(0, asked.question.error_goal, |level| {
        let laid = asked.assemblies(&all, Backing::Disc, level);
        let paths: Vec<(&Problem, f64)> =
            laid.iter().zip(&all).map(|(one, path)| (&one.problem, path.share)).collect();
        let tied = march_paths(&paths, &options(level, &Backing::Disc), |i| GapWatch {
            disc: disc_watch(asked.exposure, &laid[i]),
            gaps: accounts(&laid[i], plies),
        })?;
        let shares = all.iter().map(|path| path.share);
        let watch = GapWatch::together(tied.watches.into_iter().zip(shares).collect());
        Ok(read((watch.expect("a cell has paths"), tied.ledger)))
    })
}

/// Second-degree burns at a stitch line and at the middle of a cell.
fn both_places(asked: &Asked) -> Burns {
    let second_degree =
        |run: &Run| run.second_degree().unwrap_or(When::NotWithin { t_end: asked.exposure.t_end });
    let (stitch_line, centre) =
        (skin_at(asked, Place::StitchLine)?.0, skin_at(asked, Place::Centre)?.0);
    Ok(Burn {
        second_degree: second_degree(&stitch_line),
        at_centre: Some(second_degree(&centre)),
        t_valid: t_valid(&stitch_line.plies),
    })
}

/// Times to a second-degree burn of all layups, each refined for itself.
fn second_degrees(layups: &[Layup], terms: &Terms) -> Vec<Burns> {
    let (exposure, skin) = (terms.exposure, terms.skin);
    let watch = |assembly: &Assembly| skin_watch(exposure, skin, assembly);
    let refined = refine_all(layups.len(), terms.error_goal, |level, open| {
        let runs = run_all((layups, open), exposure, (Backing::Skin(skin), level), watch);
        let read = |(watch, ledger): (Timed<SkinEvents>, Ledger)| {
            let times = skin_times(&watch);
            let (t_end, moist) = (ledger.t, ledger.has_vapour());
            ((), Readings { times, between: None, values: Vec::new(), t_end, moist })
        };
        runs.into_iter().map(|run| run.map(read)).collect()
    });
    let burn = |refined: Refined<()>| Burn {
        second_degree: refined.times[2],
        at_centre: None,
        t_valid: first(&refined.times[4..]),
    };
    refined.into_iter().map(|one| one.map(burn)).collect()
}

/// One level of the layups in `open`, side by side in the solver.
fn run_all<W: Watch + Send>(
    (layups, open): (&[Layup], &[usize]),
    exposure: &Exposure,
    (backing, level): (Backing, usize),
    watch: impl Fn(&Assembly) -> W + Sync,
) -> Vec<End<W>> {
    let laid = |i: &usize| assemble(&layups[*i], exposure, backing, &Setup::level(level));
    let made: Vec<Assembly> = open.par_iter().map(laid).collect();
    let problems: Vec<&Problem> = made.iter().map(|one| &one.problem).collect();
    march_all(&problems, &options(level, &backing), |place| watch(&made[place]))
}

/// The point of a gap from its run before the disc and its burn.
fn point(gap: f64, plies: &[usize], refined: Refined<GapWatch>, burn: Burn) -> GapPoint {
    let gaps = &refined.finest.gaps;
    let heat = plies.iter().zip(gaps).zip(refined.values.chunks_exact(4));
    GapPoint {
        gap,
        disc: DiscTimes::from(&refined),
        second_degree: burn.second_degree,
        at_centre: burn.at_centre,
        heat: heat
            .map(|((ply, account), ways)| GapHeat {
                ply: *ply,
                conduction: ways[0],
                convection: ways[1],
                radiation: ways[2],
                vapour: ways[3],
                quadrature: account.quadrature,
                rayleigh_most: account.rayleigh_most,
            })
            .collect(),
        t_valid: first(&refined.times[3..]),
        t_valid_skin: burn.t_valid,
    }
}

/// The first of the times at which plies pass their limits [s].
fn first(limits: &[When]) -> Option<f64> {
    let times = limits.iter().filter_map(|when| match when {
        When::At { t, .. } | When::Unsettled { t } => Some(*t),
        When::NotWithin { .. } => None,
    });
    times.min_by(f64::total_cmp)
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
    let account = |ply: &usize| {
        let node = last_nodes[ply - 1];
        GapAccount::new(node, &joints[ply - 1], HeldBehind::of(&assembly.problem, node))
    };
    plies.iter().map(account).collect()
}
