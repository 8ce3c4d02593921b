//! How far the tests of a bench book lie from what was predicted for them.

use crate::bench::figure::Found;
use crate::garment::band::Factors;
use crate::garment::layup::Layup;
use crate::shelf::lab::cases::Tested;
use crate::study::book::anchor::Compared;
use crate::study::book::drift::{Drift, Seen, drifts};
use crate::study::book::likeness::{Likeness, key};
use crate::study::book::predict::Predicted;

/// A test beside its prediction.
#[derive(Debug, Clone, PartialEq)]
pub struct Row<'a> {
    /// The test.
    pub tested: &'a Tested<'a>,
    /// What the model says of its figure.
    pub found: Found,
    /// The band of its class [–].
    pub factors: Factors,
    /// The layup as it was computed.
    pub computed: Layup,
    /// The class, in words.
    pub class: String,
    /// Mean of the specimens [s or J/m²].
    pub measured: f64,
    /// Standard deviation of the specimens, over their mean [–]; none of one specimen.
    pub scatter: Option<f64>,
    /// The test with its ratios; none where the model gives no value.
    pub compared: Option<Compared>,
}

/// Tests of one class, exposure and figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// The class, in words.
    pub class: String,
    /// The exposure's name.
    pub exposure: String,
    /// The figure as the book has it.
    pub figure: String,
    /// How many tests.
    pub n: usize,
    /// Least, geometric mean and most of bench over prediction [–].
    pub ratios: [f64; 3],
}

/// All tests held against their predictions.
#[derive(Debug, Clone, PartialEq)]
pub struct HowFar<'a> {
    /// In the book's order.
    pub rows: Vec<Row<'a>>,
    /// By class, exposure and figure, in order of first appearance.
    pub groups: Vec<Group>,
    /// Measures, each with what was found.
    pub drifts: Vec<Drift>,
}

/// Holds tests against predictions.
///
/// - `predicted`: what the model says of each test, in the tests' order
pub fn how_far<'a>(
    tested: &'a [Tested<'a>],
    predicted: impl IntoIterator<Item = Predicted>,
) -> HowFar<'a> {
    let both = tested.iter().zip(predicted).enumerate();
    let rows: Vec<Row<'a>> = both.map(|(at, (tested, said))| row(at, tested, said)).collect();
    let (groups, drifts) = (groups(&rows), drifts(seen(&rows)));
    HowFar { rows, groups, drifts }
}

fn row<'a>(
    at: usize,
    tested: &'a Tested<'a>,
    Predicted { found, layup, class, factors }: Predicted,
) -> Row<'a> {
    let values = &tested.test.values;
    let n = values.len() as f64;
    let measured = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|value| (value - measured).powi(2)).sum();
    let scatter = (values.len() > 1).then(|| (squares / (n - 1.0)).sqrt() / measured);
    let compared = found.valued().map(|predicted| Compared {
        row: at,
        key: key(&layup),
        likeness: Likeness::of(&layup),
        ratios: values.iter().map(|value| value / predicted.value).collect(),
        factors,
    });
    Row { tested, found, factors, computed: layup, class, measured, scatter, compared }
}

impl Row<'_> {
    /// Bench over prediction, geometric mean of the specimens [–].
    pub fn ratio(&self) -> Option<f64> {
        self.compared.as_ref().map(|compared| libm::exp(compared.ln_ratio()))
    }

    /// Whether the ratio lies within the band of its class.
    pub fn within(&self) -> Option<bool> {
        self.ratio().map(|ratio| (self.factors.lower..=self.factors.upper).contains(&ratio))
    }
}

fn seen(rows: &[Row<'_>]) -> Vec<Seen> {
    let one = |row: &Row<'_>| {
        let (compared, test) = (row.compared.as_ref()?, row.tested.test);
        Some(Seen {
            key: compared.key.clone(),
            figure: test.figure_name.clone(),
            washed: test.washed,
            likeness: compared.likeness.clone(),
            ln_ratio: compared.ln_ratio(),
        })
    };
    rows.iter().filter_map(one).collect()
}

fn groups(rows: &[Row<'_>]) -> Vec<Group> {
    let mut groups: Vec<(Group, Vec<f64>)> = Vec::new();
    for row in rows {
        let Some(ratio) = row.ratio() else { continue };
        let (exposure, figure) = (&row.tested.exposure.name, &row.tested.test.figure_name);
        let same = |group: &Group| {
            (&group.class, &group.exposure, &group.figure) == (&row.class, exposure, figure)
        };
        match groups.iter_mut().find(|(group, _)| same(group)) {
            Some((_, ratios)) => ratios.push(ratio),
            None => {
                let (class, exposure, figure) =
                    (row.class.clone(), exposure.clone(), figure.clone());
                let group = Group { class, exposure, figure, n: 0, ratios: [0.0; 3] };
                groups.push((group, vec![ratio]));
            }
        }
    }
    let filled = groups.into_iter().map(|(group, ratios)| {
        let mean = ratios.iter().map(|ratio| libm::log(*ratio)).sum::<f64>() / ratios.len() as f64;
        let least = ratios.iter().copied().fold(f64::INFINITY, f64::min);
        let most = ratios.iter().copied().fold(0.0, f64::max);
        Group { n: ratios.len(), ratios: [least, libm::exp(mean), most], ..group }
    });
    filled.collect()
}
