//! The share burnt with its spread, and how often it keeps to a share asked for.
//!
//! Drawn for each set: every fabric of the suit once, the same on all panels, by its tolerances
//! (`study/odds/inputs.rs`); radiant share and temperature of the flame; the flux of the test within its limit; the
//! flux at each panel about that; the fit. The model's own error is not drawn: no band of it holds for a share.

use rayon::prelude::*;

use crate::garment::band::Factors;
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::garment::suit::{Fit, Suit};
use crate::study::body::air::Air;
use crate::study::body::cell::Behind;
use crate::study::body::record::{BodyError, Shares};
use crate::study::body::runs::{REST, Setting, Which, Worn, run_cases};
use crate::study::body::worn::{Part, Terms, WornPanel, WornSuit, fires, parts};
use crate::study::odds::defaults::{FLUX, HALF_95};
use crate::study::odds::inputs::{Further, Inputs};
use crate::study::odds::normal::normal_quantile;
use crate::study::odds::points::Design;
use crate::study::odds::spread::{Share, quantile, wilson};
use crate::study::property::Property;
use crate::study::quilt::lay::press_in_proportion;

/// Standard deviation of the flux from place to place over the body, as a share of its mean [–].
///
/// Source: ASTM F1930 lets it be 21 kW/m² at most about 84 kW/m², from memory; taken whole.
pub const UNEVEN: f64 = 21.0 / 84.0;
/// Which scrambling of the points is used.
const SEED: u32 = 1;

/// What came of the sets after one fire.
#[derive(Debug, Clone, PartialEq)]
pub struct FireOdds {
    /// How long it lasts [s].
    pub duration: f64,
    /// Share of what is covered with a second degree in each set, in order of size [–].
    pub shares: Vec<f64>,
    /// The same of the suit as it is, with the sets' mesh and gaps [–].
    pub nominal: f64,
    /// How many sets keep to the share asked for.
    pub keeps: Share,
}

impl FireOdds {
    /// The share that so many of the sets are at or below [–].
    pub fn quantile(&self, p: f64) -> f64 {
        quantile(&self.shares, p)
    }
}

/// What came of the sets.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyOdds {
    /// The most that is asked for [–].
    pub at_most: f64,
    /// Sets drawn.
    pub n_sets: usize,
    /// The fires, in the order asked for.
    pub fires: Vec<FireOdds>,
}

/// A set as it is drawn.
struct Drawn {
    suit: Suit,
    exposure: Exposure,
    /// Factor on the flux at each panel [–].
    fluxes: Vec<f64>,
    /// Fit, as a standard normal variable: above 0 is wider.
    fit: f64,
}

/// The odds that at most so much of what is covered has a second degree.
///
/// - `at_most`: [–]
/// - `n_sets`: how many sets are drawn, at least 1
///
/// Each set is run on the coarsest mesh with every second gap; the suit as it is stands beside them so, too. The
/// numbers do not depend on the number of threads. Errors: [`BodyError`].
pub fn body_odds(
    suit: &Suit,
    terms: &Terms<'_>,
    at_most: f64,
    n_sets: usize,
) -> Result<BodyOdds, BodyError> {
    let plan = Plan::of(suit, terms);
    let as_it_is = plan.drawn(None)?;
    let nominal = burnt(&as_it_is, terms)?;
    let sets: Vec<Result<Vec<f64>, BodyError>> =
        (0..n_sets).into_par_iter().map(|set| burnt(&plan.drawn(Some(set))?, terms)).collect();
    let sets = sets.into_iter().collect::<Result<Vec<Vec<f64>>, BodyError>>()?;
    let of_fire = |(k, duration): (usize, &f64)| {
        let mut shares: Vec<f64> = sets.iter().map(|set| set[k]).collect();
        shares.sort_by(f64::total_cmp);
        let n_kept = shares.iter().filter(|share| **share <= at_most).count();
        let keeps = wilson(n_kept, shares.len());
        FireOdds { duration: *duration, shares, nominal: nominal[k], keeps }
    };
    let fires = terms.durations.iter().enumerate().map(of_fire).collect();
    Ok(BodyOdds { at_most, n_sets, fires })
}

/// What is drawn and from where.
struct Plan<'a> {
    suit: &'a Suit,
    exposure: &'a Exposure,
    /// Every fabric of the suit, each as a layup of one ply with what varies of it.
    fabrics: Vec<(Layup, Inputs)>,
}

impl<'a> Plan<'a> {
    fn of(suit: &'a Suit, terms: &Terms<'a>) -> Plan<'a> {
        let mut fabrics: Vec<(Layup, Inputs)> = Vec::new();
        for fabric in suit.panels.iter().flat_map(|panel| {
            let own = panel.layup.plies().map(|ply| &ply.fabric);
            own.chain(panel.embroidery.as_ref().map(|embroidery| &embroidery.fabric))
        }) {
            let layup = alone(fabric);
            if !fabrics.iter().any(|(known, _)| known.stack == layup.stack) {
                let further = Further { flux: 0.0, model: Factors::EXACT };
                let inputs = Inputs::of(&layup, terms.exposure, further);
                fabrics.push((layup, inputs));
            }
        }
        Plan { suit, exposure: terms.exposure, fabrics }
    }

    /// A set; none for the suit as it is.
    fn drawn(&self, set: Option<usize>) -> Result<Drawn, BodyError> {
        let n_panels = self.suit.panels.len();
        let Some(set) = set else {
            let (suit, exposure) = (self.suit.clone(), self.exposure.clone());
            return Ok(Drawn { suit, exposure, fluxes: vec![1.0; n_panels], fit: 0.0 });
        };
        let design = Design { seed: SEED };
        let mut dimension = 0;
        let mut next = || {
            dimension += 1;
            design.at(set, dimension - 1)
        };
        let fit = normal_quantile(next());
        let of_test = 1.0 + FLUX * (2.0 * next() - 1.0);
        // log-normal with the mean of the test's own flux
        let log = libm::log(1.0 + UNEVEN * UNEVEN);
        let fluxes: Vec<f64> = (0..n_panels)
            .map(|_| of_test * libm::exp(log.sqrt() * normal_quantile(next()) - 0.5 * log))
            .collect();
        let mut drawn = Vec::new();
        let mut exposure = None;
        for (layup, inputs) in &self.fabrics {
            let u: Vec<f64> = (0..inputs.n_factors()).map(|_| next()).collect();
            let (made, flame) = inputs
                .draw(layup, self.exposure, &inputs.standard(&u))
                .map_err(BodyError::TooDense)?;
            // the flame is one for all: the first fabric's draw of it
            exposure.get_or_insert(flame);
            drawn.extend(
                layup
                    .plies()
                    .zip(made.plies())
                    .map(|(old, new)| (old.fabric.clone(), new.fabric.clone())),
            );
        }
        let mut suit = self.suit.clone();
        let new = |fabric: &Fabric| drawn.iter().find(|(old, _)| old == fabric).map(|(_, new)| new);
        for panel in &mut suit.panels {
            let before = panel.layup.plies_thickness();
            for ply in panel.layup.plies_mut() {
                if let Some(fabric) = new(&ply.fabric) {
                    ply.fabric = fabric.clone();
                }
            }
            press_in_proportion(&mut panel.layup, before);
            if let Some(embroidery) = &mut panel.embroidery {
                if let Some(fabric) = new(&embroidery.fabric) {
                    embroidery.fabric = fabric.clone();
                }
            }
        }
        let exposure = exposure.unwrap_or_else(|| self.exposure.clone());
        Ok(Drawn { suit, exposure, fluxes, fit })
    }
}

/// A fabric as a layup.
fn alone(fabric: &Fabric) -> Layup {
    let ply = Ply { fabric: fabric.clone(), joint: PlyJoint::Faces };
    let (name, note) = (fabric.name.clone(), String::new());
    let stack = vec![Entry::Ply(Box::new(ply))];
    Layup { name, note, stack, pressure: None, quilting: None }
}

/// Share of what is covered with a second degree after each fire [–].
fn burnt(drawn: &Drawn, terms: &Terms<'_>) -> Result<Vec<f64>, BodyError> {
    let terms = &Terms { exposure: &drawn.exposure, ..*terms };
    let setting = Setting { skin: terms.skin, quilts: terms.quilts };
    // each panel by itself, as each stands in a flux of its own
    let mut layups: Vec<Worn> = Vec::new();
    let mut exposures: Vec<(Vec<Exposure>, std::ops::Range<usize>)> = Vec::new();
    let mut panels = Vec::new();
    let base = WornSuit::of(&drawn.suit, terms)?;
    for (i, panel) in drawn.suit.panels.iter().enumerate() {
        let first = layups.len();
        let mut own = Vec::new();
        let of_panel: Vec<Part> = parts(panel, &panel.layup, &mut own)
            .into_iter()
            .map(|part| Part { kind: first + part.kind, ..part })
            .collect();
        layups.extend(own);
        let mut exposure = drawn.exposure.clone();
        let mut unused = panel.layup.clone();
        Property::Flux.scale(&mut unused, &mut exposure, drawn.fluxes[i]);
        exposures.push((fires(&exposure, terms.durations), first..layups.len()));
        let mut on = base.panels[i].on.clone();
        on.air = fitted(&on.air, terms, drawn.fit);
        panels.push(WornPanel { parts: of_panel, on });
    }
    let worn = WornSuit { panels, layups };
    let of_fire = |k: usize| {
        let cases: Vec<(&Worn, &Exposure)> = exposures
            .iter()
            .flat_map(|(all, range)| worn.layups[range.clone()].iter().map(move |w| (w, &all[k])))
            .collect();
        let (behind, _): (Vec<Behind>, _) =
            run_cases(&cases, &setting, 0, Which::Second).map_err(BodyError::Solver)?;
        let [_, second, _]: Shares = worn.whole(&behind, REST);
        Ok(second)
    };
    (0..terms.durations.len()).map(of_fire).collect()
}

/// The air of a wearer whom the suit fits otherwise: 95 % of them lie between a close and a loose fit, on the
/// logarithms of gap and contact; common practice, no source. What is pressed stays so.
fn fitted(air: &Air, terms: &Terms<'_>, x: f64) -> Air {
    let [close, loose] = [Fit::Close, Fit::Loose].map(|fit| terms.map.factors(fit));
    let moved = |close: f64, loose: f64| match close > 0.0 && loose > 0.0 {
        true => libm::exp(x * libm::log(loose / close) / (2.0 * HALF_95)),
        false => 1.0,
    };
    if *air == Air::PRESSED {
        return *air;
    }
    let gap = moved(close.gap.value, loose.gap.value);
    let contact = moved(close.contact.value, loose.contact.value);
    Air {
        contact: (air.contact * contact).min(1.0),
        mean: air.mean * gap,
        spread: air.spread * gap,
        closer: air.closer,
    }
}
