//! A record described once, and what renders it: terminal table, CSV, JSON.
//!
//! A study's view lists its columns ([`column::Column`]): name, unit, heading, and where in the row the
//! value is found. Everything else – headers and keys with their units, errors beside their values, the
//! factor from SI – follows from that list, so that a figure is added in one place.

pub mod column;
pub mod json;
pub mod rows;
pub mod value;
