//! The record of a suit on a body.

use std::fmt;

use crate::bench::lies::Stack;
use crate::garment::body_map::BodyMap;
use crate::garment::exposure::Exposure;
use crate::garment::suit::{Fit, Place, Suit};
use crate::solver::error::SolverError;
use crate::study::answer::Quilts;
use crate::study::body::air::{Air, Measures};
use crate::study::body::cell::First;
use crate::study::body::runs::Work;
use crate::study::odds::inputs::TooDense;
use crate::study::quilt::QuiltError;
use crate::study::suit::stacks;
use crate::study::suit_judged::Spot;

/// Shares of an area with a burn of at least the first, second and third degree [–].
pub type Shares = [f64; 3];

/// Why a suit has no answer on a body.
#[derive(Debug, Clone, PartialEq)]
pub enum BodyError {
    /// A panel lies at a place that no region has.
    NoRegion {
        /// The panel.
        panel: String,
        /// Its place.
        place: Place,
    },
    /// Nothing is said of the air behind a panel.
    NoAir {
        /// The panel.
        panel: String,
        /// Its place.
        place: Place,
    },
    /// The panels cover more than the body has.
    TooLarge {
        /// What they cover of the body [–].
        covered: f64,
    },
    /// A fabric was drawn denser than its fibre.
    TooDense(TooDense),
    /// A quilting cannot be.
    Quilt(QuiltError),
    /// The solver gave up.
    Solver(SolverError),
}

impl fmt::Display for BodyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BodyError::NoRegion { panel, place } => {
                write!(f, "panel `{panel}` lies at the {}, which is on no region", place.word())
            }
            BodyError::NoAir { panel, place } => {
                write!(
                    f,
                    "panel `{panel}` lies at the {}, of whose air nothing is said",
                    place.word()
                )
            }
            BodyError::TooLarge { covered } => {
                write!(f, "the panels cover {:.1} % of the body", 100.0 * covered)
            }
            BodyError::TooDense(error) => write!(f, "{error}"),
            BodyError::Quilt(error) => write!(f, "{}", error.what()),
            BodyError::Solver(error) => write!(f, "a run in front of skin stopped: {error}"),
        }
    }
}

impl std::error::Error for BodyError {}

/// A panel on the body.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelAir {
    /// Share of the body that all its pieces cover [–].
    pub share: f64,
    /// The air behind it.
    pub air: Air,
}

/// A panel after a fire.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelBurn {
    /// What share of it has burnt at the end, by degree.
    pub end: Shares,
    /// What gaps, places and meshes leave open in these, a bound [–].
    pub error: Shares,
    /// Where and when the second degree comes first on it; none where it does not come.
    pub first: Option<PanelFirst>,
    /// The shares at each of the fire's times.
    pub curve: Vec<Shares>,
}

/// Where a panel burns first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelFirst {
    /// Beside or under its embroidery.
    pub spot: Spot,
    /// When, at which place of a cell, and whether in contact.
    pub first: First,
}

/// What a gram more of a ply on a panel brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Gram {
    /// Which panel, counted from 0.
    pub panel: usize,
    /// Name of the ply's fabric.
    pub ply: String,
    /// By how much the share of the whole body with a second degree falls [1/kg].
    pub share: f64,
    /// By how much later the panel's first second degree comes [s/kg]; none where it does not come, or no longer.
    pub time: Option<f64>,
}

/// The body after one fire.
#[derive(Debug, Clone, PartialEq)]
pub struct Fire {
    /// How long it lasts [s].
    pub duration: f64,
    /// The panels, in the suit's order.
    pub panels: Vec<PanelBurn>,
    /// Shares of the covered area at the end.
    pub covered: Shares,
    /// What gaps, places and meshes leave open in these, a bound [–].
    pub error: Shares,
    /// Times at which shares are told, 0 first [s].
    pub times: Vec<f64>,
    /// Shares of the covered area at these times.
    pub curve: Vec<Shares>,
    /// What a gram more of each ply of each panel brings; empty where that was not asked for.
    pub grams: Vec<Gram>,
}

/// A suit on a body after one fire and another.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyStudy {
    /// The suit.
    pub suit: Suit,
    /// The exposure; its duration is each fire's own.
    pub exposure: Exposure,
    /// Name of the skin model.
    pub skin: String,
    /// Whether quilting was computed.
    pub quilts: Quilts,
    /// Regions and air.
    pub map: BodyMap,
    /// How wide the suit is.
    pub fit: Fit,
    /// Who wears it: mass [kg] and height [m].
    pub wearer: Measures,
    /// Length that the cloth loses in the fire, as a share of it [–]; 0 where none was given.
    pub shrunk: f64,
    /// The panels on the body, in the suit's order.
    pub airs: Vec<PanelAir>,
    /// The fires, in the order asked for.
    pub fires: Vec<Fire>,
    /// What the runs took.
    pub work: Work,
}

impl BodyStudy {
    /// Share of the body that the panels cover [–].
    pub fn covered(&self) -> f64 {
        self.airs.iter().map(|panel| panel.share).sum()
    }

    /// Share of the body that they leave bare [–].
    pub fn uncovered(&self) -> f64 {
        (1.0 - self.covered()).max(0.0)
    }

    /// Shares of the whole body, bare parts counted as not burnt [–].
    pub fn whole(&self, of_covered: &Shares) -> Shares {
        of_covered.map(|share| share * self.covered())
    }

    /// Shares of the whole body, bare parts counted as burnt to the third degree [–].
    pub fn whole_with_bare(&self, of_covered: &Shares) -> Shares {
        self.whole(of_covered).map(|share| share + self.uncovered())
    }

    /// How the panels' layups lay.
    pub fn stacks(&self) -> Vec<Stack<'_>> {
        stacks(&self.suit, self.quilts)
    }
}

impl Fire {
    /// The panel whose second degree comes first; none where none comes.
    pub fn first(&self) -> Option<(usize, PanelFirst)> {
        let all = self.panels.iter().enumerate();
        let all = all.filter_map(|(i, panel)| Some((i, panel.first?)));
        all.min_by(|a, b| a.1.first.t.total_cmp(&b.1.first.t))
    }
}
