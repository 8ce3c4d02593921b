//! How far each property moves the times: seconds per percent, by central differences.
//!
//! Every run has the same mesh, stretched with the plies, and the same step tolerance, so that
//! the difference of two runs is the property's and not the mesh's. The derivative at half the
//! step stands beside it: where the two disagree the row says so.

use rayon::prelude::*;

use crate::bench::assemble::{Assembly, Backing, PartKind, Setup, assemble};
use crate::bench::expose::BenchError;
use crate::bench::watch_disc::DiscEvents;
use crate::bench::watch_skin::SkinEvents;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::garment::skin::Skin;
use crate::solver::error::SolverError;
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::tied::march_paths;
use crate::study::property::{Property, properties};
use crate::study::quilt::lay::assemblies;
use crate::study::quilt::path::{Place, paths};
use crate::study::quilt::screen::N_POINTS;

/// Level of the mesh.
const LEVEL: usize = 1;
/// Step tolerance, tighter than the level asks for, since differences are taken [–].
const TOL: f64 = 2e-5;
/// Relative step of the wide difference; the narrow one takes half of it [–].
const STEP: f64 = 0.02;
/// The two differences may differ by this share of the narrow one [–]; and by `SLOPE_LEAST`.
const AGREEMENT: f64 = 0.05;
/// Differences below this are noise of the steps [s per percent].
const SLOPE_LEAST: f64 = 2e-4;

/// A derivative of a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Change of the time per percent of the property [s].
    pub per_percent: f64,
    /// Difference to the derivative at twice the step [s].
    pub spread: f64,
}

impl Slope {
    /// Whether both steps agree.
    pub fn settled(&self) -> bool {
        self.spread <= AGREEMENT * self.per_percent.abs() + SLOPE_LEAST
    }
}

/// One property with its derivatives.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The property.
    pub property: Property,
    /// Its value [SI]; for a property that varies with temperature at 25 °C.
    pub value: f64,
    /// Of the time to a rise of 24 K; none when it is not asked for or not reached.
    pub rise24: Option<Slope>,
    /// Of the second-degree burn; none when it is not asked for or not reached.
    pub second_degree: Option<Slope>,
}

/// What is held fixed: the layup, its exposure and what is behind.
#[derive(Debug, Clone, Copy)]
pub struct Base<'a> {
    /// The layup, as pressed, with its quilting if that is computed.
    pub layup: &'a Layup,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// Whether the disc is asked for.
    pub disc: bool,
    /// The skin, if it is asked for.
    pub skin: Option<&'a Skin>,
}

/// The derivative by every property that is not zero, largest effect first.
///
/// Errors: those of the bench.
pub fn sensitivities(base: &Base) -> Result<Vec<Row>, BenchError> {
    let all = properties(base.layup, base.exposure);
    let disc = |property: &Property| {
        if !base.disc {
            return Ok(None);
        }
        slope(base, property, Behind::Disc).map_err(failed("disc"))
    };
    let skin = |property: &Property| match base.skin {
        // skin is not warmed by a disc
        Some(_) if *property == Property::DiscHeatCapacity => Ok(None),
        Some(skin) => slope(base, property, Behind::Skin(skin)).map_err(failed("skin")),
        None => Ok(None),
    };
    let row = |property: Property| {
        let rise24 = disc(&property)?;
        let second_degree = skin(&property)?;
        let value = property.value(base.layup, base.exposure);
        Ok(Row { property, value, rise24, second_degree })
    };
    // gathered in the order of the properties, so that the threads leave no trace
    let mut rows: Vec<Row> = all.into_par_iter().map(row).collect::<Result<_, BenchError>>()?;
    let size =
        |row: &Row| row.rise24.or(row.second_degree).map_or(0.0, |slope| slope.per_percent.abs());
    rows.sort_by(|a, b| size(b).total_cmp(&size(a)));
    Ok(rows)
}

fn failed(behind: &'static str) -> impl Fn(SolverError) -> BenchError {
    move |source| BenchError::Solver { behind, source }
}

#[derive(Clone, Copy)]
enum Behind<'a> {
    Disc,
    Skin(&'a Skin),
}

/// The derivative of the time behind; none when a run does not reach it.
fn slope(base: &Base, property: &Property, behind: Behind) -> Result<Option<Slope>, SolverError> {
    let at = |factor: f64| time(base, property, factor, behind);
    let Some(most) = property.factor_most(base.layup, base.exposure) else { return Ok(None) };
    let one_sided = most < 1.0 + STEP;
    let difference = |step: f64| -> Result<Option<f64>, SolverError> {
        if one_sided {
            // at its upper bound: the three-point difference from below, of second order too
            let (here, near, far) = (at(1.0)?, at(1.0 - step)?, at(1.0 - 2.0 * step)?);
            let three = here.zip(near).zip(far);
            return Ok(three.map(|((a, b), c)| (3.0 * a - 4.0 * b + c) / (200.0 * step)));
        }
        let two = at(1.0 + step)?.zip(at(1.0 - step)?);
        Ok(two.map(|(above, below)| (above - below) / (200.0 * step)))
    };
    let both = difference(STEP)?.zip(difference(0.5 * STEP)?);
    Ok(both.map(|(wide, narrow)| Slope { per_percent: narrow, spread: (narrow - wide).abs() }))
}

/// The time with the property multiplied by `factor`; none when it is not reached.
fn time(
    base: &Base,
    property: &Property,
    factor: f64,
    behind: Behind,
) -> Result<Option<f64>, SolverError> {
    let (mut layup, mut exposure) = (base.layup.clone(), base.exposure.clone());
    property.scale(&mut layup, &mut exposure, factor);
    let backing = match behind {
        Behind::Disc => Backing::Disc,
        Behind::Skin(skin) => Backing::Skin(skin),
    };
    let lies = (base.layup, &layup);
    let laid = paths_laid(lies, (base.exposure, &exposure), backing, LEVEL);
    let options = Options { tol: TOL, ..Options::default() };
    match behind {
        Behind::Disc => {
            let cap_area = exposure.disc.cap_area();
            let events =
                |i: usize| DiscEvents::new(laid[i].0.node_behind, exposure.temp_room, cap_area);
            let paths: Vec<_> = laid.iter().map(|(laid, share)| (&laid.problem, *share)).collect();
            let tied = march_paths(&paths, &options, events)?;
            Ok(tied.watches[0].rises[1])
        }
        Behind::Skin(skin) => {
            // a quilted layup's first path is the stitch line, where skin burns first
            let (assembly, _) = &laid[0];
            let layers = assembly.parts.iter().filter(|part| part.kind == PartKind::Skin);
            let bases: Vec<usize> = layers.map(|part| part.last).collect();
            let mut events = SkinEvents::new(skin, bases[0], bases[1]);
            events.flame_end = exposure.duration.unwrap_or(f64::INFINITY);
            march(&assembly.problem, &options, &mut events)?;
            Ok(events.degrees[1])
        }
    }
}

/// A flat layup, or the paths through a cell of a quilted one, each with its share of the area [–], the
/// stitch line first; `moved` on the meshes of `base`.
pub(crate) fn paths_laid(
    (base, moved): (&Layup, &Layup),
    (exposure, under): (&Exposure, &Exposure),
    backing: Backing,
    level: usize,
) -> Vec<(Assembly, f64)> {
    let setup = Setup::level(level);
    let (Some(quilting), Some(own)) = (&base.quilting, &moved.quilting) else {
        let base = assemble(base, exposure, backing, &setup);
        return vec![(on_mesh_of(&base, assemble(moved, under, backing, &setup)), 1.0)];
    };
    let on = |layup, quilting: &Quilting, exposure| {
        let mut all = paths(quilting, N_POINTS);
        all.retain(|path| path.place == Place::StitchLine || path.share > 0.0);
        let laid = assemblies((layup, None), quilting, &all, (exposure, backing), &setup);
        laid.into_iter().zip(all).map(|(laid, path)| (laid, path.share)).collect::<Vec<_>>()
    };
    let moved = on(moved, own, under).into_iter();
    let pairs = on(base, quilting, exposure).into_iter().zip(moved);
    pairs.map(|((base, _), (moved, share))| (on_mesh_of(&base, moved), share)).collect()
}

/// `moved` on the cells of `base`, each stretched with its slab.
pub(crate) fn on_mesh_of(base: &Assembly, mut moved: Assembly) -> Assembly {
    for (slab, old) in moved.problem.slabs.iter_mut().zip(&base.problem.slabs) {
        let (thickness, before): (f64, f64) = (slab.cells.iter().sum(), old.cells.iter().sum());
        slab.cells = old.cells.iter().map(|dx| dx * thickness / before).collect();
    }
    Assembly { problem: moved.problem, ..base.clone() }
}
