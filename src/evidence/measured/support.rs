//! What band around a prediction the measured cases support, by one rule.

use crate::evidence::measured::record::{Basis, Class, Comparison, Kind, Subject};
use crate::study::fit::student::two_sided;

/// What a band speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Of {
    /// HTI24 in the flame.
    Flame,
    /// RHTI24 under radiation.
    Radiant,
    /// The time between 12 and 24 K, in either.
    Differences,
    /// Time to a burn of bare skin.
    Skin,
}

impl Of {
    /// All of them.
    pub const ALL: [Of; 4] = [Of::Flame, Of::Radiant, Of::Differences, Of::Skin];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Of::Flame => "flame",
            Of::Radiant => "radiant",
            Of::Differences => "differences",
            Of::Skin => "skin",
        }
    }

    /// Whether a measured case speaks of it.
    fn is_of(self, case: &Comparison) -> bool {
        match self {
            Of::Flame => case.figure == "HTI24",
            Of::Radiant => case.figure == "RHTI24",
            Of::Differences => case.figure.contains('−') && case.unit == "s",
            Of::Skin => case.kind == Kind::Skin,
        }
    }
}

/// How many cases the limits need; with fewer, the range is widened.
pub const CASES_FOR_LIMITS: usize = 5;

/// What the range of fewer cases is widened by, below and above [–].
///
/// Judgement: nominally equal felts of one paper differ by up to 23 % (HTI24) and 27 % (RHTI24), and
/// the range of four draws holds the next one three times in five.
pub const WIDENING: f64 = 1.25;

/// Share of cases to come that lie between the limits [–]: 5 % below, 5 % above.
pub const SHARE_WITHIN: f64 = 0.90;

/// By what the band was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rule {
    /// Prediction limits of the logarithm of the ratio.
    Limits,
    /// Range of the ratios, widened.
    Judgement,
}

impl Rule {
    /// The words used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Rule::Limits => "5 % and 95 % limits",
            Rule::Judgement => "judgement",
        }
    }
}

/// Factors on a prediction between which the bench may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Lower factor [–].
    pub lower: f64,
    /// Upper factor [–].
    pub upper: f64,
    /// How they were found.
    pub rule: Rule,
}

impl Band {
    /// Both ends in hundredths, rounded outwards [–].
    pub fn hundredths(&self) -> (f64, f64) {
        hundredths(self.lower, self.upper)
    }
}

/// Both ends in hundredths, rounded outwards: never narrower than what was found [–].
pub fn hundredths(lower: f64, upper: f64) -> (f64, f64) {
    // keeps 0.65 from becoming 0.64 by the last bit of a sum
    const LAST_BITS: f64 = 1e-9;
    ((100.0 * lower + LAST_BITS).floor() / 100.0, (100.0 * upper - LAST_BITS).ceil() / 100.0)
}

/// The band that measured over predicted supports; none of no case or of one that is no number.
///
/// Five cases and more: m ∓ t s √(1 + 1/n) of the logarithms of the ratios, mean m, deviation s
/// with n − 1 degrees of freedom, t the 95 % point of Student's distribution: the 5 % and 95 % limits
/// of one case to come. Fewer: the lowest ratio over [`WIDENING`] and the highest times it.
///
/// - `ratios`: measured over predicted, each above 0
///
/// Source: prediction interval of one further observation, Hahn and Meeker, Statistical Intervals,
/// 1991, chapter 4 (from memory).
pub fn band(ratios: &[f64]) -> Option<Band> {
    if ratios.is_empty() || !ratios.iter().all(|ratio| ratio.is_finite() && *ratio > 0.0) {
        return None;
    }
    let n = ratios.len();
    if n < CASES_FOR_LIMITS {
        let low = ratios.iter().copied().fold(f64::INFINITY, f64::min);
        let high = ratios.iter().copied().fold(0.0, f64::max);
        let rule = Rule::Judgement;
        return Some(Band { lower: low / WIDENING, upper: high * WIDENING, rule });
    }
    let count = n as f64;
    let mean = ratios.iter().map(|ratio| libm::log(*ratio)).sum::<f64>() / count;
    let squares: f64 = ratios.iter().map(|ratio| (libm::log(*ratio) - mean).powi(2)).sum();
    let deviation = (squares / (count - 1.0)).sqrt();
    let half = two_sided(SHARE_WITHIN, n - 1) * deviation * (1.0 + 1.0 / count).sqrt();
    Some(Band { lower: libm::exp(mean - half), upper: libm::exp(mean + half), rule: Rule::Limits })
}

/// What the measured cases of one class of layups say of one figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Supported {
    /// The class.
    pub subject: Subject,
    /// The figure.
    pub of: Of,
    /// How many cases there are.
    pub n: usize,
    /// Lowest and highest of measured over predicted; none of no case.
    pub ratios: Option<(f64, f64)>,
    /// The band; none of no case, or of a prediction that is not reached.
    pub band: Option<Band>,
}

/// What the cases support, class by class and figure by figure; what lies furthest off comes first.
///
/// Published cases of which nothing set the prediction; what is remembered without a source has no say.
pub fn supported(all: &[Comparison]) -> Vec<Supported> {
    let mut found = Vec::new();
    for subject in Subject::OF_BANDS {
        for of in Of::ALL {
            if (subject == Subject::Skin) != (of == Of::Skin) {
                continue;
            }
            let speaks = |c: &&Comparison| {
                c.class != Class::Band
                    && c.basis == Basis::Uncalibrated
                    && c.subject == subject
                    && of.is_of(c)
            };
            let ratios: Vec<f64> = all.iter().filter(speaks).map(Comparison::ratio).collect();
            let low = ratios.iter().copied().reduce(f64::min);
            let ends = low.zip(ratios.iter().copied().reduce(f64::max));
            let (n, band) = (ratios.len(), band(&ratios));
            found.push(Supported { subject, of, n, ratios: ends, band });
        }
    }
    // a class without cases comes last: nothing is known of it
    let lower = |s: &Supported| s.band.map_or(f64::INFINITY, |band| band.lower);
    found.sort_by(|a, b| lower(a).total_cmp(&lower(b)));
    found
}

#[cfg(test)]
mod tests {
    use super::{Rule, WIDENING, band, hundredths};

    /// Source: hand calculation. Logarithms −0.2, −0.1, 0, 0.1, 0.2: mean 0, deviation √0.025; t at
    /// 95 % for 4 degrees 2.132 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2, from memory); √1.2.
    #[test]
    fn five_cases_have_limits() {
        let ratios = [-0.2_f64, -0.1, 0.0, 0.1, 0.2].map(f64::exp);
        let band = band(&ratios).expect("five ratios");
        let half = 2.132 * 0.025_f64.sqrt() * 1.2_f64.sqrt();
        assert_eq!(band.rule, Rule::Limits);
        // the table's rounding, 5e-4 of 2.132
        assert!((band.upper.ln() / half - 1.0).abs() < 3e-4, "{band:?}, {half}");
        assert!((band.lower.ln() / half + 1.0).abs() < 3e-4, "{band:?}");
    }

    #[test]
    fn fewer_cases_are_a_judgement() {
        let four = band(&[0.8, 0.5, 0.6, 0.7]).expect("four ratios");
        assert_eq!(four.rule, Rule::Judgement);
        assert!((four.lower - 0.5 / WIDENING).abs() < 1e-12, "{four:?}");
        assert!((four.upper - 0.8 * WIDENING).abs() < 1e-12, "{four:?}");
    }

    #[test]
    fn a_band_is_rounded_outwards_and_not_by_its_last_bits() {
        assert_eq!(hundredths(0.638, 0.9974), (0.63, 1.0));
        assert_eq!(hundredths(0.7 - 0.05, 1.0 + 0.05), (0.65, 1.05));
        assert_eq!(hundredths(0.6501, 1.0501), (0.65, 1.06));
    }

    #[test]
    fn no_case_or_no_number_has_no_band() {
        for ratios in [&[][..], &[f64::NAN], &[1.0, 0.0], &[1.0, -1.0, 1.0, 1.0, 1.0]] {
            assert!(band(ratios).is_none(), "{ratios:?}");
        }
    }

    /// Source: scipy, `tests/reference/fits/limits.py`. Tolerance: the table's rounding.
    #[test]
    fn agrees_with_scipy() {
        let table = include_str!("../../../tests/reference/fits/limits.csv");
        let rows: Vec<&str> = table.lines().filter(|line| !line.starts_with('#')).collect();
        assert_eq!(rows.len(), 4, "a header and three rows");
        for row in &rows[1..] {
            let cells: Vec<&str> = row.split(',').collect();
            let number = |text: &str| text.parse::<f64>().expect("a number");
            let ratios: Vec<f64> = cells[0].split(' ').map(number).collect();
            let band = band(&ratios).expect("a band");
            assert!((band.lower - number(cells[1])).abs() < 1e-9, "{row}: {band:?}");
            assert!((band.upper - number(cells[2])).abs() < 1e-9, "{row}: {band:?}");
        }
    }
}
