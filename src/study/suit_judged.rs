//! Panels held against their targets, the weakest of them, and lighter layups that are no weaker.
//!
//! Weak is what has least to spare over what its class of layup needs to be called above: two plies need
//! more than three for the same target, so that margins over the target do not compare.

use crate::bench::figure::{Found, Told, Under, Verdict, hold, hold_outcome};
use crate::bench::outcome::{Outcome, When};
use crate::garment::band::Bands;
use crate::study::bill::{Bill, bill};
use crate::study::quilt::Quilted;
use crate::study::saving::{Choice, Picks, Task};
use crate::study::suit::{Fitted, PanelStudy, SuitStudy};

/// Where on a panel there is least to spare.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spot {
    /// The panel has no embroidery.
    Whole,
    /// Beside the embroidery.
    Beside,
    /// Under the embroidery.
    Under,
}

/// A panel with one layup, judged at its weaker spot.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// The answer there.
    pub verdict: Verdict,
    /// Which spot it is.
    pub spot: Spot,
    /// Figure, anchored where tests were asked, over threshold less 1 [–]; at least this where the figure was not
    /// reached.
    pub margin: Option<f64>,
    /// What is to spare [–], as [`Verdict::spare`] has it.
    pub spare: Option<f64>,
    /// What stitch lines do there; none where the stack was exposed flat.
    pub stitched: Option<Stitched>,
}

/// A quilted spot beside its flat stack, and skin at its places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stitched {
    /// The target's figure of the flat stack.
    pub flat: Found,
    /// Second-degree burn of skin behind a stitch line.
    pub at_stitch_line: Option<When>,
    /// The same behind the middle of a cell.
    pub at_centre: Option<When>,
}

/// What lighter layups the suit may have.
#[derive(Debug, Clone, PartialEq)]
pub struct Saving {
    /// The question.
    pub task: Task,
    /// The largest single saving, again and again.
    pub greedy: Picks,
    /// The lightest of all.
    pub exact: Picks,
}

/// A suit with everything that is told of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged<'a> {
    /// The suit exposed.
    pub study: &'a SuitStudy,
    /// Each panel with its own layup, then with its alternatives.
    pub panels: Vec<Vec<Judgement>>,
    /// The panel with least to spare; none where that is not known of any.
    pub weakest: Option<usize>,
    /// Lighter layups; none where nothing is known of any panel.
    pub saving: Option<Saving>,
    /// What is to be ordered.
    pub bill: Bill,
}

/// Judges every panel and looks for lighter layups.
///
/// - `bands`: how far the bench may lie from a prediction
pub fn judge<'a>(study: &'a SuitStudy, bands: &Bands) -> Judged<'a> {
    let panels: Vec<Vec<Judgement>> = study
        .panels
        .iter()
        .zip(&study.suit.panels)
        .map(|(studied, panel)| studied.fitted.iter().map(|f| judgement(f, panel, bands)).collect())
        .collect();
    let spares = panels.iter().map(|panel| panel[0].spare).enumerate();
    let known = spares.filter_map(|(i, spare)| spare.map(|spare| (i, spare)));
    let weakest = known.min_by(|a, b| a.1.total_cmp(&b.1));
    let saving = weakest.map(|(_, floor)| {
        let panels = study.panels.iter().zip(&panels).map(|(s, j)| choices(s, j)).collect();
        let task = Task { panels, floor, kinds_at_most: study.suit.layups_at_most };
        Saving { greedy: task.greedy(), exact: task.exact(), task }
    });
    let bill = bill(&study.suit, study.size);
    Judged { study, panels, weakest: weakest.map(|(i, _)| i), saving, bill }
}

fn choices(studied: &PanelStudy, judged: &[Judgement]) -> Vec<Choice> {
    let all = studied.fitted.iter().zip(judged);
    all.map(|(fitted, j)| Choice { mass: fitted.mass.total(), spare: j.spare, kind: fitted.kind })
        .collect()
}

fn judgement(fitted: &Fitted, panel: &crate::garment::suit::Panel, bands: &Bands) -> Judgement {
    let spots: &[Spot] =
        if fitted.outcomes.len() == 1 { &[Spot::Whole] } else { &[Spot::Beside, Spot::Under] };
    let at = |((outcome, quilted), spot): ((&Outcome, &Option<Quilted>), &Spot)| {
        let flat = hold_outcome(outcome, &panel.target, &panel.exposure, bands);
        let (verdict, stitched) = match quilted {
            None => (flat, None),
            Some(quilted) => {
                let found = quilted.figure(panel.target.figure);
                let (target, exposure) = (&panel.target, &panel.exposure);
                let stitched = stitched(quilted, flat.found);
                let layup = &quilted.layup;
                let under = Under { layup, exposure, as_given: exposure, bands };
                (hold(found, target, &under), Some(stitched))
            }
        };
        let margin = verdict.margin_or_least();
        let spare = verdict.spare;
        Judgement { verdict, spot: *spot, margin, spare, stitched }
    };
    // what is not known is the weaker one: nothing can be said of the panel then
    let order = |j: &Judgement| j.spare.unwrap_or(f64::NEG_INFINITY);
    let weaker = fitted.outcomes.iter().zip(&fitted.quilted).zip(spots).map(at);
    weaker
        .min_by(|a, b| order(a).total_cmp(&order(b)))
        .expect("a fitted layup has one outcome at least: `worn` gives the place beside")
}

fn stitched(quilted: &Quilted, flat: Found) -> Stitched {
    let skin = quilted.skin.as_ref();
    Stitched {
        flat,
        at_stitch_line: skin.map(|skin| skin.stitch_line().degrees[1]),
        at_centre: skin.map(|skin| skin.centre().degrees[1]),
    }
}

impl Judged<'_> {
    /// What own tests make of each panel's own figure; empty where no tests were asked.
    pub fn told(&self) -> Vec<Told> {
        let panels = self.study.suit.panels.iter().zip(&self.panels);
        panels.filter_map(|(panel, all)| Told::of_verdict(&panel.name, &all[0].verdict)).collect()
    }

    /// The least that any panel has to spare with these picks [–].
    pub fn weakest_of(&self, picks: &Picks) -> Option<f64> {
        let all = picks.picks.iter().zip(&self.panels).filter_map(|(j, panel)| panel[*j].spare);
        all.min_by(f64::total_cmp)
    }
}
