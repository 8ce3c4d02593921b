//! Single exposures from the user's files.

use std::path::Path;

use crate::garment::exposure::Exposure;
use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::sizes;
use crate::shelf::file::text::Text;
use crate::shelf::key::kinds;
use crate::shelf::notation::tree;
use crate::shelf::stock::exposure;

/// One exposure from a TOML file; a flux series named in it is looked for beside the file.
///
/// Errors: every fault of the file and of its flux series.
pub fn read_exposure(path: &Path) -> Result<Exposure, Faults> {
    let text = Text::load(path, sizes::WRITTEN)?;
    let mut faults = Vec::new();
    let root = tree::parse(&text, &mut faults);
    let tables = root.tables("exposure");
    let record = match tables {
        [] => &root,
        [one] => one,
        [_, second, ..] => {
            let what = format!("the file has {} exposures", tables.len());
            let mend = "lay the file on a shelf and name the exposure, or keep one";
            return Err(Fault::new(what, second.place(), "one exposure", mend).into());
        }
    };
    let mut found = Vec::new();
    if root.cells.is_empty() && faults.is_empty() {
        return Err(text.empty("an exposure").into());
    }
    kinds::EXPOSURE.check(record, &mut found);
    let read = exposure::read_exposure(record, &mut found);
    tree::add_beyond_syntax(&mut faults, found);
    match read {
        Some(exposure) if faults.is_empty() => Ok(exposure),
        _ => Err(Faults(faults)),
    }
}
