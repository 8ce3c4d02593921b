//! A layup under pressure as JSON.

use serde::Serialize;

use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{Time, envelope};
use crate::report::lies;
use crate::report::pressed::{rise_name, sentence, thicknesses, times};
use crate::study::pressed::{PressedRow, PressedStudy, Stand};

#[derive(Serialize)]
struct Body<'a> {
    layup: &'a str,
    exposure: &'a str,
    figure: &'static str,
    rows: Vec<Row>,
    sentence: String,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct Row {
    stand: &'static str,
    /// "quilted" as it lies, or "flat".
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pressure_kPa: Option<Finite>,
    rise_24_K_s: Option<Time>,
    stoll_s: Option<Time>,
    second_degree_s: Option<Time>,
    thickness_mm: Finite,
    ply_thickness_mm: Vec<Finite>,
}

/// The study as JSON.
///
/// Errors: a value that is not a finite number.
pub fn pressed_json(study: &PressedStudy) -> Result<String, serde_json::Error> {
    let body = Body {
        layup: &study.layup.name,
        exposure: &study.exposure.name,
        figure: rise_name(study),
        rows: study.rows.iter().map(json_row).collect(),
        sentence: sentence(study),
    };
    envelope("stillair/pressed", &body)
}

fn json_row(row: &PressedRow) -> Row {
    let [rise, stoll, burn] = times(row).map(|when| when.map(Time::new));
    let (stand, pressure) = match row.stand {
        Stand::AsItLies => ("as_it_lies", None),
        Stand::Touching => ("touching", None),
        Stand::Under(pressure) => ("pressed", Some(pressure)),
    };
    Row {
        stand,
        computed: lies::word(row.outcome.lies.stack()),
        pressure_kPa: pressure.map(|p| rounded(1e-3 * p)),
        rise_24_K_s: rise,
        stoll_s: stoll,
        second_degree_s: burn,
        thickness_mm: rounded(1e3 * row.layup.thickness()),
        ply_thickness_mm: thicknesses(row).into_iter().map(|l| rounded(1e3 * l)).collect(),
    }
}
