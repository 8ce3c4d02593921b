//! A field thinned so that its drawing stays small, and the reader told so.

use crate::chart::field_data::{FieldChart, Fill};
use crate::chart::field_paths::{Grid, rings_above};
use crate::chart::frame::Heading;
use crate::chart::scale::Ticks;

/// Most cells drawn; finer fields are thinned to every second, third … node.
const MOST_CELLS: usize = 2400;
/// Most nodes along one side of a contoured field.
const MOST_NODES: usize = 120;
/// Most corners of all contours together.
const MOST_CORNERS: usize = 7000;

/// Places and values of a field, thinned.
#[derive(Debug, Clone)]
pub(crate) struct Thinned {
    xs: Vec<f64>,
    ys: Vec<f64>,
    values: Vec<f64>,
    every: usize,
}

impl Thinned {
    /// Every nth node, the last one always kept.
    fn new(chart: &FieldChart, every: usize) -> Thinned {
        let (nx, ny) = (chart.xs.len(), chart.ys.len());
        let keep =
            |n: usize| -> Vec<usize> { (0..n).filter(|i| i % every == 0 || i + 1 == n).collect() };
        let (is, js) = (keep(nx), keep(ny));
        let values = js.iter().flat_map(|j| is.iter().map(move |i| chart.values[j * nx + i]));
        Thinned {
            values: values.collect(),
            xs: is.iter().map(|i| chart.xs[*i]).collect(),
            ys: js.iter().map(|j| chart.ys[*j]).collect(),
            every,
        }
    }

    pub fn grid(&self) -> Grid<'_> {
        Grid { xs: &self.xs, ys: &self.ys, values: &self.values }
    }

    /// Whether the drawing stays small enough.
    fn fits(&self, fill: Fill, levels: &Ticks) -> bool {
        match fill {
            Fill::Cells => self.values.len() <= MOST_CELLS,
            Fill::Contours if self.xs.len().max(self.ys.len()) > MOST_NODES => false,
            Fill::Contours => {
                let rings =
                    levels.values.iter().flat_map(|level| rings_above(&self.grid(), *level));
                rings.map(|ring| ring.len()).sum::<usize>() <= MOST_CORNERS
            }
        }
    }
}

/// The finest thinning that keeps the file small.
pub(crate) fn thinned(chart: &FieldChart, levels: &Ticks) -> Thinned {
    let coarsest = chart.xs.len().max(chart.ys.len());
    let all = (1..coarsest).map(|every| Thinned::new(chart, every));
    let mut fitting = all.filter(|thin| thin.fits(chart.fill, levels));
    // the corners alone always fit
    fitting.next().unwrap_or_else(|| Thinned::new(chart, coarsest))
}

/// The heading, saying in its summary if nodes were left out.
pub(crate) fn heading_of(chart: &FieldChart, thin: &Thinned) -> Heading {
    let mut heading = chart.heading.clone();
    if thin.every > 1 {
        let summary = if heading.summary.is_empty() { &heading.title } else { &heading.summary };
        heading.summary = format!("{summary} Drawn from one in {} nodes each way.", thin.every);
    }
    heading
}
