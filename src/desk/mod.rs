//! The desk: a page on which a layup is moved about and answers back, and the server behind it.
//!
//! Every answer comes from [`crate::study::answer`] and is worded by `report`, as `stillair expose` does
//! it: the page computes nothing of its own. [`route`] turns a request into a reply and knows no socket;
//! `serve` knows nothing else.

pub mod anchors;
pub mod answer;
pub mod asked;
pub mod guard;
pub mod lessons;
pub mod page;
pub mod refused;
pub mod route;
pub mod save;
pub mod serve;
pub mod shelf;
pub mod view;
