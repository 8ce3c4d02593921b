//! Checks that need no layer: ratios of what was measured on one specimen.

use rayon::prelude::*;

use crate::evidence::measured::ask::plies;
use crate::evidence::measured::felts::{Felt, ROUNDING, Test, is_known};
use crate::evidence::measured::record::{Basis, Class, Comparison, Kind, Subject};
use crate::evidence::measured::spread::{Both, Spread, both};
use crate::evidence::verify::table::{Row, rows};
use crate::garment::fabric::Role;
use crate::shelf::materials::Shelf;

/// Mean and deviation of RHTI24/HTI24 over all that is known, for the reader.
const KNOWN: &str =
    "Over all 16 known, five of which are kept aside for a blind check, it is 1.09 ± 0.12.";

const NOTE_RATIO: &str = "Conductivity hardly moves this ratio; the gas before the face, its vapour and \
what blows out of the cloth do.";

const NOTE_WOVEN: &str = "Of the wovens (TW) neither mass nor thickness was seen: the prediction is that of \
the shelf's outer wovens, its range over all of them.";

const NOTE_FIRST: &str = "First/second: time to 12 K over time from 12 to 24 K. Under a steady flux conduction alone warms the disc \
faster the later it is, so that this is above 1. Where it is below, either the cloth lets heat through \
faster at first (vapour that condenses on the cold disc does) or the printed column is not what its \
header says: read as the time to 12 K itself, it would leave ratios above 1 for the thin wovens and \
below 1 for the felts. Neither can be told from the table; nothing rests on it.";

/// The suit's row of ratios stands beside the table's.
#[derive(Debug, Clone)]
pub struct SuitTimes {
    /// Printed ends of HTI24, HTI24 − HTI12, RHTI24, RHTI24 − RHTI12 [s].
    pub printed: [(f64, f64); 4],
    /// Where it was published.
    pub source: String,
    /// How it is known.
    pub provenance: String,
}

/// What is predicted of outer wovens of the shelf, whichever it is.
pub fn wovens(shelf: &Shelf) -> Option<Spread> {
    let named: Vec<&str> = shelf
        .fabrics()
        .filter(|fabric| fabric.role == Role::Outer)
        .map(|fabric| fabric.name.as_str())
        .collect();
    let all: Vec<Both> = named
        .par_iter()
        .map(|name| both(shelf, &plies(shelf, &[name])?))
        .collect::<Vec<_>>()
        .into_iter()
        .collect::<Option<_>>()?;
    // the middle of the wovens is the one in the middle of the order by HTI24
    let mut by_time: Vec<usize> = (0..all.len()).collect();
    by_time.sort_by(|a, b| all[*a][0].rise24.total_cmp(&all[*b][0].rise24));
    let middle = all[*by_time.get(by_time.len() / 2)?];
    Some(Spread { middle, ends: all })
}

/// One case before its prediction is put beside it.
struct Specimen {
    name: String,
    subject: Subject,
    /// HTI24, its difference, RHTI24, its difference, each from end to end [s].
    printed: [(f64, f64); 4],
    source: String,
    provenance: String,
}

fn case(row: &Row) -> Specimen {
    let printed = Test::ALL.map(|test| test.printed(row));
    let ends = |t: f64| (t - ROUNDING, t + ROUNDING);
    let [(flame, flame_between), (radiant, radiant_between)] = printed;
    Specimen {
        name: row.text("specimen").to_string(),
        subject: if is_known(row) { Subject::Felt } else { Subject::Woven },
        printed: [flame, flame_between, radiant, radiant_between].map(ends),
        source: row.text("source").to_string(),
        provenance: row.text("provenance").to_string(),
    }
}

/// The ratios, each with its prediction; specimens in the order of the table, the suit last.
///
/// - `suit`: the suit's printed times and its predictions
/// - `wovens`: predictions that stand in for a woven
pub fn ratios(felts: &[Felt], wovens: &Spread, suit: (&SuitTimes, &Spread)) -> Vec<Comparison> {
    let mut cases: Vec<(Specimen, &Spread)> = Vec::new();
    for row in rows("measured_bench.csv") {
        let felt = felts.iter().find(|felt| felt.row == row);
        let spread = felt.map_or(wovens, |felt| &felt.spread);
        cases.push((case(&row), spread));
    }
    let (times, spread) = suit;
    let suit = Specimen {
        name: "suit".to_string(),
        subject: Subject::ManyPlies,
        printed: times.printed,
        source: times.source.clone(),
        provenance: times.provenance.clone(),
    };
    cases.push((suit, spread));
    let mean = mean_and_deviation(cases.iter().map(|(case, _)| {
        let middle = |(low, high): (f64, f64)| 0.5 * (low + high);
        middle(case.printed[2]) / middle(case.printed[0])
    }));
    let of_tests =
        format!("{NOTE_RATIO} Measured on these {}: {mean}. {KNOWN} {NOTE_WOVEN}", cases.len());
    let mut found = Vec::new();
    for (case, spread) in &cases {
        let ratio = quotient(case.printed[2], case.printed[0]);
        let predicted = spread.of(|both| both[1].rise24 / both[0].rise24);
        found.push(comparison(case, (Kind::Both, "RHTI24/HTI24"), ratio, predicted, &of_tests));
    }
    for (test, i) in [(Test::Flame, 0), (Test::Radiant, 2)] {
        let figure = format!("first/second, {}", test.letters());
        for (case, spread) in &cases {
            let (low, high) = quotient(case.printed[i], case.printed[i + 1]);
            let measured = (low - 1.0, high - 1.0);
            let predicted = spread.of(|both| test.times(both).rise12 / test.times(both).between);
            found.push(comparison(case, (test.kind(), &figure), measured, predicted, NOTE_FIRST));
        }
    }
    found
}

/// Both ends of the quotient of two rounded values.
fn quotient(over: (f64, f64), under: (f64, f64)) -> (f64, f64) {
    (over.0 / under.1, over.1 / under.0)
}

/// "1.06 ± 0.14", the deviation with one degree of freedom less than values.
fn mean_and_deviation(values: impl Iterator<Item = f64>) -> String {
    let values: Vec<f64> = values.collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    format!("{mean:.2} ± {:.2}", (squares / (n - 1.0)).sqrt())
}

fn comparison(
    case: &Specimen,
    (kind, figure): (Kind, &str),
    measured: (f64, f64),
    (predicted, range): (f64, (f64, f64)),
    note: &str,
) -> Comparison {
    Comparison {
        name: format!("{} {figure}", case.name),
        class: Class::Interval,
        kind,
        subject: case.subject,
        figure: figure.to_string(),
        basis: Basis::Uncalibrated,
        unit: String::new(),
        measured,
        predicted,
        range,
        source: case.source.clone(),
        provenance: case.provenance.clone(),
        note: note.to_string(),
    }
}
