//! Heat transfer through layered flame-protective clothing.
//!
//! The house, top floor first; a floor uses only those below it:
//!
//! - `cli`: words in, words out; the only floor that prints or ends the process
//! - [`desk`]: a page on which a layup is moved about, and its server
//! - [`report`], [`chart`]: show a result
//! - [`evidence`]: the program held against what others computed and what was measured
//! - [`study`]: many exposures put to one question
//! - [`bench`]: a test method run on a layup, behind it a copper disc or skin
//! - [`shelf`]: the materials, and every file of ours: read, checked, written
//! - [`solver`]: one-dimensional transient conduction; names no ply and no garment
//! - [`garment`]: fabrics, layups, exposures, targets, suits: what they are, whatever file they come from
//! - [`physics`]: air, radiation, moisture, fibres, skin damage, units
//!
//! Invariants, held by `tests/house`: SI and kelvin everywhere but in the readers
//! and writers; `physics` is pure functions; nothing wrong is repaired silently;
//! the same input gives the same bits.

pub mod bench;
pub mod chart;
pub mod cli;
pub mod desk;
pub mod evidence;
pub mod garment;
pub mod physics;
pub mod report;
pub mod shelf;
pub mod solver;
pub mod study;

/// The notice that stands on every output.
pub const NOTICE: &str = "Screening model only. Whether a garment protects is decided by an \
accredited test laboratory's certification of the real garment, never by this calculation.";
