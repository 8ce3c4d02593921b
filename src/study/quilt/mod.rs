//! Quilting: what stitch lines and the loft between them do to a layup.
//!
//! A cell of the pattern is cut into [`path`]s by the distance to the nearest stitch line
//! ([`cell`], [`gauss`]); each path is a layup of its own ([`lay`]). In front of the bench all
//! paths feed one copper disc, in front of skin each is a place of its own ([`run`]);
//! [`ask::quilt`] puts both side by side in one record ([`outcome::Quilted`]), [`sweep`] does so
//! over pitch and loft, [`beside::each_way`] holds patterns against none, [`record::record`] makes the record that flat layups have, too, [`screen::screen_all`] reads the disc behind many layups, and [`patched`]
//! lays a patch or embroidery over part of one.
//!
//! Heat between neighbouring paths is left out; [`sideways`] solves the cell in two dimensions with it.

pub mod cell;
pub mod error;
pub mod gauss;

pub mod path;

pub mod lay;
mod pressing;

pub mod run;

pub mod burnt;
mod figure;
pub mod outcome;

pub mod ask;
pub mod beside;
pub mod patched;
pub mod record;
pub mod screen;
pub mod sideways;
pub mod sweep;

pub use ask::{N_POINTS, quilt};
pub use error::QuiltError;
pub use outcome::Quilted;
pub use patched::patched;
pub use sweep::{Sweep, SweepPlan, sweep};
