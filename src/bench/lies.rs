//! How a layup lies before disc and skin: flat, or stitched into cells.

use crate::garment::layup::{Layup, Quilting};

/// How a layup lay when its figures were computed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stack<'a> {
    /// Flat: it is not quilted.
    Flat,
    /// Flat although it is quilted: its quilting was left out, as asked.
    LeftOut,
    /// Flat although it is quilted: pressure leaves no loft.
    Pressed,
    /// As it is quilted.
    Quilted(&'a Quilting),
}

impl Stack<'_> {
    /// How a layup lies that is exposed flat, whatever it says of its quilting.
    pub fn flat(layup: &Layup) -> Stack<'static> {
        match (&layup.quilting, &layup.pressure) {
            (None, _) => Stack::Flat,
            (Some(_), Some(_)) => Stack::Pressed,
            (Some(_), None) => Stack::LeftOut,
        }
    }
}
