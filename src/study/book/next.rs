//! Which candidate to test next: the one whose test would settle most.

use crate::garment::band::Factors;
use crate::study::book::anchor::{Anchored, Compared, anchor, belief};
use crate::study::book::likeness::Likeness;
use crate::study::odds::normal::{Z_95, normal_quantile, normal_share_below};

/// Results of a test that is thought through, at the middles of as many equally likely parts.
const N_RESULTS: usize = 15;
/// Specimens of the test that is thought through, as methods ask for several.
const N_SPECIMENS: usize = 3;

/// A layup that may be tested next.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Its name.
    pub name: String,
    /// What tells it from others ([`key`](crate::study::book::likeness::key)).
    pub key: String,
    /// What it is like.
    pub likeness: Likeness,
    /// The model's figure over the threshold [–].
    pub over_target: f64,
    /// The shelf's band for its class.
    pub factors: Factors,
}

/// What a test of a candidate would settle.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// Place of the candidate, from 0.
    pub candidate: usize,
    /// Wrong calls expected among all candidates after its test.
    pub wrong_after: f64,
    /// Chance after its test, in the mean over what it may read, that what is kept holds a layup below the
    /// target [–].
    pub holds_after: f64,
}

/// What is known now, and which test would settle most.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// Chance of each candidate to lie below the target [–].
    pub below: Vec<f64>,
    /// Wrong calls expected when each candidate is called by what is likelier.
    pub wrong_now: f64,
    /// Chance that the candidates that are likelier above the target hold one below it [–].
    pub holds_now: f64,
    /// Candidates by what their test would settle, most first.
    pub worth: Vec<Worth>,
}

/// Thinks through a test of every candidate.
///
/// A candidate lies below the target with a chance that follows from its anchored band. Whoever
/// calls each by what is likelier is wrong about one with the smaller of the two chances; their sum
/// is the number of wrong calls to expect. A test of one candidate, taken over the results that it
/// may have, moves the bands of all that are alike to it; what is left of the sum on average is
/// what the test is worth.
///
/// Returns none where the linear algebra gives up or the feature `lapack` is off.
pub fn next(tests: &[Compared], candidates: &[Candidate]) -> Option<Advice> {
    let now = chances(tests, candidates)?;
    let mut worth = Vec::with_capacity(candidates.len());
    for (i, candidate) in candidates.iter().enumerate() {
        let before = band_of(tests, candidate)?;
        let (mean, deviation) = law(before.factors);
        let (mut wrong_after, mut holds_after) = (0.0, 0.0);
        for part in 0..N_RESULTS {
            let z = normal_quantile((part as f64 + 0.5) / N_RESULTS as f64);
            let ratio = libm::exp(mean + deviation * z);
            let mut more = tests.to_vec();
            more.push(Compared {
                row: usize::MAX,
                key: candidate.key.clone(),
                likeness: candidate.likeness.clone(),
                ratios: vec![ratio; N_SPECIMENS],
                factors: candidate.factors,
            });
            let after = chances(&more, candidates)?;
            wrong_after += wrong(&after) / N_RESULTS as f64;
            holds_after += holds(&after) / N_RESULTS as f64;
        }
        worth.push(Worth { candidate: i, wrong_after, holds_after });
    }
    worth.sort_by(|a, b| {
        a.wrong_after.total_cmp(&b.wrong_after).then(a.candidate.cmp(&b.candidate))
    });
    Some(Advice { wrong_now: wrong(&now), holds_now: holds(&now), below: now, worth })
}

fn band_of(tests: &[Compared], candidate: &Candidate) -> Option<Anchored> {
    anchor(tests, (&candidate.key, &candidate.likeness), candidate.factors)
}

/// Mean and standard deviation of the logarithm that has these factors as its 5 % and 95 %.
fn law(factors: Factors) -> (f64, f64) {
    let belief = belief(factors);
    (belief.mean, belief.deviation)
}

/// Chance of each candidate to lie below the target.
fn chances(tests: &[Compared], candidates: &[Candidate]) -> Option<Vec<f64>> {
    let chance = |candidate: &Candidate| {
        let (mean, deviation) = law(band_of(tests, candidate)?.factors);
        // a band of no width calls at once
        let deviation = deviation.max(1e-9 / Z_95);
        Some(normal_share_below((-libm::log(candidate.over_target) - mean) / deviation))
    };
    candidates.iter().map(chance).collect()
}

/// Chance that one at least of those kept, likelier above than below, lies below; as if each were by itself.
fn holds(below: &[f64]) -> f64 {
    let kept = below.iter().filter(|share| **share < 0.5);
    1.0 - kept.map(|share| 1.0 - share).product::<f64>()
}

fn wrong(below: &[f64]) -> f64 {
    below.iter().map(|share| share.min(1.0 - share)).sum()
}

#[cfg(all(test, feature = "lapack"))]
mod tests {
    use super::{Candidate, next};
    use crate::garment::band::Factors;
    use crate::study::book::likeness::Likeness;

    fn candidate(name: &str, mass: f64, over_target: f64) -> Candidate {
        let likeness = Likeness {
            ln_mass: f64::ln(mass),
            ln_thickness: f64::ln(mass / 150.0),
            n_plies: 3.0,
            gap_share: 0.2,
            regain: 0.05,
            felt_share: 0.5,
        };
        let factors = Factors { lower: 0.6, upper: 1.0 };
        let (name, key) = (name.to_owned(), name.to_owned());
        Candidate { name, key, likeness, over_target, factors }
    }

    #[test]
    fn a_candidate_in_doubt_is_worth_more_than_a_clear_one() {
        // the middle of the band is 0.775: 1/0.775 is in doubt, 3 is clear
        let candidates = [candidate("clear", 2.0, 3.0), candidate("doubt", 0.3, 1.29)];
        let advice = next(&[], &candidates).unwrap();
        assert_eq!(advice.worth[0].candidate, 1, "{advice:?}");
        assert!(advice.below[0] < 1e-6 && (advice.below[1] - 0.5).abs() < 0.02, "{advice:?}");
        assert!(advice.worth[0].wrong_after < 0.25 * advice.wrong_now, "{advice:?}");
        assert!((advice.worth[1].wrong_after - advice.wrong_now).abs() < 1e-3, "{advice:?}");
        // the one likelier below is not kept, so that neither now nor after a test of the clear one
        // does what is kept hold one below; the chance of it is never above the wrong calls expected
        assert!((advice.worth[1].holds_after - advice.holds_now).abs() < 1e-6, "{advice:?}");
        assert!(advice.worth.iter().all(|w| w.holds_after <= w.wrong_after + 1e-9), "{advice:?}");
        assert!(advice.worth[0].holds_after > advice.holds_now, "{advice:?}");
    }

    #[test]
    fn of_three_in_doubt_the_one_alike_to_the_others_tells_most() {
        let candidates =
            [candidate("a", 0.30, 1.29), candidate("b", 0.36, 1.29), candidate("c", 0.44, 1.29)];
        let advice = next(&[], &candidates).unwrap();
        assert_eq!(advice.worth[0].candidate, 1, "{advice:?}");
    }
}
