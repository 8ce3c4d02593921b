//! Delivered rolls: what each would do to the figure, and which to hold for testing.
//!
//! A roll takes the place of its plies with its measured mass and thickness, all else at its value.
//! For each fabric the figures stand on an individuals chart in the order of delivery.

use crate::garment::exposure::Exposure;
use crate::garment::layup::{Entry, Layup};
use crate::garment::lots::Roll;
use crate::garment::press::of_roll;
use crate::study::figure::{Ask, FigureError, Figured, figures};

/// Distance of the limits from the centre, in mean moving ranges of two: 3/d2, d2 = 1.128.
///
/// Source: W. A. Shewhart, Economic Control of Quality of Manufactured Product, 1931 (limits at three
/// sigma); D. J. Wheeler, Understanding Statistical Process Control, 2nd ed. 1992 (2.660).
pub const LIMIT_FACTOR: f64 = 2.660;
/// Below so many rolls the limits are provisional. Common practice, no source.
pub const N_SETTLED: usize = 8;

/// When a roll is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// The target [s or J/m²]; none for no target.
    pub at_least: Option<f64>,
    /// Less than the reference roll's figure by more than this share [–].
    pub drop_most: f64,
}

/// Why a roll is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// Its figure is below the target.
    BelowTarget,
    /// Its figure is too far below the reference roll's.
    BelowReference,
    /// Its figure is outside the limits of the chart.
    OutsideLimits,
}

/// Centre and limits of an individuals chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Mean of the values.
    pub centre: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

/// One roll with its figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Rated {
    /// The roll.
    pub roll: Roll,
    /// The figure of the layup with it.
    pub figured: Figured,
    /// Figure over the target less 1 [–]; none without a target.
    pub margin: Option<f64>,
    /// Figure over that of the reference roll less 1 [–].
    pub against_reference: f64,
    /// Why it is held; empty when it is not.
    pub holds: Vec<Hold>,
}

/// The rolls of one fabric, or of one ply by its number, in the order of delivery.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Plies that they are for, 0 outermost.
    pub plies: Vec<usize>,
    /// Place of the reference roll among `rolls`.
    pub reference: usize,
    /// The rolls.
    pub rolls: Vec<Rated>,
    /// The chart's limits; none for a single roll.
    pub limits: Option<Limits>,
}

/// All rolls.
#[derive(Debug, Clone, PartialEq)]
pub struct Lots {
    /// The figure of the layup as it stands.
    pub nominal: Figured,
    /// What the rule asked.
    pub rule: Rule,
    /// One group a fabric or ply, in the order in which they first appear.
    pub groups: Vec<Group>,
}

/// The layup with a roll in place of its plies.
pub fn with_roll(layup: &Layup, roll: &Roll) -> Layup {
    let mut layup = layup.clone();
    let plies = layup.stack.iter_mut().filter_map(|entry| match entry {
        Entry::Ply(ply) => Some(ply),
        Entry::Gap(_) => None,
    });
    for (_, ply) in plies.enumerate().filter(|(j, _)| roll.plies.contains(j)) {
        ply.fabric = of_roll(&ply.fabric, roll.areal_density, roll.thickness);
    }
    layup
}

/// Rates every roll.
///
/// - `reference`: name of the lot that the others are counted from; the first of each group if none
///
/// Errors: a figure that could not be had.
pub fn lots(
    layup: &Layup,
    rolls: &[Roll],
    reference: Option<&str>,
    ask: &Ask,
    rule: Rule,
) -> Result<Lots, FigureError> {
    let with_rolls = rolls.iter().map(|roll| with_roll(layup, roll));
    let cases: Vec<(Layup, Exposure)> = [layup.clone()]
        .into_iter()
        .chain(with_rolls)
        .map(|layup| (layup, ask.nominal.clone()))
        .collect();
    let found = figures(&cases, ask)?;
    let mut groups: Vec<(Vec<usize>, Delivered)> = Vec::new();
    for (roll, figured) in rolls.iter().zip(&found[1..]) {
        let one = (roll.clone(), *figured);
        match groups.iter_mut().find(|(plies, _)| *plies == roll.plies) {
            Some((_, group)) => group.push(one),
            None => groups.push((roll.plies.clone(), vec![one])),
        }
    }
    let groups = groups.into_iter().map(|(plies, rolls)| group(plies, rolls, reference, rule));
    Ok(Lots { nominal: found[0], rule, groups: groups.collect() })
}

/// The rolls of one group with their figures, in the order of delivery.
type Delivered = Vec<(Roll, Figured)>;

fn group(plies: Vec<usize>, rolls: Delivered, reference: Option<&str>, rule: Rule) -> Group {
    let named = |name: &str| rolls.iter().position(|(roll, _)| roll.lot == name);
    let reference = reference.and_then(named).unwrap_or(0);
    let base = rolls[reference].1.value;
    let values: Vec<f64> = rolls.iter().map(|(_, figured)| figured.value).collect();
    let limits = individuals(&values);
    let rated = |(roll, figured): (Roll, Figured)| {
        let margin = rule.at_least.map(|at_least| figured.value / at_least - 1.0);
        let against_reference = figured.value / base - 1.0;
        let outside = |l: &Limits| figured.value < l.low || figured.value > l.high;
        let checks = [
            (margin.is_some_and(|margin| margin < 0.0), Hold::BelowTarget),
            (against_reference < -rule.drop_most, Hold::BelowReference),
            (limits.as_ref().is_some_and(outside), Hold::OutsideLimits),
        ];
        let holds = checks.into_iter().filter(|(held, _)| *held).map(|(_, hold)| hold).collect();
        Rated { roll, figured, margin, against_reference, holds }
    };
    Group { plies, reference, rolls: rolls.into_iter().map(rated).collect(), limits }
}

/// Centre and limits of an individuals chart: mean, and [`LIMIT_FACTOR`] mean moving ranges either
/// side; none of fewer than two values.
pub fn individuals(values: &[f64]) -> Option<Limits> {
    if values.len() < 2 {
        return None;
    }
    let centre = values.iter().sum::<f64>() / values.len() as f64;
    let moved = values.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum::<f64>();
    let reach = LIMIT_FACTOR * moved / (values.len() - 1) as f64;
    Some(Limits { centre, low: centre - reach, high: centre + reach })
}

#[cfg(test)]
mod tests {
    use super::individuals;

    /// Flow rates of ten batches: NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2,
    /// individuals control charts: mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159.
    #[test]
    fn limits_are_those_of_the_handbook() {
        let values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        let limits = individuals(&values).unwrap();
        assert!((limits.centre - 50.81).abs() < 1e-9, "{limits:?}");
        // the handbook takes 3/1.128 = 2.6596 where the rounded 2.660 stands here
        assert!((limits.high - 55.8041).abs() < 2e-3, "{limits:?}");
        assert!((limits.low - 45.8159).abs() < 2e-3, "{limits:?}");
    }

    #[test]
    fn one_value_has_no_limits() {
        assert_eq!(individuals(&[3.0]), None);
        assert_eq!(individuals(&[]), None);
    }
}
