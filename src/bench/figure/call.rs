//! Above, below or too close to call: a figure held against a standard's threshold.
//!
//! The rule is one-sided and rests on factors from measured cases: *above* only if the lower factor times
//! the figure, its numerical error taken off, reaches the threshold; *below* only if the upper factor
//! times the figure with its error does not. What was not reached is a lower bound, which may be above
//! and nothing else.

use crate::bench::figure::found::Found;
use crate::bench::figure::name::figure_name;
use crate::bench::outcome::Valued;
use crate::garment::band::{Band, Bands, Factors};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::target::{Figure, Target};

/// Where a figure stands against a threshold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Call {
    /// Above, even if the bench lies at the lower factor.
    Above,
    /// Below, even if the bench lies at the upper factor.
    Below,
    /// Neither.
    TooClose,
}

impl Call {
    /// The words used in output.
    pub fn words(self) -> &'static str {
        match self {
            Call::Above => "above",
            Call::Below => "below",
            Call::TooClose => "too close to call",
        }
    }
}

/// Why a figure is not judged against a target.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoCall {
    /// The target is meant for another exposure, named here.
    OtherExposure(String),
    /// The exposure's duration was changed and ends before the figure is settled.
    FlameTakenAway,
    /// The run that gives the figure was not asked for; the value of `--behind` that gives it.
    NotAsked(&'static str),
    /// Not reached within the time looked at, and what it is at least does not reach far enough.
    NotReached,
    /// The meshes disagree on whether it is reached.
    Unsettled,
}

/// What a figure has to be for a call [SI of the figure].
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// The figure that the threshold is on.
    pub figure: Figure,
    /// Its name under the exposure.
    pub name: &'static str,
    /// The threshold.
    pub at_least: f64,
    /// The row of the shelf's table that holds.
    pub band: Band,
}

impl Rule {
    /// The rule of a target for a layup under an exposure.
    pub fn new(target: &Target, layup: &Layup, exposure: &Exposure, bands: &Bands) -> Rule {
        let band = bands.of(layup, target.figure, exposure);
        let (figure, at_least) = (target.figure, target.at_least);
        Rule { figure, name: figure_name(figure, exposure), at_least, band }
    }

    /// The factors of the call.
    pub fn factors(&self) -> Factors {
        self.band.factors
    }

    /// What has to be predicted, at least, to be called above.
    pub fn needs(&self) -> f64 {
        self.at_least / self.band.factors.lower
    }

    /// What has to be predicted, less than this, to be called below.
    pub fn below(&self) -> f64 {
        self.at_least / self.band.factors.upper
    }

    /// Where a figure with its numerical error stands.
    fn compare(&self, Valued { value, error }: Valued) -> Call {
        let Factors { lower, upper } = self.band.factors;
        if lower * (value - error.abs()) >= self.at_least {
            Call::Above
        } else if upper * (value + error.abs()) < self.at_least {
            Call::Below
        } else {
            Call::TooClose
        }
    }
}

/// What a figure was had under.
#[derive(Debug, Clone, Copy)]
pub struct Under<'a> {
    /// The layup.
    pub layup: &'a Layup,
    /// The exposure that was computed.
    pub exposure: &'a Exposure,
    /// The exposure before its duration was changed for this run.
    pub as_given: &'a Exposure,
    /// The shelf's table of factors.
    pub bands: &'a Bands,
}

/// One target's answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Where the figure stands, or why nothing can be said.
    pub call: Result<Call, NoCall>,
    /// What is known of the figure.
    pub found: Found,
    /// (Figure − threshold) / threshold [–], when there is a figure; of the anchored one where tests were asked.
    pub margin: Option<f64>,
    /// What is to spare: the least that the figure can be, over what has to be predicted to be called
    /// above, less 1 [–]. 0 and more is called above, where anything is; none of nothing known.
    pub spare: Option<f64>,
    /// What the call asks.
    pub rule: Rule,
}

/// Holds what is known of a figure against a target.
///
/// - `found`: the figure that the target speaks of
pub fn hold(found: Found, target: &Target, under: &Under<'_>) -> Verdict {
    let rule = Rule::new(target, under.layup, under.exposure, under.bands);
    let call = match reason_against(found, target, under) {
        Some(reason) => Err(reason),
        None => compare(found, &rule),
    };
    let margin =
        found.valued().map(|valued| rule.band.factor() * valued.value / target.at_least - 1.0);
    let spare = found.lowest().map(|least| least / rule.needs() - 1.0);
    Verdict { call, found, margin, spare, rule }
}

impl Verdict {
    /// The margin, or what it is at least where the figure was not reached; of the anchored figure
    /// where tests were asked [–].
    pub fn margin_or_least(&self) -> Option<f64> {
        let least = self.found.value_or_least()?;
        Some(self.rule.band.factor() * least / self.rule.at_least - 1.0)
    }
}

fn compare(found: Found, rule: &Rule) -> Result<Call, NoCall> {
    match found {
        Found::Value { valued, .. } => Ok(rule.compare(valued)),
        Found::AtLeast { least, .. } if least >= rule.needs() => Ok(Call::Above),
        Found::AtLeast { .. } => Err(NoCall::NotReached),
        Found::Unsettled { .. } => Err(NoCall::Unsettled),
        Found::NotAsked => Err(NoCall::NotAsked(behind(rule.figure))),
    }
}

fn reason_against(found: Found, target: &Target, under: &Under<'_>) -> Option<NoCall> {
    if !target.suits(under.as_given) {
        return Some(NoCall::OtherExposure(target.exposure.clone()));
    }
    if found == Found::NotAsked {
        return Some(NoCall::NotAsked(behind(target.figure)));
    }
    let shortened = under.exposure.duration != under.as_given.duration;
    let settled = match found {
        Found::Value { t, .. } => t,
        _ => f64::INFINITY,
    };
    let taken_away = under.exposure.duration.is_some_and(|t| settled > t);
    (shortened && taken_away).then_some(NoCall::FlameTakenAway)
}

/// The value of `--behind` that gives a figure.
fn behind(figure: Figure) -> &'static str {
    if figure == Figure::SecondDegree { "skin" } else { "disc" }
}

#[cfg(test)]
mod tests {
    use super::{Call, NoCall, Under, hold};
    use crate::bench::figure::found::Found;
    use crate::bench::outcome::Valued;
    use crate::garment::band::{Band, Bands, Class, Factors, Reading};
    use crate::garment::exposure::Exposure;
    use crate::garment::layup::Layup;
    use crate::garment::target::{Figure, Target};
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;

    const LOWER: f64 = 0.5;
    const UPPER: f64 = 0.8;

    /// Factors that are both below 1, as those of felts: a prediction of 12 s is below 12 s then.
    fn bands() -> Bands {
        let row = |reading| Band {
            class: Class::ThreePlies,
            reading,
            factors: Factors { lower: LOWER, upper: UPPER },
            n_cases: 0,
            basis: "made up for the test".to_string(),
            source: String::new(),
            anchored: None,
        };
        Bands::new(Reading::ALL.map(row).to_vec())
    }

    fn layup() -> Layup {
        let (shelf, name) = (shelf(), "three-ply-loose");
        let path = shelf.layup_path(name).unwrap();
        read_layup_text(shelf.layup_text(name).unwrap(), path, &shelf).unwrap()
    }

    fn shelf() -> Shelf {
        Shelf::built_in().unwrap()
    }

    fn target(figure: Figure) -> Target {
        let shelf = shelf();
        let target = shelf.target("fia-8856-2018-overall").unwrap().clone();
        assert_eq!(target.at_least, 12.0);
        Target { figure, ..target }
    }

    fn held(found: Found, figure: Figure, change: fn(&mut Exposure)) -> Result<Call, NoCall> {
        let (shelf, bands) = (shelf(), bands());
        let as_given = shelf.exposure("flame-80").unwrap();
        let mut exposure = as_given.clone();
        change(&mut exposure);
        let under = Under { layup: &layup(), exposure: &exposure, as_given, bands: &bands };
        hold(found, &target(figure), &under).call
    }

    fn value(t: f64, error: f64) -> Found {
        Found::Value { valued: Valued { value: t, error }, t, beyond: false }
    }

    fn as_it_is(_: &mut Exposure) {}

    #[track_caller]
    fn check(found: Found, expected: Result<Call, NoCall>) {
        assert_eq!(held(found, Figure::Rise24, as_it_is), expected, "{found:?}");
    }

    #[test]
    fn each_side_has_its_own_factor_and_the_error_counts_against_both() {
        check(value(24.0, 0.0), Ok(Call::Above));
        check(value(24.0, 0.1), Ok(Call::TooClose));
        check(value(24.1, 0.1), Ok(Call::Above));
        check(value(23.9, 0.0), Ok(Call::TooClose));
        check(value(15.0, 0.0), Ok(Call::TooClose));
        check(value(14.9, 0.0), Ok(Call::Below));
        check(value(14.9, 0.2), Ok(Call::TooClose));
        // above the threshold itself, and yet below it by the cases
        check(value(13.0, 0.0), Ok(Call::Below));
        check(value(f64::NAN, 0.0), Ok(Call::TooClose));
        check(value(30.0, f64::NAN), Ok(Call::TooClose));
    }

    #[test]
    fn what_was_not_reached_may_be_above_and_nothing_else() {
        check(Found::AtLeast { least: 24.0, t_end: 24.0 }, Ok(Call::Above));
        check(Found::AtLeast { least: 23.9, t_end: 23.9 }, Err(NoCall::NotReached));
        check(Found::AtLeast { least: 0.0, t_end: 60.0 }, Err(NoCall::NotReached));
        check(Found::Unsettled { low: 59.0, high: 60.0 }, Err(NoCall::Unsettled));
    }

    #[test]
    fn what_was_not_asked_names_the_run_that_tells() {
        check(Found::NotAsked, Err(NoCall::NotAsked("disc")));
        let skin = held(Found::NotAsked, Figure::SecondDegree, as_it_is);
        assert_eq!(skin, Err(NoCall::NotAsked("skin")));
    }

    #[test]
    fn a_flame_that_was_shortened_is_compared_up_to_its_end() {
        let short = |exposure: &mut Exposure| exposure.duration = Some(20.0);
        let taken = Err(NoCall::FlameTakenAway);
        assert_eq!(held(value(30.0, 0.1), Figure::Rise24, short), taken);
        let over = Found::AtLeast { least: 60.0, t_end: 60.0 };
        assert_eq!(held(over, Figure::Rise24, short), taken);
        assert_eq!(held(value(10.0, 0.1), Figure::Rise24, short), Ok(Call::Below));
    }

    #[test]
    fn a_target_holds_for_its_own_exposure_alone() {
        let (shelf, bands) = (shelf(), bands());
        let exposure = shelf.exposure("radiant-20").unwrap();
        let under = Under { layup: &layup(), exposure, as_given: exposure, bands: &bands };
        let verdict = hold(value(30.0, 0.1), &target(Figure::Rise24), &under);
        assert_eq!(verdict.call, Err(NoCall::OtherExposure("flame-80".to_string())));
        assert_eq!(verdict.margin, Some(1.5));
    }

    /// Two figures of different classes are told apart by what each needs, not by their margins.
    #[test]
    fn what_is_to_spare_counts_from_what_is_needed_with_the_error_taken_off() {
        let (shelf, bands) = (shelf(), bands());
        let exposure = shelf.exposure("flame-80").unwrap();
        let under = Under { layup: &layup(), exposure, as_given: exposure, bands: &bands };
        for (found, spare) in [
            (value(24.0, 0.0), Some(0.0)),
            (value(24.0, 1.2), Some(-0.05)),
            (value(12.0, 0.0), Some(-0.5)),
            (Found::AtLeast { least: 36.0, t_end: 36.0 }, Some(0.5)),
            (Found::Unsettled { low: 59.0, high: 60.0 }, None),
        ] {
            let verdict = hold(found, &target(Figure::Rise24), &under);
            let agrees = match (verdict.spare, spare) {
                (Some(one), Some(other)) => f64::abs(one - other) < 1e-12,
                (one, other) => one == other,
            };
            assert!(agrees, "{verdict:?}");
            if let Some(spare) = spare {
                assert_eq!(spare >= 0.0, verdict.call == Ok(Call::Above), "{verdict:?}");
            }
        }
    }

    #[test]
    fn the_rule_is_the_threshold_over_the_factors() {
        let (shelf, bands) = (shelf(), bands());
        let exposure = shelf.exposure("flame-80").unwrap();
        let under = Under { layup: &layup(), exposure, as_given: exposure, bands: &bands };
        let rule = hold(value(30.0, 0.1), &target(Figure::Rise24), &under).rule;
        assert_eq!((rule.needs(), rule.below(), rule.name), (24.0, 12.0 / UPPER, "HTI24"));
    }
}
