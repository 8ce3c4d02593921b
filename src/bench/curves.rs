//! Columns over time from a run's record.

use crate::bench::assemble::{Assembly, PartKind};
use crate::bench::outcome::{Column, ColumnKind, Curves, Spot};
use crate::bench::trace::Trace;
use crate::solver::problem::Back;

/// Temperatures at every interface, what is behind, and the flux into it.
pub fn curves(assembly: &Assembly, trace: &Trace, omegas: &[[f64; 2]]) -> Curves {
    let mut columns: Vec<Column> = face_nodes(assembly)
        .into_iter()
        .map(|(node, spot, label, header)| temperature(trace, (node, spot), label, header))
        .collect();
    match assembly.problem.back {
        Back::Lump { cap_area, .. } => {
            let disc = assembly.node_behind;
            columns.push(temperature(trace, (disc, Spot::Disc), "disc".into(), "disc_C".into()));
            columns.push(Column {
                label: "disc rise".into(),
                header: "disc_rise_C".into(),
                spot: Spot::Disc,
                kind: ColumnKind::Rise,
                values: trace.rows().map(|row| row[disc] - trace.row(0)[disc]).collect(),
            });
            columns.push(Column {
                label: "flux to disc".into(),
                header: "flux_to_disc_kW_m2".into(),
                spot: Spot::Disc,
                kind: ColumnKind::Flux,
                values: trace.slope_behind.iter().map(|slope| cap_area * slope).collect(),
            });
        }
        _ => push_skin(assembly, trace, omegas, &mut columns),
    }
    Curves { t: trace.t.clone(), columns }
}

/// A node of a face with what it is of, label and header.
type Face = (usize, Spot, String, String);

/// Nodes of the plies' faces, shared ones once.
fn face_nodes(assembly: &Assembly) -> Vec<Face> {
    let plies: Vec<_> = assembly.parts.iter().filter(|part| part.kind == PartKind::Ply).collect();
    let mut faces =
        vec![(0, Spot::OuterFace, "outer face".to_string(), "outer_face_C".to_string())];
    for (j, ply) in plies.iter().enumerate() {
        let number = j + 1;
        match plies.get(j + 1) {
            Some(next) if next.first == ply.last => faces.push((
                ply.last,
                Spot::InnerFace(j),
                format!("between plies {number} and {}", number + 1),
                format!("between_plies_{number}_{}_C", number + 1),
            )),
            Some(next) => {
                faces.push(inner_face(ply.last, number));
                faces.push((
                    next.first,
                    Spot::OuterFaceOf(j + 1),
                    format!("outer face of ply {}", number + 1),
                    format!("outer_face_ply_{}_C", number + 1),
                ));
            }
            None if assembly.node_behind != ply.last => faces.push(inner_face(ply.last, number)),
            None => {}
        }
    }
    faces
}

/// The temperature of the inner face of a ply, 0 the outermost; none where it is that of what is behind.
pub fn inner_face_of(curves: &Curves, ply: usize) -> Option<&Column> {
    curves.columns.iter().find(|column| column.spot == Spot::InnerFace(ply))
}

fn inner_face(node: usize, number: usize) -> Face {
    (
        node,
        Spot::InnerFace(number - 1),
        format!("inner face of ply {number}"),
        format!("inner_face_ply_{number}_C"),
    )
}

fn temperature(
    trace: &Trace,
    (node, spot): (usize, Spot),
    label: String,
    header: String,
) -> Column {
    let values = trace.rows().map(|row| row[node]).collect();
    Column { label, header, spot, kind: ColumnKind::Temperature, values }
}

/// Depths of the skin where its layers meet, the outermost first.
const INNER_LAYERS: [(Spot, &str); 2] =
    [(Spot::BasalLayer, "basal layer"), (Spot::DermisBase, "base of dermis")];

fn push_skin(assembly: &Assembly, trace: &Trace, omegas: &[[f64; 2]], columns: &mut Vec<Column>) {
    let surface = assembly.node_behind;
    columns.push(temperature(
        trace,
        (surface, Spot::SkinSurface),
        "skin surface".into(),
        "skin_surface_C".into(),
    ));
    let layers: Vec<_> = assembly.parts.iter().filter(|part| part.kind == PartKind::Skin).collect();
    for (layer, (spot, name)) in layers.iter().zip(INNER_LAYERS) {
        let header = format!("{}_C", name.replace(' ', "_"));
        columns.push(temperature(trace, (layer.last, spot), name.into(), header));
    }
    let n_slabs = assembly.problem.slabs.len();
    let epidermis = &assembly.problem.slabs[n_slabs - layers.len()];
    let (k, dx) = (epidermis.medium.k.base, epidermis.cells[0]);
    columns.push(Column {
        label: "flux into skin".into(),
        header: "flux_to_skin_kW_m2".into(),
        spot: Spot::SkinSurface,
        kind: ColumnKind::Flux,
        values: trace.rows().map(|row| k * (row[surface] - row[surface + 1]) / dx).collect(),
    });
    let burns = [(Spot::BasalLayer, "omega_basal"), (Spot::DermisBase, "omega_dermal")];
    for (which, (spot, name)) in burns.into_iter().enumerate() {
        columns.push(Column {
            label: name.replace('_', " "),
            header: name.into(),
            spot,
            kind: ColumnKind::Omega,
            values: omegas.iter().map(|pair| pair[which]).collect(),
        });
    }
}
