//! What the tolerances do: the spread of a figure, the odds of a target, and where they come from.
//!
//! Every property varies by its own tolerance or by a default for how it is known (`defaults`).
//! Some of that is the same for all specimens of a set (what is not known of a fabric, the lot,
//! the flux), some differs from specimen to specimen (`inputs`). Sets are drawn at scrambled
//! Sobol points (`points`), run on the batch solver block by block (`work`), and counted
//! (`spread`). A surface through them tells what each input adds to the variance (`surface`), or a second
//! design of its own does (`indices`).

pub mod basis;
pub mod checkpoint;
pub mod defaults;
pub mod indices;
pub mod inputs;
pub mod normal;
pub mod points;
pub mod result;
pub mod shortcut;
pub mod spread;
pub mod surface;
pub mod work;
