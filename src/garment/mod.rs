//! What a garment is made of and what it faces: plies, layups, exposures, targets, skins.

pub mod exposure;
pub mod fabric;
pub mod known;
pub mod layup;
pub mod skin;
pub mod target;
