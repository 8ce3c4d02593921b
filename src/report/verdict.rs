//! Above, below or too close to call: a figure held against a standard's threshold.

use crate::bench::figure::{Found, figure_name, of_outcome, shown};
use crate::bench::outcome::Outcome;
use crate::garment::exposure::Exposure;
use crate::garment::target::{Figure, Target};
use crate::report::figures::{self, in_words};
use crate::report::number::{fixed, short};
use crate::report::table::{Align, Table, paragraph};
use crate::report::words::list;

pub use crate::study::band::MODEL_BAND;

/// Where a figure stands against a threshold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Call {
    /// Above, by more than numerical error and model band together.
    Above,
    /// Below, by more than both together.
    Below,
    /// Within them.
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

/// One target's answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Where the figure stands, or why nothing can be said.
    pub call: Result<Call, NoCall>,
    /// What is known of the figure.
    pub found: Found,
    /// (Figure − threshold) / threshold [–], when there is a figure.
    pub margin: Option<f64>,
}

/// Why a figure is not held against a target.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoCall {
    /// The target is meant for another exposure, named here.
    OtherExposure(String),
    /// The exposure's duration was changed and ends before the figure is settled.
    FlameTakenAway,
    /// The run that gives the figure was not asked for; the value of `--behind` that gives it.
    NotAsked(&'static str),
}

/// Holds the outcome against a target.
///
/// - `as_given`: the exposure before its duration was changed for this run
pub fn call(outcome: &Outcome, target: &Target, as_given: &Exposure) -> Verdict {
    call_found(of_outcome(outcome, target.figure), &outcome.exposure, target, as_given)
}

/// Holds what is known of a figure against a target.
///
/// - `found`: the figure that the target speaks of, under `exposure`
/// - `as_given`: the exposure before its duration was changed for this run
pub fn call_found(
    found: Found,
    exposure: &Exposure,
    target: &Target,
    as_given: &Exposure,
) -> Verdict {
    let margin = match found {
        Found::Value { valued, .. } => Some(valued.value / target.at_least - 1.0),
        _ => None,
    };
    let call = match reason_against(exposure, target, as_given, found) {
        Some(reason) => Err(reason),
        None => Ok(compare(found, target)),
    };
    Verdict { call, found, margin }
}

fn reason_against(
    exposure: &Exposure,
    target: &Target,
    as_given: &Exposure,
    found: Found,
) -> Option<NoCall> {
    if !target.suits(as_given) {
        return Some(NoCall::OtherExposure(target.exposure.clone()));
    }
    if found == Found::NotAsked {
        let behind = if target.figure == Figure::SecondDegree { "skin" } else { "disc" };
        return Some(NoCall::NotAsked(behind));
    }
    let shortened = exposure.duration != as_given.duration;
    let settled = match found {
        Found::Value { t, .. } => t,
        _ => f64::INFINITY,
    };
    let taken_away = exposure.duration.is_some_and(|t| settled > t);
    (shortened && taken_away).then_some(NoCall::FlameTakenAway)
}

/// Where what is known of a figure stands against a threshold.
pub(crate) fn compare(found: Found, target: &Target) -> Call {
    match found {
        Found::Value { valued, .. } => {
            let band = MODEL_BAND * valued.value.abs() + valued.error.abs();
            if valued.value - band >= target.at_least {
                Call::Above
            } else if valued.value + band < target.at_least {
                Call::Below
            } else {
                Call::TooClose
            }
        }
        Found::AtLeast { least, .. } if (1.0 - MODEL_BAND) * least >= target.at_least => {
            Call::Above
        }
        _ => Call::TooClose,
    }
}

/// The answers in text.
pub fn section(exposure: &Exposure, verdicts: &[(&Target, Verdict)]) -> String {
    let mut table = Table::new(&[Align::Left, Align::Left, Align::Right, Align::Left]);
    for (target, verdict) in verdicts {
        let asks = format!("{} ≥ {}", figure_name(target.figure, exposure), threshold(target));
        table.row([target.name.clone(), asks, value(verdict, target.figure), answer(verdict)]);
    }
    let mut out = table.render();
    out.push_str(&paragraph(
        &format!(
            "Called only when the margin is wider than the numerical error and a model band of \
             ±{} % together: the accuracy aimed at, not one shown for this layup.",
            short(100.0 * MODEL_BAND, 0)
        ),
        2,
    ));
    if verdicts.iter().any(|(_, verdict)| verdict.found.is_beyond()) {
        let mark = figures::BEYOND_MARK;
        out.push_str(&paragraph(&format!("{mark} after a ply passed its limit, see above."), 2));
    }
    out.push_str(&judged_on(verdicts));
    out
}

/// How the standards judge a set of specimens, which one run of a model is not.
fn judged_on(verdicts: &[(&Target, Verdict)]) -> String {
    let mut ways: Vec<&str> = verdicts.iter().map(|(target, _)| &*target.judged_on).collect();
    ways.sort_unstable();
    ways.dedup();
    let line = |way: &&str| {
        let named = verdicts.iter().filter(|(target, _)| target.judged_on == *way);
        let names: Vec<&str> = named.map(|(target, _)| &*target.name).collect();
        paragraph(&format!("Judged on the {way} of a set of specimens: {}.", list(&names)), 2)
    };
    ways.iter().filter(|way| !way.is_empty()).map(line).collect()
}

/// The threshold with its unit.
pub fn threshold(target: &Target) -> String {
    let unit = shown(target.figure);
    format!("{} {}", short(unit.per_si * target.at_least, 2), unit.word)
}

fn value(verdict: &Verdict, figure: Figure) -> String {
    match verdict.found {
        Found::Value { valued, beyond, .. } => {
            let unit = shown(figure);
            let mark = if beyond { figures::BEYOND_MARK } else { "" };
            format!("{} {}{mark}", fixed(unit.per_si * valued.value, 2), unit.word)
        }
        other => in_words(&other, figure),
    }
}

/// The call in words, or why there is none.
pub fn answer(verdict: &Verdict) -> String {
    match (&verdict.call, verdict.margin) {
        (Ok(call), Some(margin)) => {
            let sign = if margin < 0.0 { "" } else { "+" };
            format!("{} ({sign}{} %)", call.words(), fixed(100.0 * margin, 0))
        }
        (Ok(call), None) => call.words().to_string(),
        (Err(NoCall::OtherExposure(name)), _) => format!("not compared: meant for {name}"),
        (Err(NoCall::FlameTakenAway), _) => "not compared: flame taken away before".to_string(),
        (Err(NoCall::NotAsked(behind)), _) => format!("not compared: needs --behind {behind}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{Call, MODEL_BAND, NoCall, Verdict, call};
    use crate::bench::outcome::{Figures, Outcome, Valued, When};
    use crate::garment::target::Figure;
    use crate::report::sample;

    fn with_rise24(when: When) -> Outcome {
        let mut outcome = sample::outcome();
        match &mut outcome.disc.as_mut().unwrap().figures {
            Figures::Disc(disc) => disc.rise24 = when,
            Figures::Skin(_) => unreachable!("the sample's disc run holds the disc's figures"),
        }
        outcome
    }

    fn against_12_s(when: When) -> Verdict {
        let outcome = with_rise24(when);
        call(&outcome, &sample::target(), &outcome.exposure)
    }

    #[track_caller]
    fn check(t: f64, error: f64, expected: Call) {
        assert_eq!(against_12_s(When::At { t, error }).call, Ok(expected), "{t} ± {error}");
    }

    #[test]
    fn called_only_beyond_error_and_band_together() {
        let upper = 12.0 / (1.0 - MODEL_BAND);
        let lower = 12.0 / (1.0 + MODEL_BAND);
        check(upper + 0.01, 0.0, Call::Above);
        check(upper + 0.01, 0.02, Call::TooClose);
        check(upper - 0.01, 0.0, Call::TooClose);
        check(12.0, 0.0, Call::TooClose);
        check(lower + 0.01, 0.0, Call::TooClose);
        check(lower - 0.01, 0.0, Call::Below);
        check(lower - 0.01, 0.02, Call::TooClose);
        check(f64::NAN, 0.0, Call::TooClose);
    }

    #[test]
    fn what_was_not_reached_bounds_the_figure_from_below() {
        assert_eq!(against_12_s(When::NotWithin { t_end: 60.0 }).call, Ok(Call::Above));
        assert_eq!(against_12_s(When::NotWithin { t_end: 13.0 }).call, Ok(Call::TooClose));
        assert_eq!(against_12_s(When::Unsettled { t: 60.0 }).call, Ok(Call::TooClose));
        let mut target = sample::target();
        target.figure = Figure::Tpp;
        let mut outcome = sample::outcome();
        if let Figures::Disc(disc) = &mut outcome.disc.as_mut().unwrap().figures {
            (disc.stoll, disc.tpp) = (When::NotWithin { t_end: 60.0 }, None);
        }
        assert_eq!(call(&outcome, &target, &outcome.exposure).call, Ok(Call::Above));
    }

    #[test]
    fn is_not_compared_with_what_it_is_not_meant_for() {
        let mut outcome = with_rise24(When::At { t: 30.0, error: 0.1 });
        let target = sample::target();
        let as_given = outcome.exposure.clone();
        outcome.exposure.duration = Some(20.0);
        let no_call = call(&outcome, &target, &as_given).call;
        assert_eq!(no_call, Err(NoCall::FlameTakenAway));
        outcome.exposure.duration = Some(31.0);
        assert_eq!(call(&outcome, &target, &as_given).call, Ok(Call::Above));
        let mut other = as_given.clone();
        other.name = "another".to_string();
        let expected = Err(NoCall::OtherExposure("sample-80".to_string()));
        assert_eq!(call(&outcome, &target, &other).call, expected);
        outcome.disc = None;
        assert_eq!(call(&outcome, &target, &as_given).call, Err(NoCall::NotAsked("disc")));
        let skin = crate::garment::target::Target { figure: Figure::SecondDegree, ..target };
        outcome.skin = None;
        assert_eq!(call(&outcome, &skin, &as_given).call, Err(NoCall::NotAsked("skin")));
    }

    #[test]
    fn the_margin_is_relative_to_the_threshold() {
        let verdict = against_12_s(When::At { t: 15.0, error: 0.1 });
        assert_eq!(verdict.margin, Some(0.25));
        let mut outcome = sample::outcome();
        if let Figures::Disc(disc) = &mut outcome.disc.as_mut().unwrap().figures {
            disc.rise24_less_12 = Some(Valued { value: 6.0, error: 0.01 });
        }
        let mut target = sample::target();
        (target.figure, target.at_least) = (Figure::Rise24Less12, 4.0);
        assert_eq!(call(&outcome, &target, &outcome.exposure).margin, Some(0.5));
    }
}
