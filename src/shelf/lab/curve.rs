//! A curve of the bench as its file has it: the copper disc's rise over time.
//!
//! What can be taken otherwise than meant is refused; the two things that are mended (a small offset at
//! the start, a hole in the readings) are said.

use std::path::Path;

use crate::shelf::fault::{Fault, Faults, enough};
use crate::shelf::file::sizes;
use crate::shelf::file::text::Text;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::sheet;
use crate::shelf::wording::plural;

/// Fewest readings of a curve.
const POINTS_LEAST: usize = 6;
/// The disc is at the room's temperature up to here [s].
const T_COLD: f64 = 1.0;
/// An offset at the start is subtracted from here on, and refused above the second value [K].
const OFFSETS: (f64, f64) = (0.5, 5.0);
/// Temperatures of a room in degrees Celsius and Fahrenheit, and in kelvin above these.
const ROOM_FAHRENHEIT: f64 = 45.0;
const ROOM_KELVIN: f64 = 200.0;
/// No disc behind cloth is followed beyond this rise [K].
const RISE_MOST: f64 = 400.0;
/// Readings that fall by more than this from one to the next were set back [K].
const FALL_MOST: f64 = 3.0;
/// Noise may read below the start by this much [K].
const BELOW_MOST: f64 = 1.0;
/// A hole is this many usual intervals long and at least the second value [s].
const HOLE: (f64, f64) = (5.0, 1.0);
/// A hole of this share of the curve leaves too little of it [–].
const HOLE_MOST: f64 = 0.25;

/// The columns that count; others are left alone.
const TIME: &str = "time_s";
const RISE: &str = "temperature_rise_C";

/// Rise of the disc over time.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The file, as the user named it.
    pub name: String,
    /// `(time [s], rise [K])`, times rising.
    pub points: Vec<(f64, f64)>,
    /// What was mended or passed over, in words.
    pub notes: Vec<String>,
}

/// A reading with its row.
struct Reading<'a> {
    t: f64,
    rise: f64,
    row: &'a Record,
}

/// A curve from a CSV file.
///
/// Errors: every fault of the file.
pub fn read_curve(path: &Path) -> Result<Curve, Faults> {
    let text = Text::load(path, sizes::CURVE)?;
    let mut faults = Vec::new();
    let sheet = sheet::parse(&text, &mut faults);
    let Some(sheet) = sheet.filter(|_| faults.is_empty()) else { return Err(Faults(faults)) };
    missing_columns(&sheet.header, &mut faults);
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    let mut readings = Vec::new();
    for row in &sheet.records {
        if enough(&faults) {
            break;
        }
        let mut reader = Reader { record: row, owner: "the curve".to_owned(), faults: &mut faults };
        let t = reader.need_number(&kinds::TIME);
        let rise = reader.need_number(&kinds::RISE);
        if let (Some(t), Some(rise)) = (t, rise) {
            readings.push(Reading { t, rise, row });
        }
    }
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    if readings.len() < POINTS_LEAST {
        let what = format!("the curve has {}", plural(readings.len(), "reading"));
        let expected = format!("at least {POINTS_LEAST}, better one every 0.1 to 0.5 s");
        let mend = "export the whole curve; where only HTI12 and HTI24 are left, give --hti12 and \
                    --hti24";
        return Err(Fault::new(what, text.place(0..0, ""), expected, mend).into());
    }
    faults.extend(order(&readings));
    if faults.is_empty() {
        faults.extend(unit(&readings));
    }
    let mut notes = Vec::new();
    let offset = offset(&readings, &mut notes);
    if faults.is_empty() {
        faults.extend(shape(&readings, offset));
        faults.extend(hole(&readings, &mut notes));
    }
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    let points = readings.iter().map(|reading| (reading.t, reading.rise - offset)).collect();
    Ok(Curve { name: text.path.clone(), points, notes })
}

/// Says which of the two columns is not there, and which one may have been meant.
fn missing_columns(header: &Record, faults: &mut Vec<Fault>) {
    for (key, begins) in [(TIME, "time"), (RISE, "temperature")] {
        if header.cells.iter().any(|cell| cell.key == key) {
            continue;
        }
        let alike = |key: &str| {
            let key = key.to_lowercase();
            key.starts_with(begins) || (begins == "temperature" && key.contains("rise"))
        };
        let near = header.cells.iter().find(|cell| alike(&cell.key));
        let expected = format!("columns `{TIME}` and `{RISE}`");
        let Some(cell) = near else {
            let what = format!("column `{key}` is missing");
            let place = header.text.place(header.span.clone(), "");
            let mend = format!("name the columns so in the first row, `{TIME},{RISE}`");
            faults.push(Fault::new(what, place, expected, mend));
            continue;
        };
        let lower = cell.key.to_lowercase();
        let (what, mend) = match () {
            () if begins == "time" => (
                format!("column `{}` is not in seconds, or does not say so", cell.key),
                format!("convert to seconds and name the column `{TIME}`"),
            ),
            () if lower.ends_with("_f") || lower.contains("fahrenheit") => (
                format!("column `{}` is in degrees Fahrenheit", cell.key),
                format!("multiply a rise by 5/9 and name the column `{RISE}`"),
            ),
            () if lower.contains("rise") => (
                format!("column `{}` is a rise under another name", cell.key),
                format!("name the column `{RISE}` if it is in degrees Celsius or kelvin"),
            ),
            () => (
                format!("column `{}` is a temperature, not a rise", cell.key),
                format!("subtract the temperature at the start and name the column `{RISE}`"),
            ),
        };
        faults.push(Fault::new(what, cell.key_place(), expected, mend));
    }
}

/// Times must rise.
fn order(readings: &[Reading]) -> Option<Fault> {
    let pair = readings.windows(2).find(|pair| pair[1].t <= pair[0].t)?;
    let (t, before) = (pair[1].t, pair[0].t);
    let (what, mend) = match () {
        () if t == before => (
            format!("time {t} s is there twice"),
            "keep one reading for each time; a logger with coarse time stamps needs more digits",
        ),
        () if t <= readings[0].t => (
            format!("the time starts again at {t} s"),
            "give each specimen a file of its own, named one after the other",
        ),
        () => (format!("time {t} s comes after {before} s"), "sort the rows by time"),
    };
    let place = pair[1].row.place_of(TIME);
    let fault = Fault::new(what, place, "times that rise from row to row", mend);
    Some(fault.and_at(pair[0].row.place_of(TIME)))
}

/// A curve that begins at a room's temperature is no rise.
fn unit(readings: &[Reading]) -> Option<Fault> {
    let first = &readings[0];
    let looks = match first.rise {
        _ if first.t > T_COLD => return None,
        v if v >= ROOM_KELVIN => ("kelvin", "subtract the first reading from all"),
        v if v > ROOM_FAHRENHEIT => {
            ("degrees Fahrenheit", "subtract the first reading from all and multiply by 5/9")
        }
        v if v > OFFSETS.1 => ("degrees Celsius", "subtract the first reading from all"),
        _ => return None,
    };
    let what = format!(
        "the rise begins at {} where the disc is still cold: it looks like an absolute temperature \
         in {}",
        first.rise, looks.0
    );
    let expected = format!("a rise in °C or K that begins within {} of 0", OFFSETS.1);
    Some(Fault::new(what, first.row.place_of(RISE), expected, looks.1))
}

/// The offset to be subtracted [K]; said where there is one.
fn offset(readings: &[Reading], notes: &mut Vec<String>) -> f64 {
    let first = &readings[0];
    if first.t > T_COLD || first.rise.abs() < OFFSETS.0 {
        return 0.0;
    }
    notes.push(format!("begins at {} K, which is subtracted from every reading", first.rise));
    first.rise
}

/// Neither below the start, nor beyond any disc, nor set back.
fn shape(readings: &[Reading], offset: f64) -> Vec<Fault> {
    let mut faults = Vec::new();
    if let Some(low) = readings.iter().find(|reading| reading.rise - offset < -BELOW_MOST) {
        let what = format!("the rise of {} at {} s is negative", low.rise, low.t);
        let expected = format!("no reading more than {BELOW_MOST} K below the start");
        let mend = "look for exchanged wires of the thermocouple or a late zero";
        faults.push(Fault::new(what, low.row.place_of(RISE), expected, mend));
    }
    if let Some(high) = readings.iter().find(|reading| reading.rise - offset > RISE_MOST) {
        let what = format!("the rise reaches {} at {} s", high.rise, high.t);
        let expected = format!("a copper disc's rise, at most {RISE_MOST} K");
        let mend =
            "look for another unit (millivolts, tenths of a degree) or a broken thermocouple";
        faults.push(Fault::new(what, high.row.place_of(RISE), expected, mend));
    }
    let set_back = |pair: &&[Reading]| pair[0].rise - pair[1].rise > FALL_MOST;
    if let Some(pair) = readings.windows(2).find(set_back) {
        let what = format!(
            "the rise falls from {} to {} within {:.3} s: the reading was reset or the contact lost",
            pair[0].rise,
            pair[1].rise,
            pair[1].t - pair[0].t
        );
        let expected = format!("no fall of more than {FALL_MOST} K from one reading to the next");
        let mend = "cut the curve before the fall, or take a curve without one";
        let fault = Fault::new(what, pair[1].row.place_of(RISE), expected, mend);
        faults.push(fault.and_at(pair[0].row.place_of(RISE)));
    }
    faults
}

/// A hole is passed over and said; a large one is a fault.
fn hole(readings: &[Reading], notes: &mut Vec<String>) -> Option<Fault> {
    let mut intervals: Vec<f64> = readings.windows(2).map(|pair| pair[1].t - pair[0].t).collect();
    intervals.sort_by(f64::total_cmp);
    let usual = intervals[intervals.len() / 2];
    let whole = readings[readings.len() - 1].t - readings[0].t;
    for pair in readings.windows(2) {
        let (from, to) = (pair[0].t, pair[1].t);
        let long = to - from;
        if long <= HOLE.0 * usual || long <= HOLE.1 {
            continue;
        }
        if long > HOLE_MOST * whole {
            let what = format!("nothing was read between {from} and {to} s");
            let expected = format!("no hole longer than {:.0} % of the curve", 100.0 * HOLE_MOST);
            let mend = "take another specimen's curve, or cut this one before the hole";
            let fault = Fault::new(what, pair[1].row.place_of(TIME), expected, mend);
            return Some(fault.and_at(pair[0].row.place_of(TIME)));
        }
        notes.push(format!(
            "has no reading between {from} and {to} s; the fit has none there either"
        ));
    }
    None
}
