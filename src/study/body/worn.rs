//! A suit by the layups that it wears, each panel with its share of the body and its air.

use crate::garment::body_map::BodyMap;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::suit::{Body, Fit, Panel, Suit};
use crate::study::answer::{Quilts, quilting};
use crate::study::body::air::{Air, Measures};
use crate::study::body::cell::Behind;
use crate::study::body::record::{BodyError, Fire, PanelAir, PanelBurn, PanelFirst, Shares};
use crate::study::body::runs::{REST, Setting, Worn, with_gap};
use crate::study::body::settle::Settled;
use crate::study::quilt::lay::check;
use crate::study::suit::worn;
use crate::study::suit_judged::Spot;

/// Times at which shares are told.
const N_TIMES: usize = 61;
/// The covered share may be above 1 by rounding of the panels' own [–].
const ROUNDING: f64 = 1e-6;

/// Whether it is told what grams bring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grams {
    /// At the price of one more run for each ply.
    Told,
    /// They are left out.
    LeftOut,
}

/// What is asked of a suit on a body.
#[derive(Debug, Clone, Copy)]
pub struct Terms<'a> {
    /// The exposure; its duration is passed over.
    pub exposure: &'a Exposure,
    /// How long the fires last [s], each above 0.
    pub durations: &'a [f64],
    /// The skin.
    pub skin: &'a Skin,
    /// Whether quilting is computed.
    pub quilts: Quilts,
    /// Regions and air.
    pub map: &'a BodyMap,
    /// How wide the suit is; none for its own fit.
    pub fit: Option<Fit>,
    /// Who wears it; none for the body that it is drawn for.
    pub wearer: Option<&'a Body>,
    /// Length that the cloth loses in the fire, as a share of it, taken off from the start; 0 where none is known [–].
    pub shrunk: f64,
    /// Whether it is told what grams bring.
    pub grams: Grams,
}

impl<'a> Terms<'a> {
    /// As the suit says and for whom it is drawn, quilting computed, nothing shrunk, no grams.
    pub fn plain(
        (exposure, durations): (&'a Exposure, &'a [f64]),
        skin: &'a Skin,
        map: &'a BodyMap,
    ) -> Terms<'a> {
        Terms {
            exposure,
            durations,
            skin,
            quilts: Quilts::Computed,
            map,
            fit: None,
            wearer: None,
            shrunk: 0.0,
            grams: Grams::LeftOut,
        }
    }

    /// What all runs have in common.
    pub fn setting(&self) -> Setting<'_> {
        Setting { skin: self.skin, quilts: self.quilts }
    }
}

/// The exposure with each of the fires, followed until skin is at rest.
pub fn fires(exposure: &Exposure, durations: &[f64]) -> Vec<Exposure> {
    let lasting = |duration: &f64| Exposure {
        duration: Some(*duration),
        t_end: REST.max(exposure.t_end),
        ..exposure.clone()
    };
    durations.iter().map(lasting).collect()
}

/// Mass [kg] and height [m].
pub fn measures(body: &Body) -> Measures {
    (body.mass.value, body.height.value)
}

/// A part of a panel: its share of the panel, and which of the layups it wears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// Beside or under embroidery.
    pub spot: Spot,
    /// Share of the panel [–].
    pub share: f64,
    /// Which of the layups.
    pub kind: usize,
}

/// A panel with what it wears.
#[derive(Debug, Clone, PartialEq)]
pub struct WornPanel {
    /// Its parts: all of it, or beside and under its embroidery.
    pub parts: Vec<Part>,
    /// Its share of the body and its air.
    pub on: PanelAir,
}

/// A suit by the different layups that it wears.
#[derive(Debug, Clone, PartialEq)]
pub struct WornSuit {
    /// The panels, in the suit's order.
    pub panels: Vec<WornPanel>,
    /// The different layups.
    pub layups: Vec<Worn>,
}

impl WornSuit {
    /// What a suit wears where on a body.
    ///
    /// Errors: a panel in no region or without air, more cover than body, a quilting that cannot be.
    pub fn of(suit: &Suit, terms: &Terms<'_>) -> Result<WornSuit, BodyError> {
        let mut layups: Vec<Worn> = Vec::new();
        let mut panels = Vec::new();
        for panel in &suit.panels {
            let air = air_of(suit, panel, terms)?;
            let parts = parts(panel, &panel.layup, &mut layups);
            panels.push(WornPanel { parts, on: PanelAir { share: suit.share(panel), air } });
        }
        let covered: f64 = panels.iter().map(|panel| panel.on.share).sum();
        if covered > 1.0 + ROUNDING {
            return Err(BodyError::TooLarge { covered });
        }
        check_all(&layups, terms.quilts)?;
        Ok(WornSuit { panels, layups })
    }

    /// Shares of a panel burnt by `t` [s], by degree [–].
    pub fn panel(&self, panel: &WornPanel, behind: &[Behind], t: f64) -> Shares {
        let of = |degree| {
            let parts = panel.parts.iter();
            parts.map(|part| part.share * behind[part.kind].share(degree, &panel.on.air, t)).sum()
        };
        [0, 1, 2].map(of)
    }

    /// Shares of a panel burnt at the end, and what gaps, places and meshes leave open in them, by degree [–].
    pub fn ended(&self, panel: &WornPanel, settled: &Settled) -> (Shares, Shares) {
        let end = self.panel(panel, &settled.burns, REST);
        (end, open_by(&end, settled.open().map(|behind| self.panel(panel, behind, REST))))
    }

    /// Shares of the covered area from those of the panels [–].
    pub fn covered(&self, panels: &[Shares]) -> Shares {
        let whole: f64 = self.panels.iter().map(|panel| panel.on.share).sum();
        let of = |degree: usize| {
            let parts = self.panels.iter().zip(panels);
            parts.map(|(panel, shares)| panel.on.share * shares[degree]).sum::<f64>() / whole
        };
        [0, 1, 2].map(of)
    }

    /// Shares of the covered area burnt by `t` [s] [–].
    pub fn whole(&self, behind: &[Behind], t: f64) -> Shares {
        let panels: Vec<Shares> =
            self.panels.iter().map(|panel| self.panel(panel, behind, t)).collect();
        self.covered(&panels)
    }

    /// Where a panel burns first.
    pub fn first(&self, panel: &WornPanel, behind: &[Behind]) -> Option<PanelFirst> {
        let first = |part: &Part| {
            let first = behind[part.kind].first(1, &panel.on.air)?;
            Some(PanelFirst { spot: part.spot, first })
        };
        let all = panel.parts.iter().filter_map(first);
        all.min_by(|a, b| a.first.t.total_cmp(&b.first.t))
    }

    /// The body after a fire.
    ///
    /// Errors are what every second gap and place makes of the shares, and what the burn integrals' own errors do.
    pub fn fire(&self, duration: f64, settled: &Settled) -> Fire {
        let burns = &settled.burns;
        let last = burns.iter().flat_map(|b| (0..3).flat_map(|degree| b.times(degree)));
        let t_last = last.fold(duration, f64::max).ceil();
        let times: Vec<f64> =
            (0..N_TIMES).map(|i| t_last * i as f64 / (N_TIMES - 1) as f64).collect();
        let panels: Vec<PanelBurn> = self
            .panels
            .iter()
            .map(|panel| {
                let (end, error) = self.ended(panel, settled);
                PanelBurn {
                    end,
                    error,
                    first: self.first(panel, burns),
                    curve: times.iter().map(|t| self.panel(panel, burns, *t)).collect(),
                }
            })
            .collect();
        let ends: Vec<Shares> = panels.iter().map(|panel| panel.end).collect();
        let covered = self.covered(&ends);
        let error = open_by(&covered, settled.open().map(|behind| self.whole(behind, REST)));
        let at = |i: usize| {
            self.covered(&panels.iter().map(|panel| panel.curve[i]).collect::<Vec<Shares>>())
        };
        let curve = (0..times.len()).map(at).collect();
        Fire { duration, panels, covered, error, times, curve, grams: Vec::new() }
    }
}

/// Refuses a quilting that cannot be.
pub(super) fn check_all(layups: &[Worn], quilts: Quilts) -> Result<(), BodyError> {
    for worn in layups {
        if let Some(quilting) = quilting(&worn.layup, quilts) {
            check(&worn.layup, quilting).map_err(BodyError::Quilt)?;
        }
    }
    Ok(())
}

/// What fewer gaps and places, and the least and the most that meshes leave open, make of shares [–].
fn open_by(shares: &Shares, [halved, least, most]: [Shares; 3]) -> Shares {
    [0, 1, 2].map(|d| {
        let meshes = (most[d] - shares[d]).max(shares[d] - least[d]);
        (shares[d] - halved[d]).abs() + meshes
    })
}

/// The parts of a panel in a layup; layups that are new are added.
pub fn parts(panel: &Panel, layup: &Layup, layups: &mut Vec<Worn>) -> Vec<Part> {
    let is_pressed = panel.pressure.is_some() || layup.pressure.is_some();
    let places = worn(panel, layup);
    let under = panel.embroidery.as_ref().map_or(0.0, |embroidery| embroidery.share);
    let spots: &[(Spot, f64)] = match places.len() {
        1 => &[(Spot::Whole, 1.0)],
        _ => &[(Spot::Beside, 1.0 - under), (Spot::Under, under)],
    };
    let all = places.into_iter().zip(spots).map(|(layup, (spot, share))| {
        let worn = Worn { layup: with_gap(&layup, 0.0), is_pressed };
        let kind = layups.iter().position(|known| *known == worn).unwrap_or_else(|| {
            layups.push(worn);
            layups.len() - 1
        });
        Part { spot: *spot, share: *share, kind }
    });
    all.collect()
}

/// The air behind a panel; none where it is pressed.
pub(super) fn air_of(suit: &Suit, panel: &Panel, terms: &Terms<'_>) -> Result<Air, BodyError> {
    let (name, place) = (panel.name.clone(), panel.place);
    if terms.map.region(place).is_none() {
        return Err(BodyError::NoRegion { panel: name, place });
    }
    let Some(at) = terms.map.air(place) else {
        return Err(BodyError::NoAir { panel: name, place });
    };
    if panel.pressure.is_some() || panel.layup.pressure.is_some() {
        return Ok(Air::PRESSED);
    }
    let drawn_for = measures(&suit.body);
    let factors = terms.map.factors(terms.fit.unwrap_or(suit.fit));
    let wearer = terms.wearer.map_or(drawn_for, measures);
    Ok(Air::at(at, factors, wearer, drawn_for).shrunk(at, terms.shrunk))
}
