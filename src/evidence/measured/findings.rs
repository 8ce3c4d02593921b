//! Directions that abstracts of published measurements tell, put to the shelf's own layups: theirs
//! were mostly not told. None is forced; what comes out opposite says so.

use rayon::prelude::*;

use crate::bench::expose::{Behind, Question};
use crate::evidence::measured::ask::{
    disc, plies, second_degree, shelf_layup, wetted, with_gap_behind,
};
use crate::evidence::measured::record::Sign;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup};
use crate::shelf::materials::Shelf;
use crate::study::quilt::quilt;

// as `signs.csv` of the reference tables has them
const CLOTHS: &str = "Effect of moisture on the thermal protective performance of heat-resistant fabrics, \
     abstract";
const FLASH: &str = "Effect of moisture content on thermal protective performance of fabric assemblies by \
     a stored energy approach under flash exposure, abstract";
const MEDIUM: &str = "The effects of moisture on the thermal protective performance of firefighter \
     protective clothing under medium intensity radiant exposure, abstract";
const WILDLAND: &str = "The effect of moisture and air gap on the thermal protective performance of fabric \
     assemblies used by wildland firefighters, abstract";
const MORE_GAP: &str = "J. Ind. Text., doi 10.1177/15280837231221293, abstract";
const INNER_AIR: &str = "Text. Res. J., doi 10.1177/0040517521999869, abstract";
const TWO_PLIES: &str = "Protective clothing fabrics (FR wool), abstract";
const NO_FELT: &str = "Kim and others, Fire Sci. Eng. 32(1) (2018) 81, doi 10.7731/KIFSE.2018.32.1.081, \
     abstract";
const RANKED: &str = "heat insulation of FR cloths, abstract";
const STITCHED: &str = "Horridge, Woodson, Khan 1987, abstract";

/// Outer, barrier and lined felt.
const ASSEMBLY: &str = "published-assembly-1";
/// Places of its plies.
const SHELL: usize = 0;
const LINER: usize = 2;
/// A single cloth.
const CLOTH: &str = "outer-aramid-200";

fn rises(values: &[f64]) -> bool {
    values.windows(2).all(|pair| pair[1] > pair[0])
}

fn falls(values: &[f64]) -> bool {
    values.windows(2).all(|pair| pair[1] < pair[0])
}

/// An exposure of the shelf at another flux [W/m²].
fn at_flux(shelf: &Shelf, name: &str, flux: f64) -> Option<Exposure> {
    Some(Exposure { flux: Flux::Steady(flux), ..shelf.exposure(name).ok()?.clone() })
}

/// Times [s] of layups, side by side, in their order.
fn times(layups: &[Layup], ask: impl Fn(&Layup) -> f64 + Sync + Send) -> Vec<f64> {
    layups.par_iter().map(ask).collect()
}

fn found(
    claim: &str,
    source: &'static str,
    what: String,
    (values, is_right): (Vec<f64>, bool),
) -> Sign {
    let note = "Layers of the measurement not told; ours stand in.".into();
    Sign { claim: claim.into(), source, what, values, unit: "s", is_right, note }
}

const SOAKING: [f64; 3] = [0.0, 0.2, 0.6];
const SOAKED: &str = "with 0, 20 and 60 % of water";

/// The time to 24 K behind a single cloth with more and more water.
fn wet_cloth(shelf: &Shelf, exposure: &Exposure) -> Option<Vec<f64>> {
    let cloth = plies(shelf, &[CLOTH])?;
    let wet: Vec<Layup> = SOAKING.iter().map(|share| wetted(&cloth, 0, *share)).collect();
    Some(times(&wet, |layup| disc(shelf, layup, exposure).rise24))
}

fn water_in_a_cloth(shelf: &Shelf) -> Option<Vec<Sign>> {
    let mixed = shelf.exposure("mixed-84-contact").ok()?;
    let weak = shelf.exposure("radiant-20").ok()?;
    let strong = at_flux(shelf, "radiant-80", 84e3)?;
    let claims = [
        ("water in a single cloth raises protection", mixed, "mixed-84-contact", true),
        ("water in a single cloth raises protection", weak, "radiant-20", true),
        (
            "water in a single cloth lowers protection under strong radiation",
            &strong,
            "84 kW/m² all radiant",
            false,
        ),
    ];
    let sign = |(claim, exposure, words, up): (&str, &Exposure, &str, bool)| {
        let values = wet_cloth(shelf, exposure)?;
        let is_right = if up { rises(&values) } else { falls(&values) };
        let what = format!("24 K behind a woven of 200 g/m² {SOAKED}, {words}");
        Some(found(claim, CLOTHS, what, (values, is_right)))
    };
    claims.into_iter().map(sign).collect()
}

fn water_in_liner_and_shell(shelf: &Shelf) -> Option<Vec<Sign>> {
    let (layup, flash) = (shelf_layup(shelf, ASSEMBLY)?, shelf.exposure("mixed-84-contact").ok()?);
    let ask = |which: usize, shares: &[f64]| {
        let wet: Vec<Layup> = shares.iter().map(|share| wetted(&layup, which, *share)).collect();
        times(&wet, |layup| second_degree(shelf, layup, flash))
    };
    let liner = ask(LINER, &[0.0, 0.15, 1.0]);
    let worst = liner[1] < liner[0] && liner[1] < liner[2] && liner[2] > liner[0];
    let shell = ask(SHELL, &[0.0, 0.2, 0.5]);
    let helps = rises(&shell);
    Some(vec![
        found(
            "a liner with 15 % of water is worst, a soaked one burns later than a dry one",
            FLASH,
            "second degree of published assembly 1, innermost ply with 0, 15 and 100 % of water, 84 kW/m²".into(),
            (liner, worst),
        ),
        found(
            "a wet shell burns later",
            FLASH,
            "second degree of published assembly 1, outer ply with 0, 20 and 50 % of water, 84 kW/m²".into(),
            (shell, helps),
        ),
    ])
}

fn water_in_all(shelf: &Shelf) -> Option<Vec<Sign>> {
    let layup =
        plies(shelf, &["outer-viscose-aramid-240", "barrier-spunlace-120", "lining-viscose-120"])?;
    let exposure = at_flux(shelf, "radiant-20", 15.4e3)?;
    let wet = wetted(&wetted(&layup, SHELL, 0.3), LINER, 0.3);
    let values = times(&[layup, wet], |layup| second_degree(shelf, layup, &exposure));
    let is_right = rises(&values);
    Some(vec![found(
        "shell and liner wet burn later (12.8 %)",
        MEDIUM,
        "second degree of viscose-aramid shell, membrane and thin liner, dry and with 30 % of water in shell and liner, 15.4 kW/m²".into(),
        (values, is_right),
    )])
}

fn gap_dry_and_wet(shelf: &Shelf) -> Option<Vec<Sign>> {
    let (layup, exposure) = (shelf_layup(shelf, ASSEMBLY)?, at_flux(shelf, "radiant-20", 21e3)?);
    let wet = wetted(&layup, LINER, 0.3);
    let each = [&layup, &wet].map(|one| [one.clone(), with_gap_behind(one, 6.4e-3)]).concat();
    let values = times(&each, |layup| second_degree(shelf, layup, &exposure));
    let is_right = values[1] > values[0] && values[3] > values[2];
    Some(vec![found(
        "a gap helps dry and wet",
        WILDLAND,
        "second degree of published assembly 1 at 21 kW/m²: dry, dry with 6.4 mm behind it, wet, wet with 6.4 mm".into(),
        (values, is_right),
    )])
}

fn more_gap(shelf: &Shelf) -> Option<Vec<Sign>> {
    let (layup, exposure) =
        (shelf_layup(shelf, ASSEMBLY)?, shelf.exposure("mixed-84-contact").ok()?);
    let gaps = [3.0, 6.0, 9.0, 12.0].map(|mm| with_gap_behind(&layup, 1e-3 * mm));
    let values = times(&gaps, |layup| second_degree(shelf, layup, exposure));
    let is_right = rises(&values);
    Some(vec![found(
        "more gap helps up to 12 mm",
        MORE_GAP,
        "second degree of published assembly 1 at 84 kW/m², 3, 6, 9 and 12 mm behind it".into(),
        (values, is_right),
    )])
}

/// The layup with a gap after its first ply [m].
fn with_gap_inside(layup: &Layup, thickness: f64) -> Layup {
    let thickness = Known::new(thickness, Provenance::Estimated, "chosen for the comparison");
    let mut apart = layup.clone();
    apart.stack.insert(1, Entry::Gap(Gap { thickness }));
    apart
}

fn inner_air(shelf: &Shelf) -> Option<Vec<Sign>> {
    let exposure = shelf.exposure("flame-80").ok()?;
    let double = plies(shelf, &["outer-aramid-150", "outer-aramid-150"])?;
    let apart = with_gap_inside(&double, 1e-3);
    let values = times(&[double, apart], |layup| disc(shelf, layup, exposure).rise24);
    let is_right = rises(&values);
    Some(vec![found(
        "at equal mass a weave with air inside beats a cloth folded double",
        INNER_AIR,
        "HTI24 of two wovens of 150 g/m², touching and with 1 mm of air between them".into(),
        (values, is_right),
    )])
}

fn two_plies(shelf: &Shelf) -> Option<Vec<Sign>> {
    let exposure = shelf.exposure("flame-80").ok()?;
    let one = plies(shelf, &["outer-aramid-260"])?;
    let two = plies(shelf, &["outer-aramid-150", "inner-jersey-140"])?;
    let values = times(&[one, two], |layup| disc(shelf, layup, exposure).rise24);
    let is_right = rises(&values);
    Some(vec![found(
        "two plies transfer less than one of comparable mass",
        TWO_PLIES,
        "HTI24 of one woven of 260 g/m², and of a woven of 150 with a knit of 140 g/m²".into(),
        (values, is_right),
    )])
}

fn gap_for_felt(shelf: &Shelf) -> Option<Vec<Sign>> {
    let exposure = shelf.exposure("flame-80").ok()?;
    let with_felt = shelf_layup(shelf, ASSEMBLY)?;
    // the lined felt's own lining stays; of its felt 10 mm of air
    let shell =
        plies(shelf, &["outer-aramid-195-a", "barrier-spunlace-120", "lining-viscose-120"])?;
    let mut bare = shell.clone();
    let thickness = Known::new(10e-3, Provenance::Estimated, "chosen for the comparison");
    bare.stack.insert(2, Entry::Gap(Gap { thickness }));
    let values = times(&[bare, with_felt], |layup| disc(shelf, layup, exposure).rise24);
    let is_right = rises(&values);
    Some(vec![found(
        "10 mm of air in place of the felt still falls short of it",
        NO_FELT,
        "HTI24 of shell, barrier and lining with 10 mm of air before the lining, and of published assembly 1 with its felt".into(),
        (values, is_right),
    )])
}

/// How well two orders agree, −1 to 1. Source: Spearman, Am. J. Psychol. 15 (1904) 72.
fn rank_correlation(pairs: &[(f64, f64)]) -> f64 {
    let ranks = |of: fn(&(f64, f64)) -> f64| -> Vec<f64> {
        let below = |x: f64, strict: bool| {
            pairs.iter().filter(|p| if strict { of(p) < x } else { of(p) <= x }).count() as f64
        };
        // ties take the middle of their places
        pairs.iter().map(|p| 0.5 * (below(of(p), true) + below(of(p), false) + 1.0)).collect()
    };
    let (a, b) = (ranks(|p| p.0), ranks(|p| p.1));
    let mean = 0.5 * (pairs.len() as f64 + 1.0);
    let product = |x: &[f64], y: &[f64]| -> f64 {
        x.iter().zip(y).map(|(x, y)| (x - mean) * (y - mean)).sum()
    };
    product(&a, &b) / (product(&a, &a) * product(&b, &b)).sqrt()
}

fn thickness_ranks(shelf: &Shelf) -> Option<Vec<Sign>> {
    let cloths: Vec<&str> = shelf
        .fabrics()
        .filter(|fabric| fabric.name.starts_with("outer-"))
        .map(|fabric| fabric.name.as_str())
        .collect();
    let layups = cloths.iter().map(|name| plies(shelf, &[name])).collect::<Option<Vec<_>>>()?;
    let mut values = Vec::new();
    for exposure in ["radiant-5", "radiant-80"] {
        let exposure = shelf.exposure(exposure).ok()?;
        let t = times(&layups, |layup| disc(shelf, layup, exposure).rise24);
        let thickness = layups.iter().map(Layup::plies_thickness);
        values.push(rank_correlation(&thickness.zip(t).collect::<Vec<_>>()));
    }
    let is_right = falls(&values) && values[0] > 0.8;
    let sign = found(
        "at low radiant flux thickness alone ranks protection, at higher flux other factors enter",
        RANKED,
        format!(
            "rank correlation of thickness with RHTI24 over the shelf's {} outer cloths at 5 and 80 kW/m²",
            cloths.len()
        ),
        (values, is_right),
    );
    Some(vec![Sign { unit: "of 1", ..sign }])
}

/// Stitch lines far apart stand for the edge alone; the weakest flux for the room's own warmth.
fn stitching(shelf: &Shelf) -> Option<Vec<Sign>> {
    let (exposure, skin) = (shelf.exposure("radiant-5").ok()?, shelf.skins().next()?);
    let layup = shelf_layup(shelf, "three-ply-quilted-blank")?;
    let question = Question::plain(Behind::Disc, skin, 5e-3);
    let rise24 = |pitch: &f64| {
        let mut quilting = layup.quilting.clone()?;
        quilting.pitch.value = *pitch;
        let quilted = quilt(&layup, &quilting, exposure, &question, 6).ok()?;
        quilted.disc?.shared.figures.rise24.t()
    };
    let values: Option<Vec<f64>> = [0.03, 0.06, 0.5].par_iter().map(rise24).collect();
    let values = values?;
    let is_right = rises(&values);
    Some(vec![found(
        "stitched at the edge alone resists most, all over least",
        STITCHED,
        "RHTI24 of the quilted three-ply blank at 5 kW/m², stitch lines 30, 60 and 500 mm apart"
            .into(),
        (values, is_right),
    )])
}

/// Every finding that the model can be asked, in order.
pub fn findings(shelf: &Shelf) -> Vec<Sign> {
    let asked = [
        water_in_a_cloth,
        water_in_liner_and_shell,
        water_in_all,
        gap_dry_and_wet,
        more_gap,
        inner_air,
        two_plies,
        gap_for_felt,
        thickness_ranks,
        stitching,
    ];
    asked.iter().flat_map(|ask| ask(shelf).unwrap_or_default()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const SIGNS: &str = include_str!("../../../tests/reference/signs.csv");

    /// Every row of the table has its question above.
    #[test]
    fn every_row_of_the_table_is_asked() {
        let asked = [
            CLOTHS, FLASH, MEDIUM, WILDLAND, MORE_GAP, INNER_AIR, TWO_PLIES, NO_FELT, RANKED,
            STITCHED,
        ];
        let mut reader =
            csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(SIGNS.as_bytes());
        let column = reader.headers().unwrap().iter().position(|name| name == "source").unwrap();
        let sources: Vec<String> =
            reader.records().map(|row| row.unwrap()[column].to_string()).collect();
        assert_eq!(sources.len(), 11);
        for source in &sources {
            assert!(asked.contains(&source.as_str()), "{source}");
        }
        assert!(asked.iter().all(|known| sources.iter().any(|source| source == known)));
    }

    /// Spearman's coefficient by 1 − 6 Σd²/(n(n² − 1)) where no two are alike.
    #[test]
    fn orders_agree_as_spearman_says() {
        let pairs = [(1.0, 2.0), (2.0, 1.0), (3.0, 3.5), (4.0, 9.0)];
        assert_relative_eq!(rank_correlation(&pairs), 1.0 - 6.0 * 2.0 / 60.0, max_relative = 1e-12);
        assert_relative_eq!(rank_correlation(&[(1.0, 3.0), (2.0, 2.0), (3.0, 1.0)]), -1.0);
    }
}
