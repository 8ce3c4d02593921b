//! Suits, and the bodies that they are worn on.

pub mod body_map;
pub(crate) mod panel;
pub mod read;
