//! A quilting as JSON, under a schema of its own.

#![expect(non_snake_case, reason = "units in keys keep their SI case")]

use serde::Serialize;

use crate::bench::figure::Verdict;
use crate::bench::outcome::When;
use crate::garment::target::Target;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::run::{self, Numerics, Ply, Time};
use crate::report::json::study::envelope;
use crate::report::json::{Against, against, exposure, layup};
use crate::report::quilt::{RESTS_ON, averages_away, flat_disc, flat_second_degree};
use crate::report::quilt_patch::sentence;
use crate::study::quilt::outcome::{
    PatchedDisc, Quilted, QuiltedDisc, QuiltedPatch, QuiltedSkin, SkinPlace,
};

/// Name of the schema.
pub const SCHEMA: &str = "stillair/quilt";

#[derive(Serialize)]
struct Record<'a> {
    rests_on: &'static str,
    layup: layup::Layup<'a>,
    exposure: exposure::Exposure<'a>,
    quilting: Cell,
    #[serde(skip_serializing_if = "Option::is_none")]
    disc: Option<Disc<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    skin: Option<Skin<'a>>,
    /// Over part of the area; `disc` and `skin` are then those beside it.
    #[serde(skip_serializing_if = "Option::is_none")]
    patch: Option<Patched<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    averages_away: Option<String>,
    against: Vec<Against<'a>>,
}

#[derive(Serialize)]
struct Cell {
    pattern: &'static str,
    pitch_mm: Finite,
    stitch_width_mm: Finite,
    loft_mm: Finite,
    pressed_mm: Finite,
    stitch_line_area_pct: Finite,
    thread_g_m2: Option<Finite>,
    points_over_cell: usize,
}

#[derive(Serialize)]
struct Disc<'a> {
    quilted: run::Disc,
    rise_12_K_area_error_s: Option<Finite>,
    rise_24_K_area_error_s: Option<Finite>,
    stoll_area_error_s: Option<Finite>,
    flat: Option<run::Disc>,
    centre_loft_everywhere: run::Disc,
    pressed_everywhere: run::Disc,
    heat_through_stitch_lines_pct: Finite,
    heat_counted_until_s: Finite,
    plies: Vec<Ply<'a>>,
    numerics: Numerics,
}

#[derive(Serialize)]
struct Patched<'a> {
    fabric: &'a str,
    share_pct: Finite,
    thread_pct: Finite,
    added_g_m2: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    disc_behind_both: Option<BothPlaces>,
    #[serde(skip_serializing_if = "Option::is_none")]
    disc_under: Option<run::Disc>,
    #[serde(skip_serializing_if = "Option::is_none")]
    skin_under: Option<Skin<'a>>,
    sentence: String,
}

#[derive(Serialize)]
struct BothPlaces {
    figures: run::Disc,
    rise_12_K_area_error_s: Option<Finite>,
    rise_24_K_area_error_s: Option<Finite>,
    stoll_area_error_s: Option<Finite>,
    valid_until_s: Option<Finite>,
    numerics: Numerics,
}

#[derive(Serialize)]
struct Skin<'a> {
    skin: &'a str,
    /// From the stitch line to the cell's centre.
    places: Vec<Place>,
    #[serde(skip_serializing_if = "Option::is_none")]
    flat_second_degree_s: Option<Time>,
    area_burnt: Vec<Burnt>,
    area_error_pct: Finite,
    plies: Vec<Ply<'a>>,
    numerics: Numerics,
}

#[derive(Serialize)]
struct Place {
    place: &'static str,
    distance_to_stitch_line_mm: Finite,
    area_share_pct: Finite,
    air_mm: Finite,
    basal_44_C_s: Time,
    first_degree_s: Time,
    second_degree_s: Time,
    third_degree_s: Time,
}

#[derive(Serialize)]
struct Burnt {
    time_s: Finite,
    area_pct: Finite,
}

/// The quilting as indented JSON, ended by a line feed.
///
/// Errors: a value that is not a finite number.
pub fn quilt_json(
    quilted: &Quilted,
    verdicts: &[(&Target, Verdict)],
) -> Result<String, serde_json::Error> {
    let quilting = &quilted.quilting;
    let mm = |m: f64| rounded(1e3 * m);
    let record = Record {
        rests_on: RESTS_ON,
        layup: layup::Layup::computed(&quilted.layup),
        exposure: exposure::Exposure::new(&quilted.exposure),
        quilting: Cell {
            pattern: quilting.pattern.word(),
            pitch_mm: mm(quilting.pitch.value),
            stitch_width_mm: mm(quilting.stitch_width.value),
            loft_mm: mm(quilting.loft.value),
            pressed_mm: mm(quilting.pressed.value),
            stitch_line_area_pct: rounded(100.0 * quilted.stitch_share),
            thread_g_m2: quilted.thread.map(|thread| rounded(1e3 * thread)),
            points_over_cell: quilted.n_points,
        },
        disc: quilted.disc.as_ref().map(|answer| disc(quilted, answer)),
        skin: quilted.skin.as_ref().map(|answer| Skin {
            flat_second_degree_s: flat_second_degree(quilted).map(run::time),
            ..skin(answer)
        }),
        patch: quilted.patch.as_ref().map(|answer| patched(quilted, answer)),
        averages_away: averages_away(quilted),
        against: verdicts.iter().map(|(target, verdict)| against(target, verdict)).collect(),
    };
    envelope(SCHEMA, &record)
}

fn disc<'a>(quilted: &'a Quilted, disc: &'a QuiltedDisc) -> Disc<'a> {
    let [rise12, rise24, stoll] = disc.area_errors.map(|error| error.map(rounded));
    Disc {
        quilted: run::disc_figures(&disc.shared.figures),
        rise_12_K_area_error_s: rise12,
        rise_24_K_area_error_s: rise24,
        stoll_area_error_s: stoll,
        flat: flat_disc(quilted).map(run::disc_figures),
        centre_loft_everywhere: run::disc_figures(&disc.lofted.figures),
        pressed_everywhere: run::disc_figures(&disc.pressed.figures),
        heat_through_stitch_lines_pct: rounded(100.0 * disc.stitch_heat_share),
        heat_counted_until_s: rounded(disc.t_heat),
        plies: disc.shared.plies.iter().map(run::ply).collect(),
        numerics: run::numerics(&disc.shared.numerics),
    }
}

fn patched<'a>(quilted: &Quilted, patched: &'a QuiltedPatch) -> Patched<'a> {
    let patch = &patched.patch;
    Patched {
        fabric: &patch.fabric.name,
        share_pct: rounded(100.0 * patch.share),
        thread_pct: rounded(100.0 * patch.thread),
        added_g_m2: rounded(1e3 * patch.added()),
        disc_behind_both: patched.both.as_ref().map(both_places),
        disc_under: patched.under_disc.as_ref().map(|disc| run::disc_figures(&disc.figures)),
        skin_under: patched.under_skin.as_ref().map(skin),
        sentence: sentence(quilted, patched),
    }
}

fn both_places(both: &PatchedDisc) -> BothPlaces {
    let [rise12, rise24, stoll] = both.area_errors.map(|error| error.map(rounded));
    BothPlaces {
        figures: run::disc_figures(&both.figures),
        rise_12_K_area_error_s: rise12,
        rise_24_K_area_error_s: rise24,
        stoll_area_error_s: stoll,
        valid_until_s: both.t_valid.map(rounded),
        numerics: run::numerics(&both.numerics),
    }
}

fn skin(skin: &QuiltedSkin) -> Skin<'_> {
    let burnt =
        |(t, share): (f64, f64)| Burnt { time_s: rounded(t), area_pct: rounded(100.0 * share) };
    Skin {
        skin: &skin.skin,
        places: skin.places.iter().map(place).collect(),
        flat_second_degree_s: None,
        area_burnt: skin.burnt.curve().into_iter().map(burnt).collect(),
        area_error_pct: rounded(100.0 * skin.area_error),
        plies: skin.plies.iter().map(run::ply).collect(),
        numerics: run::numerics(&skin.numerics),
    }
}

fn place(place: &SkinPlace) -> Place {
    let [first, second, third]: [When; 3] = place.degrees;
    Place {
        place: place.path.place.words(),
        distance_to_stitch_line_mm: rounded(1e3 * place.path.distance),
        area_share_pct: rounded(100.0 * place.path.share),
        air_mm: rounded(1e3 * place.path.air),
        basal_44_C_s: run::time(place.basal_44),
        first_degree_s: run::time(first),
        second_degree_s: run::time(second),
        third_degree_s: run::time(third),
    }
}
