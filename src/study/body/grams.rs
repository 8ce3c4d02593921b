//! What a gram more brings, ply by ply of each panel.

use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::suit::Suit;
use crate::solver::error::SolverError;
use crate::study::body::cell::Behind;
use crate::study::body::record::Gram;
use crate::study::body::runs::{REST, Setting, Which, Work, Worn, run_all};
use crate::study::body::worn::{WornPanel, WornSuit, parts};
use crate::study::quilt::lay::press_in_proportion;

/// By how much a ply is made heavier, and as much thicker [–].
const MORE: f64 = 0.1;

/// What grams are asked of.
pub struct Kinds<'a> {
    /// The suit.
    pub suit: &'a Suit,
    /// What it wears.
    pub worn: &'a WornSuit,
    /// The fires.
    pub exposures: &'a [Exposure],
    /// Skin and quilting.
    pub setting: &'a Setting<'a>,
}

/// What a gram more brings after each fire: each ply of each panel a tenth heavier and thicker, of the same
/// density, against the panel as it is, both on the coarsest mesh.
///
/// - `base`: the burns of the suit as it is on that mesh, `[exposure][layup]`
///
/// Errors: those of the solver.
pub fn grams(
    kinds: &Kinds<'_>,
    base: &[Vec<Behind>],
) -> Result<(Vec<Vec<Gram>>, Work), SolverError> {
    let Kinds { suit, worn, exposures, setting } = kinds;
    let mut layups: Vec<Worn> = Vec::new();
    let mut plan = Vec::new();
    for (i, panel) in suit.panels.iter().enumerate() {
        for (j, ply) in panel.layup.plies().enumerate() {
            let added = MORE * ply.fabric.areal_density.value * suit.area(panel, 1.0);
            let heavier = heavier(&panel.layup, j);
            plan.push((i, ply.fabric.name.clone(), added, parts(panel, &heavier, &mut layups)));
        }
    }
    let (moved, work) = run_all(&layups, exposures, setting, (0, Which::All))?;
    let of_fire = |(base, moved): (&Vec<Behind>, &Vec<Behind>)| {
        let gram = |(i, ply, added, parts): &(usize, String, f64, Vec<_>)| {
            let now = &worn.panels[*i];
            let then = WornPanel { parts: parts.clone(), on: now.on.clone() };
            let [_, before, _] = worn.panel(now, base, REST);
            let [_, after, _] = worn.panel(&then, moved, REST);
            let first = worn.first(now, base).zip(worn.first(&then, moved));
            Gram {
                panel: *i,
                ply: ply.clone(),
                share: now.on.share * (before - after) / added,
                time: first.map(|(before, after)| (after.first.t - before.first.t) / added),
            }
        };
        plan.iter().map(gram).collect()
    };
    Ok((base.iter().zip(&moved).map(of_fire).collect(), work))
}

/// The layup with one ply heavier and thicker, its stitch lines pressed in proportion.
fn heavier(layup: &Layup, ply: usize) -> Layup {
    let before = layup.plies_thickness();
    let mut layup = layup.clone();
    if let Some(ply) = layup.plies_mut().nth(ply) {
        ply.fabric.areal_density.value *= 1.0 + MORE;
        ply.fabric.thickness.value *= 1.0 + MORE;
    }
    press_in_proportion(&mut layup, before);
    layup
}
