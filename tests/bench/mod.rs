//! What the bench floor claims, against published tables, an independent model and what
//! physics demands; one module a claim.

mod fixtures;

mod account;
mod bare_disc;
mod batch;
mod burn;
mod burn_error;
mod charring;
mod closing;
mod condensing;
mod decomposition;
mod effects;
mod independent;
mod joints;
mod moist;
mod moving;
mod pressure;
mod properties;
mod sensitivity;
mod series;
mod wet;
