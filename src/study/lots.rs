//! Delivered rolls: what each would do to the figure, and which to hold for testing.
//!
//! A roll takes the place of its plies with its measured mass and thickness, all else at its value.
//! For each fabric the figures stand on an individuals chart in the order of delivery.

use crate::bench::figure::{Call, Found, Under, Verdict, hold};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::press::of_roll;
use crate::garment::target::Target;
use crate::shelf::lab::rolls::Roll;
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
#[derive(Debug, Clone, Copy)]
pub struct Rule<'a> {
    /// The target that figures are held against, as every command does, and under what; none for none.
    pub against: Option<(&'a Target, Under<'a>)>,
    /// Less than the reference roll's figure by more than this share [–].
    pub drop_most: f64,
}

/// Why a roll is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// Its figure is called below the target.
    BelowTarget,
    /// Its figure is not called above the target, as it is too close to call.
    NotAboveTarget,
    /// Its figure is too far below the reference roll's.
    BelowReference,
    /// Its figure is outside the limits of the chart.
    OutsideLimits,
}

impl Hold {
    /// Whether the target is the reason: then the layup as it stands may well be no better.
    pub fn is_of_target(self) -> bool {
        matches!(self, Hold::BelowTarget | Hold::NotAboveTarget)
    }
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
    /// The figure held against the target; none without one.
    pub verdict: Option<Verdict>,
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

impl Group {
    /// What a roll's figure must reach that may lie so far below the reference roll's [–]; none where that was not
    /// reached.
    pub fn least(&self, drop_most: f64) -> Option<f64> {
        Some((1.0 - drop_most) * self.rolls.get(self.reference)?.found.valued()?.value)
    }
}

/// All rolls.
#[derive(Debug, Clone, PartialEq)]
pub struct Lots {
    /// The figure of the layup as it stands.
    pub nominal: Found,
    /// The same held against the target; none without one.
    pub against: Option<Verdict>,
    /// How far below the reference roll's figure a roll may lie [–].
    pub drop_most: f64,
    /// One group a fabric or ply, in the order in which they first appear.
    pub groups: Vec<Group>,
}

/// The layup with a roll in place of its plies; stitch lines press them in proportion.
pub fn with_roll(layup: &Layup, roll: &Roll) -> Layup {
    let (mut layup, before) = (layup.clone(), layup.plies_thickness());
    for (_, ply) in layup.plies_mut().enumerate().filter(|(j, _)| roll.plies.contains(j)) {
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
    rule: Rule<'_>,
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
    let (nominal, against, drop_most) = (found[0], rule.hold(found[0]), rule.drop_most);
    Ok(Lots { nominal, against, drop_most, groups: groups.collect() })
}

impl Rule<'_> {
    fn hold(&self, found: Found) -> Option<Verdict> {
        self.against.as_ref().map(|(target, under)| hold(found, target, under))
    }
}

/// The rolls of one group with their figures, in the order of delivery.
type Delivered = Vec<(Roll, Found)>;

/// A figure that was not reached leaves no difference and no limits: a roll may lie below them then,
/// and no roll of the group is released.
fn group(plies: Vec<usize>, rolls: Delivered, reference: Option<&str>, rule: Rule<'_>) -> Group {
    let named = |name: &str| rolls.iter().position(|(roll, _)| roll.lot == name);
    let reference = reference.and_then(named).unwrap_or(0);
    let value = |found: &Found| found.valued().map(|valued| valued.value);
    let base = value(&rolls[reference].1);
    let values: Option<Vec<f64>> = rolls.iter().map(|(_, found)| value(found)).collect();
    let limits = values.as_deref().and_then(individuals);
    let rated = |(roll, found): (Roll, Found)| {
        let own = value(&found);
        let against_reference = own.zip(base).map(|(own, base)| own / base - 1.0);
        let verdict = rule.hold(found);
        let call = verdict.as_ref().map(|verdict| verdict.call.clone());
        let outside = |(own, l): (f64, Limits)| own < l.low || own > l.high;
        let checks = [
            (call == Some(Ok(Call::Below)), Hold::BelowTarget),
            (call == Some(Ok(Call::TooClose)), Hold::NotAboveTarget),
            (against_reference.is_some_and(|less| less < -rule.drop_most), Hold::BelowReference),
            (own.zip(limits).is_some_and(outside), Hold::OutsideLimits),
        ];
        let holds = checks.into_iter().filter(|(held, _)| *held).map(|(_, hold)| hold).collect();
        let judged = values.is_some() && call.is_none_or(|call| call.is_ok());
        Rated { roll, found, verdict, against_reference, holds, judged }
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
    use crate::bench::figure::{Found, Under};
    use crate::bench::outcome::Valued;
    use crate::garment::band::{Band, Bands, Class, Factors, Reading};
    use crate::shelf::lab::rolls::Roll;
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;

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
        let shelf = Shelf::built_in().unwrap();
        let target = shelf.target("fia-8856-2018-overall").unwrap();
        let exposure = shelf.exposure(&target.exposure).unwrap();
        let name = "three-ply-loose";
        let (text, path) = (shelf.layup_text(name).unwrap(), shelf.layup_path(name).unwrap());
        let layup = read_layup_text(text, path, &shelf).unwrap();
        assert_eq!(target.at_least, 12.0);
        let factors = |lower, upper| {
            Bands::new(vec![Band {
                class: Class::ThreePlies,
                reading: Reading::Flame,
                factors: Factors { lower, upper },
                n_cases: 0,
                basis: "made up for the test".to_string(),
                source: String::new(),
                anchored: None,
            }])
        };
        let rate_by = |found: &[Found], bands: &Bands| {
            let under = Under { layup: &layup, exposure, as_given: exposure, bands };
            let rule = Rule { against: Some((target, under)), drop_most: 0.03 };
            let rolls = found.iter().enumerate().map(|(i, found)| (roll(i), *found)).collect();
            group(vec![0], rolls, None, rule)
        };
        let exact = factors(1.0, 1.0);
        let rate = |found: &[Found]| rate_by(found, &exact);
        let none = rate(&[over; 3]);
        assert_eq!(none.limits, None);
        for rated in &none.rolls {
            assert!(rated.is_open(), "{rated:?}");
            assert_eq!(rated.against_reference, None, "{rated:?}");
        }
        let some = rate(&[value(12.5), over, value(11.0)]);
        assert_eq!(some.limits, None);
        let open: Vec<bool> = some.rolls.iter().map(|rated| rated.is_open()).collect();
        assert_eq!(open, [true, true, false]);
        assert_eq!(some.rolls[2].holds, [Hold::BelowTarget, Hold::BelowReference]);
        let all = rate(&[value(12.5), value(12.6), value(12.4)]);
        assert!(all.limits.is_some() && all.rolls.iter().all(|rated| rated.judged), "{all:?}");
        // what the class needs decides: 12/0.8 = 15 s to be called above, below 12/1.2 = 10 s to be below
        let near = rate_by(&[value(15.1), value(14.9), value(14.8)], &factors(0.8, 1.2));
        let of_target: Vec<&[Hold]> = near.rolls.iter().map(|rated| &rated.holds[..]).collect();
        let close: &[Hold] = &[Hold::NotAboveTarget];
        assert_eq!(of_target, [&[], close, close]);
        let far = rate_by(&[value(9.9), value(10.1), value(10.0)], &factors(0.8, 1.2));
        let first: Vec<Hold> = far.rolls.iter().map(|rated| rated.holds[0]).collect();
        assert_eq!(first, [Hold::BelowTarget, Hold::NotAboveTarget, Hold::NotAboveTarget]);
    }
}
