//! The shelf as files: what reads each format of ours, says what is wrong with it, and writes it.
//!
//! From the bytes upwards: [`file`] takes what may be read, [`notation`] makes records of it, [`key`] knows their
//! keys; [`stock`] becomes the [`materials::Shelf`], on which the files of [`layup`], [`brief`], [`suit`] and
//! [`lab`] rest. What is wrong is a [`fault::Fault`]; all of a file are told at once.

pub mod fault;
pub mod file;
pub mod key;
pub mod materials;
pub mod notation;
pub mod stock;

pub mod brief;
pub mod lab;
pub mod layup;
pub mod suit;

mod check;
mod clash;
pub mod inputs;
mod load;
pub(crate) mod wording;
