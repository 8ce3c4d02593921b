//! The program held against what was measured: three classes of cases, and signs.
//!
//! One shelf and one set of rules serve every case; nothing is tuned to a case, except where
//! [`record::Basis::Scaled`] says so.

pub mod ablation;
pub mod ask;
pub mod bands;
pub mod felts;
pub mod findings;
pub mod free;
pub mod left_out;
pub mod record;
pub mod shelf_rows;
pub mod signs;
pub mod spread;
pub mod suit;
pub mod support;
pub mod tissue;

pub use ablation::{Ablation, LEFT_OUT};
pub use record::{Basis, Class, Comparison, Kind, Place, Sign, Subject, Summary};

use crate::shelf::materials::Shelf;

/// What was compared.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Measured {
    /// Comparisons of what was measured, in the order of [`in_view`].
    pub comparisons: Vec<Comparison>,
    /// What follows from the same measurements, ratios and dead times: shown, never counted again.
    pub derived: Vec<Comparison>,
    /// The same specimens with one effect left out.
    pub ablations: Vec<Ablation>,
    /// Signs, those that come out the other way first.
    pub signs: Vec<Sign>,
}

impl Measured {
    /// The comparisons in short, class by class.
    pub fn summaries(&self) -> Vec<Summary> {
        record::summaries(&self.comparisons)
    }

    /// Median size of the differences of some classes [–].
    pub fn median_absolute(&self, classes: &[Class]) -> f64 {
        record::median_absolute(&self.comparisons, classes)
    }

    /// The bands that the comparisons support.
    pub fn supported(&self) -> Vec<support::Supported> {
        support::supported(&self.comparisons)
    }

    /// How many predictions could not be had, because a run failed.
    pub fn n_failed(&self) -> usize {
        let compared = self.comparisons.iter().chain(&self.derived).map(|c| c.predicted);
        let ablated =
            self.ablations.iter().flat_map(|row| row.without.iter().chain([&row.predicted]));
        let signs = self.signs.iter().flat_map(|sign| &sign.values);
        compared.chain(ablated.copied()).chain(signs.copied()).filter(|v| v.is_nan()).count()
    }
}

/// Parts of the comparison, for a bar of progress.
pub const N_PARTS: usize = 6;

/// How many fabric cases are complete: published with every layer's mass, thickness, flux and time.
///
/// None was found in what has been gathered.
pub const N_FABRIC_COMPLETE: usize = 0;

/// Makes every comparison with the built-in shelf.
///
/// - `after_each`: called when a part is done
pub fn run(shelf: &Shelf, after_each: impl Fn() + Sync) -> Measured {
    let mut comparisons = tissue::tissue(shelf);
    after_each();
    let felts = felts::felts(shelf);
    comparisons.extend(felts::times(&felts));
    let mut derived = felts::dead_times(&felts);
    derived.extend(left_out::left_out(shelf, &felts));
    after_each();
    let suit = suit::spread(shelf);
    let ablations = ablation::ablations(shelf, &felts, suit.as_ref());
    if let Some(spread) = &suit {
        comparisons.extend(suit::suit(shelf, spread));
    }
    after_each();
    if let (Some(spread), Some(printed), Some(wovens)) =
        (&suit, suit::printed(), free::wovens(shelf))
    {
        derived.extend(free::ratios(&felts, &wovens, (&printed, spread)));
    }
    after_each();
    comparisons.extend(suit::conductivities(shelf));
    comparisons.extend(bands::bands(shelf));
    after_each();
    let mut signs = signs::signs(shelf);
    signs.sort_by_key(|sign| sign.is_right);
    after_each();
    in_view(&mut comparisons);
    in_view(&mut derived);
    Measured { comparisons, derived, ablations, signs }
}

/// Puts comparisons in the order that a reader needs: class by class, in each what lies furthest off first.
pub fn in_view(all: &mut [Comparison]) {
    let class = |c: &Comparison| Class::ALL.iter().position(|class| *class == c.class);
    all.sort_by(|a, b| class(a).cmp(&class(b)).then(b.distance().total_cmp(&a.distance())));
}
