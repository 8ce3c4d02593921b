//! Briefs from TOML files.

use std::path::Path;
use std::sync::Arc;

use crate::garment::brief::{Brief, GapRange, Limits, Margin, Minimise, Wanted};
use crate::garment::fabric::Fabric;
use crate::garment::target::Figure;
use crate::physics::units::{BARE, PERCENT, SECONDS};
use crate::shelf::brief::gap::{check_gap_places, read_gap_range};
use crate::shelf::brief::quilting::read_stitchings;
use crate::shelf::clash::twice;
use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::sizes;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::key::field::{Companions, Field, Keys, Range, field};
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::layup::stack::read_joint;
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::{Cell, Record, Value};
use crate::shelf::notation::tree;

/// Sets drawn for the odds of a layup where the brief says nothing, and the fewest that tell any.
const N_SETS: usize = 64;
const SETS_LEAST: usize = 16;
/// Most plies between outer and inner.
const FELTS_MOST: f64 = 4.0;
const N_FELTS_LEAST: Field = field!("felts_least", BARE, Range::from(0.0, FELTS_MOST), "0");
const N_FELTS_MOST: Field = field!("felts_most", BARE, Range::from(0.0, FELTS_MOST), "2");
const SHORTLIST: Field = field!("shortlist", BARE, Range::from(1.0, 50.0), "5");
const PLIES_LEAST: Field = field!("plies_least", BARE, Range::from(2.0, FELTS_MOST + 2.0), "2");
const PLIES_MOST: Field = field!("plies_most", BARE, Range::from(2.0, FELTS_MOST + 2.0), "4");
const SETS: Field = field!("odds_sets", BARE, Range::from(0.0, 4096.0), "256")
    .because("they are drawn for each layup of the shortlist and for what may come onto it");
const ODDS_PCT: Field = field!("odds", PERCENT, Range::above(0.0, 100.0), "90");
const MARGIN_PCT: Field = field!("margin", PERCENT, Range::from(0.0, 1000.0), "20");
const MARGIN_S: Field = field!("margin", SECONDS, Range::from(0.0, 3600.0), "2");

const BRIEF: Keys<'_> = Keys {
    kind: "brief",
    fields: &[N_FELTS_LEAST, N_FELTS_MOST, SHORTLIST, SETS, kinds::JOINT],
    words: &[
        "name", "note", "minimise", "target", "outer", "felts", "inner", "gap", "joint", "limits",
        "quilting",
    ],
    provenance: Companions::Without,
};
const TARGET: Keys<'_> = Keys {
    kind: "brief's target",
    fields: &[MARGIN_PCT, MARGIN_S, ODDS_PCT],
    words: &["target"],
    provenance: Companions::Without,
};
const LIMITS: Keys<'_> = Keys {
    kind: "brief's limits",
    fields: &[kinds::AREAL_DENSITY, kinds::THICKNESS, PLIES_LEAST, PLIES_MOST],
    words: &[],
    provenance: Companions::Without,
};

/// A brief with the text that it was read from.
#[derive(Debug, Clone, PartialEq)]
pub struct BriefFile {
    /// The brief.
    pub brief: Brief,
    /// The text of its file.
    pub text: String,
}

/// A brief from a TOML file; its fabrics and targets lie on the shelf.
///
/// Errors: every fault of the file.
pub fn read_brief(path: &Path, shelf: &Shelf) -> Result<BriefFile, Faults> {
    let text = Text::load(path, sizes::WRITTEN)?;
    Ok(BriefFile { brief: read_brief_of(&text, shelf)?, text: text.body.clone() })
}

/// A brief from a text that stands for the file `path`.
///
/// Errors: every fault of the text.
pub fn read_brief_text(text: &str, path: &Path, shelf: &Shelf) -> Result<Brief, Faults> {
    read_brief_of(&Text::new(path.display().to_string(), text, Form::Toml).checked()?, shelf)
}

fn read_brief_of(text: &Arc<Text>, shelf: &Shelf) -> Result<Brief, Faults> {
    let mut faults = Vec::new();
    let root = tree::parse(text, &mut faults);
    if root.cells.is_empty() && faults.is_empty() {
        return Err(text.empty("a brief").into());
    }
    let mut found = Vec::new();
    BRIEF.check(&root, &mut found);
    let brief = read_root(&root, shelf, &mut found);
    tree::add_beyond_syntax(&mut faults, found);
    match brief {
        Some(brief) if faults.is_empty() => Ok(brief),
        _ => Err(Faults(faults)),
    }
}

/// The brief; none where a part of it cannot be read, with the fault noted.
fn read_root(root: &Record, shelf: &Shelf, faults: &mut Vec<Fault>) -> Option<Brief> {
    let mut reader = Reader::new(root, "brief", faults);
    let name = reader.need_word("name");
    let note = reader.word("note").unwrap_or_default();
    let minimise = match root.get("minimise") {
        None => Some(Minimise::Mass),
        Some(_) => {
            let choices = [Minimise::Mass, Minimise::Thickness].map(|m| (m.word(), m));
            reader.need_choice("minimise", &choices)
        }
    };
    let least = whole(&mut reader, &N_FELTS_LEAST, 0);
    let most = whole(&mut reader, &N_FELTS_MOST, 1);
    let n_shortlist = whole(&mut reader, &SHORTLIST, 5);
    let n_sets = whole(&mut reader, &SETS, N_SETS);
    let joint = read_joint(&mut reader);
    ordered(root, (&N_FELTS_LEAST, least), (&N_FELTS_MOST, most), reader.faults);
    let outer = fabrics(root, "outer", shelf, faults);
    let felts = match (root.get("felts"), most) {
        (None, Some(0)) => Some(Vec::new()),
        _ => fabrics(root, "felts", shelf, faults),
    };
    let inner = fabrics(root, "inner", shelf, faults);
    let wanted = read_targets(root, shelf, faults);
    let gaps = tables(root, "gap", faults);
    check_gap_places(&gaps, faults);
    let gaps: Vec<GapRange> =
        gaps.into_iter().filter_map(|table| read_gap_range(table, faults)).collect();
    let limits = read_limits(root, faults);
    let stitchings = read_stitchings(root, faults);
    if let (Some(n_sets), Some(wanted)) = (n_sets, &wanted) {
        enough_sets(root, n_sets, wanted, faults);
    }
    Some(Brief {
        name: name?,
        note,
        minimise: minimise?,
        wanted: wanted?,
        outer: outer?,
        felts: felts?,
        inner: inner?,
        n_felts: (least?, most?),
        gaps,
        joint: joint?,
        limits: limits?,
        stitchings: stitchings?,
        n_shortlist: n_shortlist?,
        n_sets: n_sets?,
        skin: shelf.skins().next()?.clone(),
        bands: shelf.bands().clone(),
    })
}

/// A whole number, `usual` where there is none.
fn whole(reader: &mut Reader<'_>, field: &Field, usual: usize) -> Option<usize> {
    let record = reader.record;
    let Some(cell) = record.get(field.key) else { return Some(usual) };
    let value = reader.number(field)?;
    if value.fract() == 0.0 {
        return Some(value as usize);
    }
    let what = format!("{} of {} is not a whole number", field.noun(), reader.owner);
    let mend = format!("give `{}`, for example {}", field.key, field.example);
    reader.fault(Fault::new(what, cell.place(), "a whole number", mend));
    None
}

/// Notes a fault where the least is above the most.
fn ordered(
    record: &Record,
    (low, least): (&Field, Option<usize>),
    (high, most): (&Field, Option<usize>),
    faults: &mut Vec<Fault>,
) {
    if let (Some(least), Some(most)) = (least, most) {
        if least > most {
            let what = format!("{} is {least} and {} is {most}", low.key, high.key);
            let expected = format!("`{}` at most `{}`", low.key, high.key);
            let fault =
                Fault::new(what, record.place_of(low.key), expected, "change one of the two");
            faults.push(fault.and_at(record.place_of(high.key)));
        }
    }
}

/// Notes a fault where odds are asked for and too few sets are drawn to tell them.
fn enough_sets(root: &Record, n_sets: usize, wanted: &[Wanted], faults: &mut Vec<Fault>) {
    let asked = wanted.iter().any(|wanted| wanted.odds.is_some());
    let least = if asked { SETS_LEAST } else { 0 };
    if n_sets < least || (1..SETS_LEAST).contains(&n_sets) {
        let what = format!("{n_sets} sets are too few to tell odds");
        let expected = match asked {
            true => format!("at least {SETS_LEAST}, as a target asks for odds"),
            false => format!("0 to leave the odds out, or at least {SETS_LEAST}"),
        };
        let place = root.place_of(SETS.key);
        faults.push(Fault::new(what, place, expected, "give `odds_sets`, for example 256"));
    }
}

/// The tables under `key`; a fault where something else stands there.
fn tables<'r>(root: &'r Record, key: &str, faults: &mut Vec<Fault>) -> Vec<&'r Record> {
    match root.get(key).map(|cell| (cell, &cell.value)) {
        None => Vec::new(),
        Some((_, Value::Tables(tables))) => tables.iter().collect(),
        Some((cell, _)) => {
            let what = format!("`{key}` is not a list of tables");
            let mend = format!("write `[[{key}]]` on a line of its own and its keys below");
            faults.push(Fault::new(what, cell.place(), format!("`[[{key}]]`"), mend));
            Vec::new()
        }
    }
}

/// The fabrics that a list names.
fn fabrics(
    root: &Record,
    key: &str,
    shelf: &Shelf,
    faults: &mut Vec<Fault>,
) -> Option<Vec<Fabric>> {
    let expected = "a list of one or more fabrics on the shelf";
    let mend = format!("give `{key}`, names from the list of materials between [ and ]");
    // an entry of a list has no key of its own
    let keyed = |cell: &Cell| Cell { key: key.to_owned(), ..cell.clone() };
    let cells: Vec<Cell> = match root.get(key).map(|cell| &cell.value) {
        Some(Value::List(cells)) => cells.iter().map(keyed).collect(),
        Some(_) => {
            let what = format!("`{key}` is not a list");
            faults.push(Fault::new(what, root.place_of(key), expected, mend));
            return None;
        }
        None => Vec::new(),
    };
    if cells.is_empty() {
        let what = format!("the brief names no fabric for `{key}`");
        faults.push(Fault::new(what, root.place_of(key), expected, mend).absent());
        return None;
    }
    let before = faults.len();
    let mut named: Vec<(&Cell, Fabric)> = Vec::new();
    for cell in &cells {
        let Value::Word(name) = &cell.value else {
            let what = format!("an entry of `{key}` is not text");
            faults.push(Fault::new(
                what,
                cell.place(),
                "the name of a fabric",
                "put it between quotes",
            ));
            continue;
        };
        match shelf.fabric(name) {
            Err(unknown) => faults.push(unknown.at(cell.place())),
            Ok(fabric) => match named.iter().find(|(_, known)| known.name == *name) {
                Some((first, _)) => {
                    faults.push(twice("fabric", name, first.place(), cell.place()));
                }
                None => named.push((cell, fabric.clone())),
            },
        }
    }
    (faults.len() == before).then(|| named.into_iter().map(|(_, fabric)| fabric).collect())
}

fn read_targets(root: &Record, shelf: &Shelf, faults: &mut Vec<Fault>) -> Option<Vec<Wanted>> {
    let tables = tables(root, "target", faults);
    if tables.is_empty() && root.get("target").is_none() {
        let what = "the brief has no target";
        let mend = "add `[[target]]` with `target = \"…\"` and `margin_pct`";
        faults.push(Fault::new(what, root.place(), "at least one target", mend).absent());
        return None;
    }
    let before = faults.len();
    let mut seen: Vec<&Cell> = Vec::new();
    let mut wanted = Vec::new();
    for table in tables {
        wanted.extend(read_target(table, shelf, faults));
        let Some(cell) = table.get("target") else { continue };
        match seen.iter().find(|known| known.value == cell.value) {
            Some(first) => {
                faults.push(twice("target", table.word("target"), first.place(), cell.place()));
            }
            None => seen.push(cell),
        }
    }
    (faults.len() == before && !wanted.is_empty()).then_some(wanted)
}

fn read_target(table: &Record, shelf: &Shelf, faults: &mut Vec<Fault>) -> Option<Wanted> {
    TARGET.check(table, faults);
    let named = table.word("target");
    let owner = if named.is_empty() { "a target".into() } else { format!("target `{named}`") };
    let mut reader = Reader { record: table, owner, faults };
    let name = reader.need_word("target");
    let margin = read_margin(&mut reader);
    let odds = reader.si(&ODDS_PCT);
    let place = table.place_of("target");
    let target = match shelf.target(&name?) {
        Ok(target) => target.clone(),
        Err(unknown) => {
            reader.fault(unknown.at(place));
            return None;
        }
    };
    let margin = margin?;
    if target.figure == Figure::SecondDegree {
        let what = format!("target `{}` speaks of a burn of skin", target.name);
        let expected = "a target on a figure of the copper disc";
        let mend = "seek with a disc's target, then look at the shortlist with `expose`";
        reader.fault(Fault::new(what, place, expected, mend));
        return None;
    }
    if let (Figure::Tpp, Margin::Time(_)) = (target.figure, margin) {
        let what = format!("target `{}` is no time, its margin is one", target.name);
        let place = table.place_of(MARGIN_S.key);
        reader.fault(Fault::new(what, place, "`margin_pct` for TPP", "give `margin_pct`"));
        return None;
    }
    match shelf.exposure(&target.exposure) {
        Ok(exposure) => Some(Wanted { exposure: exposure.clone(), target, margin, odds }),
        Err(unknown) => {
            reader.fault(unknown.at(place));
            None
        }
    }
}

fn read_margin(reader: &mut Reader<'_>) -> Option<Margin> {
    let record = reader.record;
    match (record.get(MARGIN_PCT.key), record.get(MARGIN_S.key)) {
        (Some(_), None) => reader.si(&MARGIN_PCT).map(Margin::Share),
        (None, Some(_)) => reader.number(&MARGIN_S).map(Margin::Time),
        (None, None) => {
            let what = format!("{} has no margin", reader.owner);
            let mend = "give `margin_pct` or `margin_s`; 0 asks for the threshold itself";
            let place = record.place_of("target");
            reader.fault(Fault::new(what, place, "a margin above the threshold", mend).absent());
            None
        }
        (Some(share), Some(time)) => {
            let what = format!("{} has two margins", reader.owner);
            let expected = "either `margin_pct` or `margin_s`";
            let fault = Fault::new(what, share.place(), expected, "remove one of the two");
            reader.fault(fault.and_at(time.place()));
            None
        }
    }
}

fn read_limits(root: &Record, faults: &mut Vec<Fault>) -> Option<Limits> {
    let none = Limits {
        areal_density: None,
        thickness: None,
        plies_least: 2,
        plies_most: FELTS_MOST as usize + 2,
    };
    let Some(cell) = root.get("limits") else { return Some(none) };
    let Value::Table(table) = &cell.value else {
        let mend = "write `[limits]` on a line of its own and its keys below";
        faults.push(Fault::new("limits is not a table", cell.place(), "a table", mend));
        return None;
    };
    LIMITS.check(table, faults);
    let before = faults.len();
    let mut reader = Reader { record: table, owner: "the limits".to_owned(), faults };
    let areal_density = reader.si(&kinds::AREAL_DENSITY);
    let thickness = reader.si(&kinds::THICKNESS);
    let least = whole(&mut reader, &PLIES_LEAST, none.plies_least);
    let most = whole(&mut reader, &PLIES_MOST, none.plies_most);
    ordered(table, (&PLIES_LEAST, least), (&PLIES_MOST, most), reader.faults);
    let limits = Limits { areal_density, thickness, plies_least: least?, plies_most: most? };
    (faults.len() == before).then_some(limits)
}
