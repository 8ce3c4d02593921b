//! Air gaps, layups side by side, patches, pressure: the studies against what is known outside.

mod beside;
mod fixtures;
mod gap;
mod map;
mod options;
mod patch;
mod pressed;
mod program;
mod rank;
mod report;
