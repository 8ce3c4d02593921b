//! The program held against what was measured: three classes of cases, and signs.
//!
//! One shelf and one set of rules serve every case; nothing is tuned to a case, except where
//! [`record::Basis::Scaled`] says so.

pub mod ask;
pub mod bands;
pub mod record;
pub mod signs;
pub mod suit;
pub mod tissue;

pub use record::{Basis, Class, Comparison, Kind, Place, Sign, Summary};

use crate::garment::shelf::Shelf;

/// What was compared.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Measured {
    /// Comparisons, in order of class.
    pub comparisons: Vec<Comparison>,
    /// Signs.
    pub signs: Vec<Sign>,
}

/// Parts of the comparison, for a bar of progress.
pub const N_PARTS: usize = 5;

/// How many fabric cases are complete: published with every layer's mass, thickness, flux and time.
///
/// None was found in what has been gathered.
pub const N_FABRIC_COMPLETE: usize = 0;

/// Makes every comparison with the built-in shelf.
///
/// - `after_each`: called when a part is done
pub fn run(shelf: &Shelf, after_each: impl Fn() + Sync) -> Measured {
    let parts: [fn(&Shelf) -> Vec<Comparison>; 4] =
        [tissue::tissue, suit::suit, suit::conductivities, bands::bands];
    let mut comparisons = Vec::new();
    for part in parts {
        comparisons.extend(part(shelf));
        after_each();
    }
    let signs = signs::signs(shelf);
    after_each();
    Measured { comparisons, signs }
}
