//! A brief: which layups are looked at, what they must hold, and what is to be least.

use crate::garment::band::Bands;
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Pattern, PlyJoint, Quilting};
use crate::garment::skin::Skin;
use crate::garment::target::Target;

/// Thinnest air gap that a brief may ask for or a search may close in on [m].
pub const GAP_LEAST: f64 = 5e-5;

/// What is to be least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Minimise {
    /// Areal density.
    Mass,
    /// Thickness with the gaps.
    Thickness,
}

impl Minimise {
    /// The word used in files.
    pub fn word(self) -> &'static str {
        match self {
            Minimise::Mass => "mass",
            Minimise::Thickness => "thickness",
        }
    }
}

/// How far above a target's threshold a figure is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Margin {
    /// By a share of the threshold [–].
    Share(f64),
    /// By a time [s].
    Time(f64),
}

/// A target with the margin wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The target.
    pub target: Target,
    /// The exposure that it is meant for.
    pub exposure: Exposure,
    /// The margin.
    pub margin: Margin,
    /// Least share of drawn sets that reach the target itself [–]; none where odds are not asked for.
    pub odds: Option<f64>,
}

impl Wanted {
    /// The least value of the figure that keeps the margin [SI of the figure].
    pub fn at_least(&self) -> f64 {
        match self.margin {
            Margin::Share(share) => self.target.at_least * (1.0 + share),
            Margin::Time(t) => self.target.at_least + t,
        }
    }
}

/// A place where a gap may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum GapPlace {
    /// Between the outer and what follows.
    BehindOuter,
    /// Between each felt and the next.
    BetweenFelts,
    /// Between the last felt and the inner.
    BeforeInner,
    /// Between the inner and what is behind the layup.
    BehindInner,
}

impl GapPlace {
    /// All of them, outermost first.
    pub const ALL: [GapPlace; 4] = [
        GapPlace::BehindOuter,
        GapPlace::BetweenFelts,
        GapPlace::BeforeInner,
        GapPlace::BehindInner,
    ];

    /// The words used in files and output.
    pub fn words(self) -> &'static str {
        match self {
            GapPlace::BehindOuter => "behind outer",
            GapPlace::BetweenFelts => "between felts",
            GapPlace::BeforeInner => "before inner",
            GapPlace::BehindInner => "behind inner",
        }
    }
}

/// The gaps looked at in one place; 0 stands for plies that touch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GapRange {
    /// The place.
    pub place: GapPlace,
    /// The thinnest [m]; 0, or at least [`GAP_LEAST`].
    pub least: f64,
    /// The thickest [m].
    pub most: f64,
    /// From one to the next [m], above 0.
    pub step: f64,
}

impl GapRange {
    /// How many gaps are looked at.
    pub fn n_values(&self) -> usize {
        ((self.most - self.least) / self.step + 1e-6).floor() as usize + 1
    }

    /// Gap number `i`, thinnest first [m].
    pub fn value(&self, i: usize) -> f64 {
        self.least + i as f64 * self.step
    }
}

/// How the plies of a combination are stitched together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stitching {
    /// Course of the stitch lines.
    pub pattern: Pattern,
    /// Distance between neighbouring stitch lines [m].
    pub pitch: f64,
    /// Width over which a stitch line presses the plies [m], less than the pitch.
    pub stitch_width: f64,
    /// Air that the plies take in between them at the middle of a cell [m].
    pub loft: f64,
    /// Thickness under a stitch line over that of the loose plies [–], in (0, 1].
    pub pressed_share: f64,
    /// Thread per length of stitch line [kg/m].
    pub thread: Option<f64>,
}

impl Stitching {
    /// The quilting of plies that are `thickness` [m] thick together; pressed to whole micrometres,
    /// so that a file holds what was exposed.
    pub fn quilting(&self, thickness: f64) -> Quilting {
        let known = |value| Known::new(value, Provenance::Estimated, "");
        Quilting {
            pattern: self.pattern,
            pitch: known(self.pitch),
            stitch_width: known(self.stitch_width),
            loft: known(self.loft),
            pressed: known((1e6 * self.pressed_share * thickness + 1e-6).floor() * 1e-6),
            thread: self.thread.map(known),
        }
    }
}

/// What no layup may go beyond.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Most areal density [kg/m²].
    pub areal_density: Option<f64>,
    /// Most thickness with the gaps [m].
    pub thickness: Option<f64>,
    /// Fewest plies.
    pub plies_least: usize,
    /// Most plies.
    pub plies_most: usize,
}

/// What is sought.
#[derive(Debug, Clone, PartialEq)]
pub struct Brief {
    /// Its name.
    pub name: String,
    /// What it is for, in words; may be empty.
    pub note: String,
    /// What is to be least.
    pub minimise: Minimise,
    /// The targets, at least one.
    pub wanted: Vec<Wanted>,
    /// Fabrics for the outermost ply.
    pub outer: Vec<Fabric>,
    /// Fabrics for the plies between; each may be used several times.
    pub felts: Vec<Fabric>,
    /// Fabrics for the innermost ply.
    pub inner: Vec<Fabric>,
    /// Fewest and most plies between outer and inner.
    pub n_felts: (usize, usize),
    /// Gaps, at most one range a place; plies touch where there is none.
    pub gaps: Vec<GapRange>,
    /// What lies between plies that touch.
    pub joint: PlyJoint,
    /// Ways of stitching, none among them for loose plies; at least one entry.
    pub stitchings: Vec<Option<Stitching>>,
    /// What no layup may go beyond.
    pub limits: Limits,
    /// How many layups the shortlist holds at most.
    pub n_shortlist: usize,
    /// Sets of specimens drawn for the odds of a layup; 0 leaves odds out.
    pub n_sets: usize,
    /// The skin that stands for a wearer's where one is needed.
    pub skin: Skin,
    /// How far the bench may lie from a prediction.
    pub bands: Bands,
}

impl Brief {
    /// The range of gaps in a place, if any.
    pub fn gap_range(&self, place: GapPlace) -> Option<&GapRange> {
        self.gaps.iter().find(|range| range.place == place)
    }

    /// Whether any target asks for odds.
    pub fn wants_odds(&self) -> bool {
        self.wanted.iter().any(|wanted| wanted.odds.is_some())
    }

    /// Whether any combination is quilted.
    pub fn is_quilted(&self) -> bool {
        self.stitchings.iter().any(Option::is_some)
    }
}
