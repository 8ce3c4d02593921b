//! A quilting as JSON, under a schema of its own.

use crate::bench::figure::Verdict;
use crate::bench::lies::Stack;
use crate::garment::target::Target;
use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT, SECONDS};
use crate::report::figures::disc_record;
use crate::report::form::value::Object;
use crate::report::json::run::{numerics, ply};
use crate::report::json::study::envelope;
use crate::report::json::{against, area_errors, exposure, layup};
use crate::report::quilt::{RESTS_ON, averages_away, flat_disc, flat_second_degree};
use crate::report::quilt_patch::sentence;
use crate::report::quilt_sideways;
use crate::study::quilt::outcome::{
    PatchedDisc, Quilted, QuiltedDisc, QuiltedPatch, QuiltedSkin, SkinPlace,
};

/// Name of the schema.
pub const SCHEMA: &str = "stillair/quilt";

/// The quilting as indented JSON, ended by a line feed.
///
/// Errors: a value that is not a finite number.
pub fn quilt_json(
    quilted: &Quilted,
    verdicts: &[(&Target, Verdict)],
) -> Result<String, serde_json::Error> {
    let body = Object::new()
        .with("rests_on", RESTS_ON)
        .with("layup", layup::layup(&quilted.layup, Stack::Quilted(&quilted.quilting)))
        .with("exposure", exposure::exposure(&quilted.exposure))
        .with("quilting", cell(quilted))
        .with("disc", quilted.disc.as_ref().map(|answer| disc(quilted, answer)))
        .with("skin", quilted.skin.as_ref().map(|answer| skin(answer, Some(quilted))))
        // over part of the area; `disc` and `skin` are then those beside it
        .with("patch", quilted.patch.as_ref().map(|answer| patched(quilted, answer)))
        .and(quilted.sideways.as_ref().map(|sideways| {
            Object::new().with("sideways", quilt_sideways::object(quilted, sideways))
        }))
        .with("averages_away", averages_away(quilted))
        .with("against", verdicts.iter().map(|(of, held)| against(of, held)).collect::<Vec<_>>());
    envelope(SCHEMA, &body)
}

fn cell(quilted: &Quilted) -> Object {
    let quilting = &quilted.quilting;
    Object::new()
        .with("pattern", quilting.pattern.word())
        .with_unit("pitch", MILLIMETRES, quilting.pitch.value)
        .with_unit("stitch_width", MILLIMETRES, quilting.stitch_width.value)
        .with_unit("loft", MILLIMETRES, quilting.loft.value)
        .with_unit("pressed", MILLIMETRES, quilting.pressed.value)
        .with_unit("stitch_line_area", PERCENT, quilted.stitch_share)
        .or_null("thread", GRAMS_PER_AREA, quilted.thread)
        .with("points_over_cell", quilted.n_points)
}

fn disc(quilted: &Quilted, disc: &QuiltedDisc) -> Object {
    let object = Object::new().with("quilted", disc_record(&disc.shared.figures, ""));
    area_errors(object, disc.area_errors)
        .or_null("flat", BARE, flat_disc(quilted).map(|disc| disc_record(disc, "")))
        .with("centre_loft_everywhere", disc_record(&disc.lofted.figures, ""))
        .with("pressed_everywhere", disc_record(&disc.pressed.figures, ""))
        .with_unit("heat_through_stitch_lines", PERCENT, disc.stitch_heat_share)
        .with_unit("heat_counted_until", SECONDS, disc.t_heat)
        .with("plies", disc.shared.plies.iter().map(ply).collect::<Vec<_>>())
        .with("numerics", numerics(&disc.shared.numerics))
}

fn patched(quilted: &Quilted, patched: &QuiltedPatch) -> Object {
    let patch = &patched.patch;
    let under = patched.under_disc.as_ref().map(|disc| disc_record(&disc.figures, ""));
    Object::new()
        .with("fabric", patch.fabric.name.as_str())
        .with_unit("share", PERCENT, patch.share)
        .with_unit("thread", PERCENT, patch.thread)
        .with_unit("added", GRAMS_PER_AREA, patch.added())
        .with("disc_behind_both", patched.both.as_ref().map(both_places))
        .with("disc_under", under)
        .with("skin_under", patched.under_skin.as_ref().map(|answer| skin(answer, None)))
        .with("sentence", sentence(quilted, patched))
}

fn both_places(both: &PatchedDisc) -> Object {
    let object = Object::new().with("figures", disc_record(&both.figures, ""));
    area_errors(object, both.area_errors)
        .or_null("valid_until", SECONDS, both.t_valid)
        .with("numerics", numerics(&both.numerics))
}

/// - `beside`: the quilting whose flat stack is told beside it
fn skin(skin: &QuiltedSkin, beside: Option<&Quilted>) -> Object {
    let burnt = |(t, share): (f64, f64)| {
        Object::new().with_unit("time", SECONDS, t).with_unit("area", PERCENT, share)
    };
    Object::new()
        .with("skin", skin.skin.as_str())
        // from the stitch line to the cell's centre
        .with("places", skin.places.iter().map(place).collect::<Vec<_>>())
        .with_unit("flat_second_degree", SECONDS, beside.and_then(flat_second_degree))
        .with("area_burnt", skin.burnt.curve().into_iter().map(burnt).collect::<Vec<_>>())
        .with_unit("area_error", PERCENT, skin.area_error)
        .with("plies", skin.plies.iter().map(ply).collect::<Vec<_>>())
        .with("numerics", numerics(&skin.numerics))
}

fn place(place: &SkinPlace) -> Object {
    let [first, second, third] = place.degrees;
    Object::new()
        .with("place", place.path.place.words())
        .with_unit("distance_to_stitch_line", MILLIMETRES, place.path.distance)
        .with_unit("area_share", PERCENT, place.path.share)
        .with_unit("air", MILLIMETRES, place.path.air)
        .with_unit("basal_44_C", SECONDS, place.basal_44)
        .with_unit("first_degree", SECONDS, first)
        .with_unit("second_degree", SECONDS, second)
        .with_unit("third_degree", SECONDS, third)
}
