//! What the laboratory and the mill give: tests, curves of the disc, delivered rolls.

pub mod book;
pub mod book_row;
pub mod cases;
pub(crate) mod check_rolls;
pub mod curve;
pub mod day;
pub mod rolls;
