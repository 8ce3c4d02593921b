//! A quilted layup as the one record of an exposure: means over a cell before the disc, a run of
//! its own for skin at a stitch line and at the middle of a cell.

use crate::bench::account::heat_account;
use crate::bench::assemble::Backing;
use crate::bench::curves::curves;
use crate::bench::expose::{Behind, disc_figures, moment, skin_behind};
use crate::bench::figure::{DiscTimes, figure_name};
use crate::bench::moment::Snapshot;
use crate::bench::outcome::{Curves, Figures, HeatAccount, Outcome, PartAccount, Run};
use crate::bench::outcome::{Lies, OverCell, PlyWater, WaterAccount};
use crate::bench::seen::{InCell, Seen};
use crate::bench::trace::Trace;
use crate::bench::water::water_account;
use crate::garment::layup::Layup;
use crate::garment::target::Figure;
use crate::solver::error::SolverError;
use crate::study::quilt::ask::{disc_answer, disc_level, with_area};
use crate::study::quilt::cell::Cell;
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::lay::check;
use crate::study::quilt::path::{Path, Place, paths};
use crate::study::quilt::run::{Asked, Shared};

/// The record of a quilted layup, under a patch if the case has one.
///
/// - `n_points`: points over the lofted part of a cell; half as many tell their error
///
/// Errors: [`QuiltError`].
pub fn record(asked: &Asked, n_points: usize) -> Result<Outcome, QuiltError> {
    record_seen(asked, n_points).map(|(outcome, _)| outcome)
}

/// The same, with what each run did at every node: the disc's paths, outwards from the stitch line, then
/// skin at a stitch line and at the middle of a cell.
///
/// Errors: as [`record`].
pub fn record_seen(asked: &Asked, n_points: usize) -> Result<(Outcome, Vec<Seen>), QuiltError> {
    check(asked.layup, asked.quilting)?;
    let failed = |behind| move |source| QuiltError::Solver { behind, source };
    let behind = asked.question.behind;
    let skin = |place| skin_at(asked, place).map_err(failed("skin"));
    let (disc, (stitch, centre)) = rayon::join(
        || (behind != Behind::Skin).then(|| disc(asked, n_points)).transpose(),
        || {
            let is_wanted = behind != Behind::Disc;
            rayon::join(
                || is_wanted.then(|| skin(Place::StitchLine)).transpose(),
                || is_wanted.then(|| skin(Place::Centre)).transpose(),
            )
        },
    );
    let (disc, paths) = disc.map_err(failed("disc"))?.unzip();
    let (disc, area_errors) = disc.unzip();
    let ((stitch, seen_stitch), (centre, seen_centre)) = (stitch?.unzip(), centre?.unzip());
    let skins = [seen_stitch, seen_centre].into_iter().flatten();
    let seen = paths.into_iter().flatten().chain(skins).collect();
    let cell = OverCell {
        quilting: asked.quilting.clone(),
        n_points,
        stitch_share: Cell::of(asked.quilting).stitch_share(),
        area_errors: area_errors.unwrap_or_default(),
        centre,
    };
    let quilting = Some(asked.quilting.clone());
    let outcome = Outcome {
        layup: Layup { quilting, ..asked.worn() },
        exposure: asked.exposure.clone(),
        lies: Lies::Quilted(Box::new(cell)),
        disc,
        skin: stitch,
    };
    Ok((outcome, seen))
}

/// The one disc behind all paths with what the points over the cell leave open in its times [s]; and the
/// paths.
type OfDisc = ((Run, [Option<f64>; 3]), Vec<Seen>);

fn disc(asked: &Asked, n_points: usize) -> Result<OfDisc, SolverError> {
    let all = with_area(asked, n_points);
    let (answer, shared, level) = disc_answer(asked, &all)?;
    let (_, halved) = disc_level(asked, &with_area(asked, n_points / 2), level)?;
    let events = &shared.disc.events;
    let fine = [events.rises[0], events.rises[1], events.stoll];
    let area_errors: [Option<f64>; 3] =
        std::array::from_fn(|i| Some((fine[i]? - halved.times[i]?).abs()));
    let open = area_errors.map(|error| error.unwrap_or(0.0));
    let times = DiscTimes::from(&answer.figures).widened(open);
    let figures = disc_figures(asked.exposure, &times);
    let t = figures.rise24.t();
    let words = moment(t, figure_name(Figure::Rise24, asked.exposure));
    let (heat, water) = mean_accounts(asked, &shared, t.unwrap_or(shared.ledger.t), &words)?;
    let run = Run {
        heat,
        water,
        plies: answer.plies,
        curves: mean_curves(&shared),
        numerics: answer.numerics,
        figures: Figures::Disc(figures),
    };
    let seen = shared.into_paths().into_iter().zip(&all).map(|((assembly, trace), path)| Seen {
        behind: "disc",
        in_cell: Some(in_cell(path)),
        assembly,
        trace,
    });
    Ok(((run, area_errors), seen.collect()))
}

fn in_cell(path: &Path) -> InCell {
    let Path { place, distance, share, air, .. } = *path;
    InCell { place: place.words(), distance, air, share }
}

/// Skin behind the stitch line or the middle of a cell, and what the run did at every node.
///
/// Errors: those of the solver.
///
/// Panics: for another place.
pub fn skin_at(asked: &Asked, place: Place) -> Result<(Run, Seen), SolverError> {
    let mut all = paths(asked.quilting, 1).into_iter();
    let path = all.find(|path| path.place == place).expect("a cell has both places");
    let backing = Backing::Skin(asked.question.skin);
    let laid = |level| {
        let mut one = asked.assemblies(&[path], backing, level);
        one.pop().expect("one path is laid out")
    };
    let (run, seen) = skin_behind(&asked.worn(), laid, asked.exposure, asked.question)?;
    Ok((run, Seen { in_cell: Some(in_cell(&path)), ..seen }))
}

/// Where heat and water went by the shares of the paths: amounts and temperatures are means over the
/// area, resistances those of all paths side by side.
fn mean_accounts(
    asked: &Asked,
    shared: &Shared,
    t: f64,
    words: &str,
) -> Result<(HeatAccount, Option<WaterAccount>), SolverError> {
    let moments = shared.moments(t)?;
    let accounts: Vec<(f64, HeatAccount)> = shared
        .laid()
        .zip(shared.traces())
        .zip(&moments)
        .map(|(((laid, share), trace), now)| {
            (share, heat_account(laid, &Snapshot::start(trace), now, asked.exposure, words))
        })
        .collect();
    let mean = |of: &dyn Fn(&HeatAccount) -> f64| {
        accounts.iter().map(|(share, account)| share * of(account)).sum::<f64>()
    };
    let (_, first) = &accounts[0];
    let parts = (0..first.parts.len()).map(|i| {
        let mean = |of: fn(&PartAccount) -> f64| mean(&|account| of(&account.parts[i]));
        PartAccount {
            name: part_name(&first.parts, i),
            is_gap: first.parts[i].is_gap,
            stored: mean(|part| part.stored),
            resistance: 1.0 / mean(|part| 1.0 / part.resistance),
            resistance_cold: 1.0 / mean(|part| 1.0 / part.resistance_cold),
            temp_outer: mean(|part| part.temp_outer),
            temp_inner: mean(|part| part.temp_inner),
        }
    });
    let waters = shared.laid().zip(shared.traces()).zip(&moments);
    let waters: Option<Vec<(f64, WaterAccount)>> = waters
        .map(|(((laid, share), trace), now)| Some((share, water_account(laid, trace, now)?)))
        .collect();
    let heat = HeatAccount {
        parts: parts.collect(),
        entered: mean(&|account| account.entered),
        passed_on: mean(&|account| account.passed_on),
        ..first.clone()
    };
    Ok((heat, waters.map(|waters| mean_water(&waters))))
}

/// Where the water went, as means over the area.
fn mean_water(waters: &[(f64, WaterAccount)]) -> WaterAccount {
    let mean = |of: &dyn Fn(&WaterAccount) -> f64| {
        waters.iter().map(|(share, water)| share * of(water)).sum::<f64>()
    };
    let some = |of: fn(&WaterAccount) -> Option<f64>| {
        let all = waters.iter().map(|(share, water)| Some(share * of(water)?));
        all.sum::<Option<f64>>()
    };
    let (_, first) = &waters[0];
    let ply = |(j, ply): (usize, &PlyWater)| PlyWater {
        name: ply.name.clone(),
        start: mean(&|water| water.plies[j].start),
        left: mean(&|water| water.plies[j].left),
    };
    WaterAccount {
        start: mean(&|water| water.start),
        gone: mean(&|water| water.gone),
        behind: some(|water| water.behind),
        plies: first.plies.iter().enumerate().map(ply).collect(),
        heat_carried: some(|water| water.heat_carried),
    }
}

/// The name of a part that is not as thick everywhere.
fn part_name(parts: &[PartAccount], i: usize) -> String {
    if !parts[i].is_gap {
        return parts[i].name.clone();
    }
    let ply = parts[..i].iter().filter(|part| !part.is_gap).count();
    format!("air behind ply {ply}")
}

/// Temperatures as means over the area, and the one disc.
fn mean_curves(shared: &Shared) -> Curves {
    let laid: Vec<_> = shared.laid().collect();
    let shares = laid.iter().map(|(_, share)| *share);
    let traces: Vec<(&Trace, f64)> = shared.traces().zip(shares).collect();
    let (first, _) = laid[0];
    curves(first, &Trace::mean(&traces), &[])
}
