//! A cell in two dimensions: columns from the middle of a stitch line to the middle of the cell, heat conducted from
//! one to the next along plies, air and skin.
//!
//! Between channels the columns are a cut across the stitch line. Of squares and diamonds they are rings at one distance
//! from the nearest stitch line, each with its area and the length of its border, so that corners are rounded off.
//! Water does not move along, and radiation across an air gap goes straight through.

use crate::bench::along::Columns;
use crate::bench::assemble::{Assembly, Backing};
use crate::bench::expose::{Behind, options};
use crate::bench::outcome::When;
use crate::bench::watch_disc::DiscEvents;
use crate::bench::watch_skin::SkinEvents;
use crate::solver::error::SolverError;
use crate::solver::problem::Problem;
use crate::solver::strip::{Strip, Together, march_strip};
use crate::solver::watch::{Next, Step, Watch};
use crate::study::quilt::cell::Cell;
use crate::study::quilt::outcome::{Quilted, Sideways};
use crate::study::quilt::path::{Path, Place};
use crate::study::quilt::run::Asked;
use crate::study::run::{Timed, disc_watch, skin_watch};

/// How closely a cell is cut and followed.
#[derive(Debug, Clone, Copy)]
struct Closeness {
    /// Columns under half a stitch line.
    n_under: usize,
    /// By how much each further column is wider [–].
    growth: f64,
    /// Widest column over half the pitch [–].
    widest: f64,
    /// Step of the splitting [s].
    dt: f64,
    /// Level of refinement of the columns.
    level: usize,
}

/// The answer's closeness, and the coarser one that tells its error.
const FINE: Closeness = Closeness { n_under: 5, growth: 1.25, widest: 0.1, dt: 0.05, level: 1 };
const COARSE: Closeness = Closeness { n_under: 3, growth: 1.5, widest: 0.15, dt: 0.1, level: 0 };

/// The cell of a quilting with heat sideways, each time no surer than that of its place alone.
///
/// - `quilted`: the places alone, of the same case
///
/// Errors: as [`sideways`].
pub fn with_sideways(
    (asked, quilted): (&Asked, &Quilted),
    along: f64,
) -> Result<Sideways, (&'static str, SolverError)> {
    let mut found = sideways(asked, along)?;
    if let (Some(times), Some(disc)) = (&mut found.disc, &quilted.disc) {
        let of = &disc.shared.figures;
        times.iter_mut().zip([of.rise12, of.rise24, of.stoll]).for_each(no_surer);
    }
    if let (Some(times), Some(skin)) = (&mut found.skin, &quilted.skin) {
        let of = [skin.stitch_line(), skin.centre()].map(|place| place.degrees[1]);
        times.iter_mut().zip(of).for_each(no_surer);
    }
    Ok(found)
}

/// Widens the error of a time to that of another.
fn no_surer((time, other): (&mut When, When)) {
    if let (When::At { error, .. }, When::At { error: least, .. }) = (time, other) {
        *error = error.max(least);
    }
}

/// A cell with heat sideways; errors are differences from a coarser solve.
///
/// - `along`: conductivity of the plies along over that through them [–], 0 or more
///
/// Errors: those of the solver, with what stands behind.
pub fn sideways(asked: &Asked, along: f64) -> Result<Sideways, (&'static str, SolverError)> {
    let behind = asked.question.behind;
    let t_end = asked.exposure.t_end;
    let (disc, skin) = rayon::join(
        || (behind != Behind::Skin).then(|| twice(|of| disc(asked, along, of))).transpose(),
        || (behind != Behind::Disc).then(|| twice(|of| skin(asked, along, of))).transpose(),
    );
    let times = |fine: Option<f64>, coarse: Option<f64>| match (fine, coarse) {
        (Some(t), Some(other)) => When::At { t, error: (t - other).abs() },
        (Some(t), None) | (None, Some(t)) => When::Unsettled { t },
        (None, None) => When::NotWithin { t_end },
    };
    let settled = |of: [Vec<Option<f64>>; 2]| -> Vec<When> {
        of[0].iter().zip(&of[1]).map(|(fine, coarse)| times(*fine, *coarse)).collect()
    };
    let disc = disc.map_err(|source| ("disc", source))?.map(settled);
    let skin = skin.map_err(|source| ("skin", source))?.map(settled);
    Ok(Sideways {
        along,
        n_columns: columns(&Cell::of(asked.quilting), asked, &FINE).0.len(),
        disc: disc.map(|all| [all[0], all[1], all[2]]),
        skin: skin.map(|all| [all[0], all[1]]),
    })
}

/// What is asked of a fine solve and of a coarse one.
fn twice<T: Send>(
    of: impl Fn(&Closeness) -> Result<T, SolverError> + Sync,
) -> Result<[T; 2], SolverError> {
    let (fine, coarse) = rayon::join(|| of(&FINE), || of(&COARSE));
    Ok([fine?, coarse?])
}

fn disc(asked: &Asked, along: f64, of: &Closeness) -> Result<Vec<Option<f64>>, SolverError> {
    let watch =
        |made: &[Assembly], c: usize| (c == 0).then(|| disc_watch(asked.exposure, &made[0]));
    let watches: Vec<Option<Timed<DiscEvents>>> = march(asked, along, of, Backing::Disc, watch)?;
    let events = watches.into_iter().flatten().next().map(|watch| watch.events);
    let [rise12, rise24] = events.as_ref().map_or([None; 2], |events| events.rises);
    Ok(vec![rise12, rise24, events.and_then(|events| events.stoll)])
}

/// Skin behind the first column and the last.
fn skin(asked: &Asked, along: f64, of: &Closeness) -> Result<Vec<Option<f64>>, SolverError> {
    let skin = asked.question.skin;
    let watch = |made: &[Assembly], c: usize| {
        let is_asked = c == 0 || c + 1 == made.len();
        is_asked.then(|| UntilSecond(skin_watch(asked.exposure, skin, &made[c])))
    };
    let watches = march(asked, along, of, Backing::Skin(skin), watch)?;
    let burns: Vec<Option<f64>> =
        watches.into_iter().flatten().map(|watch| watch.0.events.degrees[1]).collect();
    Ok(vec![burns[0], burns[burns.len() - 1]])
}

/// Skin, looked at until it has a second-degree burn.
struct UntilSecond(Timed<SkinEvents>);

impl Watch for UntilSecond {
    fn step(&mut self, step: &Step<'_>) -> Next {
        let next = self.0.step(step);
        if self.0.events.degrees[1].is_some() { Next::Stop } else { next }
    }
}

fn march<W: Watch>(
    asked: &Asked,
    along: f64,
    of: &Closeness,
    backing: Backing,
    watch: impl Fn(&[Assembly], usize) -> Option<W>,
) -> Result<Vec<Option<W>>, SolverError> {
    let (paths, strip) = columns(&Cell::of(asked.quilting), asked, of);
    let made = asked.assemblies(&paths, backing, of.level);
    let problems: Vec<&Problem> = made.iter().map(|one| &one.problem).collect();
    let options = options(of.level, &backing);
    let tied = backing == Backing::Disc;
    let together = Together { strip: &strip, tied, options: &options, dt: of.dt };
    let columns = Columns { made: &made, along };
    let ended = march_strip(&problems, &together, &columns, |c| watch(&made, c))?;
    Ok(ended.into_iter().map(|(watch, _)| watch).collect())
}

/// Columns outwards from the middle of the stitch line, narrow ones first.
fn columns(cell: &Cell, asked: &Asked, of: &Closeness) -> (Vec<Path>, Strip) {
    let (half, edge) = (0.5 * cell.pitch, 0.5 * cell.stitch_width);
    let first = if edge > 0.0 { edge / of.n_under as f64 } else { 0.01 * half };
    let mut widths = if edge > 0.0 { vec![first; of.n_under] } else { Vec::new() };
    let mut width = first;
    let mut left = half - edge;
    while left > 1.6 * width {
        widths.push(width);
        left -= width;
        width = (of.growth * width).min(of.widest * half);
    }
    widths.push(left);
    let mut ends = vec![0.0];
    for width in &widths {
        ends.push(ends[ends.len() - 1] + width);
    }
    // the last end is half the pitch but for rounding
    let beyond = |s: f64| cell.share_beyond(s.min(half));
    let shares: Vec<f64> = ends.windows(2).map(|pair| beyond(pair[0]) - beyond(pair[1])).collect();
    let borders = ends[1..ends.len() - 1].iter().map(|s| cell.border(*s)).collect();
    let path = |(pair, share): (&[f64], &f64)| {
        let s = 0.5 * (pair[0] + pair[1]);
        let under = s < edge;
        let lofted = if under { 0.0 } else { cell.lofted((s - edge) / (half - edge)) };
        let air = if under { 0.0 } else { asked.quilting.loft.value * cell.height(lofted) };
        let place = if under { Place::StitchLine } else { Place::Between };
        Path { place, distance: s, lofted, share: *share, air }
    };
    let paths = ends.windows(2).zip(&shares).map(path).collect();
    (paths, Strip { shares, widths, borders })
}
