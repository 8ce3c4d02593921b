//! How far the tests of a bench book lie from what was predicted for them.

use crate::bench::figure::Found;
use crate::garment::band::Factors;
use crate::garment::book_cases::Tested;
use crate::study::book::anchor::Compared;
use crate::study::book::likeness::{Likeness, key};
use crate::study::book::predict::Predicted;
use crate::study::fit::student::two_sided;

/// Fewest tests in which a drift is looked for.
const N_DRIFT_LEAST: usize = 4;
/// Level above which a drift is told [–].
const LEVEL_DRIFT: f64 = 0.95;

/// A test beside its prediction.
#[derive(Debug, Clone, PartialEq)]
pub struct Row<'a> {
    /// The test.
    pub tested: &'a Tested<'a>,
    /// What the model says of its figure.
    pub found: Found,
    /// The band of its class [–].
    pub factors: Factors,
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

/// A measure along which the ratios drift.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// The measure, in words.
    pub along: &'static str,
    /// How many tests.
    pub n: usize,
    /// Correlation of the ratio's logarithm with the measure [–].
    pub correlation: f64,
    /// Whether chance alone gives less in 95 of 100 cases.
    pub beyond_chance: bool,
}

/// All tests held against their predictions.
#[derive(Debug, Clone, PartialEq)]
pub struct HowFar<'a> {
    /// In the book's order.
    pub rows: Vec<Row<'a>>,
    /// By class, exposure and figure, in order of first appearance.
    pub groups: Vec<Group>,
    /// Measures, each with what was found; empty for fewer than four tests.
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
    let (groups, drifts) = (groups(&rows), drifts(&rows));
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
    Row { tested, found, factors, class, measured, scatter, compared }
}

impl Row<'_> {
    /// Bench over prediction, geometric mean of the specimens [–].
    pub fn ratio(&self) -> Option<f64> {
        self.compared.as_ref().map(|compared| compared.ln_ratio().exp())
    }

    /// Whether the ratio lies within the band of its class.
    pub fn within(&self) -> Option<bool> {
        self.ratio().map(|ratio| (self.factors.lower..=self.factors.upper).contains(&ratio))
    }
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
        let mean = ratios.iter().map(|ratio| ratio.ln()).sum::<f64>() / ratios.len() as f64;
        let least = ratios.iter().copied().fold(f64::INFINITY, f64::min);
        let most = ratios.iter().copied().fold(0.0, f64::max);
        Group { n: ratios.len(), ratios: [least, mean.exp(), most], ..group }
    });
    filled.collect()
}

/// A measure's name and how it is read of a test.
type Measure<'a> = (&'static str, fn(&Row<'a>) -> f64);

fn drifts<'a>(rows: &[Row<'a>]) -> Vec<Drift> {
    let measures: [Measure<'a>; 4] = [
        ("mass", |row| Likeness::of(&row.tested.layup).ln_mass),
        ("thickness", |row| Likeness::of(&row.tested.layup).ln_thickness),
        ("regain", |row| Likeness::of(&row.tested.layup).regain),
        ("washing", |row| f64::from(row.tested.test.washed)),
    ];
    let known: Vec<(&Row<'a>, f64)> =
        rows.iter().filter_map(|row| Some((row, row.ratio()?.ln()))).collect();
    if known.len() < N_DRIFT_LEAST {
        return Vec::new();
    }
    let drift = |(along, measure): Measure<'a>| {
        let points: Vec<(f64, f64)> = known.iter().map(|(row, y)| (measure(row), *y)).collect();
        let correlation = correlation(&points)?;
        let freedom = points.len() - 2;
        // t of a correlation: Student's law if there is none (textbook, from memory)
        let t = correlation.abs() * (freedom as f64 / (1.0 - correlation * correlation)).sqrt();
        let beyond_chance = t > two_sided(LEVEL_DRIFT, freedom);
        Some(Drift { along, n: points.len(), correlation, beyond_chance })
    };
    measures.into_iter().filter_map(drift).collect()
}

/// Correlation of pairs [–]; none where either side does not vary.
fn correlation(points: &[(f64, f64)]) -> Option<f64> {
    let n = points.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / n;
    let (x_mean, y_mean) = (mean(|p| p.0), mean(|p| p.1));
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (x, y) in points {
        let (dx, dy) = (x - x_mean, y - y_mean);
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
    }
    let varies = xx > 1e-18 * (1.0 + x_mean * x_mean) && yy > 1e-18;
    varies.then(|| (xy / (xx * yy).sqrt()).clamp(-1.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::correlation;
    use approx::assert_relative_eq;

    /// Anscombe's first set, correlation 0.81642 (The American Statistician 27 (1973) 17; from memory).
    #[test]
    fn correlation_of_a_published_set() {
        let x = [10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0];
        let y = [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68];
        let points: Vec<(f64, f64)> = x.into_iter().zip(y).collect();
        assert_relative_eq!(correlation(&points).unwrap(), 0.81642, epsilon = 1e-5);
        assert_eq!(correlation(&[(1.0, 2.0), (1.0, 3.0)]), None);
    }
}
