//! The rules of the house, checked by reading `src/`.
//!
//! Every rule is a function from sources to complaints, and every rule is shown a
//! snippet that breaks it: a rule that cannot complain would be worth nothing.

mod circles;
mod floors;
mod machines;
mod properties;
mod shape;
mod source;
mod units;
#[path = "../shared/verdicts.rs"]
mod verdicts;
mod views;
mod walk;
mod words;
