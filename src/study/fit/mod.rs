//! Properties fitted to what the bench measured.
//!
//! [`fitting::fit`] moves the properties named (`free`) until the solver's disc (`model`) follows the
//! readings (`readings`). The optimiser (`levenberg`) and what it makes of the sensitivities at the end
//! (`spread`, `student`) know nothing of clothing: they take any residual function.

pub mod levenberg;
pub mod spread;
pub mod student;
pub mod svd;

pub mod fitting;
pub mod free;
pub mod model;
pub mod readings;
pub mod twins;
