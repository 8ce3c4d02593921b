//! What is to be ordered for a suit: cloth in m² and grams, thread, embroidery.

use crate::garment::suit::{Suit, stitch_length, thread_density};

/// Cloth of one fabric.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth {
    /// Its name.
    pub fabric: String,
    /// Its areal density [kg/m²].
    pub areal_density: f64,
    /// Area in the panels [m²].
    pub area: f64,
    /// Area to order, with seams and cutting [m²].
    pub area_ordered: f64,
}

/// The bill of materials.
#[derive(Debug, Clone, PartialEq)]
pub struct Bill {
    /// Plies, in the order in which the panels first name them.
    pub cloths: Vec<Cloth>,
    /// Embroidery and patches; nothing is added for seams and cutting.
    pub embroidery: Vec<Cloth>,
    /// Quilting thread in the panels [kg].
    pub thread: f64,
    /// Quilting thread to order: blanks are quilted before they are cut [kg].
    pub thread_ordered: f64,
    /// Stitch lines on what is ordered [m].
    pub stitches: f64,
}

/// The bill of a suit at a size.
///
/// Ordered is the panels' area, plus the share for seams, plus on top of both the share lost in cutting.
pub fn bill(suit: &Suit, size: f64) -> Bill {
    let more = (1.0 + suit.seam.value) * (1.0 + suit.cutting.value);
    let mut bill = Bill {
        cloths: Vec::new(),
        embroidery: Vec::new(),
        thread: 0.0,
        thread_ordered: 0.0,
        stitches: 0.0,
    };
    for panel in &suit.panels {
        let area = suit.area(panel, size);
        for ply in panel.layup.plies() {
            let fabric = &ply.fabric;
            add(&mut bill.cloths, (&fabric.name, fabric.areal_density.value), area, more);
        }
        if let Some(e) = &panel.embroidery {
            let cloth = (e.fabric.name.as_str(), e.fabric.areal_density.value);
            add(&mut bill.embroidery, cloth, area * e.share, 1.0);
        }
        let thread = area * thread_density(&panel.layup);
        bill.thread += thread;
        bill.thread_ordered += more * thread;
        bill.stitches += more * area * panel.layup.quilting.as_ref().map_or(0.0, stitch_length);
    }
    bill
}

fn add(list: &mut Vec<Cloth>, (name, areal_density): (&str, f64), area: f64, more: f64) {
    let same = |cloth: &&mut Cloth| cloth.fabric == name && cloth.areal_density == areal_density;
    match list.iter_mut().find(same) {
        Some(cloth) => {
            cloth.area += area;
            cloth.area_ordered += more * area;
        }
        None => list.push(Cloth {
            fabric: name.to_owned(),
            areal_density,
            area,
            area_ordered: more * area,
        }),
    }
}
