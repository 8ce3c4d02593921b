//! Interval: single felts whose blend ratio and whose pressure at the gauge are not stated.

use std::path::Path;

use rayon::prelude::*;

use crate::evidence::measured::ask::Predicted;
use crate::evidence::measured::record::{Basis, Class, Comparison, Kind, Subject};
use crate::evidence::measured::spread::{Both, EXPOSURES, Spread, both};
use crate::evidence::verify::table::{Row, rows};
use crate::garment::layup::Layup;
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;

/// Regain of the two fibres, as the paper of `measured_bench.csv` prints it [%].
const REGAIN_PCT: (f64, f64) = (5.0, 7.11);

/// Pressures at which thickness is gauged and at which the specimen may stand on the bench [kPa].
/// Source: ISO 9073-2 (nonwovens) and ISO 5084 (cloth), both from memory.
const PRESSURES_KPA: (f64, f64) = (0.5, 1.0);

/// The felt of the shelf whose points of thickness and pressure stand in for those that were not seen.
const PRESSED_LIKE: &str = "felt-needled-120";

const NOTE: &str = "Felts (NW): mass, thickness and times are printed; the ratio of para-aramid to FR viscose, the \
pressure at the gauge and the flux were not seen. Range: para-aramid 0 to 100 %, thickness gauged and \
pressed each at 0.5 or 1 kPa, compression as of the shelf's needled felt (common practice, no source); \
prediction at half and half, thickness as printed. Flux 80 kW/m² by the method, 40 kW/m² inferred. \
Regain as the paper prints it: viscose 7.11 %, para-aramid 5.0 %. Nominally equal felts differ by up to \
23 % (HTI24) and 27 % (RHTI24). HTI12 and RHTI12 are the printed time less the printed difference. \
Not explained: the \
late rise under radiation, measured as fast as in the flame and predicted at half of that.";

const NOTE_DEAD: &str = "Dead time: how much longer the first 12 K take than the next. Measured, it grows with \
the thickness of the felts, not with its square, which conduction alone would have.";

/// A felt: its row of the table and what is predicted for it.
#[derive(Debug, Clone)]
pub struct Felt {
    /// The row.
    pub row: Row,
    /// The predictions.
    pub spread: Spread,
}

/// How thick it stands on the bench: as printed, or by the pressures of gauge and bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stands {
    AsPrinted,
    Thinner,
    Thicker,
}

/// Whether a row of the table can be predicted: mass and thickness are there.
pub fn is_known(row: &Row) -> bool {
    row.number("areal_density_g_m2") > 0.0 && row.number("thickness_mm") > 0.0
}

/// A felt as a layup of one ply.
///
/// - `share`: para-aramid by mass, 0 to 1
fn layup(shelf: &Shelf, row: &Row, share: f64, stands: Stands) -> Option<Layup> {
    let fibre = match share {
        0.0 => "FR viscose".to_string(),
        1.0 => "para-aramid".to_string(),
        _ => format!("para-aramid/FR viscose {}/{}", 100.0 * share, 100.0 * (1.0 - share)),
    };
    let (low, high) = PRESSURES_KPA;
    let (gauge, pressure) = match stands {
        Stands::AsPrinted => (low, None),
        Stands::Thinner => (low, Some(high)),
        Stands::Thicker => (high, Some(low)),
    };
    let points: Vec<String> = shelf
        .fabric(PRESSED_LIKE)
        .ok()?
        .compression
        .iter()
        .map(|(pa, m)| format!("{}:{}", pa * 1e-3, m * 1e3))
        .collect();
    let pressure = pressure.map_or(String::new(), |kpa| format!("pressure_kPa = {kpa}\n"));
    let regain = share * REGAIN_PCT.0 + (1.0 - share) * REGAIN_PCT.1;
    let text = format!(
        "name = \"felt\"\n{pressure}[[fabric]]\nname = \"felt\"\nrole = \"felt\"\nfibre = \"{fibre}\"\n\
         areal_density_g_m2 = {}\nthickness_mm = {}\nthickness_pressure_kPa = {gauge}\n\
         regain_pct = {regain}\ncompression = \"{}\"\nfrom = \"estimated\"\n\
         [[stack]]\nply = \"felt\"\n",
        row.text("areal_density_g_m2"),
        row.text("thickness_mm"),
        points.join(" "),
    );
    read_layup_text(&text, Path::new("felt.toml"), shelf).ok()
}

/// A felt in the middle of what is open.
pub(crate) fn middle(shelf: &Shelf, row: &Row) -> Option<Layup> {
    layup(shelf, row, 0.5, Stands::AsPrinted)
}

/// Every felt of the table with its predictions.
pub fn felts(shelf: &Shelf) -> Vec<Felt> {
    use Stands::{AsPrinted, Thicker, Thinner};
    const PLACES: [(f64, Stands); 7] = [
        (0.5, AsPrinted),
        (0.0, Thinner),
        (0.0, Thicker),
        (1.0, Thinner),
        (1.0, Thicker),
        // between the ends, in case the times do not run one way
        (0.25, AsPrinted),
        (0.75, AsPrinted),
    ];
    let table: Vec<Row> = rows("measured_bench.csv").into_iter().filter(is_known).collect();
    let jobs: Vec<(&Row, (f64, Stands))> =
        table.iter().flat_map(|row| PLACES.map(|place| (row, place))).collect();
    let run = |(row, (share, stands)): &(&Row, (f64, Stands))| {
        both(shelf, &layup(shelf, row, *share, *stands)?)
    };
    let found: Vec<Option<Both>> = jobs.par_iter().map(run).collect();
    let spread = |found: &[Option<Both>]| {
        let all: Vec<Both> = found.iter().copied().collect::<Option<_>>()?;
        let (middle, ends) = all.split_first()?;
        Some(Spread { middle: *middle, ends: ends.to_vec() })
    };
    let felts = table.iter().zip(found.chunks(PLACES.len()));
    felts
        .filter_map(|(row, found)| Some(Felt { row: row.clone(), spread: spread(found)? }))
        .collect()
}

/// One of the two tests on a row of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Test {
    /// Over the flame.
    Flame,
    /// Under radiation.
    Radiant,
}

impl Test {
    /// Both.
    pub const ALL: [Test; 2] = [Test::Flame, Test::Radiant];

    /// What it is exposed to.
    pub fn kind(self) -> Kind {
        if self == Test::Flame { Kind::Flame } else { Kind::Radiant }
    }

    /// What its figures begin with.
    pub fn letters(self) -> &'static str {
        if self == Test::Flame { "HTI" } else { "RHTI" }
    }

    /// The exposure of the shelf that stands for it.
    pub fn exposure(self) -> &'static str {
        EXPOSURES[usize::from(self == Test::Radiant)]
    }

    /// What the disc reads in it.
    pub fn times(self, both: &Both) -> &Predicted {
        &both[if self == Test::Flame { 0 } else { 1 }]
    }

    /// Printed time to 24 K and printed difference of a row [s].
    pub fn printed(self, row: &Row) -> (f64, f64) {
        let of = self.letters();
        (row.number(&format!("{of}24_s")), row.number(&format!("{of}24_less_{of}12_s")))
    }
}

/// Half a unit of the last printed digit of a time [s].
pub const ROUNDING: f64 = 0.05;

/// The felts' times.
pub fn times(felts: &[Felt]) -> Vec<Comparison> {
    let mut found = Vec::new();
    for felt in felts {
        for test in Test::ALL {
            let (t24, between) = test.printed(&felt.row);
            let of = test.letters();
            type Read = fn(&Predicted) -> f64;
            let figures: [(String, f64, f64, Read); 3] = [
                (format!("{of}12"), t24 - between, 2.0 * ROUNDING, |t| t.rise12),
                (format!("{of}24"), t24, ROUNDING, |t| t.rise24),
                (format!("{of}24 − {of}12"), between, ROUNDING, |t| t.between),
            ];
            for (figure, measured, rounding, read) in figures {
                let measured = (measured - rounding, measured + rounding);
                let predicted = felt.spread.of(|both| read(test.times(both)));
                let case = comparison(&felt.row, (test.kind(), figure), measured, predicted);
                found.push(Comparison { note: NOTE.to_string(), ..case });
            }
        }
    }
    found
}

/// What the felts' dead times are, by themselves: no time that a bench prints.
pub fn dead_times(felts: &[Felt]) -> Vec<Comparison> {
    let mut found = Vec::new();
    for felt in felts {
        for test in Test::ALL {
            let (t24, between) = test.printed(&felt.row);
            let (dead, rounding) = (t24 - 2.0 * between, 3.0 * ROUNDING);
            let predicted = felt.spread.of(|both| test.times(both).dead());
            let figure = format!("dead time, {}", test.letters());
            let measured = (dead - rounding, dead + rounding);
            let case = comparison(&felt.row, (test.kind(), figure), measured, predicted);
            found.push(Comparison { note: NOTE_DEAD.to_string(), ..case });
        }
    }
    found
}

pub(crate) fn comparison(
    row: &Row,
    (kind, figure): (Kind, String),
    measured: (f64, f64),
    (predicted, range): (f64, (f64, f64)),
) -> Comparison {
    Comparison {
        name: format!("{} {figure}", row.text("specimen")),
        class: Class::Interval,
        kind,
        subject: Subject::Felt,
        figure,
        basis: Basis::Uncalibrated,
        unit: "s".to_string(),
        measured,
        predicted,
        range,
        source: row.text("source").to_string(),
        provenance: row.text("provenance").to_string(),
        note: String::new(),
    }
}
