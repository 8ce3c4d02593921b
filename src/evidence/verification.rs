//! Checks and comparisons of one run, together.

use crate::evidence::measured::Measured;
use crate::evidence::verify::{Case, Checked};

/// What a run of the built-in checks found.
#[derive(Debug, Clone, PartialEq)]
pub struct Verification {
    /// The series that were run, in order.
    pub checked: Vec<Checked>,
    /// The comparisons with measurements, if they were asked for.
    pub measured: Option<Measured>,
}

impl Verification {
    /// Every case, in order.
    pub fn cases(&self) -> impl Iterator<Item = &Case> {
        self.checked.iter().flat_map(|checked| &checked.cases)
    }

    /// How many bounds are broken.
    pub fn n_broken(&self) -> usize {
        self.checked.iter().map(Checked::n_broken).sum()
    }
}
