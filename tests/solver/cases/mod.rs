//! Problems with known answers; each function runs its problem and returns what came out
//! beside what is published. Nothing here reads a file or fails.

pub mod convection;
pub mod semi_infinite;
pub mod slab;
pub mod steady;

use crate::rig::Reading;

/// An answer beside the published one.
#[derive(Debug, Clone)]
pub struct Case {
    /// Id of the row of `worked_examples.csv` where there is one, else the problem in words.
    pub name: String,
    /// Where the expected value is published.
    pub source: &'static str,
    /// The published value.
    pub expected: f64,
    /// What the solver gives.
    pub computed: f64,
    /// Largest difference allowed: the source's rounding and the solver's own error.
    pub bound: f64,
    /// The solver's own error.
    pub error: f64,
    /// Largest error of its own that the solver may have.
    pub error_most: f64,
}

impl Case {
    /// Against a value printed to within `rounding`; the solver must be at least as exact.
    fn rounded(
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
        }
    }

    /// Against a value that is exact to ten digits of `scale`; the solver to 1e-4 of it.
    fn exact(
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
        }
    }

    /// Lets the solver's own error be 2e-5 of `scale` where the source prints more digits.
    fn of_scale(self, scale: f64) -> Case {
        Case { error_most: self.error_most.max(2e-5 * scale), ..self }
    }
}
