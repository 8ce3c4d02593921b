//! An exposure with another duration or end than its file has.

use super::error::{BadOption, CliError};
use crate::garment::exposure::{Exposure, OutlastingFlame};

/// An exposure with another duration and another end, bound as one from a file is.
///
/// Errors: a flame that outlasts the time looked at.
pub fn changed(
    exposure: &Exposure,
    duration: Option<f64>,
    until: Option<f64>,
) -> Result<Exposure, CliError> {
    exposure.with_times(duration, until).map_err(|OutlastingFlame { flame }| {
        let option = |name: &str, value: Option<f64>| value.map(|value| format!("{name} {value}"));
        let given = [option("--for", duration), option("--until", until)];
        let given: Vec<String> = given.into_iter().flatten().collect();
        CliError::Option(BadOption {
            what: format!("{} would end before its flame does", exposure.name),
            given: given.join(" "),
            expected: format!("an end at {flame} s, when the flame is taken away, or later"),
            mend: "give a later --until: burns are looked for after the flame too".to_owned(),
        })
    })
}
