//! The panels of a suit with their layups, as rows of its tables.

use crate::bench::figure::{Verdict, filed};
use crate::bench::outcome::{Valued, When};
use crate::garment::suit::Panel;
use crate::physics::units::Quantity;
use crate::study::saving::Picks;
use crate::study::suit::{Fitted, PanelStudy};
use crate::study::suit_judged::{Judged, Judgement, Stitched};

/// A panel with one of its layups.
pub struct Row<'a> {
    /// Number of the panel, from 1.
    pub(super) number: usize,
    /// Number of the layup, 0 the panel's own.
    pub(super) j: usize,
    pub(super) panel: &'a Panel,
    pub(super) studied: &'a PanelStudy,
    pub(super) judgement: &'a Judgement,
    /// Whether the lightest suit has it.
    pub(super) is_taken: bool,
}

impl Row<'_> {
    /// Whether both are of the same panel.
    pub fn are_of_one_panel(&self, other: &Row<'_>) -> bool {
        self.number == other.number
    }

    /// The panel's name.
    pub fn name(&self) -> &str {
        &self.panel.name
    }

    /// The answer on the panel's target.
    pub fn verdict(&self) -> &Verdict {
        &self.judgement.verdict
    }

    pub(super) fn fitted(&self) -> &Fitted {
        &self.studied.fitted[self.j]
    }

    pub(super) fn burns(&self, when: fn(&Stitched) -> Option<When>) -> Option<When> {
        when(self.judgement.stitched.as_ref()?)
    }

    /// The figure, if files have it in this unit.
    pub(super) fn figure_in(&self, unit: Quantity) -> Option<Valued> {
        let is_its = filed(self.panel.target.figure) == unit;
        self.verdict().found.valued().filter(|_| is_its)
    }
}

/// Each panel with its own layup, then with each alternative.
pub fn rows<'a>(judged: &'a Judged<'_>) -> Vec<Row<'a>> {
    let of_panel = |i: usize| {
        let (panel, studied) = (&judged.study.suit.panels[i], &judged.study.panels[i]);
        let row = move |(j, judgement)| {
            let is_taken = judged.saving.as_ref().is_some_and(|s| s.exact.picks[i] == j);
            Row { number: i + 1, j, panel, studied, judgement, is_taken }
        };
        judged.panels[i].iter().enumerate().map(row)
    };
    (0..judged.panels.len()).flat_map(of_panel).collect()
}

/// Each panel with its own layup.
pub fn own_rows<'a>(judged: &'a Judged<'_>) -> Vec<Row<'a>> {
    picked(judged, |row| row.j == 0)
}

/// Panels whose quilting was computed.
pub fn sewn<'a>(judged: &'a Judged<'_>) -> Vec<Row<'a>> {
    picked(judged, |row| row.j == 0 && row.judgement.stitched.is_some())
}

/// Panels that take another layup with these picks.
pub fn changes<'a>(judged: &'a Judged<'_>, picks: &Picks) -> Vec<Row<'a>> {
    picked(judged, |row| row.j != 0 && picks.picks[row.number - 1] == row.j)
}

fn picked<'a>(judged: &'a Judged<'_>, is_it: impl Fn(&Row) -> bool) -> Vec<Row<'a>> {
    rows(judged).into_iter().filter(is_it).collect()
}
