//! How far the bench may lie from a prediction, by class of layup and figure.
//!
//! The factors stand on the shelf (`bands.csv`), each with its basis in words: what was measured of the
//! class, or that it is judgement.

use std::fmt;
use std::sync::Arc;

use crate::garment::exposure::Exposure;
use crate::garment::fabric::Role;
use crate::garment::layup::Layup;
use crate::garment::target::Figure;

/// What a layup is, as far as measured cases go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Class {
    /// One felt or batting alone.
    Felt,
    /// One woven or knit alone.
    Cloth,
    /// Two plies.
    TwoPlies,
    /// Three plies and more.
    ThreePlies,
    /// Skin that nothing covers.
    BareSkin,
}

impl Class {
    /// All of them.
    pub const ALL: [Class; 5] =
        [Class::Felt, Class::Cloth, Class::TwoPlies, Class::ThreePlies, Class::BareSkin];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Class::Felt => "one felt or batting",
            Class::Cloth => "one woven or knit",
            Class::TwoPlies => "two plies",
            Class::ThreePlies => "three and more",
            Class::BareSkin => "bare skin",
        }
    }

    /// The class in the middle of a sentence.
    pub fn in_words(self) -> &'static str {
        if self == Class::ThreePlies { "three and more plies" } else { self.word() }
    }

    /// The class of a layup, by its plies; gaps and quilting do not count.
    pub fn of(layup: &Layup) -> Class {
        Class::of_roles(layup.plies().map(|ply| ply.fabric.role))
    }

    /// The class of plies with these roles.
    pub fn of_roles(mut roles: impl Iterator<Item = Role>) -> Class {
        match (roles.next(), roles.count()) {
            (None, _) => Class::BareSkin,
            (Some(Role::Felt), 0) => Class::Felt,
            (Some(_), 0) => Class::Cloth,
            (Some(_), 1) => Class::TwoPlies,
            (Some(_), _) => Class::ThreePlies,
        }
    }
}

/// Figures that one pair of factors holds for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reading {
    /// The disc's times, and TPP, where some of the heat is convective.
    Flame,
    /// The disc's times under radiant heat alone.
    Radiant,
    /// The time from 12 to 24 K, whatever the heat.
    Difference,
    /// Burns of skin, whatever the heat.
    Skin,
}

impl Reading {
    /// All of them.
    pub const ALL: [Reading; 4] =
        [Reading::Flame, Reading::Radiant, Reading::Difference, Reading::Skin];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Reading::Flame => "flame",
            Reading::Radiant => "radiant",
            Reading::Difference => "difference",
            Reading::Skin => "skin",
        }
    }

    /// What it is of, for the end of a sentence.
    pub fn in_words(self) -> &'static str {
        match self {
            Reading::Flame => "in the flame",
            Reading::Radiant => "under radiant heat",
            Reading::Difference => "between 12 and 24 K",
            Reading::Skin => "before skin",
        }
    }

    /// What a figure under an exposure is read as.
    pub fn of(figure: Figure, exposure: &Exposure) -> Reading {
        match figure {
            Figure::SecondDegree => Reading::Skin,
            Figure::Rise24Less12 => Reading::Difference,
            _ if exposure.is_radiant() => Reading::Radiant,
            _ => Reading::Flame,
        }
    }
}

/// Factors on a prediction between which the bench may lie [–].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    /// Lower one, above 0.
    pub lower: f64,
    /// Upper one, at least the lower.
    pub upper: f64,
}

impl Factors {
    /// A prediction that is taken as it stands.
    pub const EXACT: Factors = Factors { lower: 1.0, upper: 1.0 };
}

/// One row of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Class of layup.
    pub class: Class,
    /// Which figures.
    pub reading: Reading,
    /// The factors.
    pub factors: Factors,
    /// Measured cases of the class that it rests on; 0 for judgement alone.
    pub n_cases: u32,
    /// What it rests on, in words.
    pub basis: String,
    /// Key of the source in the shelf's list; may be empty.
    pub source: String,
    /// What a workshop's own tests make of it; none where nobody asked them.
    pub anchored: Option<Box<Anchoring>>,
}

impl Band {
    /// What a prediction is multiplied by for the likeliest figure: 1 where no test was asked [–].
    pub fn factor(&self) -> f64 {
        self.anchored.as_ref().map_or(1.0, |anchored| anchored.factor)
    }
}

/// What a workshop's own tests say of one figure of one layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Anchoring {
    /// Name of the layup; may be empty.
    pub layup: String,
    /// Factor on the prediction [–].
    pub factor: f64,
    /// The shelf's factors, which hold without the tests.
    pub shelf: Factors,
    /// The tests that it rests on, nearest first, in words.
    pub tests: Vec<String>,
    /// Tests of the figure in the book, near or not.
    pub n_tests: usize,
    /// Whether some test is of a layup enough like it.
    pub covered: bool,
    /// Tests that are not used since a material of the layup is fitted to them, in words.
    pub fitted_to: Vec<String>,
    /// Pairs of tests of one layup that contradict each other, in words.
    pub contradicting: Vec<[String; 2]>,
}

/// Tests that know how far the bench lay from predictions.
///
/// What is printed of it with `{:?}` tells one set of tests from another.
pub trait Tests: fmt::Debug + Send + Sync {
    /// The row of a figure of this very layup.
    ///
    /// - `band`: the shelf's row for its class
    fn anchored(&self, layup: &Layup, figure: Figure, exposure: &Exposure, band: &Band) -> Band;

    /// Puts all that they say behind what is there, every value under its name: what differs has other bytes.
    fn bits(&self, to: &mut Vec<u8>);
}

/// The whole table, and the tests that stand above it.
#[derive(Debug, Clone)]
pub struct Bands {
    pub(crate) rows: Vec<Band>,
    tests: Option<Arc<dyn Tests>>,
}

impl PartialEq for Bands {
    fn eq(&self, other: &Bands) -> bool {
        let same = match (&self.tests, &other.tests) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (None, None) => true,
            _ => false,
        };
        same && self.rows == other.rows
    }
}

impl Bands {
    /// A table without tests.
    pub fn new(rows: Vec<Band>) -> Bands {
        Bands { rows, tests: None }
    }

    /// The same table with a workshop's own tests above it.
    pub fn anchored_to(&self, tests: Arc<dyn Tests>) -> Bands {
        Bands { rows: self.rows.clone(), tests: Some(tests) }
    }

    /// Whether own tests stand above the table.
    pub fn is_anchored(&self) -> bool {
        self.tests.is_some()
    }

    /// Those tests, where there are any.
    pub fn tests(&self) -> Option<&dyn Tests> {
        self.tests.as_deref()
    }

    /// The rows in shelf order.
    pub fn iter(&self) -> impl Iterator<Item = &Band> {
        self.rows.iter()
    }

    /// The row of a class and reading; none of bare skin but for skin's own figures.
    pub fn row(&self, class: Class, reading: Reading) -> Option<&Band> {
        self.rows.iter().find(|band| band.class == class && band.reading == reading)
    }

    /// The row that holds for a figure of a layup under an exposure: the shelf's for its class, or what
    /// own tests make of it. Every call and every band asks here.
    pub fn of(&self, layup: &Layup, figure: Figure, exposure: &Exposure) -> Band {
        let row = self.row(Class::of(layup), Reading::of(figure, exposure)).expect(
            "the built-in table has a row for every class, and a shelf on top only replaces rows",
        );
        match &self.tests {
            Some(tests) => tests.anchored(layup, figure, exposure, row),
            None => row.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Class, Reading};
    use crate::garment::fabric::Role;
    use crate::garment::target::Figure;
    use crate::shelf::materials::Shelf;

    #[test]
    fn a_row_for_every_class_and_reading() {
        let shelf = Shelf::built_in().unwrap();
        for class in Class::ALL {
            for reading in Reading::ALL {
                let expected = class != Class::BareSkin || reading == Reading::Skin;
                let row = shelf.bands().row(class, reading);
                assert_eq!(row.is_some(), expected, "{class:?} {reading:?}");
                let factors = row.map(|band| (band.factors.lower, band.factors.upper));
                assert!(
                    factors.is_none_or(|(lower, upper)| lower < upper),
                    "{class:?} {reading:?}"
                );
            }
        }
    }

    #[test]
    fn classes_go_by_the_number_of_plies_and_one_ply_by_what_it_is() {
        let check = |roles: &[Role], class| {
            assert_eq!(Class::of_roles(roles.iter().copied()), class, "{roles:?}");
        };
        check(&[], Class::BareSkin);
        check(&[Role::Felt], Class::Felt);
        check(&[Role::Outer], Class::Cloth);
        check(&[Role::Inner], Class::Cloth);
        check(&[Role::Felt, Role::Felt], Class::TwoPlies);
        check(&[Role::Outer, Role::Felt, Role::Inner], Class::ThreePlies);
        check(&[Role::Outer, Role::Felt, Role::Felt, Role::Felt, Role::Inner], Class::ThreePlies);
    }

    #[test]
    fn readings_go_by_figure_and_exposure() {
        let shelf = Shelf::built_in().unwrap();
        let check = |figure, exposure: &str, reading| {
            let exposure = shelf.exposure(exposure).unwrap();
            assert_eq!(Reading::of(figure, exposure), reading, "{figure:?} {}", exposure.name);
        };
        check(Figure::Rise24, "flame-80", Reading::Flame);
        check(Figure::Tpp, "mixed-84-contact", Reading::Flame);
        check(Figure::Rise24, "radiant-20", Reading::Radiant);
        check(Figure::Rise24Less12, "radiant-20", Reading::Difference);
        check(Figure::SecondDegree, "radiant-20", Reading::Skin);
    }
}
