//! Many exposures put to one question, and the linear algebra that such questions need.

pub mod answer;
pub mod bill;
mod bits;
pub mod body;
pub mod book;
pub mod digest;
pub mod figure;
pub mod fit;
pub mod gap;
pub mod gap_beside;
pub mod gap_brief;
pub mod gap_heat;
pub mod gap_map;
pub mod gap_point;
pub mod gap_turn;
pub mod lots;
pub mod odds;
pub mod ordering;
pub mod patch;
mod patch_cut;
pub mod patched;
pub mod pressed;
pub mod quilt;
pub mod rank;
pub mod run;
pub mod saving;
pub mod seek;
pub mod suit;
pub mod suit_judged;

#[cfg(feature = "lapack")]
pub mod lapack;
pub mod property;
pub mod sensitivity;
pub mod ways;
pub mod worth;
