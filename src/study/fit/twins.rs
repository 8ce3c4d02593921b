//! Properties that the readings cannot tell apart, and which of them to measure otherwise.

use crate::garment::property::OfPly;
use crate::study::fit::free::{Free, What};
use crate::study::fit::spread::Spread;
use crate::study::property::Property;

/// Condition from which a direction counts as unseen [–]: a single interval is then hundreds of times
/// wider than with the others known. Belsley, Kuh and Welsch 1980 speak of strong dependence from
/// 30 to 100 on (from memory).
pub const CONDITION_MOST: f64 = 300.0;
/// Correlation from which two properties count as poorly told apart [–]; common practice, no source.
pub const CORRELATION_MOST: f64 = 0.95;
/// A correlation is worth a word only where an interval is wider than this share of its value [–].
const HALF_WIDTH_LEAST: f64 = 0.05;
/// A property takes part in a direction from this share on [–].
const PART_LEAST: f64 = 0.3;

/// How badly properties are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blur {
    /// The readings do not feel it at all.
    Unfelt,
    /// Together they leave the readings as they are.
    Inseparable,
    /// Only with wide intervals.
    Poor,
}

/// Properties that go together.
#[derive(Debug, Clone, PartialEq)]
pub struct Twins {
    /// How badly.
    pub blur: Blur,
    /// Which of the free properties, by number from 0.
    pub who: Vec<usize>,
    /// Relative changes that together leave the readings as they are, the first one being 1 [–].
    pub trade: Vec<f64>,
    /// Which to measure otherwise and hold, by number from 0.
    pub fix: usize,
}

/// What goes together among the free properties, worst first.
pub fn twins(free: &[Free], factors: &[f64], spread: &Spread) -> Vec<Twins> {
    let most = spread.effects.iter().copied().fold(0.0, f64::max);
    let unfelt = |i: &usize| spread.effects[*i] <= 1e-6 * most || spread.effects[*i] == 0.0;
    let mut found: Vec<Twins> = (0..free.len())
        .filter(unfelt)
        .map(|i| Twins { blur: Blur::Unfelt, who: vec![i], trade: vec![1.0], fix: i })
        .collect();
    let trade = |who: &[usize], weights: &[f64]| -> Vec<f64> {
        // from equal effect on the readings to shares of the value
        let share = |(i, w): (&usize, &f64)| w / (spread.effects[*i] * factors[*i]);
        let all: Vec<f64> = who.iter().zip(weights).map(share).collect();
        all.iter().map(|v| v / all[0]).collect()
    };
    let easiest = |who: &[usize]| *who.iter().min_by_key(|i| effort(free[**i].what)).unwrap_or(&0);
    if spread.condition >= CONDITION_MOST {
        let takes_part = |i: &usize| spread.weakest[*i].abs() >= PART_LEAST && !unfelt(i);
        let who: Vec<usize> = (0..free.len()).filter(takes_part).collect();
        if who.len() > 1 {
            let weights: Vec<f64> = who.iter().map(|i| spread.weakest[*i]).collect();
            let (trade, fix) = (trade(&who, &weights), easiest(&who));
            found.push(Twins { blur: Blur::Inseparable, who, trade, fix });
        }
    }
    let Some(correlation) = &spread.correlation else { return found };
    for i in 0..free.len() {
        for j in i + 1..free.len() {
            let r = correlation[[i, j]];
            let told = found.iter().any(|twins| twins.who.contains(&i) && twins.who.contains(&j));
            let wide = |i: usize| {
                spread.half_widths[i].is_none_or(|half| half > HALF_WIDTH_LEAST * factors[i])
            };
            if r.abs() >= CORRELATION_MOST && !told && (wide(i) || wide(j)) {
                let who = vec![i, j];
                let (trade, fix) = (trade(&who, &[1.0, r.signum()]), easiest(&who));
                found.push(Twins { blur: Blur::Poor, who, trade, fix });
            }
        }
    }
    found
}

/// How much trouble it is to measure a property otherwise; common practice, no source.
fn effort(what: What) -> u8 {
    match what {
        What::Property(Property::Flux) => 0,
        What::Property(Property::Ply(_, OfPly::Thickness)) => 1,
        What::Property(Property::Gap(_)) => 2,
        What::Property(Property::Ply(_, OfPly::Emissivity)) => 3,
        What::Property(Property::Ply(_, OfPly::SpecificHeat)) => 4,
        What::Property(Property::Ply(_, OfPly::Conductivity)) => 5,
        What::Property(Property::RadiantShare) => 6,
        What::Joint(_) => 7,
        What::Property(_) => 8,
    }
}
