//! The panels of a suit.

use std::path::Path;

use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::suit::{Embroidery, Extent, Panel, Place, Side};
use crate::garment::target::Target;
use crate::shelf::clash::twice;
use crate::shelf::fault::Fault;
use crate::shelf::key::kinds::PRESSURE;
use crate::shelf::key::kinds_suit::{AREA, COUNT, EMBROIDERY, EMBROIDERY_THREAD, PANEL, SHARE};
use crate::shelf::key::reader::Reader;
use crate::shelf::layup::named::{beside, layup_named};
use crate::shelf::layup::one_line::is_one_line;
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::{Cell, Record, Value};

/// What the panels are read with.
pub(crate) struct Around<'a> {
    /// The shelf.
    pub shelf: &'a Shelf,
    /// The suit's file, from which layup files are named.
    pub suit: &'a Path,
    /// The suit's own target, for panels that name none.
    pub target: Option<Cell>,
}

/// The panels in order; those that cannot be read are left out, with their faults noted.
pub(crate) fn read_panels(
    root: &Record,
    around: &Around<'_>,
    faults: &mut Vec<Fault>,
) -> Vec<Panel> {
    let tables = root.tables("panel");
    if tables.is_empty() {
        let place = root.place_of("panel");
        let mend = "add `[[panel]]` with its area and layup";
        faults
            .push(Fault::new("the suit has no panels", place, "one panel or more", mend).absent());
    }
    for (i, table) in tables.iter().enumerate() {
        let name = table.word("name");
        let first = tables[..i].iter().find(|known| known.word("name") == name);
        if let Some(first) = first.filter(|_| !name.is_empty()) {
            faults.push(twice("panel", name, table.place_of("name"), first.place_of("name")));
        }
        check_place(table, &tables[..i], faults);
    }
    tables.iter().filter_map(|table| read_panel(table, around, faults)).collect()
}

/// Each place of a side holds one panel: the drawing could not show two.
fn check_place(table: &Record, before: &[Record], faults: &mut Vec<Fault>) {
    let side = |record: &Record| Side::ALL.into_iter().find(|s| s.word() == record.word("side"));
    let Some(own) = side(table).filter(|_| !table.word("place").is_empty()) else { return };
    let meets = |other: &&Record| {
        let overlap = |s: Side| s == own || s == Side::Both || own == Side::Both;
        other.word("place") == table.word("place") && side(other).is_some_and(overlap)
    };
    if let Some(first) = before.iter().find(meets) {
        let what = format!("two panels lie at the {}", table.word("place"));
        let expected = "one panel for each place and side";
        let mend = "join the two into one panel, or give another place or side";
        let fault = Fault::new(what, table.place_of("place"), expected, mend);
        faults.push(fault.and_at(first.place_of("place")));
    }
}

fn read_panel(table: &Record, around: &Around<'_>, faults: &mut Vec<Fault>) -> Option<Panel> {
    PANEL.check(table, faults);
    let embroidery = read_embroidery(table, around.shelf, faults);
    let target = read_target(table, around, faults);
    let mut reader = Reader::new(table, "panel", faults);
    let name = reader.need_word("name");
    let place = reader.need_choice("place", &Place::ALL.map(|p| (p.word(), p)));
    let side = reader.need_choice("side", &Side::ALL.map(|s| (s.word(), s)));
    let count = match table.get(COUNT.key) {
        Some(_) => reader.whole(&COUNT),
        None => Some(1),
    };
    let extent = read_extent(&mut reader);
    let pressure = reader.si(&PRESSURE);
    let quilted = match table.get("quilted") {
        Some(_) => reader.need_choice("quilted", &[("yes", true), ("no", false)]),
        None => None,
    };
    let layup = match reader.need_word("layup") {
        Some(_) => read_layup_cell(table.get("layup"), quilted, around, faults),
        None => None,
    };
    let alternatives = read_alternatives(table, quilted, around, faults);
    let (target, exposure) = target?;
    Some(Panel {
        name: name?,
        place: place?,
        side: side?,
        count: count?,
        extent: extent?,
        layup: layup?,
        embroidery,
        pressure,
        target,
        exposure,
        alternatives,
    })
}

/// Either an area or a share of the body, never both.
fn read_extent(reader: &mut Reader<'_>) -> Option<Extent> {
    let record = reader.record;
    match (record.get(AREA.key), record.get(SHARE.key)) {
        (Some(area), Some(share)) => {
            let what = format!("{} has both an area and a share of the body", reader.owner);
            let expected = format!("either `{}` or `{}`", AREA.key, SHARE.key);
            let fault = Fault::new(what, area.place(), expected, "remove one of the two");
            reader.fault(fault.and_at(share.place()));
            None
        }
        (Some(_), None) => reader.own_value(&AREA).map(Extent::Area),
        (None, Some(_)) => reader.own_value(&SHARE).map(Extent::Share),
        (None, None) => {
            let what = format!("size of {} is missing", reader.owner);
            let expected = format!("`{}` of one piece, or `{}` of the body", AREA.key, SHARE.key);
            let mend = format!("give `{}`, for example {}", AREA.key, AREA.example);
            reader.fault(Fault::new(what, record.place(), expected, mend).absent());
            None
        }
    }
}

fn read_embroidery(table: &Record, shelf: &Shelf, faults: &mut Vec<Fault>) -> Option<Embroidery> {
    let mut reader = Reader::new(table, "panel", faults);
    let named = table.get("embroidery");
    if named.is_none() {
        let stray = [EMBROIDERY.key, EMBROIDERY_THREAD.key].into_iter().find_map(|k| table.get(k));
        if let Some(stray) = stray {
            let what = format!("{} has a share of embroidery but no fabric for it", reader.owner);
            let mend = "give `embroidery = \"…\"`, a fabric on the shelf";
            reader.fault(Fault::new(what, stray.place(), "`embroidery`", mend));
        }
        return None;
    }
    let word = reader.word("embroidery")?;
    let share = reader.need_number(&EMBROIDERY).map(|percent| 0.01 * percent);
    let thread = match table.get(EMBROIDERY_THREAD.key) {
        Some(_) => reader.si(&EMBROIDERY_THREAD),
        None => Some(0.0),
    };
    match shelf.fabric(&word) {
        Ok(fabric) => Some(Embroidery { fabric: fabric.clone(), share: share?, thread: thread? }),
        Err(unknown) => {
            faults.push(unknown.at(table.place_of("embroidery")));
            None
        }
    }
}

/// The panel's target, else the suit's, with the exposure that it prescribes.
fn read_target(
    table: &Record,
    around: &Around<'_>,
    faults: &mut Vec<Fault>,
) -> Option<(Target, Exposure)> {
    let cell = table.get("target").or(around.target.as_ref());
    let word = match cell.map(|cell| (&cell.value, cell)) {
        Some((Value::Word(word), _)) => word,
        Some((_, cell)) => {
            let fault = Fault::new("target is not text", cell.place(), "text", "put it in quotes");
            if !faults.contains(&fault) {
                faults.push(fault);
            }
            return None;
        }
        None => {
            let owner = Reader::new(table, "panel", faults).owner;
            let what = format!("target of {owner} is missing");
            let mend = "give `target` for the suit or the panel, for example \"en-469-xf1\"";
            faults.push(Fault::new(what, table.place(), "a target on the shelf", mend).absent());
            return None;
        }
    };
    let found = around.shelf.target(word).and_then(|target| {
        around.shelf.exposure(&target.exposure).map(|exposure| (target, exposure))
    });
    match (found, cell) {
        (Ok((target, exposure)), _) => Some((target.clone(), exposure.clone())),
        (Err(unknown), Some(cell)) => {
            let fault = unknown.at(cell.place());
            if !faults.contains(&fault) {
                faults.push(fault);
            }
            None
        }
        (Err(_), None) => None,
    }
}

fn read_alternatives(
    table: &Record,
    quilted: Option<bool>,
    around: &Around<'_>,
    faults: &mut Vec<Fault>,
) -> Vec<Layup> {
    let Some(cell) = table.get("alternatives") else { return Vec::new() };
    let Value::List(list) = &cell.value else {
        let mend = "write `alternatives = [\"one\", \"another\"]`";
        let expected = "a list of layups";
        faults.push(Fault::new("alternatives are not a list", cell.place(), expected, mend));
        return Vec::new();
    };
    let mut found = Vec::new();
    for item in list {
        match read_layup_cell(Some(item), quilted, around, faults) {
            Some(layup) if found.contains(&layup) => {
                let what = format!("layup `{}` is an alternative twice", layup.name);
                let mend = "remove one of the two";
                faults.push(Fault::new(what, item.place(), "each layup once", mend));
            }
            Some(layup) => found.push(layup),
            None => {}
        }
    }
    found
}

/// The layup that a cell names, its quilting taken off if the panel is not quilted.
fn read_layup_cell(
    cell: Option<&Cell>,
    quilted: Option<bool>,
    around: &Around<'_>,
    faults: &mut Vec<Fault>,
) -> Option<Layup> {
    let cell = cell?;
    let Value::Word(word) = &cell.value else {
        let mend = "put its name or file between quotes";
        faults.push(Fault::new("a layup is not text", cell.place(), "text", mend));
        return None;
    };
    let names_file = word.contains('/') || word.ends_with(".toml") || is_one_line(word);
    if around.shelf.layup_text(word).is_err() && !names_file && !beside(around.suit, word).exists()
    {
        let unknown = around.shelf.layup_text(word).err()?;
        faults.push(unknown.at(cell.place()));
        return None;
    }
    let mut layup = match layup_named(word, around.suit, around.shelf) {
        Ok(layup) => layup,
        Err(of_layup) => {
            let new = of_layup.0.into_iter().map(|fault| fault.and_at(cell.place()));
            let new: Vec<Fault> = new.filter(|fault| !faults.contains(fault)).collect();
            faults.extend(new);
            return None;
        }
    };
    match quilted {
        Some(false) => layup.quilting = None,
        Some(true) if layup.quilting.is_none() => {
            let what = format!("the panel is quilted but layup `{word}` has no quilting");
            let expected = "a layup with `[quilting]` on a quilted panel";
            let mend = "add `[quilting]` to the layup, or write `quilted = \"no\"`";
            faults.push(Fault::new(what, cell.place(), expected, mend));
            return None;
        }
        _ => {}
    }
    Some(layup)
}
