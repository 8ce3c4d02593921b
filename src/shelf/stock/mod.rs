//! What lies on the shelf: records of all shelves laid over one another, and what each describes.

pub mod band;
pub(crate) mod boundary;
pub(crate) mod charring;
pub(crate) mod decomposition;
pub(crate) mod exposure;
pub mod exposure_file;
pub mod exposure_write;
pub(crate) mod fabric;
pub mod fabric_write;
pub(crate) mod fibre;
pub(crate) mod law;
pub(crate) mod raw;
pub(crate) mod resolve;
pub(crate) mod skin;
