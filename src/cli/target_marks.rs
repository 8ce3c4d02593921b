//! Targets as the chart of an exposure draws them.

use crate::bench::figure::{NoCall, Verdict};
use crate::bench::outcome::Outcome;
use crate::chart::{Asked, TargetMark};
use crate::garment::exposure::Flux;
use crate::garment::target::{Figure, Target};
use crate::report::verdict::{answer, asks, needs};

/// What the chart of an outcome draws of its targets: for each the moment that it asks for and the one that
/// has to be predicted to be called above it, and the answer in words.
///
/// A target of another exposure has its answer alone, and so has a time between two rises, which is no
/// moment.
pub(super) fn asked(outcome: &Outcome, verdicts: &[(&Target, Verdict)]) -> Asked {
    let mut asked = Asked::default();
    for (target, verdict) in verdicts {
        asked.answers.push(format!("{}: {}.", target.name, answer(verdict)));
        let is_other = matches!(verdict.call, Err(NoCall::OtherExposure(_)));
        // how long it takes to offer one unit of the figure
        let per_unit = match (target.figure, &outcome.exposure.flux) {
            (Figure::Rise24Less12, _) => None,
            (Figure::Tpp, Flux::Steady(q)) => Some(1.0 / q),
            (Figure::Tpp, Flux::Series(_)) => None,
            _ => Some(1.0),
        };
        let Some(per_unit) = per_unit.filter(|_| !is_other) else { continue };
        let of_skin = target.figure == Figure::SecondDegree;
        let rule = &verdict.rule;
        for (least, label) in [
            (rule.at_least, format!("{} asks {}", target.name, asks(rule))),
            (rule.needs(), format!("{} needed to be called above", needs(rule))),
        ] {
            asked.marks.push(TargetMark { of_skin, t: per_unit * least, label });
        }
    }
    asked
}
