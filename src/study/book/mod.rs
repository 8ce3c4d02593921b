//! A workshop's own tests held against predictions, and what they say of layups not tested yet.

pub mod anchor;
pub mod calibrated;
pub mod drift;
pub mod explain;
pub mod how_far;
pub mod kriging;
pub mod likeness;
pub mod next;
pub mod own;
pub mod predict;
