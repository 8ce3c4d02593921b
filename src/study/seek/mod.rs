//! The lightest or thinnest layups that keep a margin: all combinations of a brief.
//!
//! How it searches: combinations have numbers, mass and thickness of each are known before it is
//! exposed, and one beyond a limit is left out there. Every other one is exposed. None is skipped
//! for being heavier than one that keeps the margin already: it may protect more, and then it
//! stands on the frontier.
//!
//! Where odds are asked for they are drawn for the combinations that keep every margin, in the order
//! of the shortlist, and no further than it needs: one is passed over only for a better one of the
//! same plies or for a full list of better ones, and given up only when the sets that it may lose
//! are lost. So the shortlist is that of odds drawn for all.

pub mod chance;
pub mod checkpoint;
pub mod finding;
pub mod part;
pub mod score;
pub mod search;
pub mod sieve;
pub mod space;
pub mod summary;
pub mod tighten;

mod frame;
