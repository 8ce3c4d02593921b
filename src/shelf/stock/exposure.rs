//! Exposures and targets from their records.

use std::path::Path;

use crate::garment::exposure::{Disc, Exposure, Flux, Orientation};
use crate::garment::target::{Figure, Judged, Target};
use crate::physics::units::{from_cal_cm2, kelvin};
use crate::shelf::fault::{Fault, Faults, Unknown, enough};
use crate::shelf::file::outside;
use crate::shelf::file::sizes;
use crate::shelf::file::text::Text;
use crate::shelf::key::field::Keys;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::{Record, Value};
use crate::shelf::notation::sheet;
use crate::shelf::stock::boundary::{read_boundary, read_gas_vapour};
use crate::shelf::stock::fabric::name;

/// Words for the ways in which a specimen lies.
pub(crate) const ORIENTATIONS: [(&str, Orientation); 3] = [
    ("heated from below", Orientation::HeatedFromBelow),
    ("vertical", Orientation::Vertical),
    ("still", Orientation::Still),
];

/// Figures as the standards call them.
pub(crate) const FIGURES: [(&str, Figure); 9] = [
    ("HTI12", Figure::Rise12),
    ("HTI24", Figure::Rise24),
    ("HTI24-HTI12", Figure::Rise24Less12),
    ("RHTI12", Figure::Rise12),
    ("RHTI24", Figure::Rise24),
    ("RHTI24-RHTI12", Figure::Rise24Less12),
    ("TPP", Figure::Tpp),
    ("Stoll", Figure::Stoll),
    ("second degree", Figure::SecondDegree),
];

/// How a set of specimens is judged.
const JUDGED_ON: [(&str, Option<Judged>); 2] =
    [("lowest", Some(Judged::Lowest)), ("mean", Some(Judged::Mean))];

/// An exposure from its record; none when anything is wrong with it.
///
/// Keys are checked by the caller.
pub(crate) fn read_exposure(record: &Record, faults: &mut Vec<Fault>) -> Option<Exposure> {
    let before = faults.len();
    let mut reader = Reader::new(record, "exposure", faults);
    let name = name(&mut reader);
    let description = reader.word("description").unwrap_or_default();
    let method = reader.word("method").unwrap_or_default();
    let flux = flux(&mut reader);
    let radiant_share = reader.need_number(&kinds::RADIANT_SHARE);
    let temp_flame = reader.need_number(&kinds::FLAME_TEMPERATURE);
    let temp_room = reader.need_number(&kinds::ROOM_TEMPERATURE);
    let duration = reader.number(&kinds::DURATION);
    let t_end = reader.need_number(&kinds::UNTIL);
    let h_cooling = reader.need_number(&kinds::COOLING);
    let orientation = reader.need_choice("orientation", &ORIENTATIONS);
    let spacer = reader.need_number(&kinds::SPACER);
    let source = reader.word("source").unwrap_or_default();
    let p_vapour_gas = temp_room.and_then(|temp| read_gas_vapour(&mut reader, kelvin(temp)));
    let boundary = read_boundary(&mut reader, radiant_share, p_vapour_gas);
    outlasts(&mut reader, duration, t_end);
    series_lasts(&mut reader, flux.as_ref(), duration.or(t_end));
    let disc = disc(record, faults);
    if faults.len() > before {
        return None;
    }
    Some(Exposure {
        name: name?,
        description,
        method,
        flux: flux?,
        radiant_share: radiant_share?,
        temp_flame: kelvin(temp_flame?),
        temp_room: kelvin(temp_room?),
        duration,
        t_end: t_end?,
        h_cooling: h_cooling?,
        p_vapour_gas: p_vapour_gas?,
        boundary,
        orientation: orientation?,
        spacer: spacer? * 1e-3,
        disc: disc?,
        source,
    })
}

/// A flame that outlasts the time looked at is a slip of one of the two.
fn outlasts(reader: &mut Reader<'_>, duration: Option<f64>, t_end: Option<f64>) {
    if let (Some(duration), Some(t_end)) = (duration, t_end) {
        if duration > t_end {
            let record = reader.record;
            let what = format!("{} ends before its flame does", reader.owner);
            let expected = format!("`{}` at most `{}`", kinds::DURATION.key, kinds::UNTIL.key);
            let mend = "lengthen `until_s`: burns are looked for after the flame too";
            let fault = Fault::new(what, record.place_of(kinds::DURATION.key), expected, mend);
            reader.fault(fault.and_at(record.place_of(kinds::UNTIL.key)));
        }
    }
}

/// A series that ends before the flux does leaves open what comes after: nothing is made up for it.
fn series_lasts(reader: &mut Reader<'_>, flux: Option<&Flux>, flux_end: Option<f64>) {
    let (Some(Flux::Series(points)), Some(flux_end)) = (flux, flux_end) else { return };
    let Some(last) = points.last().map(|(t, _)| *t).filter(|last| *last < flux_end) else { return };
    let record = reader.record;
    let is_timed = record.get(kinds::DURATION.key).is_some();
    let key = if is_timed { kinds::DURATION.key } else { kinds::UNTIL.key };
    let what = format!("the flux series of {} ends at {last} s", reader.owner);
    let expected = format!("a last row at {flux_end} s or later, the end by `{key}`");
    let mend = match is_timed {
        true => format!("add rows up to {flux_end} s, or shorten `{key}`"),
        false => format!(
            "add rows up to {flux_end} s, with 0 where the flame is away; or give `{} = {last}`, after \
             which the specimen cools",
            kinds::DURATION.key
        ),
    };
    let fault = Fault::new(what, record.place_of("flux_file"), expected, mend);
    reader.fault(fault.and_at(record.place_of(key)));
}

fn flux(reader: &mut Reader<'_>) -> Option<Flux> {
    let steady = reader.number(&kinds::FLUX);
    let is_steady = reader.record.get(kinds::FLUX.key).is_some();
    let Some(file) = reader.word("flux_file") else {
        if !is_steady {
            reader.need_number(&kinds::FLUX);
        }
        return steady.map(|kw_m2| Flux::Steady(kw_m2 * 1e3));
    };
    let place = reader.record.place_of("flux_file");
    if is_steady {
        let what = format!("{} has both a steady flux and a file of one", reader.owner);
        let fault = Fault::new(what, place, "one of the two", "remove one");
        let other = reader.record.place_of(kinds::FLUX.key);
        reader.fault(fault.and_at(other));
        return None;
    }
    let Some(named) = outside::named_in(Path::new(&reader.record.text.path), &file) else {
        let what = format!("the flux file of {} lies outside its folder", reader.owner);
        let expected = "a file in the folder of its exposure, or below it";
        let mend = "copy it there, or allow it with --allow-outside if you trust the exposure";
        reader.fault(Fault::new(what, place, expected, mend));
        return None;
    };
    if !named.exists() {
        // said here, where the name stands that is to be corrected
        let what =
            format!("the flux file of {}, `{}`, is not there", reader.owner, named.display());
        let mend = "check the name; it is looked for in the folder of its exposure";
        reader.fault(Fault::new(what, place, "a CSV file of times and fluxes", mend));
        return None;
    }
    read_flux(&named, reader.faults)
}

/// Reads a series of fluxes to say whether it has faults.
///
/// Errors: every fault of the file.
pub(crate) fn read_flux_series(path: &Path) -> Result<(), Faults> {
    let mut faults = Vec::new();
    read_flux(path, &mut faults);
    if faults.is_empty() { Ok(()) } else { Err(Faults(faults)) }
}

/// A series of fluxes from a CSV file (`time_s`, `flux_kW_m2`).
fn read_flux(path: &Path, faults: &mut Vec<Fault>) -> Option<Flux> {
    let before = faults.len();
    let text = Text::load(path, sizes::FLUX_SERIES).map_err(|found| faults.extend(found.0)).ok()?;
    let sheet = sheet::parse(&text, faults)?;
    check_columns(&kinds::FLUX_SERIES, &["time_s", "flux_kW_m2"], &sheet.header, faults);
    if faults.len() > before {
        return None;
    }
    let mut points: Vec<(f64, f64)> = Vec::new();
    for record in &sheet.records {
        if enough(faults) {
            return None;
        }
        let mut reader = Reader { record, owner: "the series".to_owned(), faults };
        let t = reader.need_number(&kinds::TIME);
        let q = reader.need_number(&kinds::FLUX_IN_SERIES);
        let (Some(t), Some(q)) = (t, q) else { continue };
        match points.last() {
            None if t != 0.0 => {
                let what = format!("the series begins at {t} s");
                let mend = "add a row for the time 0";
                let place = record.place_of(kinds::TIME.key);
                reader.fault(Fault::new(what, place, "0 s in the first row", mend));
            }
            Some((last, _)) if t <= *last => {
                let what = format!("time {t} s comes after {last} s");
                let mend = "sort the rows by time; a sudden change takes two close times";
                let place = record.place_of(kinds::TIME.key);
                reader.fault(Fault::new(what, place, "times that increase", mend));
            }
            _ => {}
        }
        points.push((t, q * 1e3));
    }
    if faults.len() > before {
        return None;
    }
    if points.len() < 2 {
        let mend = "add rows, or give a steady `flux_kW_m2` in the exposure";
        faults.push(Fault::new(
            "the series has fewer than two rows",
            text.place(0..0, ""),
            "at least two rows",
            mend,
        ));
        return None;
    }
    Some(Flux::Series(points))
}

/// Says which columns are unknown and which of `needed` are missing.
pub(crate) fn check_columns(
    keys: &Keys<'_>,
    needed: &[&str],
    header: &Record,
    faults: &mut Vec<Fault>,
) {
    keys.check(header, faults);
    for key in needed.iter().filter(|key| !header.cells.iter().any(|cell| cell.key == **key)) {
        let what = format!("column `{key}` is missing");
        let mend = format!("add a column `{key}`");
        let place = header.text.place(header.span.clone(), "");
        faults
            .push(Fault::new(what, place, format!("a column `{key}`"), mend).absent().meaning(key));
    }
}

fn disc(record: &Record, faults: &mut Vec<Fault>) -> Option<Disc> {
    let owner = record.word("name");
    let owner = if owner.is_empty() { "the disc".into() } else { format!("the disc of `{owner}`") };
    let Some(Value::Table(table)) = record.get("disc").map(|cell| &cell.value) else {
        let what = format!("{owner} is missing");
        let mend = "add `disc = { mass_g = 18.00, specific_heat_J_kgK = 385, area_cm2 = 12.566, \
                    emissivity = 0.95 }`";
        let place = record.place_of("disc");
        faults.push(Fault::new(what, place, "the copper disc of the method", mend).absent());
        return None;
    };
    kinds::DISC.check(table, faults);
    let mut reader = Reader { record: table, owner, faults };
    let mass = reader.need_number(&kinds::DISC_MASS);
    let cp = reader.need_number(&kinds::SPECIFIC_HEAT);
    let area = reader.need_number(&kinds::DISC_AREA);
    let emissivity = reader.need_number(&kinds::EMISSIVITY);
    Some(Disc { mass: mass? * 1e-3, cp: cp?, area: area? * 1e-4, emissivity: emissivity? })
}

/// A target from its record; none when anything is wrong with it.
pub(crate) fn read_target(
    record: &Record,
    exposures: &[Exposure],
    faults: &mut Vec<Fault>,
) -> Option<Target> {
    let before = faults.len();
    let mut reader = Reader::new(record, "target", faults);
    let name = name(&mut reader);
    let description = reader.word("description").unwrap_or_default();
    let standard = reader.need_word("standard");
    let figure = reader.need_choice("figure", &FIGURES);
    let exposure = reader.need_word("exposure");
    let judged_on = match reader.record.get("judged_on") {
        Some(_) => reader.need_choice("judged_on", &JUDGED_ON),
        None => Some(None),
    };
    let source = reader.word("source").unwrap_or_default();
    let at_least = figure.and_then(|figure| at_least(&mut reader, figure));
    if let Some(exposure) = &exposure {
        if !exposures.iter().any(|known| known.name == *exposure) {
            let known = exposures.iter().map(|known| known.name.as_str());
            let unknown = Unknown::new("exposure", exposure, known);
            reader.fault(unknown.at(record.place_of("exposure")));
        }
    }
    if faults.len() > before {
        return None;
    }
    Some(Target {
        name: name?,
        description,
        standard: standard?,
        figure: figure?,
        at_least: at_least?,
        exposure: exposure?,
        judged_on: judged_on?,
        source,
    })
}

/// The threshold in SI: a heat for TPP, a time for everything else.
fn at_least(reader: &mut Reader<'_>, figure: Figure) -> Option<f64> {
    let (right, wrong) = match figure {
        Figure::Tpp => (kinds::AT_LEAST_CAL, kinds::AT_LEAST_S),
        _ => (kinds::AT_LEAST_S, kinds::AT_LEAST_CAL),
    };
    if let Some(cell) = reader.record.get(wrong.key) {
        let what = format!("{} has a threshold in {}", reader.owner, wrong.unit);
        let mend = format!("leave `{}` blank and fill in `{}`", wrong.key, right.key);
        let fault = Fault::new(what, cell.place(), format!("`{}` for its figure", right.key), mend);
        reader.fault(fault);
        return None;
    }
    let scale = if figure == Figure::Tpp { from_cal_cm2(1.0) } else { 1.0 };
    reader.need_number(&right).map(|value| value * scale)
}
