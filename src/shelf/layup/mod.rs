//! Layups: a file, or one line.

pub(crate) mod cloth;
pub mod loose;
pub(crate) mod named;
pub mod one_line;
pub(crate) mod quilting;
pub mod read;
pub(crate) mod stack;
pub mod write;
