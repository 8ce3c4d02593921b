//! A quilting's places and a sweep's points as CSV.

use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::csv;
use crate::study::quilt::outcome::{Quilted, SkinPlace};
use crate::study::quilt::sweep::{Sweep, SweepPoint};

/// A place of a cell, beside or under a patch.
struct Spot<'a> {
    /// "beside", "under", or "none" without a patch.
    patch: &'static str,
    /// Share of the area beside or under the patch [–].
    part: f64,
    place: &'a SkinPlace,
}

/// One row a place, from the stitch line to the cell's centre; empty cells for what does not happen.
///
/// Places under a patch follow those beside it; the share of the area is that of the whole.
///
/// Errors: a value that is not a finite number.
pub fn places_csv(quilted: &Quilted) -> Result<String, CurvesError> {
    let patched = quilted.patch.as_ref();
    let share = patched.map_or(0.0, |patched| patched.patch.share);
    let beside = if patched.is_some() { "beside" } else { "none" };
    let under = patched.and_then(|patched| patched.under_skin.as_ref());
    let skins = quilted.skin.iter().map(|skin| (beside, 1.0 - share, skin));
    let skins = skins.chain(under.map(|skin| ("under", share, skin)));
    let spots: Vec<Spot> = skins
        .flat_map(|(patch, part, skin)| {
            skin.places.iter().map(move |place| Spot { patch, part, place })
        })
        .collect();
    csv(&places(quilted), &spots)
}

fn places<'a>(quilted: &'a Quilted) -> Vec<Column<'a, Spot<'a>>> {
    let degree = |name: &str, i: usize| {
        Column::new(name, SECONDS, move |spot: &Spot| spot.place.degrees[i].t())
    };
    let burnt = |spot: &Spot| quilted.burnt_by(spot.place.degrees[1].t()?);
    vec![
        Column::new("place", BARE, |spot: &Spot| spot.place.path.place.words()),
        Column::new("patch", BARE, |spot: &Spot| spot.patch),
        Column::new("distance_to_stitch_line", MILLIMETRES, |s: &Spot| s.place.path.distance),
        Column::new("area_share", PERCENT, |spot: &Spot| spot.part * spot.place.path.share),
        Column::new("air", MILLIMETRES, |spot: &Spot| spot.place.path.air),
        Column::new("basal_44_C", SECONDS, |spot: &Spot| spot.place.basal_44.t()),
        degree("first_degree", 0),
        degree("second_degree", 1),
        degree("third_degree", 2),
        Column::new("area_burnt_by_second_degree", PERCENT, burnt),
    ]
}

/// One row a point of a sweep, pitch running fastest.
///
/// - `figure`: name of the figure, such as HTI24
///
/// Errors: a value that is not a finite number.
pub fn sweep_csv(sweep: &Sweep, figure: &str) -> Result<String, CurvesError> {
    let columns = [
        Column::new("pattern", BARE, |_: &SweepPoint| sweep.quilting.pattern.word()),
        Column::new("pitch", MILLIMETRES, |point: &SweepPoint| point.pitch),
        Column::new("loft", MILLIMETRES, |point: &SweepPoint| point.loft),
        Column::new(figure, SECONDS, |point: &SweepPoint| point.rise24),
        Column::new("stitch_line_area", PERCENT, |point: &SweepPoint| point.stitch_share),
        Column::new("thread", GRAMS_PER_AREA, |point: &SweepPoint| point.thread),
        Column::new("plies", GRAMS_PER_AREA, |_: &SweepPoint| sweep.layup.areal_density()),
    ];
    csv(&columns, &sweep.points)
}
