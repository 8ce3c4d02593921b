//! Nothing lost, nothing silent: whatever comes over the program or its files.

mod commands;
mod full;
mod fuzzed;
mod mutated;
mod numbers;
mod options;
mod places;
mod reading;
mod stopped;
