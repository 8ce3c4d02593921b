//! The layup as it was read: what lies where, and how well each value is known.

use crate::bench::lies::Stack;
use crate::garment::fabric::Fabric;
use crate::garment::known::Provenance;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::garment::property::{OfPly, TEMP_REF_C};
use crate::physics::units::{
    BARE, CELSIUS, CONDUCTIVITY, GRAMS_PER_AREA, KILOJOULES_PER_MASS_KELVIN, KILOPASCALS,
    MICROMETRES, MILLIMETRES, Quantity,
};
use crate::report::form::column::Column;
use crate::report::form::rows::table;
use crate::report::form::value::{Digits, Held};
use crate::report::number::{Shown, significant};
use crate::report::table::{hanging, paragraph};
use crate::report::{lies, property, words};

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

/// A line of the stack: a ply with its number, a gap, or all of them together.
pub struct Line<'a> {
    number: Option<usize>,
    name: &'a str,
    thickness: f64,
    areal_density: Option<f64>,
    fabric: Option<&'a Fabric>,
}

/// The stack, outermost first, and what it comes to.
pub fn lines(layup: &Layup) -> Vec<Line<'_>> {
    let of =
        |name, thickness| Line { number: None, name, thickness, areal_density: None, fabric: None };
    let mut all: Vec<Line> = Vec::new();
    let mut numbers = 1..;
    for entry in &layup.stack {
        all.push(match entry {
            Entry::Ply(ply) => Line {
                number: numbers.next(),
                areal_density: Some(ply.fabric.areal_density.value),
                fabric: Some(&ply.fabric),
                ..of(&ply.fabric.name, ply.fabric.thickness.value)
            },
            Entry::Gap(gap) => of("air gap", gap.thickness.value),
        });
    }
    let areal_density = Some(layup.areal_density());
    all.push(Line { areal_density, ..of("together", layup.thickness()) });
    all
}

/// What is told of its lines; units stand in a terminal's headings.
pub fn columns<'a>() -> [Column<'a, Line<'a>>; 7] {
    fn number<'a, T: Held>(
        heading: &str,
        quantity: Quantity,
        of: impl Fn(&Line) -> T + 'a,
    ) -> Column<'a, Line<'a>> {
        Column::new("", quantity, of).headed(heading).under("").or_blank()
    }
    let of = |of: OfPly| move |line: &Line| Some(of.value(line.fabric?));
    let (conductivity, specific_heat) = (OfPly::Conductivity, OfPly::SpecificHeat);
    let limit = |line: &Line| {
        let (temp, event) = line.fabric.map(|own| (own.temp_limit.value, &own.limit_event))?;
        Some(format!("{} °C {event}", CELSIUS.fixed(temp, 0)))
    };
    [
        number("", BARE, |line| line.number).not_on_page(),
        Column::text("outermost first", BARE, |line: &Line| line.name.to_string()),
        number("mm", MILLIMETRES, |line| line.thickness)
            .on_page("thickness")
            .digits(Digits::Fixed(2)),
        number("g/m²", GRAMS_PER_AREA, |line| line.areal_density)
            .on_page("mass")
            .digits(Digits::Fixed(0)),
        number("W/mK*", CONDUCTIVITY, of(conductivity)).on_page(conductivity.word()),
        number("kJ/kgK*", KILOJOULES_PER_MASS_KELVIN, of(specific_heat))
            .on_page(specific_heat.word())
            .digits(Digits::Fixed(2)),
        number("limit", BARE, limit),
    ]
}

fn stack_table(layup: &Layup) -> String {
    let at = format!(
        "* conductivity and specific heat at {TEMP_REF_C:.0} °C; both vary with temperature"
    );
    table(&columns(), &lines(layup)) + &paragraph(&at, 6)
}

/// Every property of a fabric with its provenance, in a fixed order.
pub fn properties(fabric: &Fabric) -> Vec<(&'static str, Provenance)> {
    let decomposition = fabric.decomposition.iter().map(|known| known.heat.provenance);
    let named = |of: OfPly| (property::called(of), of.known(fabric).provenance);
    let told = OfPly::OF_FABRIC.into_iter().filter(|of| *of != OfPly::VapourResistance);
    let mut all: Vec<_> = told.map(named).collect();
    for (name, rise) in [
        ("rise of conductivity", OfPly::Conductivity.known(fabric).rise),
        ("rise of specific heat", OfPly::SpecificHeat.known(fabric).rise),
    ] {
        all.extend(rise.map(|rise| (name, rise.provenance)));
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
