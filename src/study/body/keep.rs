//! The lightest layups of a suit that keep a share burnt.
//!
//! Each panel takes one of its layups, its own or an alternative; what of it burns does not depend on the others,
//! so that the share burnt of the suit is a sum over the panels, as its mass is. The search is `suit`'s exact one
//! ([`Task::exact_within`]) with a budget for every fire.

use crate::garment::layup::Layup;
use crate::garment::suit::{Panel, Suit};
use crate::study::body::ask::{LEVELS, Ran, ran};
use crate::study::body::record::{BodyError, PanelAir, Shares};
use crate::study::body::runs::{Work, Worn};
use crate::study::body::worn::{Terms, WornPanel, WornSuit, air_of, check_all, parts};
use crate::study::saving::{Budget, Choice, Picks, Task};
use crate::study::suit::{panel_mass, place_of};

/// Which degree is kept: the second.
const DEGREE: usize = 1;

/// A panel with one of its layups.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Name of the layup.
    pub layup: String,
    /// Share of the panel with a second degree after each fire [–].
    pub burnt: Vec<f64>,
    /// What gaps, places and meshes leave open in these, a bound [–].
    pub error: Vec<f64>,
}

/// What came of the search.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    /// The most of what is covered that may have a second degree, after each fire [–].
    pub at_most: f64,
    /// How long the fires last [s].
    pub durations: Vec<f64>,
    /// Names of the panels, in the suit's order.
    pub panels: Vec<String>,
    /// The layups of each, its own first.
    pub candidates: Vec<Vec<Candidate>>,
    /// Share of what is covered that each panel is [–].
    pub weights: Vec<f64>,
    /// The question; its budgets are the fires.
    pub task: Task,
    /// A budget for each fire, in shares of what is covered.
    pub budgets: Vec<Budget>,
    /// The lightest picks; none where none keep to the share.
    pub found: Option<Picks>,
    /// What the runs took.
    pub work: Work,
}

impl Kept {
    /// Share of what is covered with a second degree after a fire with these picks [–].
    pub fn share(&self, picks: &Picks, fire: usize) -> f64 {
        self.budgets[fire].spent(&picks.picks)
    }

    /// What is left open in that share, a bound [–].
    pub fn error(&self, picks: &Picks, fire: usize) -> f64 {
        let panels = self.candidates.iter().zip(&picks.picks).zip(&self.weights);
        panels.map(|((candidates, j), weight)| weight * candidates[*j].error[fire]).sum()
    }

    /// The least share of what is covered that any picks have after a fire, however many layups they take [–].
    pub fn least(&self, fire: usize) -> f64 {
        let least = |adds: &Vec<f64>| adds.iter().copied().fold(f64::INFINITY, f64::min);
        self.budgets[fire].adds.iter().map(least).sum()
    }
}

/// A panel with one of its layups, to be run.
struct Planned {
    worn: WornPanel,
    layup: String,
    choice: Choice,
}

/// The lightest layups, of the panels' own and alternatives, with which at most so much of what is covered has a
/// second degree after every fire, of no more different layups than the suit may have.
///
/// - `at_most`: [–]
///
/// Errors: [`BodyError`].
pub fn keep_share(suit: &Suit, terms: &Terms<'_>, at_most: f64) -> Result<Kept, BodyError> {
    let own = WornSuit::of(suit, terms)?;
    let mut layups: Vec<Worn> = Vec::new();
    let mut kinds: Vec<&Layup> = Vec::new();
    let mut planned: Vec<Vec<Planned>> = Vec::new();
    for (panel, own) in suit.panels.iter().zip(&own.panels) {
        let mut of_panel = Vec::new();
        for layup in std::iter::once(&panel.layup).chain(&panel.alternatives) {
            let with = Panel { layup: layup.clone(), ..panel.clone() };
            let air = air_of(suit, &with, terms)?;
            let parts = parts(panel, layup, &mut layups);
            let mass = panel_mass(panel, layup, suit.area(panel, 1.0)).total();
            of_panel.push(Planned {
                worn: WornPanel { parts, on: PanelAir { share: own.on.share, air } },
                layup: layup.name.clone(),
                // nothing but the budgets keeps a layup from a panel
                choice: Choice { mass, spare: Some(0.0), kind: place_of(&mut kinds, layup) },
            });
        }
        planned.push(of_panel);
    }
    check_all(&layups, terms.quilts)?;
    let Ran { settled, work, .. } = ran(&layups, terms, LEVELS)?;
    let ended: Vec<Vec<(Shares, Shares)>> = settled
        .iter()
        .map(|settled| {
            let all = planned.iter().flatten();
            all.map(|planned| own.ended(&planned.worn, settled)).collect()
        })
        .collect();
    let covered: f64 = own.panels.iter().map(|panel| panel.on.share).sum();
    let weights: Vec<f64> = own.panels.iter().map(|panel| panel.on.share / covered).collect();
    let mut i = 0..;
    let candidates: Vec<Vec<Candidate>> = planned
        .iter()
        .map(|panel| {
            let candidate = |(planned, i): (&Planned, usize)| Candidate {
                layup: planned.layup.clone(),
                burnt: ended.iter().map(|fire| fire[i].0[DEGREE]).collect(),
                error: ended.iter().map(|fire| fire[i].1[DEGREE]).collect(),
            };
            panel.iter().zip(i.by_ref()).map(candidate).collect()
        })
        .collect();
    let budget = |fire: usize| Budget {
        most: at_most,
        adds: candidates
            .iter()
            .zip(&weights)
            .map(|(panel, weight)| panel.iter().map(|c| weight * c.burnt[fire]).collect())
            .collect(),
    };
    let budgets: Vec<Budget> = (0..settled.len()).map(budget).collect();
    let panels = planned.iter().map(|panel| panel.iter().map(|p| p.choice).collect()).collect();
    let task = Task { panels, floor: 0.0, kinds_at_most: suit.layups_at_most };
    Ok(Kept {
        at_most,
        durations: terms.durations.to_vec(),
        panels: suit.panels.iter().map(|panel| panel.name.clone()).collect(),
        candidates,
        weights,
        found: task.exact_within(&budgets),
        task,
        budgets,
        work,
    })
}
