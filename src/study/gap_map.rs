//! Layups against gaps: one figure of every layup at every gap, and what plies and gap move it by.

use crate::bench::figure::Found;
use crate::garment::brief::{GapPlace, Minimise, Wanted};
use crate::garment::layup::Layup;
use crate::garment::suit::sewn_density;
use crate::garment::target::Figure;
use crate::study::gap::{GapSweep, with_gap};

/// One figure of layups at gaps.
#[derive(Debug, Clone, PartialEq)]
pub struct GapMap {
    /// The sweeps, one a layup, over the same gaps; at least one.
    pub sweeps: Vec<GapSweep>,
    /// The figure: one that a sweep tells.
    pub figure: Figure,
    /// What a brief asks of them; none where no brief was drawn.
    pub asked: Option<Asked>,
}

/// What a brief asks of the layups of its map.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The brief's name.
    pub brief: String,
    /// The target with its margin.
    pub wanted: Wanted,
    /// What is to be least.
    pub minimise: Minimise,
    /// Most thickness with the gaps [m].
    pub thickness: Option<f64>,
    /// Places of the swept gaps, outermost first.
    pub swept: Vec<GapPlace>,
    /// Places of the gaps that stay at their least.
    pub still: Vec<GapPlace>,
    /// Stacks of plies that are left out: beyond the brief's limits even so.
    pub n_beyond: usize,
    /// Those that have no gap in that place.
    pub n_without: usize,
}

/// A cell: its layup and its gap, by their places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// Place of the layup, from 0.
    pub row: usize,
    /// Place of the gap, from 0.
    pub column: usize,
}

/// By how much the figure goes, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Where it is shortest.
    pub low: Spot,
    /// Where it is longest.
    pub high: Spot,
    /// By how much it is longer there [s].
    pub by: f64,
}

impl GapMap {
    /// The gaps [m].
    pub fn gaps(&self) -> Vec<f64> {
        self.sweeps.first().map_or(Vec::new(), |one| one.points.iter().map(|p| p.gap).collect())
    }

    /// A layup.
    pub fn layup(&self, row: usize) -> &Layup {
        &self.sweeps[row].layup
    }

    /// What is known of a cell.
    pub fn found(&self, at: Spot) -> Found {
        let sweep = &self.sweeps[at.row];
        sweep.points[at.column].found(self.figure, &sweep.exposure)
    }

    /// The figure of a cell where it was reached [s].
    pub fn value(&self, at: Spot) -> Option<f64> {
        self.found(at).valued().map(|valued| valued.value)
    }

    /// All cells, layup by layup.
    pub fn spots(&self) -> impl Iterator<Item = Spot> + use<> {
        let (n_rows, n_columns) = (self.sweeps.len(), self.gaps().len());
        (0..n_rows).flat_map(move |row| (0..n_columns).map(move |column| Spot { row, column }))
    }

    /// The gap at which a layup lasts longest, the narrowest of equal ones.
    pub fn best(&self, row: usize) -> Option<Spot> {
        self.span(self.spots().filter(|spot| spot.row == row)).map(|span| span.high)
    }

    /// Shortest and longest of all; none where no cell is known.
    pub fn whole(&self) -> Option<Span> {
        self.span(self.spots())
    }

    /// The most that the choice of layup moves the figure by at one gap.
    pub fn by_plies(&self) -> Option<Span> {
        let columns = 0..self.gaps().len();
        widest(columns.filter_map(|i| self.span(self.spots().filter(|spot| spot.column == i))))
    }

    /// The most that the gap moves the figure by in one layup.
    pub fn by_gap(&self) -> Option<Span> {
        let rows = 0..self.sweeps.len();
        widest(rows.filter_map(|i| self.span(self.spots().filter(|spot| spot.row == i))))
    }

    /// Thickness with the gaps, and a quilted layup's loft at the middle of a cell [m].
    pub fn thickness(&self, at: Spot) -> f64 {
        let sweep = &self.sweeps[at.row];
        let layup = with_gap(&sweep.layup, &sweep.plies, sweep.points[at.column].gap);
        layup.thickness() + layup.quilting.map_or(0.0, |quilting| quilting.loft.value)
    }

    /// Whether a cell is thicker than its brief allows.
    pub fn is_too_thick(&self, at: Spot) -> bool {
        let most = self.asked.as_ref().and_then(|asked| asked.thickness);
        most.is_some_and(|most| self.thickness(at) > most * (1.0 + 1e-9))
    }

    /// Whether a cell's figure, less its numerical error, keeps the margin that its brief asks for, within the
    /// limits.
    pub fn keeps(&self, at: Spot) -> bool {
        let Some(asked) = &self.asked else { return false };
        let lowest = self.found(at).lowest();
        lowest.is_some_and(|t| t >= asked.wanted.at_least()) && !self.is_too_thick(at)
    }

    /// Of the cells that keep the margin the one with the least of what the brief wants least.
    pub fn least_keeping(&self) -> Option<Spot> {
        let minimise = self.asked.as_ref()?.minimise;
        let costs = |at: &Spot| {
            let (mass, thickness) = (sewn_density(self.layup(at.row)), self.thickness(*at));
            match minimise {
                Minimise::Mass => [mass, thickness],
                Minimise::Thickness => [thickness, mass],
            }
        };
        let order = |a: &Spot, b: &Spot| {
            let ([a, a_then], [b, b_then]) = (costs(a), costs(b));
            a.total_cmp(&b).then(a_then.total_cmp(&b_then))
        };
        self.spots().filter(|spot| self.keeps(*spot)).min_by(order)
    }

    fn span(&self, spots: impl Iterator<Item = Spot>) -> Option<Span> {
        let mut ends: Option<((f64, Spot), (f64, Spot))> = None;
        for (value, spot) in spots.filter_map(|spot| Some((self.value(spot)?, spot))) {
            let (low, high) = ends.get_or_insert(((value, spot), (value, spot)));
            if value < low.0 {
                *low = (value, spot);
            }
            if value > high.0 {
                *high = (value, spot);
            }
        }
        ends.map(|(low, high)| Span { low: low.1, high: high.1, by: high.0 - low.0 })
    }
}

/// The first of the widest spans.
fn widest(spans: impl Iterator<Item = Span>) -> Option<Span> {
    spans.fold(None, |widest: Option<Span>, span| match widest {
        Some(known) if known.by >= span.by => Some(known),
        _ => Some(span),
    })
}
