//! One run in JSON: figures, heat, limits, numerics and, when asked for, curves.

#![expect(non_snake_case, reason = "units in keys keep their SI case")]

use std::iter;

use serde::{Serialize, Serializer};

use crate::bench::figure::t_valid;
use crate::bench::outcome::{self, DiscFigures, Figures, SkinFigures, Valued, When};
use crate::garment::exposure::Exposure;
use crate::physics::units::{cal_cm2, celsius};
use crate::report::csv;
use crate::report::json::finite::{Finite, rounded};

/// Whether the curves stand in the JSON; they are most of its length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WithCurves {
    /// They do.
    Yes,
    /// Figures only.
    No,
}

/// One run.
#[derive(Serialize)]
pub struct Run<'a> {
    figures: AnyFigures<'a>,
    /// First time at which a ply is past its limit; figures after it are outside the model's validity.
    #[serde(skip_serializing_if = "Option::is_none")]
    valid_until_s: Option<Finite>,
    plies: Vec<Ply<'a>>,
    heat: Heat<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    water: Option<Water<'a>>,
    numerics: Numerics,
    #[serde(skip_serializing_if = "Option::is_none")]
    curves: Option<Curves<'a>>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum AnyFigures<'a> {
    Disc(Box<Disc>),
    Radiant(Box<Radiant>),
    Skin(Box<Skin<'a>>),
}

#[derive(Serialize)]
pub(crate) struct Disc {
    HTI12_s: Time,
    HTI24_s: Time,
    HTI24_less_HTI12_s: Option<Number>,
    stoll_s: Time,
    TPP_kJ_m2: Option<Number>,
    TPP_cal_cm2: Option<Number>,
}

#[derive(Serialize)]
struct Radiant {
    RHTI12_s: Time,
    RHTI24_s: Time,
    RHTI24_less_RHTI12_s: Option<Number>,
    stoll_s: Time,
    TPP_kJ_m2: Option<Number>,
    TPP_cal_cm2: Option<Number>,
    Qc_kW_m2: Option<Finite>,
    transmission_factor: Option<Finite>,
}

#[derive(Serialize)]
struct Skin<'a> {
    skin: &'a str,
    basal_44_C_s: Time,
    first_degree_s: Time,
    second_degree_s: Time,
    third_degree_s: Time,
    basal_peak_temperature_C: Number,
    basal_peak_time_s: Finite,
    omega_basal: Number,
    omega_dermal: Number,
}

/// When something happened.
#[derive(Serialize)]
#[serde(tag = "state", rename_all = "snake_case")]
pub(crate) enum Time {
    Reached { value: Finite, error: Finite },
    NotReached { within: Finite },
    TooCloseToCall { near: Finite },
}

#[derive(Serialize)]
pub(crate) struct Number {
    value: Finite,
    error: Finite,
}

#[derive(Serialize)]
pub(crate) struct Ply<'a> {
    name: &'a str,
    limit_temperature_C: Option<Finite>,
    limit_event: &'a str,
    limit_passed_s: Time,
    peak_temperature_C: Finite,
}

#[derive(Serialize)]
struct Heat<'a> {
    time_s: Finite,
    moment: &'a str,
    offered_kJ_m2: Finite,
    entered_kJ_m2: Finite,
    parts: Vec<Part<'a>>,
    passed_on_kJ_m2: Finite,
}

#[derive(Serialize)]
struct Part<'a> {
    name: &'a str,
    is_gap: bool,
    stored_kJ_m2: Finite,
    resistance_m2K_W: Finite,
    resistance_at_start_m2K_W: Finite,
    outer_face_temperature_C: Finite,
    inner_face_temperature_C: Finite,
}

#[derive(Serialize)]
struct Water<'a> {
    time_s: Finite,
    start_g_m2: Finite,
    went_outwards_g_m2: Finite,
    came_behind_g_m2: Option<Finite>,
    carried_behind_kJ_m2: Option<Finite>,
    carried_share_of_passed_on: Option<Finite>,
    plies: Vec<PlyWater<'a>>,
}

#[derive(Serialize)]
struct PlyWater<'a> {
    name: &'a str,
    start_g_m2: Finite,
    left_g_m2: Finite,
}

#[derive(Serialize)]
pub(crate) struct Numerics {
    energy_audit: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    water_audit_kg_m2: Option<Finite>,
    nodes: usize,
    steps: usize,
    rejected_steps: usize,
    newton_iterations: usize,
    error_goal_pct: Finite,
    error_goal_met: bool,
}

impl<'a> Run<'a> {
    /// The JSON form of a run.
    pub fn new(run: &'a outcome::Run, exposure: &Exposure, curves: WithCurves) -> Run<'a> {
        Run {
            figures: any_figures(&run.figures, exposure),
            valid_until_s: t_valid(&run.plies).map(rounded),
            plies: run.plies.iter().map(ply).collect(),
            heat: heat(&run.heat),
            water: run.water.as_ref().map(|own| water(own, &run.heat)),
            numerics: numerics(&run.numerics),
            curves: (curves == WithCurves::Yes).then_some(Curves(&run.curves)),
        }
    }
}

/// The JSON form of how numbers were obtained.
pub(crate) fn numerics(n: &outcome::Numerics) -> Numerics {
    Numerics {
        energy_audit: Finite(n.audit),
        water_audit_kg_m2: n.water_lost.map(Finite),
        nodes: n.n_nodes,
        steps: n.n_steps,
        rejected_steps: n.n_rejected,
        newton_iterations: n.n_newton,
        error_goal_pct: rounded(100.0 * n.error_goal),
        error_goal_met: n.goal_met,
    }
}

fn any_figures<'a>(figures: &'a Figures, exposure: &Exposure) -> AnyFigures<'a> {
    match figures {
        Figures::Skin(skin) => AnyFigures::Skin(Box::new(skin_figures(skin))),
        Figures::Disc(disc) if exposure.is_radiant() => AnyFigures::Radiant(Box::new(Radiant {
            RHTI12_s: time(disc.rise12),
            RHTI24_s: time(disc.rise24),
            RHTI24_less_RHTI12_s: disc.rise24_less_12.map(|v| number(v, |x| x)),
            stoll_s: time(disc.stoll),
            TPP_kJ_m2: disc.tpp.map(|v| number(v, |x| 1e-3 * x)),
            TPP_cal_cm2: disc.tpp.map(|v| number(v, cal_cm2)),
            Qc_kW_m2: disc.flux_mean_12_24.map(|q| rounded(1e-3 * q)),
            transmission_factor: disc.transmission_factor.map(rounded),
        })),
        Figures::Disc(disc) => AnyFigures::Disc(Box::new(disc_figures(disc))),
    }
}

pub(crate) fn disc_figures(disc: &DiscFigures) -> Disc {
    Disc {
        HTI12_s: time(disc.rise12),
        HTI24_s: time(disc.rise24),
        HTI24_less_HTI12_s: disc.rise24_less_12.map(|v| number(v, |x| x)),
        stoll_s: time(disc.stoll),
        TPP_kJ_m2: disc.tpp.map(|v| number(v, |x| 1e-3 * x)),
        TPP_cal_cm2: disc.tpp.map(|v| number(v, cal_cm2)),
    }
}

fn skin_figures(skin: &SkinFigures) -> Skin<'_> {
    let peak = skin.temp_basal_peak;
    Skin {
        skin: &skin.skin,
        basal_44_C_s: time(skin.basal_44),
        first_degree_s: time(skin.first_degree),
        second_degree_s: time(skin.second_degree),
        third_degree_s: time(skin.third_degree),
        basal_peak_temperature_C: Number {
            value: rounded(celsius(peak.value)),
            error: rounded(peak.error),
        },
        basal_peak_time_s: rounded(skin.t_basal_peak),
        omega_basal: number(skin.omega_basal, |x| x),
        omega_dermal: number(skin.omega_dermal, |x| x),
    }
}

pub(crate) fn time(when: When) -> Time {
    match when {
        When::At { t, error } => Time::Reached { value: rounded(t), error: rounded(error) },
        When::NotWithin { t_end } => Time::NotReached { within: rounded(t_end) },
        When::Unsettled { t } => Time::TooCloseToCall { near: rounded(t) },
    }
}

pub(crate) fn number(valued: Valued, outside: impl Fn(f64) -> f64) -> Number {
    Number { value: rounded(outside(valued.value)), error: rounded(outside(valued.error)) }
}

pub(crate) fn ply(fate: &outcome::PlyFate) -> Ply<'_> {
    Ply {
        name: &fate.name,
        limit_temperature_C: fate.temp_limit.map(|temp| rounded(celsius(temp))),
        limit_event: &fate.limit_event,
        limit_passed_s: time(fate.limit_passed),
        peak_temperature_C: rounded(celsius(fate.temp_peak)),
    }
}

fn water<'a>(water: &'a outcome::WaterAccount, heat: &outcome::HeatAccount) -> Water<'a> {
    let grams = |amount: f64| rounded(1e3 * amount);
    let ply = |ply: &'a outcome::PlyWater| PlyWater {
        name: &ply.name,
        start_g_m2: grams(ply.start),
        left_g_m2: grams(ply.left),
    };
    Water {
        time_s: rounded(heat.t),
        start_g_m2: grams(water.start),
        went_outwards_g_m2: grams(water.gone),
        came_behind_g_m2: water.behind.map(grams),
        carried_behind_kJ_m2: water.heat_carried.map(|carried| rounded(1e-3 * carried)),
        carried_share_of_passed_on: water
            .heat_carried
            .map(|carried| rounded(carried / heat.passed_on)),
        plies: water.plies.iter().map(ply).collect(),
    }
}

fn heat(heat: &outcome::HeatAccount) -> Heat<'_> {
    Heat {
        time_s: rounded(heat.t),
        moment: &heat.moment,
        offered_kJ_m2: rounded(1e-3 * heat.offered),
        entered_kJ_m2: rounded(1e-3 * heat.entered),
        parts: heat.parts.iter().map(part).collect(),
        passed_on_kJ_m2: rounded(1e-3 * heat.passed_on),
    }
}

fn part(part: &outcome::PartAccount) -> Part<'_> {
    Part {
        name: &part.name,
        is_gap: part.is_gap,
        stored_kJ_m2: rounded(1e-3 * part.stored),
        resistance_m2K_W: rounded(part.resistance),
        resistance_at_start_m2K_W: rounded(part.resistance_cold),
        outer_face_temperature_C: rounded(celsius(part.temp_outer)),
        inner_face_temperature_C: rounded(celsius(part.temp_inner)),
    }
}

/// One array per column under its header, times first.
struct Curves<'a>(&'a outcome::Curves);

impl Serialize for Curves<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let times = self.0.t.iter().map(|t| rounded(*t)).collect::<Vec<Finite>>();
        let columns = self.0.columns.iter().map(|column| {
            // A value that is missing becomes one that is refused.
            let value = |i| csv::outside(column, i).map_or(Finite(f64::NAN), rounded);
            (column.header.as_str(), (0..self.0.t.len()).map(value).collect())
        });
        serializer.collect_map(iter::once(("time_s", times)).chain(columns))
    }
}
