//! A document's table for a terminal.

use crate::report::document::{Grid, Set};
use crate::report::table::{Align, Table};

/// The heads, then the rows, within the width of a terminal.
pub fn table(grid: &Grid) -> String {
    let align = |set: &Set| if *set == Set::Numbers { Align::Right } else { Align::Left };
    let aligns: Vec<Align> = grid.heads.iter().map(|(_, set)| align(set)).collect();
    let mut table = Table::new(&aligns);
    table.row(grid.heads.iter().map(|(head, _)| head.as_str()));
    grid.rows.iter().for_each(|row| table.row(row.iter().map(String::as_str)));
    table.render()
}
