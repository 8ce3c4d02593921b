//! The shelf's table of bands as the measured cases have it: `materials/bands.csv` is held to this.
//!
//! A row is one of three: *by rule*, where measured cases speak of its class and figure; *following*,
//! a judgement whose words say how it is made of other rows; or *on its own*, a judgement that stands as
//! it was written. The first two are computed here, words and all, so that the table is made anew by one
//! command when a prediction moves.

use crate::evidence::measured::Measured;
use crate::evidence::measured::record::{Comparison, Subject};
use crate::evidence::measured::support::{Of, Rule, Supported, WIDENING, hundredths, supported};
use crate::garment::band::{Band, Bands, Class, Factors, Reading};

/// How far the rows of the nearest class are widened, at either end [–]. Judgement.
const NEAREST: f64 = 0.05;

/// The class of the shelf's table.
fn class(subject: Subject) -> Option<Class> {
    Some(match subject {
        Subject::Felt => Class::Felt,
        Subject::Woven => Class::Cloth,
        Subject::TwoPlies => Class::TwoPlies,
        Subject::ManyPlies => Class::ThreePlies,
        Subject::Skin => Class::BareSkin,
        Subject::Material => return None,
    })
}

fn reading(of: Of) -> Reading {
    match of {
        Of::Flame => Reading::Flame,
        Of::Radiant => Reading::Radiant,
        Of::Differences => Reading::Difference,
        Of::Skin => Reading::Skin,
    }
}

/// The cases in words.
fn specimens(s: &Supported) -> String {
    match (s.subject, s.of) {
        (Subject::Felt, Of::Differences) => {
            format!("{} differences of needlefelts of one paper", s.n)
        }
        (Subject::Felt, _) => format!("{} needlefelts of one paper", s.n),
        (Subject::Skin, _) => format!("{} blister tests on bare skin", s.n),
        (_, Of::Differences) => format!("{} differences of one suit of unknown layers", s.n),
        _ => "one suit of unknown layers".to_string(),
    }
}

fn figures(of: Of) -> &'static str {
    match of {
        Of::Flame => "HTI24",
        Of::Radiant => "RHTI24",
        Of::Differences => "HTI24 − HTI12 and RHTI24 − RHTI12",
        Of::Skin => "the time",
    }
}

/// What a reader must know of the cases beside their number; empty for nothing.
fn caution(s: &Supported) -> &'static str {
    match (s.subject, s.of) {
        (Subject::Felt, Of::Radiant) => "; blend ratio and gauge pressure not seen, flux inferred",
        (Subject::Felt, _) => "; blend ratio and gauge pressure not seen",
        _ => "",
    }
}

/// The row of cases that speak; none of no case, or of one that is not reached.
fn by_rule(s: &Supported) -> Option<Band> {
    let (class, (low, high), band) = (class(s.subject)?, s.ratios?, s.band?);
    let at = match (format!("{low:.2}"), format!("{high:.2}")) {
        (low, high) if low == high => low,
        (low, high) => format!("{low} to {high}"),
    };
    let rule = match band.rule {
        Rule::Limits => "5 % and 95 % prediction limits of one case to come".to_string(),
        Rule::Judgement => format!("fewer than 5, so that range over and times {WIDENING}"),
    };
    let basis =
        format!("{}, at {at} of {} predicted; {rule}{}", specimens(s), figures(s.of), caution(s));
    let source = match s.subject {
        Subject::Felt => "ftee-2023",
        Subject::Skin => "astm-f1930",
        _ => "suit-en-469-report",
    };
    let (lower, upper) = hundredths(band.lower, band.upper);
    let factors = Factors { lower, upper };
    let n_cases = u32::try_from(s.n).expect("the table has a few dozen cases");
    Some(Band {
        class,
        reading: reading(s.of),
        factors,
        n_cases,
        basis,
        source: source.into(),
        anchored: None,
    })
}

/// Lowest and highest of measured over predicted of the ratio of both tests, of wovens.
fn wovens_ratio(derived: &[Comparison]) -> Option<(f64, f64)> {
    let of_wovens = |c: &&Comparison| c.subject == Subject::Woven && c.figure == "RHTI24/HTI24";
    let ratios: Vec<f64> = derived.iter().filter(of_wovens).map(Comparison::ratio).collect();
    ratios.iter().copied().reduce(f64::min).zip(ratios.iter().copied().reduce(f64::max))
}

/// A judgement that follows from other rows of the table.
///
/// - `ratio`: measured over predicted of the ratio of both tests, lowest and highest
fn following(of: (Class, Reading), table: &Bands, ratio: Option<(f64, f64)>) -> Option<Band> {
    let factors = |class, reading| table.row(class, reading).map(|band| band.factors);
    let (lower, upper, basis) = match of {
        (Class::Cloth, Reading::Radiant) => {
            let (flame, (low, high)) = (factors(Class::Cloth, Reading::Flame)?, ratio?);
            let basis = format!(
                "judgement: the flame's row times measured over predicted of RHTI24/HTI24, {low:.2} to \
                 {high:.2} of the wovens of one paper whose mass and thickness were not seen"
            );
            (flame.lower * low, flame.upper * high, basis)
        }
        (Class::TwoPlies, reading) => {
            let one = factors(Class::Cloth, reading)?;
            let basis = format!(
                "judgement: nearest class, one woven or knit, widened by {NEAREST} at either end"
            );
            (one.lower - NEAREST, one.upper + NEAREST, basis)
        }
        (Class::BareSkin, _) => return None,
        (class, Reading::Skin) => {
            let (flame, radiant) =
                (factors(class, Reading::Flame)?, factors(class, Reading::Radiant)?);
            let skin = factors(Class::BareSkin, Reading::Skin)?;
            let basis = "judgement: lowest and highest of the class's flame and radiant, each times \
                         that of bare skin";
            let (low, high) = (flame.lower.min(radiant.lower), flame.upper.max(radiant.upper));
            (low * skin.lower, high * skin.upper, basis.to_string())
        }
        _ => return None,
    };
    let (lower, upper) = hundredths(lower, upper);
    let (class, reading) = of;
    let source = if of == (Class::Cloth, Reading::Radiant) { "ftee-2023" } else { "" };
    let factors = Factors { lower, upper };
    Some(Band {
        class,
        reading,
        factors,
        n_cases: 0,
        basis,
        source: source.to_string(),
        anchored: None,
    })
}

/// The table as it should stand: rows by rule and following ones made anew, the others as they are.
///
/// - `table`: as it stands; the order of its rows is kept
pub fn renewed(table: &Bands, measured: &Measured) -> Bands {
    let rules: Vec<Band> = supported(&measured.comparisons).iter().filter_map(by_rule).collect();
    let of = |band: &Band| (band.class, band.reading);
    let mut new = table.clone();
    for row in &mut new.rows {
        if let Some(found) = rules.iter().find(|found| of(found) == of(row)) {
            *row = found.clone();
        }
    }
    // skin's rows follow from a class's others, and two plies' from all of one woven's
    let ratio = wovens_ratio(&measured.derived);
    for (class, reading) in Class::ALL.into_iter().flat_map(|c| Reading::ALL.map(|r| (c, r))) {
        let place = new.rows.iter().position(|row| of(row) == (class, reading));
        let is_by_rule = rules.iter().any(|found| of(found) == (class, reading));
        if let Some(i) = place.filter(|_| !is_by_rule) {
            if let Some(row) = following((class, reading), &new, ratio) {
                new.rows[i] = row;
            }
        }
    }
    new
}
