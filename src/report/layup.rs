//! The layup as it was read: what lies where, and how well each value is known.

use crate::bench::lies::Stack;
use crate::garment::fabric::Fabric;
use crate::garment::known::Provenance;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::physics::units::{
    GRAMS_PER_AREA, KILOJOULES_PER_MASS, KILOPASCALS, MICROMETRES, MILLIMETRES, PERCENT, kelvin,
};
use crate::report::number::{Shown, fixed, short, significant};
use crate::report::table::{Align, Table, hanging, paragraph};
use crate::report::{lies, words};

/// Temperature at which a varying property is shown [°C].
const SHOWN_AT: f64 = 25.0;

/// The layup in text: a row per ply and gap, totals, and where the values come from.
///
/// - `stack`: how it lay when figures were computed
pub fn section(layup: &Layup, stack: Stack<'_>) -> String {
    let mut out = String::new();
    if !layup.note.is_empty() {
        out.push_str(&paragraph(&layup.note, 2));
    }
    if let Some(quilted) = lies::sentence(layup, stack) {
        out.push_str(&paragraph(&quilted, 2));
    }
    if let Some(pressure) = &layup.pressure {
        let text = format!(
            "Under {} kPa: thickness, conductivity and face voids of each ply are those at this \
             pressure, estimated.",
            KILOPASCALS.short(pressure.value, 3)
        );
        out.push_str(&paragraph(&text, 2));
    }
    out.push_str(&stack_table(layup));
    out.push_str("\n  Where the values come from\n");
    for (j, ply) in layup.plies().enumerate() {
        out.push_str(&hanging(&format!("{:>2}  ", j + 1), &provenance(&ply.fabric), 2));
    }
    let joints = joints(layup);
    if !joints.is_empty() {
        out.push_str(&paragraph(&joints, 6));
    }
    let mut gaps: Vec<&str> = layup.gaps().map(|gap| gap.thickness.provenance.word()).collect();
    gaps.dedup();
    if !gaps.is_empty() {
        let text = format!("air gaps: {}{}", words::list(&gaps), voids_on_top(layup));
        out.push_str(&paragraph(&text, 6));
    }
    out
}

/// What the voids of the faces add to each gap, in the order of the gaps; empty when nothing.
fn voids_on_top(layup: &Layup) -> String {
    let mut voids = Vec::new();
    let mut rest = layup.stack.as_slice();
    while let [entry, after @ ..] = rest {
        rest = after;
        if let (Entry::Ply(ply), [Entry::Gap(_), beyond @ ..]) = (entry, after) {
            let next = match beyond {
                [Entry::Ply(next), ..] => Some(next.as_ref()),
                _ => None,
            };
            voids.push(MICROMETRES.fixed(ply.gap_voids(next), 0));
        }
    }
    if voids.iter().all(|void| void == "0") {
        return String::new();
    }
    let voids: Vec<&str> = voids.iter().map(String::as_str).collect();
    format!("; the voids of their faces add {} µm", words::list(&voids))
}

/// What lies between faces that touch, in the order of the plies; empty when gaps part all.
fn joints(layup: &Layup) -> String {
    let mut parts = Vec::new();
    let mut rest = layup.stack.as_slice();
    let mut j = 0;
    while let [entry, after @ ..] = rest {
        rest = after;
        let Entry::Ply(ply) = entry else { continue };
        j += 1;
        let next = match after {
            [Entry::Gap(_), ..] => continue,
            [Entry::Ply(next), ..] => Some(next.as_ref()),
            [] => None,
        };
        let behind = next.map_or("what touches behind".to_string(), |_| (j + 1).to_string());
        parts.push(format!("{j} to {behind} {}", joint(ply, next)));
    }
    if parts.is_empty() { String::new() } else { format!("joints: {}", parts.join(", ")) }
}

fn joint(ply: &Ply, next: Option<&Ply>) -> String {
    match &ply.joint {
        PlyJoint::Faces => {
            format!("{} µm of air", MICROMETRES.fixed(ply.face_air(next), 0))
        }
        PlyJoint::Conductance(h) => {
            format!("{} W/(m²·K) ({})", significant(h.value, 3), h.provenance)
        }
        PlyJoint::Shared => "none, one temperature".to_string(),
    }
}

fn stack_table(layup: &Layup) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Right, Left, Right, Right, Right, Right, Left]);
    table.row(["", "outermost first", "mm", "g/m²", "W/mK*", "kJ/kgK*", "limit"]);
    let mut j = 0;
    for entry in &layup.stack {
        match entry {
            Entry::Ply(ply) => {
                j += 1;
                table.row(ply_row(j, &ply.fabric));
            }
            Entry::Gap(gap) => {
                table.row([
                    String::new(),
                    "air gap".to_string(),
                    MILLIMETRES.fixed(gap.thickness.value, 2),
                ]);
            }
        }
    }
    table.row([
        String::new(),
        "together".to_string(),
        MILLIMETRES.fixed(layup.thickness(), 2),
        GRAMS_PER_AREA.fixed(layup.areal_density(), 0),
    ]);
    let mut out = table.render();
    out.push_str(&paragraph(
        &format!(
            "* conductivity and specific heat at {SHOWN_AT:.0} °C; both vary with temperature"
        ),
        6,
    ));
    out
}

fn ply_row(j: usize, fabric: &Fabric) -> [String; 7] {
    let temp = kelvin(SHOWN_AT);
    [
        j.to_string(),
        fabric.name.clone(),
        MILLIMETRES.fixed(fabric.thickness.value, 2),
        GRAMS_PER_AREA.fixed(fabric.areal_density.value, 0),
        significant(fabric.conductivity.value.at(temp), 3),
        KILOJOULES_PER_MASS.fixed(fabric.specific_heat.value.at(temp), 2),
        limit(fabric),
    ]
}

fn limit(fabric: &Fabric) -> String {
    let temp = crate::physics::units::celsius(fabric.temp_limit.value);
    format!("{} °C {}", fixed(temp, 0), fabric.limit_event)
}

/// Every property of a fabric with its provenance, in a fixed order.
pub fn properties(fabric: &Fabric) -> Vec<(&'static str, Provenance)> {
    let decomposition = fabric.decomposition.iter().map(|known| known.heat.provenance);
    let mut all = vec![
        ("mass", fabric.areal_density.provenance),
        ("thickness", fabric.thickness.provenance),
        ("conductivity", fabric.conductivity.provenance),
        ("specific heat", fabric.specific_heat.provenance),
        ("face void", fabric.face_void.provenance),
        ("emissivity", fabric.emissivity.provenance),
        ("transmissivity", fabric.transmissivity.provenance),
        ("regain", fabric.regain.provenance),
        ("fibre density", fabric.fibre_density.provenance),
        ("limit", fabric.temp_limit.provenance),
    ];
    for (name, rise) in [
        ("rise of conductivity", &fabric.conductivity.rise),
        ("rise of specific heat", &fabric.specific_heat.rise),
    ] {
        all.extend(rise.as_ref().map(|rise| (name, rise.provenance)));
    }
    all.extend(decomposition.map(|provenance| ("heat of decomposition", provenance)));
    // The best known first; the sort is stable, so the order above stays within a kind.
    all.sort_by_key(|(_, provenance)| *provenance);
    all
}

/// "published: mass and thickness; estimated: conductivity, …".
pub fn provenance(fabric: &Fabric) -> String {
    let all = properties(fabric);
    let groups: Vec<String> = Provenance::ALL
        .iter()
        .filter_map(|kind| {
            let names: Vec<&str> =
                all.iter().filter(|(_, p)| p == kind).map(|(name, _)| *name).collect();
            (!names.is_empty()).then(|| format!("{kind}: {}", words::list(&names)))
        })
        .collect();
    groups.join("; ")
}

/// The remaining traits of a fabric that the stack's table has no room for.
pub fn traits(fabric: &Fabric) -> String {
    format!(
        "emissivity {}, transmissivity {}, regain {} %",
        short(fabric.emissivity.value, 3),
        short(fabric.transmissivity.value, 3),
        PERCENT.short(fabric.regain.value, 2)
    )
}
