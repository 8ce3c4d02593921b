//! The physics of layered clothing as pure functions: no input or output, no state.
//! Every quantity is SI and kelvin; every public function names its source.

pub mod air;
pub mod beer;
pub mod body;
pub mod burn;
pub mod char;
pub mod compress;
pub mod copper;
pub mod fibre;
pub mod gap;
pub mod law;
pub mod moisture;
pub mod radiation;
pub mod slope;
pub mod sorption;
pub mod stoll;
pub mod units;
pub mod vapour;
