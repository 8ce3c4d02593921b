//! Suits from the user's files.

use std::path::Path;
use std::sync::Arc;

use crate::garment::known::{Known, Provenance};
use crate::garment::layup::Layup;
use crate::garment::suit::{Body, Fit, Panel, Suit};
use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::sizes;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds_suit::{
    BODY, CUTTING, EASE, HEIGHT, LAYUPS_AT_MOST, MASS, SEAM, SUIT,
};
use crate::shelf::key::reader::Reader;
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::{Record, Value};
use crate::shelf::notation::tree;
use crate::shelf::suit::panel::{Around, read_panels};

/// A suit from a TOML file; its layups are names on the shelf or files beside it.
///
/// Errors: every fault of the file and of the layups that it names.
pub fn read_suit(path: &Path, shelf: &Shelf) -> Result<Suit, Faults> {
    read_suit_of(&Text::load(path, sizes::WRITTEN)?, path, shelf)
}

/// A suit from a text that stands for the file `path`.
///
/// Errors: every fault of the text and of the layups that it names.
pub fn read_suit_text(text: &str, path: &Path, shelf: &Shelf) -> Result<Suit, Faults> {
    read_suit_of(&Text::new(path.display().to_string(), text, Form::Toml).checked()?, path, shelf)
}

/// The layups that a suit's text names, by name or file, sorted, each once.
pub(crate) fn layup_words(text: &str, path: &Path) -> Vec<String> {
    let text = Text::new(path.display().to_string(), text, Form::Toml);
    let root = tree::parse(&text, &mut Vec::new());
    let mut all = Vec::new();
    for panel in root.tables("panel") {
        for cell in [panel.get("layup"), panel.get("alternatives")].into_iter().flatten() {
            match &cell.value {
                Value::Word(word) => all.push(word.clone()),
                Value::List(list) => all.extend(list.iter().filter_map(|c| word_of(&c.value))),
                _ => {}
            }
        }
    }
    all.sort();
    all.dedup();
    all
}

fn word_of(value: &Value) -> Option<String> {
    if let Value::Word(word) = value { Some(word.clone()) } else { None }
}

fn read_suit_of(text: &Arc<Text>, path: &Path, shelf: &Shelf) -> Result<Suit, Faults> {
    let mut faults = Vec::new();
    let root = tree::parse(text, &mut faults);
    if root.cells.is_empty() && faults.is_empty() {
        let mend = "write it, or name another file";
        let place = text.place(0..0, "");
        return Err(Fault::new("the file is empty", place, "a suit with its panels", mend).into());
    }
    let mut found = Vec::new();
    SUIT.check(&root, &mut found);
    let body = read_body(&root, &mut found);
    let mut reader = Reader::new(&root, "suit", &mut found);
    let name = reader.need_word("name");
    let note = reader.word("note").unwrap_or_default();
    let share = |reader: &mut Reader<'_>, field: &Field| match root.get(field.key) {
        Some(_) => reader.own_value(field),
        None => Some(Known::new(0.0, Provenance::Stated, "")),
    };
    let (ease, seam) = (share(&mut reader, &EASE), share(&mut reader, &SEAM));
    let cutting = share(&mut reader, &CUTTING);
    let layups_at_most = reader.whole(&LAYUPS_AT_MOST);
    let fit = match root.get("fit") {
        Some(_) => reader.need_choice("fit", &Fit::ALL.map(|fit| (fit.word(), fit))),
        None => Some(Fit::default()),
    };
    let around = Around { shelf, suit: path, target: root.get("target").cloned() };
    let panels = read_panels(&root, &around, &mut found);
    check_layups(&root, &panels, layups_at_most, &mut found);
    tree::add_beyond_syntax(&mut faults, found);
    match (name, body, ease, seam, cutting) {
        (Some(name), Some(body), Some(ease), Some(seam), Some(cutting)) if faults.is_empty() => {
            let layups_at_most = layups_at_most.map(|n| n as usize);
            let fit = fit.unwrap_or_default();
            Ok(Suit { name, note, body, fit, ease, seam, cutting, layups_at_most, panels })
        }
        _ => Err(Faults(faults)),
    }
}

/// The suit as it is keeps to its own bound on different layups.
fn check_layups(root: &Record, panels: &[Panel], at_most: Option<u32>, faults: &mut Vec<Fault>) {
    let mut kinds: Vec<&Layup> = Vec::new();
    for panel in panels {
        if !kinds.contains(&&panel.layup) {
            kinds.push(&panel.layup);
        }
    }
    if let Some(most) = at_most.filter(|most| kinds.len() > *most as usize) {
        let what = format!("the panels have {} different layups", kinds.len());
        let expected = format!("at most {most}, as `{}` says", LAYUPS_AT_MOST.key);
        let mend = "raise the bound, or give some panels the same layup and quilting";
        faults.push(Fault::new(what, root.place_of(LAYUPS_AT_MOST.key), expected, mend).absent());
    }
}

fn read_body(root: &Record, faults: &mut Vec<Fault>) -> Option<Body> {
    let table = match root.get("body").map(|cell| (&cell.value, cell)) {
        Some((Value::Table(table), _)) => table,
        Some((_, cell)) => {
            let mend = "write `[body]` on a line of its own and its keys below";
            faults.push(Fault::new("body is not a table", cell.place(), "a table", mend));
            return None;
        }
        None => {
            let what = "the body that the areas are for is missing";
            let expected = "`[body]` with `mass_kg` and `height_cm`";
            let mend = "give `body`: the measures that the pattern is drawn for";
            faults.push(Fault::new(what, root.place(), expected, mend).absent());
            return None;
        }
    };
    BODY.check(table, faults);
    let mut reader = Reader { record: table, owner: "the body".to_owned(), faults };
    let mut need = |field: &Field| {
        if table.get(field.key).is_none() {
            reader.need_number(field)?;
        }
        reader.own_value(field)
    };
    let (mass, height) = (need(&MASS), need(&HEIGHT));
    Some(Body { mass: mass?, height: height? })
}
