//! The main job: a layup under an exposure, in front of the disc and of skin.

use std::fmt;

use crate::bench::account::{heat_account, heat_offered, ply_fates};
use crate::bench::assemble::{Assembly, Backing, Mesh, Setup, assemble};
use crate::bench::curves::curves;
use crate::bench::effects::Without;
use crate::bench::figure::{DiscTimes, disc_readings, figure_name};
use crate::bench::halt::Halt;
use crate::bench::moment::{Snapshot, at_moment};
use crate::bench::outcome::Lies;
use crate::bench::outcome::{
    DiscFigures, Figures, HeatAccount, Numerics, Outcome, Run, SkinFigures, Valued, WaterAccount,
    When,
};
use crate::bench::refine::{Readings, Value, refine};
use crate::bench::seen::Seen;
use crate::bench::trace::Trace;
use crate::bench::watch_disc::{DiscWatch, RISES};
use crate::bench::watch_skin::{BurnIntegral, SkinEvents, SkinWatch};
use crate::bench::water::water_account;
use crate::garment::exposure::{ColdFlame, Exposure};
use crate::garment::layup::Layup;
use crate::garment::press::pressed_layup;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::watch::Watch;

/// Step tolerance of level 0 in front of skin; each level divides it by 8.
const TOL_FIRST: f64 = 1.0e-2;
/// Step tolerance of level 0 in front of the disc, whose own error is held more closely.
const TOL_FIRST_DISC: f64 = 0.24;
/// Share of the tolerance that the disc's own error is allowed [–].
///
/// Errors within the plies fade, those in the disc stay. With these two the times extrapolated from
/// levels 0 and 1 err by 0.02 % on the mean square, moist or dry, by our own runs of 700 made-up
/// layups; 0.04 and 0.03 took more than twice the work on moist ones for 0.01 %.
const DISC_SHARE: f64 = 0.018;

/// What stands behind the layup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Behind {
    /// The copper disc.
    Disc,
    /// Skin.
    Skin,
    /// One after the other.
    Both,
}

/// How long to follow a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Follow {
    /// Until every figure is known.
    UntilKnown,
    /// To the exposure's end of looking.
    ToTheEnd,
}

/// What is asked of an exposure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question<'a> {
    /// What stands behind the layup.
    pub behind: Behind,
    /// The skin model.
    pub skin: &'a Skin,
    /// Numerical error allowed, relative to each time [–], above 0.
    pub error_goal: f64,
    /// How long to follow.
    pub follow: Follow,
    /// Effects that are left out.
    pub without: Without,
    /// What may call it off; none where it is waited for.
    pub halt: Option<&'a Halt>,
}

impl<'a> Question<'a> {
    /// Followed until all is known, nothing left out.
    pub fn plain(behind: Behind, skin: &'a Skin, error_goal: f64) -> Question<'a> {
        let (follow, without) = (Follow::UntilKnown, Without::default());
        Question { behind, skin, error_goal, follow, without, halt: None }
    }
}

/// Why an exposure could not be computed.
#[derive(Debug, Clone, PartialEq)]
pub enum BenchError {
    /// The solver gave up.
    Solver {
        /// "disc" or "skin".
        behind: &'static str,
        /// Its own error.
        source: SolverError,
    },
    /// The layup stands under pressure although a gap parts its plies.
    PressedAcrossGap,
    /// The layup has no ply, or does not start with one.
    NoPlyOutermost,
    /// The flame gas is not hotter than the limit of the outermost ply.
    ColdFlame(ColdFlame),
}

impl fmt::Display for BenchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BenchError::Solver { behind, source } => {
                write!(f, "the run in front of the {behind} stopped: {source}")
            }
            BenchError::PressedAcrossGap => {
                write!(
                    f,
                    "the layup stands under pressure but has an air gap: no ply presses on it"
                )
            }
            BenchError::NoPlyOutermost => write!(f, "the layup does not start with a ply"),
            BenchError::ColdFlame(cold) => write!(f, "{cold}"),
        }
    }
}

impl std::error::Error for BenchError {}

/// Exposes a layup as a flat stack and reports what the disc reads and what skin suffers.
///
/// A quilting is passed over: [`answer`](crate::study::answer::answer) computes it. A layup that stands under pressure is pressed first; the outcome holds it as pressed.
///
/// Errors: [`BenchError`], when the layup has no ply outermost, is pressed across a gap, the flame is
/// colder than its outermost ply's limit, or the solver gives up.
pub fn expose(
    layup: &Layup,
    exposure: &Exposure,
    question: &Question,
) -> Result<Outcome, BenchError> {
    expose_seen(layup, exposure, question).map(|(outcome, _)| outcome)
}

/// The same, with what each run did at every node: the disc's first, then the skin's.
///
/// Errors: as [`expose`].
pub fn expose_seen(
    layup: &Layup,
    exposure: &Exposure,
    question: &Question,
) -> Result<(Outcome, Vec<Seen>), BenchError> {
    use crate::garment::layup::Entry;
    if !matches!(layup.stack.first(), Some(Entry::Ply(_))) {
        return Err(BenchError::NoPlyOutermost);
    }
    if layup.pressed_across_gap() {
        return Err(BenchError::PressedAcrossGap);
    }
    exposure.hot_enough_for(layup).map_err(BenchError::ColdFlame)?;
    let layup = &pressed_layup(layup);
    let failed = |behind| move |source| BenchError::Solver { behind, source };
    // either by itself, side by side: neither's bits depend on the other
    let (disc, skin) = rayon::join(
        || {
            let asked = question.behind != Behind::Skin;
            asked.then(|| run_disc(layup, exposure, question).map_err(failed("disc"))).transpose()
        },
        || {
            let asked = question.behind != Behind::Disc;
            asked.then(|| run_skin(layup, exposure, question).map_err(failed("skin"))).transpose()
        },
    );
    let (disc, skin) = (disc?, skin?);
    let lies = Lies::flat(layup);
    let ((disc, seen_disc), (skin, seen_skin)) = (disc.unzip(), skin.unzip());
    let seen = [seen_disc, seen_skin].into_iter().flatten().collect();
    Ok((Outcome { layup: layup.clone(), exposure: exposure.clone(), lies, disc, skin }, seen))
}

/// A watch after its run, with what it ran on.
#[derive(Debug, Clone)]
pub struct Record<W> {
    /// The problem and its parts.
    pub assembly: Assembly,
    /// The watch.
    pub watch: W,
    /// Heat account and work.
    pub ledger: Ledger,
    /// Level of refinement.
    pub level: usize,
}

/// Options of the march at a level of refinement, by what stands behind the layup.
pub fn options(level: usize, backing: &Backing) -> Options {
    let (tol_first, lump_share) = match backing {
        Backing::Disc => (TOL_FIRST_DISC, DISC_SHARE),
        Backing::Skin(_) => (TOL_FIRST, 1.0),
    };
    Options { tol: tol_first / 8f64.powi(level as i32), lump_share, ..Options::default() }
}

/// Runs one level of refinement with the watch that `watch` makes for the assembly; the layup as it is, not pressed.
pub fn run_level<W: Watch>(
    layup: &Layup,
    exposure: &Exposure,
    backing: Backing,
    setup: &Setup,
    watch: impl FnOnce(&Assembly, Trace) -> W,
) -> Result<Record<W>, SolverError> {
    let assembly = assemble(layup, exposure, backing, setup);
    run_assembly(assembly, backing, setup.mesh.n_halvings, watch)
}

/// Runs what was laid out of a layup at a level of refinement.
fn run_assembly<W: Watch>(
    assembly: Assembly,
    backing: Backing,
    level: usize,
    watch: impl FnOnce(&Assembly, Trace) -> W,
) -> Result<Record<W>, SolverError> {
    let mut watch = watch(&assembly, Trace::new(&assembly));
    let ledger = march(&assembly.problem, &options(level, &backing), &mut watch)?;
    Ok(Record { assembly, watch, ledger, level })
}

/// How a layup is laid out for a question at a level of refinement.
pub fn setup(question: &Question, level: usize) -> Setup {
    Setup { mesh: Mesh::level(level), without: question.without }
}

/// A watch on the disc behind an assembly.
pub fn disc_watch(
    assembly: &Assembly,
    trace: Trace,
    exposure: &Exposure,
    question: &Question,
) -> DiscWatch {
    let cap_area = exposure.disc.cap_area();
    let mut watch = DiscWatch::new(trace, assembly.node_behind, exposure.temp_room, cap_area);
    watch.to_the_end = question.follow == Follow::ToTheEnd;
    watch.halt = question.halt.cloned();
    watch
}

/// A watch on the skin behind an assembly: its basal layer and the base of its dermis.
pub fn skin_watch(
    assembly: &Assembly,
    trace: Trace,
    exposure: &Exposure,
    question: &Question,
) -> SkinWatch {
    let [basal, dermal] = assembly.skin_bases();
    let mut events = SkinEvents::new(question.skin, basal, dermal);
    events.to_the_end = question.follow == Follow::ToTheEnd;
    events.flame_end = exposure.duration.unwrap_or(f64::INFINITY);
    SkinWatch { halt: question.halt.cloned(), ..SkinWatch::new(trace, events) }
}

fn run_disc(
    layup: &Layup,
    exposure: &Exposure,
    question: &Question,
) -> Result<(Run, Seen), SolverError> {
    let refined = refine(0, question.error_goal, |level| {
        let setup = setup(question, level);
        let record = run_level(layup, exposure, Backing::Disc, &setup, |assembly, trace| {
            disc_watch(assembly, trace, exposure, question)
        })?;
        let DiscWatch { events, trace, .. } = &record.watch;
        let passed = trace.limits.passed.iter().copied();
        let readings = disc_readings(events, passed, &record.ledger);
        Ok((record, readings))
    })?;
    let figures = disc_figures(exposure, &DiscTimes::from(&refined));
    let t_account = figures.rise24.t();
    let moment = moment(t_account, figure_name(Figure::Rise24, exposure));
    let passed = refined.times[3..].to_vec();
    let record = &refined.finest;
    let watch = &record.watch;
    let (heat, water) =
        accounts(record, &watch.trace, exposure, &Backing::Disc, (t_account, &moment))?;
    let run = Run {
        heat,
        water,
        plies: ply_fates((layup, &watch.trace.limits.limits), &watch.trace.peaks, &passed),
        curves: curves(&record.assembly, &watch.trace, &[]),
        numerics: numerics(record, question.error_goal, refined.goal_met),
        figures: Figures::Disc(figures),
    };
    let Record { assembly, watch, .. } = refined.finest;
    Ok((run, Seen { behind: "disc", in_cell: None, assembly, trace: watch.trace }))
}

/// The disc's figures from its times.
pub fn disc_figures(exposure: &Exposure, times: &DiscTimes) -> DiscFigures {
    let DiscTimes { rise12, rise24, rise24_less_12, stoll } = *times;
    let cap_area = exposure.disc.cap_area();
    let flux_mean = rise24_less_12.map(|dt| cap_area * (RISES[1] - RISES[0]) / dt.value);
    let tpp = match stoll {
        When::At { t, error } => {
            let heat = |t: f64| heat_offered(exposure, t);
            Some(Valued { value: heat(t), error: heat(t + error) - heat(t) })
        }
        _ => None,
    };
    let offered_mean = rise24.t().map(|t| heat_offered(exposure, t) / t);
    DiscFigures {
        rise12,
        rise24,
        rise24_less_12,
        stoll,
        tpp,
        flux_mean_12_24: flux_mean,
        transmission_factor: flux_mean
            .zip(offered_mean)
            .map(|(through, offered)| through / offered),
    }
}

fn run_skin(
    layup: &Layup,
    exposure: &Exposure,
    question: &Question,
) -> Result<(Run, Seen), SolverError> {
    let backing = Backing::Skin(question.skin);
    let laid = |level| assemble(layup, exposure, backing, &setup(question, level));
    skin_behind(layup, laid, exposure, question)
}

/// What skin suffers behind a layup that is laid out by `laid` at each level of refinement, and what
/// the run did at every node.
///
/// Errors: those of the solver.
pub fn skin_behind(
    layup: &Layup,
    laid: impl Fn(usize) -> Assembly,
    exposure: &Exposure,
    question: &Question,
) -> Result<(Run, Seen), SolverError> {
    let skin = question.skin;
    let refined = refine(0, question.error_goal, |level| {
        let backing = Backing::Skin(skin);
        let record = run_assembly(laid(level), backing, level, |assembly, trace| {
            skin_watch(assembly, trace, exposure, question)
        })?;
        let watch = &record.watch;
        let mut times = vec![watch.events.basal_44];
        times.extend(watch.events.degrees);
        times.extend(&watch.trace.limits.passed);
        let rise = watch.events.peak.0 - skin.temp_surface;
        let burn = |integral: &BurnIntegral| Value {
            value: integral.omega,
            swing: integral.swing(&watch.trace),
        };
        let dermal = match watch.events.ended_by_third {
            true => watch.events.dermal.omega.into(),
            false => burn(&watch.events.dermal),
        };
        let values = vec![rise.into(), burn(&watch.events.basal), dermal];
        // once all is cold, what has not come by now does not come within the time looked at
        let t_end = if watch.events.over { exposure.t_end } else { record.ledger.t };
        let readings =
            Readings { times, between: None, values, t_end, moist: record.ledger.has_vapour() };
        Ok((record, readings))
    })?;
    let record = &refined.finest;
    let watch = &record.watch;
    let t_account = refined.times[2].t();
    let moment = moment(t_account, "the second-degree burn");
    let [rise_peak, omega_basal, omega_dermal] = refined.values[..] else {
        unreachable!("as every level reads them")
    };
    let [basal_44, first_degree, second_degree, third_degree, ref passed @ ..] = refined.times[..]
    else {
        unreachable!("as every level reads them")
    };
    let backing = Backing::Skin(skin);
    let (heat, water) = accounts(record, &watch.trace, exposure, &backing, (t_account, &moment))?;
    let run = Run {
        figures: Figures::Skin(SkinFigures {
            basal_44,
            first_degree,
            second_degree,
            third_degree,
            temp_basal_peak: Valued {
                value: skin.temp_surface + rise_peak.value,
                error: rise_peak.error,
            },
            t_basal_peak: watch.events.peak.1,
            omega_basal,
            omega_dermal,
            skin: skin.name.clone(),
        }),
        heat,
        water,
        plies: ply_fates((layup, &watch.trace.limits.limits), &watch.trace.peaks, passed),
        curves: curves(&record.assembly, &watch.trace, &watch.omegas),
        numerics: numerics(record, question.error_goal, refined.goal_met),
    };
    let Record { assembly, watch, .. } = refined.finest;
    Ok((run, Seen { behind: "skin", in_cell: None, assembly, trace: watch.trace }))
}

/// Where heat and water went up to `t` [s], or to the end of the run.
fn accounts<W>(
    record: &Record<W>,
    trace: &Trace,
    exposure: &Exposure,
    backing: &Backing,
    (t, moment): (Option<f64>, &str),
) -> Result<(HeatAccount, Option<WaterAccount>), SolverError> {
    let assembly = &record.assembly;
    let options = options(record.level, backing);
    let now = at_moment((assembly, trace), &options, t.unwrap_or(record.ledger.t))?;
    let heat = heat_account(assembly, &Snapshot::start(trace), &now, exposure, moment);
    Ok((heat, water_account(assembly, trace, &now)))
}

/// The moment of a heat account, in words: an event, or the end where that did not come.
pub fn moment(t: Option<f64>, event: &str) -> String {
    match t {
        Some(_) => format!("at {event}"),
        None => "at the end".to_string(),
    }
}

fn numerics<W>(record: &Record<W>, error_goal: f64, goal_met: bool) -> Numerics {
    Numerics {
        audit: record.ledger.residual(),
        water_lost: record.assembly.problem.has_sorbent().then(|| record.ledger.vapour_lost()),
        n_nodes: record.assembly.problem.n_nodes(),
        n_steps: record.ledger.n_steps,
        n_rejected: record.ledger.n_rejected,
        n_newton: record.ledger.n_newton,
        error_goal,
        goal_met,
    }
}
