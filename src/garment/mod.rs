//! What a garment is made of and what it faces: plies, layups, exposures, targets, skins.

pub mod curve;
pub mod exposure;
pub mod fabric;
pub mod fibre;
pub mod known;
pub mod layup;
pub mod lots;
pub mod press;
pub mod skin;
pub mod source;
pub mod suit;
pub mod target;

pub mod fault;
pub mod inputs;
pub mod read;
pub mod read_suit;
pub mod shelf;

mod blend;
mod check;
mod clash;
mod cloth;
mod estimate;
mod field;
mod kinds;
mod kinds_suit;
mod load;
mod named_layup;
mod raw;
mod read_decomposition;
mod read_exposure;
mod read_fabric;
mod read_law;
mod read_panel;
mod read_quilting;
mod read_skin;
mod read_stack;
mod reader;
mod record;
mod resolve;
mod sheet;
mod text;
mod tree;
mod wording;
