//! What the solver floor claims, against exact solutions and general-purpose libraries; one
//! module a claim.

use stillair::evidence::verify::rig;

mod drying;
mod faults;
mod lanes;
mod manufactured;
mod manufactured_pair;
mod moving;
mod onward;
mod reacting;
mod strip;
mod wet;
mod work;
mod worked;
