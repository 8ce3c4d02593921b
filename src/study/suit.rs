//! A suit exposed panel by panel, and what it weighs.

use rayon::prelude::*;

use crate::bench::expose::{Behind, Question, expose};
use crate::bench::lies::Stack;
use crate::bench::outcome::Outcome;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::suit::{Panel, Suit, thread_density};
use crate::garment::target::Figure;
use crate::study::answer::{AnswerError, Quilts, stack};
use crate::study::patch::{Patch, with_patch};
use crate::study::pressed::{Stand, standing};
use crate::study::quilt::screen::N_POINTS;
use crate::study::quilt::{Quilted, quilt};

/// Masses of all pieces of a panel [kg].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelMass {
    /// Plies.
    pub cloth: f64,
    /// Quilting thread.
    pub thread: f64,
    /// Embroidery and patches.
    pub embroidery: f64,
}

impl PanelMass {
    /// All together [kg].
    pub fn total(&self) -> f64 {
        self.cloth + self.thread + self.embroidery
    }
}

/// A layup on a panel, at the places that differ.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The layup as named.
    pub layup: Layup,
    /// Which of the suit's different layups it is, counted from 0.
    pub kind: usize,
    /// Mass of the panel with it.
    pub mass: PanelMass,
    /// Beside the embroidery, then under it if there is any; the flat stack where it is quilted.
    pub outcomes: Vec<Outcome>,
    /// The same places with their quilting; none where the panel is flat, pressed, or quilting was
    /// left out.
    pub quilted: Vec<Option<Quilted>>,
}

/// A panel with its own layup and with each alternative.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelStudy {
    /// Area of all its pieces [m²].
    pub area: f64,
    /// Its own layup first, then the alternatives in the order of the file.
    pub fitted: Vec<Fitted>,
}

impl PanelStudy {
    /// The panel with its own layup.
    pub fn own(&self) -> &Fitted {
        &self.fitted[0]
    }
}

/// A suit exposed.
#[derive(Debug, Clone, PartialEq)]
pub struct SuitStudy {
    /// The suit.
    pub suit: Suit,
    /// Whether quilting was computed.
    pub quilts: Quilts,
    /// Size: the ratio of the wearer's surface to that of the pattern's body [–].
    pub size: f64,
    /// The panels, in the suit's order.
    pub panels: Vec<PanelStudy>,
}

/// How the panels' own layups lie, in the suit's order.
pub(crate) fn stacks(suit: &Suit, quilts: Quilts) -> Vec<Stack<'_>> {
    let panels = suit.panels.iter();
    panels
        .map(|panel| match panel.pressure {
            Some(_) if panel.layup.quilting.is_some() => Stack::Pressed,
            _ => stack(&panel.layup, quilts),
        })
        .collect()
}

impl SuitStudy {
    /// Mass of all panels with their own layups [kg].
    pub fn mass(&self) -> f64 {
        self.panels.iter().map(|panel| panel.own().mass.total()).sum()
    }

    /// How the panels' own layups lay, in the suit's order.
    pub fn stacks(&self) -> Vec<Stack<'_>> {
        stacks(&self.suit, self.quilts)
    }

    /// How many different layups the panels' own and alternative ones are.
    pub fn n_kinds(&self) -> usize {
        let all = self.panels.iter().flat_map(|panel| &panel.fitted);
        all.map(|fitted| fitted.kind + 1).max().unwrap_or(0)
    }
}

/// Mass of a panel of so much area with a layup.
pub fn panel_mass(panel: &Panel, layup: &Layup, area: f64) -> PanelMass {
    let embroidery = panel.embroidery.as_ref();
    PanelMass {
        cloth: area * layup.areal_density(),
        thread: area * thread_density(layup),
        embroidery: embroidery.map_or(0.0, |e| area * e.share * e.fabric.areal_density.value),
    }
}

/// The layup as the panel wears it: beside its embroidery, then under it if there is any.
pub fn worn(panel: &Panel, layup: &Layup) -> Vec<Layup> {
    let stand = panel.pressure.map_or(Stand::AsItLies, Stand::Under);
    let pressed = panel.pressure.is_some() || layup.pressure.is_some();
    // pressure leaves no loft
    let quilting = layup.quilting.clone().filter(|_| !pressed);
    let layup = &Layup { quilting, ..layup.clone() };
    let mut places = vec![standing(layup, stand)];
    if let Some(e) = &panel.embroidery {
        let patch = Patch { fabric: e.fabric.clone(), share: e.share, thread: e.thread };
        let mut covered = with_patch(layup, &patch);
        let thicker = covered.plies_thickness() / layup.plies_thickness();
        if let Some(quilting) = &mut covered.quilting {
            // a stitch line presses the thicker stack in the same proportion
            quilting.pressed.value *= thicker;
        }
        places.push(standing(&covered, stand));
    }
    places
}

/// The flat stack, and the quilted one if that was computed.
type Run = (Outcome, Option<Quilted>);

/// One exposure that some panel needs.
#[derive(PartialEq)]
struct Need<'a> {
    layup: Layup,
    exposure: &'a Exposure,
    behind: Behind,
}

/// Exposes every panel with its own layup and every alternative at a size.
///
/// - `size`: ratio of the wearer's surface to that of the pattern's body [–], above 0
///
/// - `quilts`: whether quilting is computed; a pressed panel is flat either way, as pressure leaves no
///   loft
///
/// Equal cases are run once; the work is spread over the threads, and the result does not depend on
/// their number.
/// Errors: the first case, in the order of the panels, that could not be computed.
pub fn expose_suit(
    suit: &Suit,
    size: f64,
    (skin, quilts): (&Skin, Quilts),
    error_goal: f64,
) -> Result<SuitStudy, AnswerError> {
    let mut cases: Vec<Need> = Vec::new();
    let mut kinds: Vec<&Layup> = Vec::new();
    let mut plan = Vec::new();
    for panel in &suit.panels {
        let behind = match panel.target.figure {
            Figure::SecondDegree => Behind::Skin,
            _ => Behind::Disc,
        };
        let all = std::iter::once(&panel.layup).chain(&panel.alternatives);
        let of_panel = all.map(|layup| {
            let kind = place_of(&mut kinds, layup);
            let places = worn(panel, layup).into_iter();
            let exposure = &panel.exposure;
            let of_place = |layup| place_of(&mut cases, Need { layup, exposure, behind });
            (layup, kind, places.map(of_place).collect::<Vec<usize>>())
        });
        plan.push(of_panel.collect::<Vec<_>>());
    }
    let run = |case: &Need| {
        let question = Question::plain(case.behind, skin, error_goal);
        let outcome = expose(&case.layup, case.exposure, &question).map_err(AnswerError::Bench)?;
        let quilted = match &case.layup.quilting {
            Some(quilting) if quilts == Quilts::Computed => {
                let question = Question { behind: Behind::Both, ..question };
                let quilted = quilt(&case.layup, quilting, case.exposure, &question, N_POINTS);
                Some(quilted.map_err(AnswerError::Quilt)?)
            }
            _ => None,
        };
        Ok((outcome, quilted))
    };
    let done: Vec<Result<Run, AnswerError>> = cases.par_iter().map(run).collect();
    let done = done.into_iter().collect::<Result<Vec<Run>, AnswerError>>()?;
    let panels = suit.panels.iter().zip(plan).map(|(panel, of_panel)| {
        let area = suit.area(panel, size);
        let fitted = of_panel.into_iter().map(|(layup, kind, places)| Fitted {
            layup: layup.clone(),
            kind,
            mass: panel_mass(panel, layup, area),
            outcomes: places.iter().map(|i| done[*i].0.clone()).collect(),
            quilted: places.iter().map(|i| done[*i].1.clone()).collect(),
        });
        PanelStudy { area, fitted: fitted.collect() }
    });
    Ok(SuitStudy { suit: suit.clone(), quilts, size, panels: panels.collect() })
}

/// Where an item stands in the list; it is added if it does not.
pub(crate) fn place_of<T: PartialEq>(list: &mut Vec<T>, item: T) -> usize {
    match list.iter().position(|known| *known == item) {
        Some(i) => i,
        None => {
            list.push(item);
            list.len() - 1
        }
    }
}
