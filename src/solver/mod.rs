//! One-dimensional transient conduction through slabs, air spaces and lumps.
//!
//! The floor takes a plain description ([`problem::Problem`]: slabs, joints, back, drive),
//! advances it with an adaptive TR-BDF2 method ([`march::march`]) and hands every accepted
//! step to a [`watch::Watch`]. It conserves heat to rounding and keeps the account
//! ([`ledger::Ledger`]). All arrays hold `L` independent cases side by side; one case is `L = 1`.

// Loops over nodes and lanes index several arrays at once; iterators would hide which.
#![allow(clippy::needless_range_loop)]
#![deny(missing_docs)]

pub mod error;
pub mod fault;
pub mod grid;
pub mod lanes;
pub mod ledger;
pub mod march;
pub mod moment;
pub mod options;
pub mod problem;
pub mod reaction;
pub mod root;
pub mod shape;
pub mod sorbent;
pub mod stream;
pub mod strip;
pub mod tableau;
pub mod tied;
pub mod tridiagonal;
pub mod watch;

mod check;
mod evaluate;
mod media;
mod pack;
mod pair;
mod rates;
mod stage;
mod state;
mod target;
mod transcendental;
