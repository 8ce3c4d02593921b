//! An answer of ours beside a published one, and whether the bound on their difference is kept.

use crate::evidence::verify::rig::Reading;

/// An answer beside the published one.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// Id of the row of the table where there is one, else the problem in words.
    pub name: String,
    /// Where the expected value is published.
    pub source: &'static str,
    /// The published value.
    pub expected: f64,
    /// What the program gives.
    pub computed: f64,
    /// Largest difference allowed: the source's rounding and the program's own numerical error.
    pub bound: f64,
    /// The program's own numerical error.
    pub error: f64,
    /// Largest numerical error of its own that the program may have.
    pub error_most: f64,
    /// Unit of all of these; empty for a plain number.
    pub unit: &'static str,
}

impl Case {
    /// Against a value printed to within `rounding`; the program must be at least as exact.
    pub fn rounded(
        name: impl Into<String>,
        source: &'static str,
        (expected, rounding): (f64, f64),
        reading: Reading,
    ) -> Case {
        Case {
            name: name.into(),
            source,
            expected,
            computed: reading.value,
            bound: rounding + reading.error,
            error: reading.error,
            error_most: rounding,
            unit: "K",
        }
    }

    /// Against a value that is exact to ten digits of `scale`; the program to 1e-4 of it.
    pub fn exact(
        name: impl Into<String>,
        source: &'static str,
        (expected, scale): (f64, f64),
        reading: Reading,
    ) -> Case {
        Case {
            name: name.into(),
            source,
            expected,
            computed: reading.value,
            bound: 1e-9 * scale + reading.error,
            error: reading.error,
            error_most: 1e-4 * scale,
            unit: "K",
        }
    }

    /// Against a value that the source allows a difference of `bound`; a formula has no error of its own.
    pub fn within(
        name: impl Into<String>,
        source: &'static str,
        (expected, bound): (f64, f64),
        computed: f64,
    ) -> Case {
        let name = name.into();
        Case { name, source, expected, computed, bound, error: 0.0, error_most: bound, unit: "" }
    }

    /// Lets the program's own error be 2e-5 of `scale` where the source prints more digits.
    pub fn of_scale(self, scale: f64) -> Case {
        Case { error_most: self.error_most.max(2e-5 * scale), ..self }
    }

    /// The same case in another unit than kelvin.
    pub fn in_unit(self, unit: &'static str) -> Case {
        Case { unit, ..self }
    }

    /// Computed less expected.
    pub fn difference(&self) -> f64 {
        self.computed - self.expected
    }

    /// Whether the difference is within the bound and the numerical error within its own; false for what is no number.
    pub fn is_kept(&self) -> bool {
        self.difference().abs() <= self.bound
            && self.error <= self.error_most
            && self.bound.is_finite()
    }
}

/// What a case is held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Group {
    /// Closed forms and worked examples of textbooks.
    Analytic,
    /// Tables and formulas of standards.
    Standards,
    /// Tables computed by general-purpose libraries and programs written apart from this one.
    Library,
}

impl Group {
    /// All of them, in the order of the output.
    pub const ALL: [Group; 3] = [Group::Analytic, Group::Standards, Group::Library];

    /// The word used on the command line and in files.
    pub fn word(self) -> &'static str {
        match self {
            Group::Analytic => "analytic",
            Group::Standards => "standards",
            Group::Library => "library",
        }
    }

    /// What stands in it, for the reader.
    pub fn describe(self) -> &'static str {
        match self {
            Group::Analytic => "closed forms and worked examples of textbooks",
            Group::Standards => "tables and formulas of standards",
            Group::Library => "tables computed by libraries and by programs written apart",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Case;

    #[test]
    fn what_is_no_number_or_too_coarse_is_not_kept() {
        let case = Case::within("a", "b", (1.0, 0.1), 1.05);
        assert!(case.is_kept());
        for broken in [
            Case { computed: f64::NAN, ..case.clone() },
            Case { computed: 1.2, ..case.clone() },
            Case { bound: f64::INFINITY, computed: f64::INFINITY, ..case.clone() },
            Case { bound: f64::NAN, ..case.clone() },
            Case { error: 0.2, ..case.clone() },
            Case { error: f64::NAN, ..case.clone() },
        ] {
            assert!(!broken.is_kept(), "{broken:?}");
        }
    }
}
