//! The layup in JSON, every value with its provenance.

#![expect(non_snake_case, reason = "units in keys keep their SI case")]

use serde::Serialize;

use crate::bench::lies::Stack;
use crate::garment::fabric::Fabric;
use crate::garment::known::Known;
use crate::garment::layup::{self, Entry, PlyJoint};
use crate::physics::law::Law;
use crate::physics::units::{celsius, kelvin};
use crate::report::json::finite::{Finite, rounded};

/// Temperatures at which a varying property is given [°C].
const SHOWN_AT: [f64; 6] = [25.0, 100.0, 200.0, 300.0, 400.0, 500.0];

/// A layup.
#[derive(Serialize)]
pub struct Layup<'a> {
    name: &'a str,
    note: &'a str,
    thickness_mm: Finite,
    areal_density_g_m2: Finite,
    /// Absent where each ply stands at the pressure of its own thickness.
    #[serde(skip_serializing_if = "Option::is_none")]
    pressure_kPa: Option<Finite>,
    /// Outermost first.
    stack: Vec<Part<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    quilting: Option<Quilting<'a>>,
}

#[derive(Serialize)]
struct Quilting<'a> {
    /// False while the flat stack alone is exposed.
    computed: bool,
    pattern: &'static str,
    pitch_mm: Value<'a>,
    stitch_width_mm: Value<'a>,
    loft_mm: Value<'a>,
    pressed_mm: Value<'a>,
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
enum Part<'a> {
    Ply(Box<Ply<'a>>),
    AirGap { thickness_mm: Value<'a> },
}

#[derive(Serialize)]
struct Ply<'a> {
    fabric: &'a str,
    description: &'a str,
    role: &'static str,
    fibre: &'a str,
    thickness_mm: Value<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    thickness_pressure_kPa: Option<Finite>,
    areal_density_g_m2: Value<'a>,
    conductivity_W_mK: Varying<'a>,
    specific_heat_J_kgK: Varying<'a>,
    face_void_um: Value<'a>,
    emissivity: Value<'a>,
    transmissivity: Value<'a>,
    regain_pct: Value<'a>,
    fibre_density_kg_m3: Value<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    decomposition_kJ_kg: Option<Value<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    decomposition_window_C: Option<[Finite; 2]>,
    limit_temperature_C: Value<'a>,
    limit_event: &'a str,
    /// `faces`, `conductance` or `shared`.
    joint: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    joint_conductance_W_m2K: Option<Value<'a>>,
}

#[derive(Serialize)]
struct Value<'a> {
    value: Finite,
    provenance: &'static str,
    source: &'a str,
}

#[derive(Serialize)]
struct Varying<'a> {
    at: Vec<Point>,
    provenance: &'static str,
    source: &'a str,
    /// Absent where value and rise with temperature are known alike.
    #[serde(skip_serializing_if = "Option::is_none")]
    rise: Option<RiseOf<'a>>,
}

#[derive(Serialize)]
struct RiseOf<'a> {
    provenance: &'static str,
    source: &'a str,
}

#[derive(Serialize)]
struct Point {
    temperature_C: Finite,
    value: Finite,
}

impl<'a> Layup<'a> {
    /// The JSON form of a layup.
    pub fn new(layup: &'a layup::Layup) -> Layup<'a> {
        Layup {
            name: &layup.name,
            note: &layup.note,
            thickness_mm: rounded(1e3 * layup.thickness()),
            areal_density_g_m2: rounded(1e3 * layup.areal_density()),
            pressure_kPa: layup.pressure.as_ref().map(|known| rounded(1e-3 * known.value)),
            stack: layup.stack.iter().map(part).collect(),
            quilting: layup.quilting.as_ref().map(quilting),
        }
    }

    /// The JSON form of a layup that lay so when figures were computed.
    pub fn as_lies(layup: &'a layup::Layup, stack: Stack<'_>) -> Layup<'a> {
        match stack {
            Stack::Quilted(_) => Layup::computed(layup),
            Stack::Flat | Stack::LeftOut | Stack::Pressed => Layup::new(layup),
        }
    }

    /// The JSON form of a layup whose quilting was computed.
    pub fn computed(layup: &'a layup::Layup) -> Layup<'a> {
        let mut made = Layup::new(layup);
        if let Some(quilting) = &mut made.quilting {
            quilting.computed = true;
        }
        made
    }
}

fn quilting(quilting: &layup::Quilting) -> Quilting<'_> {
    Quilting {
        computed: false,
        pattern: quilting.pattern.word(),
        pitch_mm: value(&quilting.pitch, |v| 1e3 * v),
        stitch_width_mm: value(&quilting.stitch_width, |v| 1e3 * v),
        loft_mm: value(&quilting.loft, |v| 1e3 * v),
        pressed_mm: value(&quilting.pressed, |v| 1e3 * v),
    }
}

fn part(entry: &Entry) -> Part<'_> {
    match entry {
        Entry::Gap(gap) => Part::AirGap { thickness_mm: value(&gap.thickness, |v| 1e3 * v) },
        Entry::Ply(entry) => {
            let mut made = ply(&entry.fabric);
            (made.joint, made.joint_conductance_W_m2K) = joint(&entry.joint);
            Part::Ply(Box::new(made))
        }
    }
}

fn ply(fabric: &Fabric) -> Ply<'_> {
    Ply {
        fabric: &fabric.name,
        description: &fabric.description,
        role: fabric.role.word(),
        fibre: &fabric.fibre,
        thickness_mm: value(&fabric.thickness, |v| 1e3 * v),
        thickness_pressure_kPa: fabric.thickness_pressure.map(|p| rounded(1e-3 * p)),
        areal_density_g_m2: value(&fabric.areal_density, |v| 1e3 * v),
        conductivity_W_mK: varying(&fabric.conductivity),
        specific_heat_J_kgK: varying(&fabric.specific_heat),
        face_void_um: value(&fabric.face_void, |v| 1e6 * v),
        emissivity: value(&fabric.emissivity, |v| v),
        transmissivity: value(&fabric.transmissivity, |v| v),
        regain_pct: value(&fabric.regain, |v| 100.0 * v),
        fibre_density_kg_m3: value(&fabric.fibre_density, |v| v),
        decomposition_kJ_kg: fabric.decomposition.as_ref().map(|d| value(&d.heat, |v| 1e-3 * v)),
        decomposition_window_C: fabric
            .decomposition
            .as_ref()
            .map(|d| [d.temp_from, d.temp_to].map(|temp| rounded(celsius(temp)))),
        limit_temperature_C: value(&fabric.temp_limit, celsius),
        limit_event: &fabric.limit_event,
        joint: joint(&PlyJoint::default()).0,
        joint_conductance_W_m2K: None,
    }
}

fn joint(joint: &PlyJoint) -> (&'static str, Option<Value<'_>>) {
    match joint {
        PlyJoint::Faces => ("faces", None),
        PlyJoint::Conductance(conductance) => ("conductance", Some(value(conductance, |v| v))),
        PlyJoint::Shared => ("shared", None),
    }
}

fn value(known: &Known, outside: impl Fn(f64) -> f64) -> Value<'_> {
    Value {
        value: rounded(outside(known.value)),
        provenance: known.provenance.word(),
        source: &known.source,
    }
}

fn varying(known: &Known<Law>) -> Varying<'_> {
    let at = SHOWN_AT
        .iter()
        .map(|t| Point { temperature_C: rounded(*t), value: rounded(known.value.at(kelvin(*t))) })
        .collect();
    let rise = known.rise.as_ref();
    let rise = rise.map(|rise| RiseOf { provenance: rise.provenance.word(), source: &rise.source });
    Varying { at, provenance: known.provenance.word(), source: &known.source, rise }
}
