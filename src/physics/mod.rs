//! The physics of layered clothing as pure functions: no input or output, no state.
//! Every quantity is SI and kelvin; every public function names its source.

pub mod law;
pub mod units;
