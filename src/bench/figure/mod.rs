//! A figure of a run: what is known of it, what it is called and in which unit it is told.
//!
//! [`Found`] is the one answer to "what is the HTI24 of this layup": every command reads it here, so
//! that the same layup has the same figure wherever it is asked for.

mod call;
mod found;
mod held;
mod name;
mod read;
mod times;
mod told;

pub use call::{Call, NoCall, Rule, Under, Verdict, hold};
pub use found::{Figured, Found};
pub use held::hold_outcome;
pub use name::{figure_name, filed, shown};
pub use read::{of_outcome, of_run, second_degree_at_centre, t_valid};
pub use times::{DiscTimes, disc_readings};
pub use told::Told;
