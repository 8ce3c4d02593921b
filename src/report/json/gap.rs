//! A sweep of air gaps as JSON.

use serde::Serialize;

use crate::report::gap::{rise_name, sentence, swept};
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{Number, Time, envelope};
use crate::report::lies;
use crate::study::gap::GapSweep;
use crate::study::gap_point::{GapHeat, GapPoint};
use crate::study::gap_turn::{Course, GAIN_LEAST};

#[derive(Serialize)]
struct Body<'a> {
    layup: &'a str,
    /// "quilted" or "flat".
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    exposure: &'a str,
    swept: String,
    figure: &'static str,
    points: Vec<Point>,
    #[serde(skip_serializing_if = "Option::is_none")]
    turn: Option<JsonTurn>,
    sentence: String,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct Point {
    gap_mm: Finite,
    rise_24_K_s: Time,
    stoll_s: Time,
    /// Of a quilted layup at a stitch line.
    second_degree_s: Time,
    #[serde(skip_serializing_if = "Option::is_none")]
    cell_centre_second_degree_s: Option<Time>,
    #[serde(skip_serializing_if = "Option::is_none")]
    valid_until_s: Option<Finite>,
    conduction_pct: Finite,
    convection_pct: Finite,
    radiation_pct: Finite,
    vapour_pct: Finite,
    gaps: Vec<Heat>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct Heat {
    behind_ply: usize,
    heat_kJ_m2: Finite,
    conduction_kJ_m2: Number,
    convection_kJ_m2: Number,
    radiation_kJ_m2: Number,
    vapour_kJ_m2: Number,
    quadrature_error_kJ_m2: Finite,
    rayleigh_most: Finite,
}

#[derive(Serialize)]
struct JsonTurn {
    course: &'static str,
    gap_mm: Finite,
    gain_least_pct_per_mm: Finite,
    gain_last_pct_per_mm: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    convection_from_mm: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    onset_from_mm: Option<Finite>,
}

/// The sweep as JSON.
///
/// Errors: a value that is not a finite number.
pub fn gap_json(sweep: &GapSweep) -> Result<String, serde_json::Error> {
    let turn = sweep.turn.as_ref().map(|turn| JsonTurn {
        course: match turn.course {
            Course::Optimum => "optimum",
            Course::Flattens => "flattens",
            Course::StillGains => "still_gains",
        },
        gap_mm: rounded(1e3 * sweep.points[turn.at].gap),
        gain_least_pct_per_mm: rounded(100.0 * GAIN_LEAST * 1e-3),
        gain_last_pct_per_mm: rounded(100.0 * turn.gain_last * 1e-3),
        convection_from_mm: turn.moves_from.map(|gap| rounded(1e3 * gap)),
        onset_from_mm: turn.onset_from.map(|gap| rounded(1e3 * gap)),
    });
    let body = Body {
        layup: &sweep.layup.name,
        computed: lies::word(sweep.stack()),
        why_flat: lies::why_flat(sweep.stack()),
        exposure: &sweep.exposure.name,
        swept: swept(sweep),
        figure: rise_name(sweep),
        points: sweep.points.iter().map(json_point).collect(),
        turn,
        sentence: sentence(sweep),
    };
    envelope("stillair/gap", &body)
}

fn json_point(point: &GapPoint) -> Point {
    let shares = point.shares();
    Point {
        gap_mm: rounded(1e3 * point.gap),
        rise_24_K_s: Time::new(point.rise24),
        stoll_s: Time::new(point.stoll),
        second_degree_s: Time::new(point.second_degree),
        cell_centre_second_degree_s: point.at_centre.map(Time::new),
        valid_until_s: point.t_valid.map(rounded),
        conduction_pct: Finite(100.0 * shares.conduction),
        convection_pct: Finite(100.0 * shares.convection),
        radiation_pct: Finite(100.0 * shares.radiation),
        vapour_pct: Finite(100.0 * shares.vapour),
        gaps: point.heat.iter().map(json_heat).collect(),
    }
}

fn json_heat(heat: &GapHeat) -> Heat {
    Heat {
        behind_ply: heat.ply,
        heat_kJ_m2: rounded(1e-3 * heat.whole()),
        conduction_kJ_m2: Number::new(heat.conduction, 1e-3),
        convection_kJ_m2: Number::new(heat.convection, 1e-3),
        radiation_kJ_m2: Number::new(heat.radiation, 1e-3),
        vapour_kJ_m2: Number::new(heat.vapour, 1e-3),
        quadrature_error_kJ_m2: rounded(1e-3 * heat.quadrature),
        rayleigh_most: rounded(heat.rayleigh_most),
    }
}
