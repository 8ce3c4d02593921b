//! What a garment is made of and what it faces: plies, layups, exposures, targets, skins.
//!
//! How it is read and written is no concern of this floor.

pub(crate) mod blend;
pub mod charring;
pub mod fabric;
pub mod fibre;
pub mod known;
pub mod property;
pub mod source;

pub(crate) mod estimate;
pub mod layup;
pub mod press;
pub mod stitched;
pub mod wet;

pub mod band;
pub mod exposure;
pub mod skin;
pub mod target;

pub mod body_map;
pub mod brief;
pub mod suit;
