//! Claim: each row of `materials/bands.csv` is what the rule makes of the measured cases of its class, or
//! what the words of its basis say; no row is narrower than the rule.
//! Source: the measured cases of `tests/reference` through `stillair::evidence::measured`; the rule by itself is
//! held against scipy and against a few lines of Python beside it.
//! Tolerance: the table's own rounding, a hundredth outwards.
//! If a prediction has moved, `cargo run --example bands` makes the rows anew.

use std::sync::LazyLock;

use stillair::evidence::measured::shelf_rows::renewed;
use stillair::evidence::measured::support::{Of, supported};
use stillair::evidence::measured::{self, Comparison, Measured, Subject};
use stillair::garment::band::{Band, Class, Factors, Reading};
use stillair::shelf::materials::Shelf;
use stillair::shelf::stock::band::bands_csv;

static SHELF: LazyLock<Shelf> = LazyLock::new(|| Shelf::built_in().expect("the built-in shelf"));
static MEASURED: LazyLock<Measured> = LazyLock::new(|| measured::run(&SHELF, || ()));

fn row(class: Class, reading: Reading) -> &'static Band {
    SHELF.bands().row(class, reading).unwrap_or_else(|| panic!("{class:?} {reading:?}"))
}

/// A factor of the table is the one found, rounded outwards by less than a hundredth.
#[track_caller]
fn outwards(band: &Band, lower: f64, upper: f64) {
    let Factors { lower: low, upper: high } = band.factors;
    // a sum's last bits lie far below the table's hundredths
    let bits = 1e-9;
    assert!(low <= lower + bits && low > lower - 0.01 - bits, "{lower}: {band:?}");
    assert!(high >= upper - bits && high < upper + 0.01 + bits, "{upper}: {band:?}");
}

#[test]
fn the_table_is_what_the_program_makes_of_the_cases() {
    let fresh = renewed(SHELF.bands(), &MEASURED);
    for (stands, fresh) in SHELF.bands().iter().zip(fresh.iter()) {
        assert_eq!(stands, fresh, "cargo run --example bands makes the table anew");
    }
    let standing = include_str!("../../materials/bands.csv");
    assert_eq!(bands_csv(standing, &fresh), standing);
}

#[test]
fn a_row_with_cases_is_the_band_that_verify_prints() {
    let mut n = 0;
    for one in supported(&MEASURED.comparisons).iter().filter(|one| one.n > 0) {
        let class = match one.subject {
            Subject::Felt => Class::Felt,
            Subject::ManyPlies => Class::ThreePlies,
            Subject::Skin => Class::BareSkin,
            other => panic!("no case of {other:?} was known when this was written"),
        };
        let reading = match one.of {
            Of::Flame => Reading::Flame,
            Of::Radiant => Reading::Radiant,
            Of::Differences => Reading::Difference,
            Of::Skin => Reading::Skin,
        };
        let (stands, band) = (row(class, reading), one.band.expect("every case is reached"));
        outwards(stands, band.lower, band.upper);
        assert_eq!(stands.n_cases as usize, one.n, "{stands:?}");
        let (low, high) = one.ratios.unwrap();
        for end in [format!("{low:.2}"), format!("{high:.2}")] {
            assert!(stands.basis.contains(&end), "{end} is not said: {}", stands.basis);
        }
        assert!(!stands.basis.starts_with("judgement") && !stands.source.is_empty(), "{stands:?}");
        n += 1;
    }
    assert_eq!(n, SHELF.bands().iter().filter(|band| band.n_cases > 0).count());
}

#[test]
fn a_row_without_cases_says_that_it_is_a_judgement() {
    let judged: Vec<&Band> = SHELF.bands().iter().filter(|band| band.n_cases == 0).collect();
    assert!(!judged.is_empty());
    for band in judged {
        assert!(band.basis.starts_with("judgement: "), "{band:?}");
    }
}

/// "nearest class, one woven or knit, widened by 0.05 at either end"
#[test]
fn two_plies_are_the_woven_widened() {
    for reading in Reading::ALL {
        let (two, one) = (row(Class::TwoPlies, reading), row(Class::Cloth, reading).factors);
        let (_, said) = two.basis.split_once("one woven or knit, widened by ").expect("its words");
        let by: f64 = said.split(' ').next().unwrap().parse().expect("a number");
        assert!(by > 0.0, "{by}");
        outwards(two, one.lower - by, one.upper + by);
    }
}

/// "lowest and highest of the class's flame and radiant, each times that of bare skin"
#[test]
fn skin_behind_cloth_is_the_cloth_and_bare_skin_together() {
    let skin = row(Class::BareSkin, Reading::Skin).factors;
    for class in [Class::Felt, Class::Cloth, Class::ThreePlies] {
        let of = |reading| row(class, reading).factors;
        let (flame, radiant) = (of(Reading::Flame), of(Reading::Radiant));
        let (low, high) = (flame.lower.min(radiant.lower), flame.upper.max(radiant.upper));
        outwards(row(class, Reading::Skin), low * skin.lower, high * skin.upper);
        assert!(row(class, Reading::Skin).basis.contains("each times that of bare skin"));
    }
}

/// "the flame's row times measured over predicted of RHTI24/HTI24"
#[test]
fn a_woven_under_radiant_heat_follows_from_the_flame_and_the_ratio_of_the_tests() {
    let of_wovens = |c: &&Comparison| c.subject == Subject::Woven && c.figure == "RHTI24/HTI24";
    let cases = MEASURED.derived.iter().filter(of_wovens);
    let ratios: Vec<f64> = cases.map(|c| c.measured_middle() / c.predicted).collect();
    assert!(ratios.len() >= 5, "{ratios:?}");
    let low = ratios.iter().copied().fold(f64::INFINITY, f64::min);
    let high = ratios.iter().copied().fold(0.0, f64::max);
    let (flame, radiant) = (row(Class::Cloth, Reading::Flame), row(Class::Cloth, Reading::Radiant));
    outwards(radiant, flame.factors.lower * low, flame.factors.upper * high);
    assert!(radiant.basis.contains(&format!("{low:.2} to {high:.2}")), "{}", radiant.basis);
}

/// "the bands from memory, each in its middle" and "the flame's row widened"
#[test]
fn a_woven_in_the_flame_holds_what_is_remembered_of_it() {
    let flame = row(Class::Cloth, Reading::Flame);
    let remembered =
        |c: &&Comparison| c.subject == Subject::Woven && c.class == measured::Class::Band;
    let cases: Vec<&Comparison> = MEASURED.comparisons.iter().filter(remembered).collect();
    assert!(cases.len() >= 3, "{cases:?}");
    for case in cases {
        let ratio = case.measured_middle() / case.predicted;
        let Factors { lower, upper } = flame.factors;
        assert!(ratio >= lower && ratio <= upper, "{}: {ratio:.2}, {flame:?}", case.name);
    }
    let between = row(Class::Cloth, Reading::Difference).factors;
    assert!(between.lower <= flame.factors.lower && between.upper >= flame.factors.upper);
}
