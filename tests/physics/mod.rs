//! What the physics floor claims, against sources outside the project; one module a claim.

mod air;
mod beer;
mod burn;
mod char;
mod compress;
mod copper;
mod embedded;
mod fibre;
mod gap;
mod moisture;
mod radiation;
mod slopes;
mod sorption;
mod stoll;
mod tables;
mod vapour;
