//! Whether a layup's materials are fitted to the very readings of a test.
//!
//! A material that was fitted to a test's curve brings the prediction of that test to its reading;
//! the ratio of the same test on top of it would count the test twice. Where a layup holds such a
//! material the material is used, since it says which property was wrong, and the test is not.

use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Layup, PlyJoint};
use crate::garment::property::OfPly;
use crate::garment::target::Figure;
use crate::shelf::lab::book::{READ_FROM, Test};

/// Whether a value of the layup is fitted to the curves or the times of the test.
pub fn is_fitted_to(layup: &Layup, test: &Test) -> bool {
    let origins = origins(layup);
    let curves: Vec<&str> = test
        .note
        .split(';')
        .filter_map(|part| part.trim().strip_prefix(READ_FROM))
        .flat_map(|names| names.split(" and "))
        .map(file_name)
        .collect();
    let of_curves = |origin: &String| {
        !curves.is_empty() && curves.iter().any(|name| names(origin).any(|known| known == *name))
    };
    let times: Vec<String> = match test.figure {
        Figure::Rise12 => test.values.iter().map(|t| format!("12 K at {t} s")).collect(),
        Figure::Rise24 => test.values.iter().map(|t| format!("24 K at {t} s")).collect(),
        _ => Vec::new(),
    };
    let of_times = |origin: &String| {
        let mut parts = times.iter();
        !times.is_empty() && parts.all(|time| origin.contains(time.as_str()))
    };
    origins.iter().any(|origin| of_curves(origin) || of_times(origin))
}

/// File names in an origin's words, such as "lab.csv and second.csv under flame-80, 95 % ± 0.002".
fn names(origin: &str) -> impl Iterator<Item = &str> {
    origin.split([' ', ',', ';']).map(file_name)
}

fn file_name(word: &str) -> &str {
    word.rsplit(['/', '\\']).next().unwrap_or(word)
}

/// Where the layup's fitted values come from, in the words that a fit writes.
fn origins(layup: &Layup) -> Vec<String> {
    let mut all = Vec::new();
    for entry in &layup.stack {
        match entry {
            Entry::Gap(gap) => all.extend(of_value(&gap.thickness)),
            Entry::Ply(ply) => {
                all.extend(of_fabric(&ply.fabric));
                if let PlyJoint::Conductance(known) = &ply.joint {
                    all.extend(of_value(known));
                }
            }
        }
    }
    all
}

fn of_value(known: &Known) -> Vec<String> {
    let own = (known.provenance == Provenance::Fitted).then(|| known.source.to_string());
    let rise = known.rise.as_ref().filter(|rise| rise.provenance == Provenance::Fitted);
    own.into_iter().chain(rise.map(|rise| rise.source.to_string())).collect()
}

fn of_fabric(fabric: &Fabric) -> Vec<String> {
    let known = |of: OfPly| of_value(&of.known(fabric));
    let mut all: Vec<String> = OfPly::OF_FABRIC.into_iter().flat_map(known).collect();
    if !all.is_empty() {
        // a fabric's row on a shelf names the curves in its description
        all.push(fabric.description.clone());
    }
    all
}

#[cfg(test)]
mod tests {
    use super::{file_name, names};

    #[test]
    fn names_of_curves_are_whole_words_without_folders() {
        let origin = "examples/day/lab.csv and two.csv under flame-80, 95 % ± 0.002";
        let found: Vec<&str> = names(origin).collect();
        assert!(found.contains(&"lab.csv") && found.contains(&"two.csv"));
        assert!(!found.contains(&"ab.csv"));
        assert_eq!(file_name("a\\b\\c.csv"), "c.csv");
    }
}
