//! Delivered rolls: what each would do to the figure, and which to hold for testing.
//!
//! A roll takes the place of its plies with its measured mass and thickness, all else at its value.
//! For each fabric the figures stand on an individuals chart in the order of delivery.

use crate::bench::figure::Found;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Entry, Layup};
use crate::garment::lots::Roll;
use crate::garment::press::of_roll;
use crate::study::answer::AnswerError;
use crate::study::figure::{Ask, figures};
use crate::study::quilt::lay::press_in_proportion;

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
    pub found: Found,
    /// Figure over the target less 1 [–]; none without a target, or where it was not reached.
    pub margin: Option<f64>,
    /// Figure over that of the reference roll less 1 [–]; none where either was not reached.
    pub against_reference: Option<f64>,
    /// Why it is held; empty when it is not.
    pub holds: Vec<Hold>,
    /// Whether the whole rule could be applied. Of a roll that is neither held nor judged nothing
    /// can be said.
    pub judged: bool,
}

impl Rated {
    /// Whether nothing can be said of it.
    pub fn is_open(&self) -> bool {
        self.holds.is_empty() && !self.judged
    }
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
    /// The chart's limits; none for a single roll, or where the figure of any was not reached.
    pub limits: Option<Limits>,
}

/// All rolls.
#[derive(Debug, Clone, PartialEq)]
pub struct Lots {
    /// The figure of the layup as it stands.
    pub nominal: Found,
    /// What the rule asked.
    pub rule: Rule,
    /// One group a fabric or ply, in the order in which they first appear.
    pub groups: Vec<Group>,
}

/// The layup with a roll in place of its plies; stitch lines press them in proportion.
pub fn with_roll(layup: &Layup, roll: &Roll) -> Layup {
    let (mut layup, before) = (layup.clone(), layup.plies_thickness());
    let plies = layup.stack.iter_mut().filter_map(|entry| match entry {
        Entry::Ply(ply) => Some(ply),
        Entry::Gap(_) => None,
    });
    for (_, ply) in plies.enumerate().filter(|(j, _)| roll.plies.contains(j)) {
        ply.fabric = of_roll(&ply.fabric, roll.areal_density, roll.thickness);
    }
    press_in_proportion(&mut layup, before);
    layup
}

/// Rates every roll.
///
/// - `reference`: name of the lot that the others are counted from; the first of each group if none
///
/// Errors: those of the bench.
pub fn lots(
    layup: &Layup,
    rolls: &[Roll],
    reference: Option<&str>,
    ask: &Ask,
    rule: Rule,
) -> Result<Lots, AnswerError> {
    let with_rolls = rolls.iter().map(|roll| with_roll(layup, roll));
    let cases: Vec<(Layup, Exposure)> = [layup.clone()]
        .into_iter()
        .chain(with_rolls)
        .map(|layup| (layup, ask.nominal.clone()))
        .collect();
    let found = figures(&cases, ask)?;
    let mut groups: Vec<(Vec<usize>, Delivered)> = Vec::new();
    for (roll, found) in rolls.iter().zip(&found[1..]) {
        let one = (roll.clone(), *found);
        match groups.iter_mut().find(|(plies, _)| *plies == roll.plies) {
            Some((_, group)) => group.push(one),
            None => groups.push((roll.plies.clone(), vec![one])),
        }
    }
    let groups = groups.into_iter().map(|(plies, rolls)| group(plies, rolls, reference, rule));
    Ok(Lots { nominal: found[0], rule, groups: groups.collect() })
}

/// The rolls of one group with their figures, in the order of delivery.
type Delivered = Vec<(Roll, Found)>;

/// A figure that was not reached leaves no difference and no limits: a roll may lie below them then,
/// and no roll of the group is released.
fn group(plies: Vec<usize>, rolls: Delivered, reference: Option<&str>, rule: Rule) -> Group {
    let named = |name: &str| rolls.iter().position(|(roll, _)| roll.lot == name);
    let reference = reference.and_then(named).unwrap_or(0);
    let value = |found: &Found| found.valued().map(|valued| valued.value);
    let base = value(&rolls[reference].1);
    let values: Option<Vec<f64>> = rolls.iter().map(|(_, found)| value(found)).collect();
    let limits = values.as_deref().and_then(individuals);
    let rated = |(roll, found): (Roll, Found)| {
        let own = value(&found);
        let over = |base: Option<f64>| own.zip(base).map(|(own, base)| own / base - 1.0);
        let (margin, against_reference) = (over(rule.at_least), over(base));
        let outside = |(own, l): (f64, Limits)| own < l.low || own > l.high;
        let checks = [
            (margin.is_some_and(|margin| margin < 0.0), Hold::BelowTarget),
            (against_reference.is_some_and(|less| less < -rule.drop_most), Hold::BelowReference),
            (own.zip(limits).is_some_and(outside), Hold::OutsideLimits),
        ];
        let holds = checks.into_iter().filter(|(held, _)| *held).map(|(_, hold)| hold).collect();
        Rated { roll, found, margin, against_reference, holds, judged: values.is_some() }
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
    use super::{Hold, Rule, group, individuals};
    use crate::bench::figure::Found;
    use crate::bench::outcome::Valued;
    use crate::garment::lots::Roll;

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

    /// A roll that is not reached leaves no limits, and no roll of its group is released by them.
    #[test]
    fn what_was_not_reached_releases_no_roll() {
        let roll = |i: usize| Roll {
            lot: format!("lot-{i}"),
            plies: vec![0],
            fabric: "felt".to_string(),
            areal_density: 0.1,
            thickness: 1e-3,
        };
        let value =
            |t: f64| Found::Value { valued: Valued { value: t, error: 0.0 }, t, beyond: false };
        let over = Found::AtLeast { least: 13.0, t_end: 13.0 };
        let rule = Rule { at_least: Some(12.0), drop_most: 0.03 };
        let rate = |found: &[Found]| {
            let rolls = found.iter().enumerate().map(|(i, found)| (roll(i), *found)).collect();
            group(vec![0], rolls, None, rule)
        };
        let none = rate(&[over; 3]);
        assert_eq!(none.limits, None);
        for rated in &none.rolls {
            assert!(rated.is_open(), "{rated:?}");
            assert_eq!((rated.margin, rated.against_reference), (None, None), "{rated:?}");
        }
        let some = rate(&[value(12.5), over, value(11.0)]);
        assert_eq!(some.limits, None);
        let open: Vec<bool> = some.rolls.iter().map(|rated| rated.is_open()).collect();
        assert_eq!(open, [true, true, false]);
        assert_eq!(some.rolls[2].holds, [Hold::BelowTarget, Hold::BelowReference]);
        let all = rate(&[value(12.5), value(12.6), value(12.4)]);
        assert!(all.limits.is_some() && all.rolls.iter().all(|rated| rated.judged), "{all:?}");
    }
}
