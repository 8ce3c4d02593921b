//! Layups of one exposure in an order: by a figure, by mass, by thickness.

use crate::bench::figure::{Found, Told, Verdict, figure_name, hold_outcome, of_outcome};
use crate::bench::outcome::{Outcome, Valued};
use crate::garment::band::{Bands, Factors};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Ply;
use crate::garment::suit::sewn_density;
use crate::garment::target::{Figure, Target};

/// What a ranking is ordered by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// A figure, longest first; what was not reached comes before.
    Figure(Figure),
    /// Mass of plies and quilting thread, lightest first.
    Mass,
    /// Thickness with the gaps, thinnest first.
    Thickness,
}

impl By {
    /// The figure shown: the one ordered by, or the 24 K time.
    pub fn figure(self) -> Figure {
        match self {
            By::Figure(figure) => figure,
            By::Mass | By::Thickness => Figure::Rise24,
        }
    }
}

/// Which layup the differences are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Versus {
    /// The first one named.
    First,
    /// The one that the order puts first.
    Best,
}

/// One layup in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed<'a> {
    /// Its outcome.
    pub outcome: &'a Outcome,
    /// What is known of the figure.
    pub found: Found,
    /// What own tests make of the figure; none where no tests were asked.
    pub told: Option<Told>,
    /// Figure, anchored where tests were asked, less that of the layup counted from, SI; none where
    /// either is not known.
    pub gain: Option<f64>,
    /// Mass of plies and quilting thread less that of the layup counted from [kg/m²].
    pub added: f64,
    /// Whether it is the one counted from.
    pub is_base: bool,
    /// The exposure before its duration was changed, for the targets.
    pub as_given: &'a Exposure,
    /// How far the bench may lie from a prediction.
    pub bands: &'a Bands,
}

impl Placed<'_> {
    /// The figure with its error, SI.
    pub fn valued(&self) -> Option<Valued> {
        self.found.valued()
    }

    /// The figure, anchored where tests were asked, SI.
    pub fn likeliest(&self) -> Option<f64> {
        self.valued().map(|valued| factor(self.told.as_ref()) * valued.value)
    }

    /// The figure held against a target.
    pub fn held(&self, target: &Target) -> Verdict {
        hold_outcome(self.outcome, target, self.as_given, self.bands)
    }

    /// The verdicts on every target.
    pub fn verdicts(&self, targets: &[&Target]) -> Vec<Verdict> {
        targets.iter().map(|target| self.held(target)).collect()
    }

    /// Figure over the mass of plies and quilting thread [SI of the figure per kg/m²].
    pub fn per_mass(&self) -> Option<f64> {
        self.likeliest().map(|value| value / sewn_density(&self.outcome.layup))
    }

    /// Water that the plies hold before the exposure: what may become steam [kg/m²].
    pub fn water(&self) -> f64 {
        let of_ply = |ply: &Ply| ply.fabric.dry_density() * ply.fabric.regain.value;
        self.outcome.layup.plies().map(of_ply).sum()
    }
}

/// The layups of one exposure in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranking<'a> {
    /// What they are ordered by.
    pub by: By,
    /// The layups, first place first.
    pub placed: Vec<Placed<'a>>,
}

impl Ranking<'_> {
    /// Neighbours that lie closer together than the bench may lie from a prediction.
    pub fn n_too_close(&self) -> usize {
        let ends = |placed: &Placed<'_>| {
            let valued = placed.valued()?;
            let Outcome { layup, exposure, .. } = placed.outcome;
            let own = placed.told.as_ref().map(|told| told.band.factors);
            let of_class = || placed.bands.of(layup, self.by.figure(), exposure).factors;
            let Factors { lower, upper } = own.unwrap_or_else(of_class);
            Some((lower * (valued.value - valued.error), upper * (valued.value + valued.error)))
        };
        let ends: Vec<Option<(f64, f64)>> = self.placed.iter().map(ends).collect();
        let close = ends.windows(2).filter(|pair| match pair {
            [Some(one), Some(other)] => one.0 < other.1 && other.0 < one.1,
            _ => false,
        });
        close.count()
    }
}

fn factor(told: Option<&Told>) -> f64 {
    told.map_or(1.0, |told| told.band.factor())
}

/// What own tests make of a figure of an outcome; none where no tests were asked.
fn told(outcome: &Outcome, figure: Figure, bands: &Bands) -> Option<Told> {
    if !bands.is_anchored() {
        return None;
    }
    let (layup, exposure) = (outcome.computed(), &outcome.exposure);
    let found = (figure, of_outcome(outcome, figure));
    let band = bands.of(&layup, figure, exposure);
    Told::new(&layup.name, figure_name(figure, exposure), found, &band)
}

/// Orders the outcomes of one exposure, by anchored figures where own tests are asked; equal ones keep
/// the order given.
///
/// - `as_given`: the exposure before its duration was changed for these outcomes
/// - `bands`: how far the bench may lie from a prediction
pub fn ranking<'a>(
    outcomes: &'a [Outcome],
    by: By,
    versus: Versus,
    (as_given, bands): (&'a Exposure, &'a Bands),
) -> Ranking<'a> {
    let figure = by.figure();
    let mut all_told: Vec<Option<Told>> =
        outcomes.iter().map(|outcome| told(outcome, figure, bands)).collect();
    let mut order: Vec<usize> = (0..outcomes.len()).collect();
    let key = |i: &usize| -> f64 {
        let layup = &outcomes[*i].layup;
        match by {
            By::Mass => sewn_density(layup),
            By::Thickness => layup.thickness(),
            By::Figure(of) => match of_outcome(&outcomes[*i], of) {
                Found::Value { valued, .. } => -factor(all_told[*i].as_ref()) * valued.value,
                Found::AtLeast { .. } => f64::NEG_INFINITY,
                Found::Unsettled { .. } | Found::NotAsked => f64::INFINITY,
            },
        }
    };
    order.sort_by(|a, b| key(a).total_cmp(&key(b)));
    let base = match versus {
        Versus::First => 0,
        Versus::Best => order.first().copied().unwrap_or(0),
    };
    let value = |i: usize| {
        let valued = of_outcome(&outcomes[i], figure).valued()?;
        Some(factor(all_told[i].as_ref()) * valued.value)
    };
    let values: Vec<Option<f64>> = (0..outcomes.len()).map(value).collect();
    let mass = |i: usize| sewn_density(&outcomes[i].layup);
    let placed = order.into_iter().map(|i| Placed {
        outcome: &outcomes[i],
        found: of_outcome(&outcomes[i], figure),
        told: all_told[i].take(),
        gain: values[i].zip(values[base]).map(|(one, other)| one - other),
        added: mass(i) - mass(base),
        is_base: i == base,
        as_given,
        bands,
    });
    Ranking { by, placed: placed.collect() }
}
