//! The bytes of a file and whose they are: what may be read at all, and that nothing written falls on it.

pub mod claim;
pub(crate) mod ours;
pub mod outside;
pub mod plain;
pub mod regular;
pub mod sizes;
pub(crate) mod text;
pub mod told;
