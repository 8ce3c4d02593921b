//! What studies and charts claim, against closed forms, brute force and finer models.

#[path = "shared/flat.rs"]
mod flat;
#[path = "shared/messages.rs"]
mod messages;
#[path = "shared/program.rs"]
mod run;

mod chart;
mod study;
mod study_fit;
mod study_gap;
mod study_seek;
mod study_suit;
