//! Charts as SVG, and as PNG behind the feature `png`; plain data in, text out.
//!
//! Numbers come in display units, the axis labels name them. Every chart carries
//! the crate's notice, needs no installed font, and is the same bytes for the same data.
//! What cannot be drawn truthfully (nothing to draw, a value that is no number) is an error.

mod canvas;
mod clip;
mod decades;
mod events;
mod field_data;
mod field_paths;
mod frame;
mod legend;
mod line_data;
mod panel;
mod place;
mod quilt_map;
mod quilt_section;
mod scale;
mod suit_shapes;
mod suit_views;
mod text;
mod thinning;

pub mod bars;
pub mod body;
pub mod body_beside;
pub mod book;
pub mod contour;
pub mod error;
pub mod export;
pub mod exposure;
pub mod fit;
pub mod gap;
pub mod gap_beside;
pub mod gap_map;
pub mod lines;
pub mod lots;
pub mod meanings;
pub mod measured;
pub mod odds;
pub mod palette;
pub mod parity;
pub mod patch;
pub mod pressed;
pub mod quilt;
pub mod quilt_beside;
pub mod rank;
pub mod seek;
pub mod stack;
pub mod suit;

pub use bars::bar_chart;
pub use body::body_chart;
pub use book::book_chart;
pub use contour::field_chart;
pub use error::ChartError;
pub use export::{chart_bytes, svg_to_png};
pub use exposure::{Asked, TargetMark, Which, exposure_chart};
pub use fit::fit_chart;
pub use frame::{Axis, Heading};
pub use gap::gap_chart;
pub use gap_beside::{GapLine, gap_beside_chart};
pub use gap_map::{MapCell, MapRow, gap_map_chart};
pub use lines::line_chart;
pub use lots::lots_chart;
pub use odds::odds_chart;
pub use parity::parity_chart;
pub use patch::patch_chart;
pub use pressed::pressed_chart;
pub use quilt_beside::{BesideWords, quilt_beside_chart};
pub use rank::rank_chart;
pub use scale::Spacing;
pub use seek::seek_chart;
pub use stack::stack_chart;
pub use suit::suit_chart;
pub use text::{Weight, text_width};
