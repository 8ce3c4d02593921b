//! What the odds are of, and words for them.

use crate::bench::figure::{Figured, Verdict, figure_name, shown};
use crate::bench::lies::Stack;
use crate::garment::band::Factors;
use crate::garment::exposure::Exposure;
use crate::garment::known::Provenance;
use crate::garment::layup::Layup;
use crate::garment::target::{Judged, Target};
use crate::physics::units::{PERCENT, Quantity};
use crate::report::number::{Shown, fixed, short};
use crate::report::sensitivity;
use crate::report::verdict::threshold;
use crate::study::odds::inputs::{Input, Origin, Which};
use crate::study::odds::result::{Odds, View};
use crate::study::odds::spread::Share;
use crate::study::property::Property;

/// What the odds are of.
#[derive(Debug, Clone)]
pub struct OddsOf<'a> {
    /// The layup.
    pub layup: &'a Layup,
    /// How it lay.
    pub stack: Stack<'a>,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// The target.
    pub target: &'a Target,
    /// The figure with everything at its value held against the target.
    pub verdict: Verdict,
    /// The result.
    pub odds: &'a Odds,
}

impl OddsOf<'_> {
    /// Name of the figure.
    pub fn figure(&self) -> &'static str {
        figure_name(self.target.figure, self.exposure)
    }

    /// Unit of the figure in text.
    pub fn unit(&self) -> Quantity {
        shown(self.target.figure)
    }

    /// What the model itself adds, in a sentence.
    pub fn model_words(&self) -> String {
        let factors = self.odds.inputs.model;
        if factors == Factors::EXACT {
            return "The model is taken as exact.".to_string();
        }
        format!(
            "The bench at {} to {} of the prediction, 5 % beyond either.",
            fixed(factors.lower, 2),
            short(factors.upper, 2)
        )
    }

    /// The set in words: "all 3 of a set", "the mean of 3".
    pub fn set_words(&self) -> String {
        let n = self.odds.plan.n_specimens;
        match self.odds.judged {
            _ if n == 1 => "the one of a set".to_string(),
            Judged::Lowest => format!("all {n} of a set"),
            Judged::Mean => format!("the mean of {n}"),
        }
    }

    /// The odds in a sentence.
    pub fn sentence(&self) -> String {
        let View { one, set, .. } = &self.odds.with_model;
        format!(
            "With the model in it, one specimen reaches {} with {}, {} with {}.",
            threshold(self.target),
            share_words(one),
            self.set_words(),
            share_words(set)
        )
    }
}

/// "62.1 % (59.1 to 65.0 %)".
pub fn share_words(share: &Share) -> String {
    let percent = |part: f64| PERCENT.fixed(part, 1);
    format!("{} % ({} to {} %)", percent(share.value()), percent(share.low), percent(share.high))
}

/// Name of an input: "mass, ply 2".
pub fn input_name(input: &Input) -> String {
    match input.which {
        Which::Mass(j) => format!("mass, ply {}", j + 1),
        Which::Thickness(j) => format!("thickness, ply {}", j + 1),
        Which::Model => "the model itself".to_string(),
        Which::Of(property) => sensitivity::name(property),
    }
}

/// Name of an input with the ply's fabric, for where no list of plies stands beside it.
pub fn input_in_full(input: &Input, layup: &Layup) -> String {
    let fabric = |j: usize| layup.plies().nth(j).map_or("", |ply| ply.fabric.name.as_str());
    match input.which {
        Which::Mass(j) | Which::Thickness(j) | Which::Of(Property::Ply(j, _)) => {
            format!("{} {}", input_name(input), fabric(j))
        }
        Which::Model | Which::Of(_) => input_name(input),
    }
}

/// Where a tolerance comes from, in words.
pub fn origin_word(input: &Input) -> &'static str {
    match input.origin {
        Origin::Own => "own",
        Origin::Provenance(Provenance::Invented) => "invented",
        Origin::Provenance(provenance) => provenance.word(),
        Origin::Method => "method",
        Origin::Model => "cases",
    }
}

/// A figure in its unit, without it; "over 60.00" where that is only a bound.
pub fn figure_words(figured: Figured, unit: Quantity) -> String {
    let value = fixed(unit.outside(figured.value), 2);
    if figured.reached { value } else { format!("over {value}") }
}
