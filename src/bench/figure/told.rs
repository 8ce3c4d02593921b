//! A prediction with the band that holds it where own tests were asked.

use crate::bench::figure::call::Verdict;
use crate::bench::figure::found::Found;
use crate::garment::band::{Anchoring, Band, Factors};
use crate::garment::target::Figure;

/// A prediction with what own tests make of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What it is of, where several are told: a layup or a panel; may be empty.
    pub of: String,
    /// Name of the figure, such as HTI24.
    pub name: &'static str,
    /// The figure.
    pub figure: Figure,
    /// What the model says.
    pub found: Found,
    /// The band that holds, anchored.
    pub band: Band,
}

impl Told {
    /// The figure of a call; none where no tests were asked.
    pub fn of_verdict(of: &str, verdict: &Verdict) -> Option<Told> {
        let rule = &verdict.rule;
        Told::new(of, rule.name, (rule.figure, verdict.found), &rule.band)
    }

    /// A figure with its band; none where no tests were asked, or the figure is not known.
    pub fn new(
        of: &str,
        name: &'static str,
        (figure, found): (Figure, Found),
        band: &Band,
    ) -> Option<Told> {
        band.anchored.as_ref()?;
        found.value_or_least()?;
        Some(Told { of: of.to_owned(), name, figure, found, band: band.clone() })
    }

    /// What the tests say.
    pub fn anchoring(&self) -> Option<&Anchoring> {
        self.band.anchored.as_deref()
    }

    /// The anchored figure and the ends of its band [SI]; none where only a lower bound is known.
    pub fn anchored(&self) -> Option<[f64; 3]> {
        let value = self.found.valued()?.value;
        let Factors { lower, upper } = self.band.factors;
        Some([self.band.factor() * value, lower * value, upper * value])
    }
}
