//! The layup in JSON, every value with its provenance.

use crate::bench::lies::Stack;
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint, Quilting};
use crate::garment::property::OfPly;
use crate::physics::units::{
    BARE, CELSIUS, CONDUCTANCE, GRAMS_PER_AREA, KILOJOULES_PER_MASS, KILOPASCALS, MILLIMETRES,
    kelvin,
};
use crate::report::form::value::Object;

/// Temperatures at which a varying property is given [°C].
const SHOWN_AT: [f64; 6] = [25.0, 100.0, 200.0, 300.0, 400.0, 500.0];

/// The JSON form of a layup.
///
/// - `stack`: how it lay when figures were computed
pub fn layup(layup: &Layup, stack: Stack<'_>) -> Object {
    let is_quilted = matches!(stack, Stack::Quilted(_));
    let quilted = layup.quilting.as_ref().map(|quilting| quilted(quilting, is_quilted));
    Object::new()
        .with("name", layup.name.as_str())
        .with("note", layup.note.as_str())
        .with_unit("thickness", MILLIMETRES, layup.thickness())
        .with_unit("areal_density", GRAMS_PER_AREA, layup.areal_density())
        // absent where each ply stands at the pressure of its own thickness
        .with_unit("pressure", KILOPASCALS, layup.pressure.as_ref().map(|known| known.value))
        .with("stack", layup.stack.iter().map(part).collect::<Vec<_>>())
        .with("quilting", quilted)
}

/// - `is_computed`: false while the flat stack alone is exposed
fn quilted(quilting: &Quilting, is_computed: bool) -> Object {
    Object::new()
        .with("computed", is_computed)
        .with("pattern", quilting.pattern.word())
        .with_unit("pitch", MILLIMETRES, &quilting.pitch)
        .with_unit("stitch_width", MILLIMETRES, &quilting.stitch_width)
        .with_unit("loft", MILLIMETRES, &quilting.loft)
        .with_unit("pressed", MILLIMETRES, &quilting.pressed)
}

fn part(entry: &Entry) -> Object {
    match entry {
        Entry::Gap(gap) => Object::new().with("kind", "air_gap").with_unit(
            "thickness",
            MILLIMETRES,
            &gap.thickness,
        ),
        Entry::Ply(ply) => joint(fabric(&ply.fabric), ply),
    }
}

/// Properties of a fabric, in their order.
const TOLD: [OfPly; 10] = [
    OfPly::Thickness,
    OfPly::ArealDensity,
    OfPly::Conductivity,
    OfPly::SpecificHeat,
    OfPly::FaceVoid,
    OfPly::Emissivity,
    OfPly::Transmissivity,
    OfPly::Regain,
    OfPly::FibreDensity,
    OfPly::Limit,
];

fn fabric(fabric: &Fabric) -> Object {
    let ply = Object::new()
        .with("kind", "ply")
        .with("fabric", fabric.name.as_str())
        .with("description", fabric.description.as_str())
        .with("role", fabric.role.word())
        .with("fibre", fabric.fibre.as_str());
    let put = |ply: Object, of: OfPly| {
        let (name, unit, known) = (of.name(), of.quantity(), of.known(fabric));
        match of {
            OfPly::Thickness => ply.with_unit(name, unit, &known).with_unit(
                "thickness_pressure",
                KILOPASCALS,
                fabric.thickness_pressure,
            ),
            OfPly::Conductivity | OfPly::SpecificHeat => {
                ply.with_unit(name, unit, varying(fabric, of))
            }
            OfPly::Limit => {
                let decomposition = fabric.decomposition.as_ref();
                let window = decomposition.map(|d| vec![d.temp_from, d.temp_to]);
                ply.with_unit("decomposition", KILOJOULES_PER_MASS, decomposition.map(|d| &d.heat))
                    .with_unit("decomposition_window", CELSIUS, window)
                    .with_unit("limit_temperature", unit, &known)
            }
            _ => ply.with_unit(name, unit, &known),
        }
    };
    TOLD.into_iter().fold(ply, put).with("limit_event", fabric.limit_event.as_str())
}

fn joint(object: Object, ply: &Ply) -> Object {
    match &ply.joint {
        PlyJoint::Faces => object.with("joint", "faces"),
        PlyJoint::Shared => object.with("joint", "shared"),
        PlyJoint::Conductance(conductance) => object.with("joint", "conductance").with_unit(
            "joint_conductance",
            CONDUCTANCE,
            conductance,
        ),
    }
}

/// A property that varies with temperature, at some of them.
fn varying(fabric: &Fabric, of: OfPly) -> Object {
    let known = of.known(fabric);
    let point = |celsius: &f64| {
        let temp = kelvin(*celsius);
        let value = of.known_at(fabric, temp).value;
        Object::new().with_unit("temperature", CELSIUS, temp).with("value", value)
    };
    // absent where value and rise with temperature are known alike
    let rise = known.rise.as_ref().map(|rise| {
        Object::new().with("provenance", rise.provenance.word()).with("source", &*rise.source)
    });
    Object::new()
        .with_unit("at", BARE, SHOWN_AT.iter().map(point).collect::<Vec<_>>())
        .with("provenance", known.provenance.word())
        .with("source", &*known.source)
        .with("rise", rise)
}
