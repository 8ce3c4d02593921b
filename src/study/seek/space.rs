//! All combinations of a brief, each with a number.

use crate::garment::brief::{Brief, GapPlace, Stitching};
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, Ply, PlyJoint, Quilting};
use crate::study::quilt::cell::thread_mass;
use crate::study::quilt::lay::check;

/// Most combinations that a brief may have.
pub const MOST: u64 = 1_000_000_000;

/// The combinations of a brief; number 0 comes first, stitching changes fastest, then gaps, inner,
/// felts, outer.
#[derive(Debug, Clone)]
pub struct Space<'a> {
    /// The brief.
    pub brief: &'a Brief,
    blocks: Vec<Block>,
    n_total: u64,
}

/// Combinations with the same number of felts.
#[derive(Debug, Clone)]
struct Block {
    n_felts: usize,
    /// Places of the gaps, outermost first, and how many gaps each may have.
    places: Vec<(GapPlace, u64)>,
    first: u64,
    n: u64,
}

/// One combination.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Its number.
    pub index: u64,
    /// Its plies.
    pub plies: Plies,
    /// Gap behind each ply [m]; 0 where it touches what follows.
    pub gaps: Vec<f64>,
    /// How the plies are stitched together; none for loose plies.
    pub stitching: Option<Stitching>,
}

/// Whether a combination can be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// It keeps to the limits.
    Within,
    /// It is beyond a limit on mass or thickness.
    Beyond,
    /// Its plies cannot be stitched so: nothing but fibre would be left under the stitch line, or
    /// no joint between the plies can take in air.
    Unstitchable,
}

/// The plies of a combination, as places in the brief's lists.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Plies {
    /// The outermost.
    pub outer: usize,
    /// Those between, outermost first.
    pub felts: Vec<usize>,
    /// The innermost.
    pub inner: usize,
}

impl<'a> Space<'a> {
    /// The space of a brief; none when it has more than [`MOST`] combinations or none at all.
    pub fn of(brief: &'a Brief) -> Option<Space<'a>> {
        let mut blocks = Vec::new();
        let mut first = 0u64;
        let (least, most) = brief.n_felts;
        let in_limits =
            |n: &usize| (brief.limits.plies_least..=brief.limits.plies_most).contains(&(n + 2));
        for n_felts in (least..=most).filter(in_limits) {
            let places = gap_places(brief, n_felts);
            let mut n = (brief.outer.len() as u64).checked_mul(brief.inner.len() as u64)?;
            for _ in 0..n_felts {
                n = n.checked_mul(brief.felts.len() as u64)?;
            }
            for (_, count) in &places {
                n = n.checked_mul(*count)?;
            }
            n = n.checked_mul(brief.stitchings.len() as u64)?;
            blocks.push(Block { n_felts, places, first, n });
            first = first.checked_add(n)?;
        }
        (first > 0 && first <= MOST).then_some(Space { brief, blocks, n_total: first })
    }

    /// How many combinations there are, those beyond a limit included.
    pub fn n_total(&self) -> u64 {
        self.n_total
    }

    /// Combination number `index`; none beyond the last.
    pub fn candidate(&self, index: u64) -> Option<Candidate> {
        let block = self.blocks.iter().find(|block| index < block.first + block.n)?;
        let mut rest = index - block.first;
        let mut digit = |base: u64| {
            let digit = rest % base;
            rest /= base;
            digit as usize
        };
        let stitching = self.brief.stitchings[digit(self.brief.stitchings.len() as u64)];
        let mut gaps: Vec<f64> = block
            .places
            .iter()
            .rev()
            .map(|(place, count)| {
                let i = digit(*count);
                self.brief.gap_range(*place).map_or(0.0, |range| range.value(i))
            })
            .collect();
        gaps.reverse();
        let inner = digit(self.brief.inner.len() as u64);
        let mut felts: Vec<usize> =
            (0..block.n_felts).map(|_| digit(self.brief.felts.len() as u64)).collect();
        felts.reverse();
        let outer = digit(self.brief.outer.len() as u64);
        Some(Candidate { index, plies: Plies { outer, felts, inner }, gaps, stitching })
    }

    /// The fabrics of some plies, outermost first.
    pub fn fabrics(&self, plies: &Plies) -> impl Iterator<Item = &'a Fabric> {
        let brief = self.brief;
        let felts: Vec<&Fabric> = plies.felts.iter().map(|i| &brief.felts[*i]).collect();
        let (outer, inner) = (&brief.outer[plies.outer], &brief.inner[plies.inner]);
        std::iter::once(outer).chain(felts).chain(std::iter::once(inner))
    }

    /// Thickness of the plies without gaps and loft [m].
    fn plies_thickness(&self, plies: &Plies) -> f64 {
        self.fabrics(plies).map(|fabric| fabric.thickness.value).sum()
    }

    /// Areal density of plies and thread, moisture included [kg/m²].
    pub fn areal_density(&self, candidate: &Candidate) -> f64 {
        let plies: f64 =
            self.fabrics(&candidate.plies).map(|fabric| fabric.areal_density.value).sum();
        let thread = self.quilting(candidate).and_then(|quilting| thread_mass(&quilting));
        plies + thread.unwrap_or(0.0)
    }

    /// Thickness of plies, gaps and the loft at the middle of a cell together [m].
    pub fn thickness(&self, candidate: &Candidate) -> f64 {
        self.plies_thickness(&candidate.plies)
            + candidate.gaps.iter().sum::<f64>()
            + candidate.stitching.map_or(0.0, |stitching| stitching.loft)
    }

    fn quilting(&self, candidate: &Candidate) -> Option<Quilting> {
        let stitching = candidate.stitching?;
        Some(stitching.quilting(self.plies_thickness(&candidate.plies)))
    }

    /// Whether the combination keeps to the limits on mass and thickness, exactly at one included,
    /// and can be stitched.
    pub fn fit(&self, candidate: &Candidate) -> Fit {
        let limits = &self.brief.limits;
        let keeps = |value: f64, limit: Option<f64>| {
            limit.is_none_or(|limit| value <= limit * (1.0 + 1e-9))
        };
        let within = keeps(self.areal_density(candidate), limits.areal_density)
            && keeps(self.thickness(candidate), limits.thickness);
        if !within {
            return Fit::Beyond;
        }
        match self.quilting(candidate) {
            Some(quilting) if check(&self.layup(candidate), &quilting).is_err() => {
                Fit::Unstitchable
            }
            _ => Fit::Within,
        }
    }

    /// The layup of a combination, nameless.
    pub fn layup(&self, candidate: &Candidate) -> Layup {
        let mut stack = Vec::with_capacity(2 * candidate.gaps.len());
        for (fabric, gap) in self.fabrics(&candidate.plies).zip(&candidate.gaps) {
            let open = *gap > 0.0;
            let joint = if open { PlyJoint::Faces } else { self.brief.joint.clone() };
            stack.push(Entry::Ply(Box::new(Ply { fabric: fabric.clone(), joint })));
            if open {
                let thickness = Known::new(*gap, Provenance::Estimated, "");
                stack.push(Entry::Gap(Gap { thickness }));
            }
        }
        let (name, note) = (String::new(), String::new());
        Layup { name, note, stack, pressure: None, quilting: self.quilting(candidate) }
    }
}

/// The places of the gaps behind each ply, and how many gaps each may have.
fn gap_places(brief: &Brief, n_felts: usize) -> Vec<(GapPlace, u64)> {
    (0..n_felts + 2)
        .map(|ply| place_behind(ply, n_felts))
        .map(|place| (place, brief.gap_range(place).map_or(1, |range| range.n_values() as u64)))
        .collect()
}

/// The place behind ply `ply`, counted from 0, of a stack with so many felts.
pub fn place_behind(ply: usize, n_felts: usize) -> GapPlace {
    match ply {
        0 => GapPlace::BehindOuter,
        ply if ply > n_felts => GapPlace::BehindInner,
        ply if ply == n_felts => GapPlace::BeforeInner,
        _ => GapPlace::BetweenFelts,
    }
}
