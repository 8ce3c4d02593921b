//! A suit on a whole body: what share of the wearer burns.
//!
//! Every panel stands before skin with the air between garment and body as a distribution: a share in contact and
//! a spread of gaps. Runs are made at fixed gaps (`burns`), at every place of a quilting (`cell`), after every
//! fire (`runs`); panels of one layup share them, and the distribution of each (`air`) tells what share of it has
//! burnt (`ask`). The panels' other layups may be searched for the lightest that keep a share (`keep`). No published
//! result of a manikin with complete layers was found to hold it against: the figure compares garments, it foretells
//! no manikin.

pub mod air;
pub mod ask;
pub mod beside;
pub mod burns;
pub mod cell;
pub mod grams;
pub mod keep;
pub mod odds;
pub mod record;
pub mod runs;
pub mod settle;
pub mod worn;
