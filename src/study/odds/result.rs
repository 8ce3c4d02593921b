//! What the runs say: the spread of the figure, the odds, and what each input adds.

use crate::bench::figure::{Figured, Found};
use crate::garment::target::Judged;
use crate::study::odds::indices::{Index, Runs, indices};
use crate::study::odds::inputs::Inputs;
use crate::study::odds::shortcut::Shortcut;
use crate::study::odds::spread::{Share, quantile, wilson};
use crate::study::odds::surface::{self, Draws, LEFT_MOST, Surface};
use crate::study::odds::work::{N_BLOCKS, Plan, SWING, Work, moving};

/// The value that a set of specimens is judged by.
pub fn judged_value(judged: Judged, values: &[f64]) -> f64 {
    match judged {
        Judged::Lowest => values.iter().copied().fold(f64::INFINITY, f64::min),
        Judged::Mean => values.iter().sum::<f64>() / values.len() as f64,
    }
}

/// The spread of the figure and the odds of the target.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Median.
    pub median: Figured,
    /// Below it lie 5 %.
    pub low: Figured,
    /// Below it lie 95 %.
    pub high: Figured,
    /// The first specimen of each set reaches the target.
    pub one: Share,
    /// All specimens of a set, or their mean, reach it.
    pub set: Share,
}

/// What one input does.
#[derive(Debug, Clone, PartialEq)]
pub struct Contribution {
    /// Its place among the inputs.
    pub input: usize,
    /// The figure with it alone at its 5 % and 95 % quantiles.
    pub swing: [Figured; 2],
    /// Its indices; none when too little was run, or nothing varies.
    pub index: Option<Index>,
}

/// The result of all blocks that were run.
#[derive(Debug, Clone, PartialEq)]
pub struct Odds {
    /// How much was to be drawn.
    pub plan: Plan,
    /// Sets drawn.
    pub n_sets: usize,
    /// Rows of the second design run.
    pub n_rows: usize,
    /// Whether all of the plan was run.
    pub whole: bool,
    /// How a set is judged.
    pub judged: Judged,
    /// What varies.
    pub inputs: Inputs,
    /// The figure with every input at its value.
    pub nominal: Found,
    /// Points over a quilted layup's cell in each draw.
    pub n_points: usize,
    /// How far they are off, as in [`Work::fewer_points`].
    pub fewer_points: Option<f64>,
    /// How a draw was had from the coarsest mesh; none where every draw was settled.
    pub shortcut: Option<Shortcut>,
    /// Numerical error allowed in what was settled, as a share of each time [–].
    pub error_goal: f64,
    /// From the tolerances alone.
    pub tolerances: View,
    /// With the model's own band.
    pub with_model: View,
    /// The first specimen of each set, with the model's own band, in the order drawn.
    pub drawn: Vec<Figured>,
    /// Sets whose answer a figure that was not reached leaves open; counted as not reaching.
    pub n_open: usize,
    /// What each input does, with the model's own band; largest total index first, else largest swing.
    pub contributions: Vec<Contribution>,
    /// Where their indices come from.
    pub shares: Shares,
}

/// Where the indices of the contributions come from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shares {
    /// A surface through the draws.
    Surface {
        /// Terms of it, beside the mean.
        n_terms: usize,
        /// Share of the variance of the figure, the model exact, that it leaves [–].
        left: f64,
    },
    /// Such a surface leaves more than [`LEFT_MOST`]: there are none.
    Rough {
        /// Share that it leaves [–].
        left: f64,
    },
    /// A design of its own, of [`Odds::n_rows`] rows.
    Rows,
    /// Too few draws or rows, or nothing varies: there are none.
    None,
}

impl Odds {
    /// Numerical error of a draw, as a share of it [–]: what is allowed in a settled one, and what others lie
    /// from that.
    pub fn draw_error(&self) -> f64 {
        self.error_goal + self.shortcut.map_or(0.0, |shortcut| shortcut.off)
    }

    /// Largest half width of a contribution's indices [–]; 0 of none.
    pub fn half_width_most(&self) -> f64 {
        let indices = self.contributions.iter().filter_map(|contribution| contribution.index);
        let both = indices.flat_map(|index| [index.first_order, index.total]);
        both.map(|estimate| estimate.half_width).fold(0.0, f64::max)
    }
}

/// The result of what was run so far; none when no set was.
///
/// - `at_least`: the target [s or J/m²]
pub fn odds(work: &Work, judged: Judged, at_least: f64) -> Option<Odds> {
    let n_specimens = work.plan.n_specimens;
    let sets: Vec<&[Figured]> = work.done.specimens.chunks_exact(n_specimens).collect();
    if sets.is_empty() {
        return None;
    }
    let model_of = |set: usize| work.inputs.model(&work.specimen(set, 0));
    let models: Vec<f64> = (0..sets.len()).map(model_of).collect();
    let exact = vec![1.0; sets.len()];
    let counted = |models: &[f64]| Counted::new(&sets, models, judged, at_least);
    let (tolerances, with_model) = (counted(&exact), counted(&models));
    let n_rows = work.done.rows.len() / work.row_length();
    let (indices, shares) = all_indices(work);
    let contributions = contributions(work, indices);
    Some(Odds {
        plan: work.plan,
        n_sets: sets.len(),
        n_rows,
        whole: work.done.n_blocks >= N_BLOCKS,
        judged,
        inputs: work.inputs.clone(),
        nominal: work.nominal,
        n_points: work.ask.n_points,
        fewer_points: work.fewer_points,
        shortcut: work.shortcut,
        error_goal: work.ask.error_goal,
        tolerances: tolerances.view,
        with_model: with_model.view,
        drawn: sets.iter().zip(&models).map(|(set, m)| scaled(set[0], *m)).collect(),
        n_open: with_model.n_open,
        contributions,
        shares,
    })
}

fn scaled(figured: Figured, by: f64) -> Figured {
    Figured { value: figured.value * by, ..figured }
}

struct Counted {
    view: View,
    n_open: usize,
}

impl Counted {
    fn new(sets: &[&[Figured]], models: &[f64], judged: Judged, at_least: f64) -> Counted {
        let mut all: Vec<Figured> = sets
            .iter()
            .zip(models)
            .flat_map(|(set, model)| set.iter().map(|figured| scaled(*figured, *model)))
            .collect();
        let n_specimens = sets.first().map_or(1, |set| set.len());
        let mut n = [0, 0, 0];
        for set in all.chunks_exact(n_specimens) {
            let values: Vec<f64> = set.iter().map(|s| s.value).collect();
            let value = judged_value(judged, &values);
            // the bound of a figure that was not reached may lie below the target, the figure above
            let bound_decides = |s: &Figured| !s.reached && s.value < at_least;
            let open = match judged {
                Judged::Lowest => {
                    set.iter().any(bound_decides)
                        && set.iter().all(|s| s.value >= at_least || !s.reached)
                }
                Judged::Mean => value < at_least && set.iter().any(|s| !s.reached),
            };
            n[0] += usize::from(set[0].value >= at_least);
            n[1] += usize::from(value >= at_least);
            n[2] += usize::from(open);
        }
        all.sort_by(|a, b| a.value.total_cmp(&b.value));
        let values: Vec<f64> = all.iter().map(|figured| figured.value).collect();
        let at = |p: f64| {
            let place = (p * (all.len() - 1) as f64).ceil() as usize;
            Figured { value: quantile(&values, p), reached: all[place].reached }
        };
        let view = View {
            median: at(0.5),
            low: at(0.05),
            high: at(0.95),
            one: wilson(n[0], sets.len()),
            set: wilson(n[1], sets.len()),
        };
        Counted { view, n_open: n[2] }
    }
}

fn contributions(work: &Work, indices: Option<Vec<Index>>) -> Vec<Contribution> {
    let inputs = &work.inputs;
    let swing = |i: usize| {
        let of_model =
            SWING.map(|p| scaled(work.nominal.figured(), inputs.model(&inputs.alone(i, p))));
        work.swings[i].unwrap_or(of_model)
    };
    let one = |input: usize| Contribution {
        input,
        swing: swing(input),
        index: indices.as_ref().map(|indices| indices[input]),
    };
    let mut all: Vec<Contribution> = (0..inputs.all.len()).map(one).collect();
    let reach = |c: &Contribution| (c.swing[1].value - c.swing[0].value).abs();
    let size = |c: &Contribution| c.index.map_or(reach(c), |index| index.total.value);
    all.sort_by(|a, b| size(b).total_cmp(&size(a)));
    all
}

/// The indices of every input, in their order, and where they come from.
fn all_indices(work: &Work) -> (Option<Vec<Index>>, Shares) {
    if work.plan.n_rows > 0 {
        let found = of_rows(work);
        let shares = if found.is_some() { Shares::Rows } else { Shares::None };
        return (found, shares);
    }
    let Some((n_terms, found)) = of_surface(work) else { return (None, Shares::None) };
    let surface::Shares { inputs, model, left } = found;
    if left > LEFT_MOST {
        return (None, Shares::Rough { left });
    }
    let mut moving = inputs.into_iter();
    let one = |i: usize| if work.inputs.is_model(i) { Some(model) } else { moving.next() };
    ((0..work.inputs.all.len()).map(one).collect(), Shares::Surface { n_terms, left })
}

/// From a surface through the specimens that were drawn; its terms beside the mean, and the shares of all
/// inputs but the model, in their order.
fn of_surface(work: &Work) -> Option<(usize, surface::Shares)> {
    let inputs = &work.inputs;
    let n_specimens = work.plan.n_specimens;
    let values: Vec<f64> = work.done.specimens.iter().map(|figured| figured.value).collect();
    let point = |i: usize| work.specimen(i / n_specimens, i % n_specimens);
    let points: Vec<Vec<f64>> = (0..values.len()).map(point).collect();
    let of: Vec<&[usize]> = moving(inputs).into_iter().map(|i| inputs.coordinates_of(i)).collect();
    let draws = Draws {
        points: &points,
        values: &values,
        n_specimens,
        spreads: &inputs.spreads(),
        moving: &of.concat(),
    };
    let surface = Surface::through(&draws)?;
    Some((surface.terms.len(), surface.shares(&of, inputs.model_moments())?))
}

/// From the second design; the model's from its factor alone.
fn of_rows(work: &Work) -> Option<Vec<Index>> {
    let (length, moving) = (work.row_length(), moving(&work.inputs));
    let rows: Vec<&[Figured]> = work.done.rows.chunks_exact(length).collect();
    let models: Vec<[f64; 2]> =
        (0..rows.len()).map(|r| work.pair(r).map(|x| work.inputs.model(&x))).collect();
    let column = |place: usize, of: usize| -> Vec<f64> {
        rows.iter().zip(&models).map(|(row, m)| row[place].value * m[of]).collect()
    };
    let (first, second) = (column(0, 0), column(1, 1));
    let swapped: Vec<Vec<f64>> = (0..work.inputs.all.len())
        .map(|i| match moving.iter().position(|m| *m == i) {
            Some(place) => column(2 + place, 0),
            None => column(0, 1),
        })
        .collect();
    indices(&Runs { first: &first, second: &second, swapped: &swapped })
}

#[cfg(test)]
mod tests {
    use super::Counted;
    use crate::bench::figure::Figured;
    use crate::garment::target::Judged;
    use crate::study::odds::normal::normal_quantile;
    use crate::study::odds::points::Design;

    /// Figures 10 + 1.2·x + 1.6·y of sets of three: x of the set, y of the specimen, both normal.
    fn linear(n: usize) -> Vec<[Figured; 3]> {
        let design = Design { seed: 11 };
        let set = |i: usize| {
            let x = normal_quantile(design.at(i, 0));
            [1, 2, 3].map(|d| {
                let y = normal_quantile(design.at(i, d));
                Figured { value: 10.0 + 1.2 * x + 1.6 * y, reached: true }
            })
        };
        (0..n).map(set).collect()
    }

    fn counted(sets: &[[Figured; 3]], judged: Judged, at_least: f64) -> Counted {
        let borrowed: Vec<&[Figured]> = sets.iter().map(|set| set.as_slice()).collect();
        Counted::new(&borrowed, &vec![1.0; sets.len()], judged, at_least)
    }

    /// One specimen has mean 10 and deviation √(1.2² + 1.6²) = 2, so that 9 is reached with Φ(0.5)
    /// and 8 with Φ(1); scipy 1.17.1, `norm.cdf`. The mean of three has √(1.2² + 1.6²/3). All of
    /// three: scipy 1.17.1, `quad` of Φ((1 + 1.2 x)/1.6)³ φ(x) over x.
    #[test]
    fn odds_of_a_linear_normal_model_are_the_exact_ones() {
        let sets = linear(1 << 14);
        let near = |share: &super::Share, expected: f64| {
            assert!((share.value() - expected).abs() < 3e-3, "{share:?}, not {expected}");
            assert!(share.low < expected && expected < share.high, "{share:?}, not {expected}");
        };
        let lowest = counted(&sets, Judged::Lowest, 9.0).view;
        near(&lowest.one, 0.6914624612740131);
        near(&lowest.set, ALL_OF_THREE);
        near(&counted(&sets, Judged::Lowest, 8.0).view.one, 0.8413447460685429);
        near(&counted(&sets, Judged::Mean, 9.0).view.set, MEAN_OF_THREE);
        for (found, z) in [(lowest.median, 0.0), (lowest.low, -1.6448536), (lowest.high, 1.6448536)]
        {
            assert!((found.value - (10.0 + 2.0 * z)).abs() < 0.02, "{found:?}");
        }
    }

    const ALL_OF_THREE: f64 = 0.4217157992866887;
    const MEAN_OF_THREE: f64 = 0.7454815828569835;

    #[test]
    fn a_bound_below_the_target_leaves_a_set_open() {
        let reached = |value| Figured { value, reached: true };
        let over = |value| Figured { value, reached: false };
        let open = |set: [Figured; 3], judged| counted(&[set], judged, 12.0).n_open;
        assert_eq!(open([reached(13.0), over(11.0), over(20.0)], Judged::Lowest), 1);
        assert_eq!(open([reached(11.0), over(11.0), over(20.0)], Judged::Lowest), 0);
        assert_eq!(open([reached(13.0), over(12.0), over(20.0)], Judged::Lowest), 0);
        assert_eq!(open([reached(9.0), over(11.0), reached(13.0)], Judged::Mean), 1);
        assert_eq!(open([reached(9.0), over(20.0), reached(13.0)], Judged::Mean), 0);
    }
}
