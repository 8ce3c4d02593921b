//! The desk as others meet it: over a socket, in a folder of its own.
#![cfg(unix)]

mod answers;
mod client;
mod many;
mod refused;
mod saved;
mod slow;
mod stopped;
#[path = "../shared/verdicts.rs"]
mod verdicts;
mod words;
