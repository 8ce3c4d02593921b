//! A prediction anchored to the workshop's own tests.
//!
//! The ratio bench ÷ prediction of every test is looked at by its logarithm. Before any test it is
//! believed to lie as the shelf's band says: its lower and upper factor are taken as the 5 % and
//! 95 % of a normal law. Errors of layups that are alike ([`Likeness`]) go together; the scatter of
//! specimens is the error of a test. What the tests say of another layup is then a Gaussian
//! process ([`krige`]): its mean is the anchored factor, its 5 % and 95 % the anchored band.

use crate::garment::band::Factors;
use crate::study::book::kriging::{Belief, Observation, krige};
use crate::study::book::likeness::Likeness;
use crate::study::odds::normal::Z_95;

/// Standard deviation of the logarithm of one specimen's value, where the specimens themselves do
/// not tell [–]: common practice, no source.
const SCATTER_USUAL: f64 = 0.05;
/// How many specimens the usual scatter weighs as much as; a choice.
const SCATTER_WEIGHT: f64 = 3.0;
/// A layup that no test is alike to by more than this lies outside what they cover [–].
const COVERED_FROM: f64 = 0.3;
/// Tests that weigh less than this are not named [–].
const NAMED_FROM: f64 = 0.1;
/// Tests of one layup contradict each other beyond this many standard deviations of their difference.
const CONTRADICT_FROM: f64 = 3.0;

/// The belief on the logarithm of the ratio that has these factors as its 5 % and 95 %.
pub fn belief(factors: Factors) -> Belief {
    let (low, high) = (libm::log(factors.lower), libm::log(factors.upper));
    Belief { mean: 0.5 * (low + high), deviation: 0.5 * (high - low) / Z_95 }
}

/// A test with what the model says of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// Place of the test in the book, from 0.
    pub row: usize,
    /// What tells the layup from others ([`key`](crate::study::book::likeness::key)).
    pub key: String,
    /// What the layup is like.
    pub likeness: Likeness,
    /// Bench over prediction, specimen by specimen [–].
    pub ratios: Vec<f64>,
    /// The shelf's band for its class.
    pub factors: Factors,
}

impl Compared {
    /// Mean of the logarithm of the ratios.
    pub fn ln_ratio(&self) -> f64 {
        self.ratios.iter().map(|ratio| libm::log(*ratio)).sum::<f64>() / self.ratios.len() as f64
    }

    /// Variance of that mean: the specimens' own scatter, drawn towards the usual one while they are few.
    pub fn variance(&self) -> f64 {
        let (n, mean) = (self.ratios.len() as f64, self.ln_ratio());
        let squares: f64 = self.ratios.iter().map(|ratio| (libm::log(*ratio) - mean).powi(2)).sum();
        let usual = SCATTER_WEIGHT * SCATTER_USUAL * SCATTER_USUAL;
        (usual + squares) / (SCATTER_WEIGHT + n - 1.0) / n
    }

    fn observation(&self) -> Observation {
        let before = belief(self.factors);
        Observation { value: self.ln_ratio(), variance: self.variance(), before }
    }

    /// Correlation with another layup's error: 1 for one and the same layup.
    fn alike(&self, key: &str, likeness: &Likeness) -> f64 {
        match self.key == key {
            true => 1.0,
            false => self.likeness.correlation(likeness),
        }
    }
}

/// What the tests say of a layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Anchored {
    /// Factor on the prediction [–].
    pub factor: f64,
    /// The band around the prediction itself: factors on it.
    pub factors: Factors,
    /// Rows of the tests that were used and are near, nearest first.
    pub tests: Vec<usize>,
    /// Whether some test is alike enough for the answer to rest on it.
    pub covered: bool,
    /// Rows of tests of one layup that lie further apart than their scatter explains.
    pub contradicting: Vec<(usize, usize)>,
}

/// Anchors a layup's prediction to the tests of the same figure.
///
/// - `key`, `likeness`: the layup asked for
/// - `factors`: the shelf's band for its class and figure
///
/// Returns none where the linear algebra gives up or the feature `lapack` is off. With no test the
/// shelf's band comes back, its middle as the factor.
pub fn anchor(
    tests: &[Compared],
    (key, likeness): (&str, &Likeness),
    factors: Factors,
) -> Option<Anchored> {
    let seen: Vec<Observation> = tests.iter().map(Compared::observation).collect();
    let to: Vec<f64> = tests.iter().map(|test| test.alike(key, likeness)).collect();
    let alike = |i: usize, j: usize| match i == j {
        true => 1.0,
        false => tests[i].alike(&tests[j].key, &tests[j].likeness),
    };
    let Belief { mean, deviation } = krige(&seen, alike, &to, belief(factors))?;
    let mut near: Vec<usize> = (0..tests.len()).filter(|i| to[*i] >= NAMED_FROM).collect();
    near.sort_by(|i, j| to[*j].total_cmp(&to[*i]).then(i.cmp(j)));
    let band = Factors {
        lower: libm::exp(mean - Z_95 * deviation),
        upper: libm::exp(mean + Z_95 * deviation),
    };
    Some(Anchored {
        factor: libm::exp(mean),
        factors: if tests.is_empty() { factors } else { band },
        tests: near.iter().map(|i| tests[*i].row).collect(),
        covered: to.iter().any(|alike| *alike >= COVERED_FROM),
        contradicting: contradicting(tests),
    })
}

/// Pairs of tests of one layup whose means lie apart by more than their scatter explains.
fn contradicting(tests: &[Compared]) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    for (i, one) in tests.iter().enumerate() {
        for other in tests[i + 1..].iter().filter(|other| other.key == one.key) {
            let apart = (one.ln_ratio() - other.ln_ratio()).abs();
            if apart > CONTRADICT_FROM * (one.variance() + other.variance()).sqrt() {
                pairs.push((one.row, other.row));
            }
        }
    }
    pairs
}

#[cfg(all(test, feature = "lapack"))]
mod tests {
    use super::{Anchored, Compared, anchor, belief};
    use crate::garment::band::Factors;
    use crate::study::book::likeness::Likeness;
    use crate::study::odds::normal::normal_quantile;
    use approx::assert_relative_eq;

    const BAND: Factors = Factors { lower: 0.6, upper: 1.0 };

    fn like(mass: f64, n_plies: f64) -> Likeness {
        let (ln_mass, ln_thickness) = (mass.ln(), (mass / 150.0).ln());
        Likeness { ln_mass, ln_thickness, n_plies, gap_share: 0.2, regain: 0.05, felt_share: 0.5 }
    }

    fn test(row: usize, key: &str, likeness: Likeness, ratios: &[f64]) -> Compared {
        let (key, ratios) = (key.to_owned(), ratios.to_vec());
        Compared { row, key, likeness, ratios, factors: BAND }
    }

    fn asked(tests: &[Compared], key: &str) -> Anchored {
        anchor(tests, (key, &like(0.4, 3.0)), BAND).unwrap()
    }

    #[test]
    fn with_no_test_the_shelfs_band_comes_back() {
        let none = asked(&[], "a");
        assert_eq!(none.factors, BAND);
        assert!(!none.covered && none.tests.is_empty());
        assert_relative_eq!(none.factor, 0.6f64.sqrt(), max_relative = 1e-12);
    }

    #[test]
    fn one_test_of_the_layup_reduces_to_its_ratio() {
        let one = asked(&[test(0, "a", like(0.4, 3.0), &[0.80, 0.82, 0.78, 0.80, 0.81])], "a");
        assert_relative_eq!(one.factor, 0.80, max_relative = 0.02);
        assert!(one.factors.lower > 0.74 && one.factors.upper < 0.86, "{one:?}");
        assert!(one.covered);
    }

    #[test]
    fn a_second_alike_test_narrows_and_a_far_one_says_nothing() {
        let near = test(0, "b", like(0.42, 3.0), &[0.7, 0.72]);
        let one = asked(std::slice::from_ref(&near), "a");
        let two = asked(&[near.clone(), near.clone()], "a");
        let width = |a: &Anchored| (a.factors.upper / a.factors.lower).ln();
        assert!(width(&one) < (1.0f64 / 0.6).ln() && width(&two) < width(&one));
        assert!(two.contradicting.is_empty());
        let far = asked(&[test(0, "c", like(3.0, 1.0), &[0.6])], "a");
        assert!(!far.covered, "{far:?}");
        assert_relative_eq!(width(&far), (1.0f64 / 0.6).ln(), max_relative = 0.02);
    }

    #[test]
    fn tests_that_contradict_are_named() {
        let tests = [
            test(3, "a", like(0.4, 3.0), &[0.6, 0.61]),
            test(5, "a", like(0.4, 3.0), &[0.95, 0.96]),
        ];
        let both = asked(&tests, "a");
        assert_eq!(both.contradicting, [(3, 5)]);
        assert!(both.factors.lower < 0.78 && both.factors.upper > 0.72, "{both:?}");
    }

    /// 500 made-up workshops whose errors follow the law that the method takes them to follow:
    /// 90 % intervals must hold the truth in 85 to 95 % of them.
    #[test]
    fn intervals_cover_what_they_say() {
        let mut draws = Draws(17492);
        let (mut held, n) = (0, 500);
        for _ in 0..n {
            // four layups tested and one asked for, errors of their joint law by sequential drawing
            let layups: Vec<Likeness> = (0..5)
                .map(|_| like(0.3 + 0.2 * draws.uniform(), (2.0 + 2.0 * draws.uniform()).round()))
                .collect();
            let names = ["a", "b", "c", "d", "e"];
            let mut truths: Vec<Compared> = Vec::new();
            for (likeness, name) in layups.iter().zip(names) {
                // readings without error of those before: the law of this one given them
                let known: Vec<Compared> = truths.clone();
                let given = exact(&known, (name, likeness));
                let truth = (given.0 + given.1 * draws.normal()).exp();
                truths.push(test(truths.len(), name, likeness.clone(), &[truth]));
            }
            let asked_truth = truths.pop().unwrap().ratios[0];
            let readings: Vec<Compared> = truths
                .into_iter()
                .map(|truth| {
                    let specimens: Vec<f64> =
                        (0..3).map(|_| truth.ratios[0] * (0.05 * draws.normal()).exp()).collect();
                    Compared { ratios: specimens, ..truth }
                })
                .collect();
            let said = anchor(&readings, ("e", &layups[4]), BAND).unwrap();
            held += usize::from((said.factors.lower..=said.factors.upper).contains(&asked_truth));
        }
        let share = held as f64 / n as f64;
        assert!((0.85..=0.95).contains(&share), "{share}");
    }

    /// Mean and deviation of a layup's error given others' true ones.
    fn exact(known: &[Compared], (name, likeness): (&str, &Likeness)) -> (f64, f64) {
        use crate::study::book::kriging::{Observation, krige};
        let before = belief(BAND);
        let seen: Vec<Observation> = known
            .iter()
            .map(|one| Observation { value: one.ratios[0].ln(), variance: 1e-10, before })
            .collect();
        let to: Vec<f64> = known.iter().map(|one| one.alike(name, likeness)).collect();
        let alike = |i: usize, j: usize| match i == j {
            true => 1.0,
            false => known[i].alike(&known[j].key, &known[j].likeness),
        };
        let belief = krige(&seen, alike, &to, before).unwrap();
        (belief.mean, belief.deviation)
    }

    /// A small generator of our own seeds; which numbers come does not matter.
    struct Draws(u64);

    impl Draws {
        fn uniform(&mut self) -> f64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
        }

        fn normal(&mut self) -> f64 {
            normal_quantile(self.uniform())
        }
    }
}
