//! Signs: which way published findings say that a change goes.

use rayon::prelude::*;

use crate::evidence::measured::ask::{
    disc, disc_and_heat, plies, second_degree, shelf_layup, wetted, wetted_in_parallel,
    wetted_without_conduction, with_gap_behind,
};
use crate::evidence::measured::findings::findings;
use crate::evidence::measured::record::Sign;
use crate::garment::layup::Layup;
use crate::shelf::materials::Shelf;

const GAP: &str = "Torvi, Dale & Faulkner, J. Fire Prot. Eng. 10 (1999) 1 (from memory)";
const MASS: &str = "Shalev & Barker, Textile Res. J. 54 (1984) 648 (from memory)";
const WET: &str = "Lawson et al., Int. J. Occup. Saf. Ergon. 10 (2004) 227 (from memory)";
const MODERATE: &str = "Barker et al., Textile Res. J. 76 (2006) 27 (from memory)";
const STORED: &str = "common practice, no source";

/// Three plies of the comparisons with water: outer, barrier and lined felt.
const ASSEMBLY: &str = "published-assembly-1";

fn rises(values: &[f64]) -> bool {
    values.windows(2).all(|pair| pair[1] > pair[0])
}

/// A gap lengthens the time to a burn.
fn gap(shelf: &Shelf) -> Option<Sign> {
    let layup = plies(shelf, &["outer-aramid-200"])?;
    let exposure = shelf.exposure("mixed-84-contact").ok()?;
    let gaps = [0.0, 2.0, 6.4];
    let values: Vec<f64> = gaps
        .par_iter()
        .map(|mm| match *mm > 0.0 {
            true => second_degree(shelf, &with_gap_behind(&layup, mm * 1e-3), exposure),
            false => second_degree(shelf, &layup, exposure),
        })
        .collect();
    Some(Sign {
        claim: "a gap lengthens the time to a burn".into(),
        source: GAP,
        what: "second degree behind a woven of 200 g/m² at 84 kW/m², gap 0, 2 and 6.4 mm".into(),
        is_right: rises(&values),
        values,
        unit: "s",
        note: String::new(),
    })
}

/// More mass and thickness protect more, at three fluxes.
fn mass(shelf: &Shelf, exposure: &str) -> Option<Sign> {
    let exposure = shelf.exposure(exposure).ok()?;
    let names = ["outer-aramid-150", "outer-aramid-200", "outer-aramid-260"];
    let layups = names.map(|name| plies(shelf, &[name]));
    let values: Vec<f64> = layups
        .par_iter()
        .map(|layup| layup.as_ref().map_or(f64::NAN, |layup| disc(shelf, layup, exposure).rise24))
        .collect();
    Some(Sign {
        claim: "more mass and thickness protect more".into(),
        source: MASS,
        what: format!("24 K behind wovens of 150, 200 and 260 g/m², {}", exposure.name),
        is_right: rises(&values),
        values,
        unit: "s",
        note: String::new(),
    })
}

/// Time to 24 K of the assembly with water added to one ply [s].
fn wet(shelf: &Shelf, exposure: &str, which: usize, shares: &[f64]) -> Option<Vec<f64>> {
    let (layup, exposure) = (shelf_layup(shelf, ASSEMBLY)?, shelf.exposure(exposure).ok()?);
    Some(
        shares
            .par_iter()
            .map(|share| disc(shelf, &wetted(&layup, which, *share), exposure).rise24)
            .collect(),
    )
}

/// Why a finding on a wet inner ply is not met, or by how much it is: the times with water that does
/// not conduct, and with the most that it can.
fn inner_cause(shelf: &Shelf, exposure: &str, shares: &[f64]) -> Option<String> {
    let (layup, exposure) = (shelf_layup(shelf, ASSEMBLY)?, shelf.exposure(exposure).ok()?);
    let times = |wetted: fn(&Layup, usize, f64) -> Layup| {
        let each = shares.par_iter();
        let times = each.map(|share| disc(shelf, &wetted(&layup, 2, *share), exposure).rise24);
        times.map(|t| format!("{t:.1}")).collect::<Vec<_>>().join(", ")
    };
    Some(format!(
        "Water conducts here as fibre does, a third in parallel (Schuhmeister, Baxter); the times \
         would be {} s if it were bound like conditioned regain and did not conduct, {} s if all of it \
         conducted in parallel, the most it can. Vapour that condenses on what is cooler is part of all \
         of them.",
        times(wetted_without_conduction),
        times(wetted_in_parallel)
    ))
}

fn outer_wet(shelf: &Shelf) -> Option<Sign> {
    let values = wet(shelf, "flame-80", 0, &[0.0, 0.2, 0.5])?;
    Some(Sign {
        claim: "wetting the outer ply lowers heat transfer in a flame".into(),
        source: WET,
        what: "HTI24 of published assembly 1, outer ply with 0, 20 and 50 % of water".into(),
        is_right: rises(&values),
        values,
        unit: "s",
        note: String::new(),
    })
}

fn inner_wet(shelf: &Shelf) -> Option<Sign> {
    const SHARES: [f64; 4] = [0.0, 0.1, 0.2, 0.5];
    let values = wet(shelf, "flame-80", 2, &SHARES)?;
    Some(Sign {
        claim: "wetting the inner ply can raise heat transfer in a flame".into(),
        source: WET,
        what: "HTI24 of published assembly 1, innermost ply with 0, 10, 20 and 50 % of water"
            .into(),
        is_right: values[1..].iter().any(|t| *t < values[0]),
        values,
        unit: "s",
        note: inner_cause(shelf, "flame-80", &SHARES)?,
    })
}

fn moderate(shelf: &Shelf) -> Option<Sign> {
    const SHARES: [f64; 5] = [0.0, 0.15, 0.3, 0.6, 1.0];
    let values = wet(shelf, "radiant-5", 2, &SHARES)?;
    let lowest = values.iter().copied().fold(f64::INFINITY, f64::min);
    let (first, last) = (values[0], *values.last()?);
    Some(Sign {
        claim: "at low radiant flux moderate moisture is worst".into(),
        source: MODERATE,
        what: "RHTI24 of published assembly 1 at 5 kW/m², innermost ply with 0, 15, 30, 60 and 100 % of water".into(),
        is_right: lowest < first && lowest < last,
        values,
        unit: "s",
        note: inner_cause(shelf, "radiant-5", &SHARES)?,
    })
}

fn stored(shelf: &Shelf) -> Option<Sign> {
    let exposure = shelf.exposure("flame-80").ok()?;
    let share = |n: &i32| {
        let layup = shelf_layup(shelf, &format!("published-assembly-{n}"))?;
        let heat = disc_and_heat(shelf, &layup, exposure).1?;
        let all: f64 = heat.parts.iter().map(|part| part.stored).sum();
        Some(100.0 * heat.parts.first()?.stored / (all + heat.passed_on))
    };
    let values: Option<Vec<f64>> = [1, 2, 3, 4, 5].par_iter().map(share).collect();
    let values = values?;
    Some(Sign {
        claim: "the outer ply holds about a third to a half of the stored heat".into(),
        source: STORED,
        what:
            "outer ply's share of the heat in plies and disc at HTI24, published assemblies 1 to 5"
                .into(),
        is_right: values.iter().all(|share| *share > 30.0 && *share < 55.0),
        values,
        unit: "%",
        note: String::new(),
    })
}

/// Every finding, in order.
pub fn signs(shelf: &Shelf) -> Vec<Sign> {
    let fluxes = ["radiant-10", "radiant-40", "radiant-80"];
    let mut found = vec![gap(shelf)];
    found.extend(fluxes.map(|exposure| mass(shelf, exposure)));
    found.extend([outer_wet(shelf), inner_wet(shelf), moderate(shelf), stored(shelf)]);
    found.into_iter().flatten().chain(findings(shelf)).collect()
}
