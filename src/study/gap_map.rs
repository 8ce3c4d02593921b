//! Layups against gaps: one figure of every layup at every gap, and what plies and gap move it by.

use crate::bench::figure::Found;
use crate::garment::layup::Layup;
use crate::garment::target::Figure;
use crate::study::gap::GapSweep;

/// One figure of layups at gaps.
#[derive(Debug, Clone, PartialEq)]
pub struct GapMap {
    /// The sweeps, one a layup, over the same gaps; at least one.
    pub sweeps: Vec<GapSweep>,
    /// The figure: one that a sweep tells.
    pub figure: Figure,
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
        sweep.points[at.column].found(self.figure, sweep.exposure.t_end)
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
