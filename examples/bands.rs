//! Makes the table of bands anew from the measured cases: `cargo run --example bands`.
//!
//! Rows that measured cases speak of, and those that follow from them, are written into
//! `materials/bands.csv`; the others stay as they are. To be run whenever a prediction has moved.

use std::process::ExitCode;

use stillair::evidence::measured;
use stillair::evidence::measured::shelf_rows::renewed;
use stillair::shelf::materials::Shelf;
use stillair::shelf::stock::band::bands_csv;

fn main() -> ExitCode {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/materials/bands.csv");
    let done = Shelf::built_in().map_err(|faults| format!("{faults:?}")).and_then(|shelf| {
        let standing = std::fs::read_to_string(path).map_err(|error| error.to_string())?;
        let table = renewed(shelf.bands(), &measured::run(&shelf, || ()));
        std::fs::write(path, bands_csv(&standing, &table)).map_err(|error| error.to_string())
    });
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{path}: {error}");
            ExitCode::FAILURE
        }
    }
}
