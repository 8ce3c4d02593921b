//! A test method run on a layup: what the copper disc reads and what skin suffers.
//!
//! [`expose::expose`] answers a [`expose::Question`] with an [`outcome::Outcome`]: the layup is
//! laid out for the solver (`assemble`), watched while it heats (`watch_disc`, `watch_skin`), and run on finer
//! and finer meshes until every reported time is known closely enough (`refine`).

pub mod account;
pub mod along;
pub mod assemble;
pub mod batch;
pub mod charring;
pub mod curves;
pub mod effects;
pub mod expose;
pub mod figure;
pub mod halt;
pub mod lies;
pub mod limit;
pub mod moment;
pub mod outcome;
pub mod ply_limit;
pub mod refine;
pub mod rise;
pub mod screen;
pub mod seen;
pub mod trace;
pub mod vapour;
pub mod watch_disc;
pub mod watch_skin;
pub mod water;

pub use expose::{Behind, BenchError, Follow, Question, expose};
pub use halt::Halt;
