//! What the studies claim, checked against closed forms, the single exposure and a finer model.

mod bands;
mod called_off;
mod contributions;
mod digests;
mod draws;
mod quilt_area;
mod quilt_limits;
mod quilt_patch;
mod quilt_sums;
mod rig;
mod sideways;
mod sideways_model;
mod tolerances;
