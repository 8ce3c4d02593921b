//! Bodies by region from the user's files, and the one that comes with the program.

use std::path::Path;
use std::sync::Arc;

use crate::garment::body_map::{AirAt, BodyMap, FitFactors, Region};
use crate::garment::suit::{Fit, Place};
use crate::shelf::clash::twice;
use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::sizes;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::inputs::InputText;
use crate::shelf::key::kinds_body::{
    AIR, BODY_GAP, BODY_MAP, CONTACT, CONTACT_FACTOR, FIT, GAP_FACTOR, GIRTH, REGION, REGION_SHARE,
    SPREAD,
};
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::{Record, Value};
use crate::shelf::notation::tree;
use crate::shelf::wording::{near, or_list, suggested};

/// How far the regions' shares may be from 1 together [–]: the rounding of a table in tenths of a percent.
const SUM_OFF: f64 = 2e-3;

/// The body that comes with the program.
///
/// Errors: none for the file that it was built with.
pub fn built_in_body_map() -> Result<BodyMap, Faults> {
    let InputText { path, body } = built_in_text();
    read_of(&Text::new(path, &body, Form::Toml))
}

/// The text that it is read from.
pub fn built_in_text() -> InputText {
    let body = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/materials/body.toml"));
    InputText { path: "materials/body.toml".into(), body: body.into() }
}

/// A body from a TOML file.
///
/// Errors: every fault of the file.
pub fn read_body_map(path: &Path) -> Result<BodyMap, Faults> {
    read_of(&Text::load(path, sizes::WRITTEN)?)
}

/// A body from a text that stands for the file `path`.
///
/// Errors: every fault of the text.
pub fn read_body_map_text(text: &str, path: &Path) -> Result<BodyMap, Faults> {
    read_of(&Text::new(path.display().to_string(), text, Form::Toml).checked()?)
}

fn read_of(text: &Arc<Text>) -> Result<BodyMap, Faults> {
    let mut faults = Vec::new();
    let root = tree::parse(text, &mut faults);
    if root.cells.is_empty() && faults.is_empty() {
        let place = text.place(0..0, "");
        let expected = "a body with its regions, the air around it and three fits";
        let mend = "write it, or name another file";
        return Err(Fault::new("the file is empty", place, expected, mend).into());
    }
    let mut found = Vec::new();
    BODY_MAP.check(&root, &mut found);
    let name = Reader::new(&root, "body", &mut found).need_word("name");
    let regions = each(&root, "region", "name", &mut found, region);
    check_sum(&root, &mut found);
    check_places(&root, &mut found);
    let airs = each(&root, "air", "place", &mut found, air);
    let fits = each(&root, "fit", "name", &mut found, fit);
    for asked in Fit::ALL {
        if !root.tables("fit").iter().any(|table| table.word("name") == asked.word()) {
            let what = format!("the fit `{}` is missing", asked.word());
            let expected = format!("one `[[fit]]` each for {}", or_list(&Fit::ALL.map(Fit::word)));
            let mend = "add it with its gap_factor and contact_factor";
            found.push(Fault::new(what, root.place_of("fit"), expected, mend).absent());
        }
    }
    tree::add_beyond_syntax(&mut faults, found);
    match name {
        Some(name) if faults.is_empty() => Ok(BodyMap { name, regions, airs, fits }),
        _ => Err(Faults(faults)),
    }
}

/// The tables of a kind, each of another name; one at least.
fn each<T>(
    root: &Record,
    kind: &'static str,
    name_key: &'static str,
    faults: &mut Vec<Fault>,
    read: fn(&Record, &mut Vec<Fault>) -> Option<T>,
) -> Vec<T> {
    let tables = root.tables(kind);
    if tables.is_empty() {
        let what = format!("the body has no {kind}");
        let mend = format!("write one `[[{kind}]]` for each");
        let expected = format!("`[[{kind}]]` with its keys");
        faults.push(Fault::new(what, root.place_of(kind), expected, mend).absent());
    }
    for (i, table) in tables.iter().enumerate() {
        let name = table.word(name_key);
        let first = tables[..i].iter().find(|known| known.word(name_key) == name);
        if let Some(first) = first.filter(|_| !name.is_empty()) {
            let places = (table.place_of(name_key), first.place_of(name_key));
            faults.push(twice(kind, name, places.0, places.1));
        }
    }
    tables.iter().filter_map(|table| read(table, faults)).collect()
}

/// The shares of all regions add up to the whole body.
fn check_sum(root: &Record, faults: &mut Vec<Fault>) {
    let tables = root.tables("region");
    let share = |table: &Record| {
        let mut unheard = Vec::new();
        Reader::new(table, "region", &mut unheard).number(&REGION_SHARE)
    };
    let Some(shares) = tables.iter().map(share).collect::<Option<Vec<f64>>>() else { return };
    let sum: f64 = shares.iter().sum();
    if !tables.is_empty() && (0.01 * sum - 1.0).abs() > SUM_OFF {
        let which = if sum > 100.0 { "more" } else { "less" };
        let sum = (1e3 * sum).round() / 1e3;
        let what = format!("the regions are {which} than the body: {sum} % together");
        let place = root.tables("region")[0].place_of(REGION_SHARE.key);
        let mend = "correct the shares, or add the region that is missing";
        faults.push(Fault::new(what, place, "100 %, to 0.2 %", mend));
    }
}

/// No place lies on two regions.
fn check_places(root: &Record, faults: &mut Vec<Fault>) {
    let mut known: Vec<(String, &Record)> = Vec::new();
    for table in root.tables("region") {
        let Some(Value::List(cells)) = table.get("places").map(|cell| &cell.value) else {
            continue;
        };
        for cell in cells {
            let Value::Word(word) = &cell.value else { continue };
            match known.iter().find(|(other, _)| other == word) {
                Some((_, first)) => {
                    let what = format!("the place `{word}` lies on two regions");
                    let mend = "leave it out of one of them";
                    let fault = Fault::new(what, cell.place(), "each place on one region", mend);
                    faults.push(fault.and_at(first.place_of("places")));
                }
                None => known.push((word.clone(), table)),
            }
        }
    }
}

fn region(table: &Record, faults: &mut Vec<Fault>) -> Option<Region> {
    REGION.check(table, faults);
    let places = places(table, faults);
    let mut reader = Reader::new(table, "region", faults);
    let name = reader.need_word("name");
    let share = reader.need_known(&REGION_SHARE);
    Some(Region { name: name?, share: share?, places: places? })
}

/// The places in a list; none of them for a bare region, which says so by an empty list.
fn places(table: &Record, faults: &mut Vec<Fault>) -> Option<Vec<Place>> {
    let words: Vec<&str> = Place::ALL.iter().map(|place| place.word()).collect();
    let Some(cell) = table.get("places") else {
        let what = format!("places of region `{}` are missing", table.word("name"));
        let mend = "give `places`, an empty list where the region stays bare";
        faults.push(Fault::new(what, table.place(), "a list of places", mend).absent());
        return None;
    };
    let Value::List(cells) = &cell.value else {
        let mend = "write `places = [\"sleeve\", \"elbow\"]`";
        faults.push(Fault::new("places are not a list", cell.place(), "a list of places", mend));
        return None;
    };
    let mut all = Vec::new();
    for cell in cells {
        let word = if let Value::Word(word) = &cell.value { word.as_str() } else { "" };
        match Place::ALL.into_iter().find(|place| place.word() == word) {
            Some(place) => all.push(place),
            None => {
                let mend = suggested(&near(word, &words), "take one of these words");
                let what = format!("no place of a suit is called `{word}`");
                faults.push(Fault::new(what, cell.place(), or_list(&words), mend));
            }
        }
    }
    (all.len() == cells.len()).then_some(all)
}

fn air(table: &Record, faults: &mut Vec<Fault>) -> Option<AirAt> {
    AIR.check(table, faults);
    let owner = match table.word("place") {
        "" => "an air".to_owned(),
        place => format!("the air at the {place}"),
    };
    let mut reader = Reader { record: table, owner, faults };
    let place = reader.need_choice("place", &Place::ALL.map(|p| (p.word(), p)));
    let contact = reader.need_known(&CONTACT);
    let gap = reader.need_known(&BODY_GAP);
    let spread = reader.need_known(&SPREAD);
    let girth = reader.need_known(&GIRTH);
    let (place, contact, gap) = (place?, contact?, gap?);
    let (spread, girth) = (spread?, girth?);
    if gap.value == 0.0 && (spread.value > 0.0 || contact.value < 1.0) {
        let what = format!("{} has no gap but is not all in contact", reader.owner);
        let expected = "a gap above 0 mm, or `contact_pct = 100` and `spread_mm = 0`";
        let fault_place = table.place_of(BODY_GAP.key);
        let mend = "give the mean of the gaps that are open";
        reader.fault(Fault::new(what, fault_place, expected, mend));
        return None;
    }
    Some(AirAt { place, contact, gap, spread, girth })
}

fn fit(table: &Record, faults: &mut Vec<Fault>) -> Option<FitFactors> {
    FIT.check(table, faults);
    let mut reader = Reader::new(table, "fit", faults);
    let fit = reader.need_choice("name", &Fit::ALL.map(|fit| (fit.word(), fit)));
    let gap = reader.need_known(&GAP_FACTOR);
    let contact = reader.need_known(&CONTACT_FACTOR);
    Some(FitFactors { fit: fit?, gap: gap?, contact: contact? })
}
