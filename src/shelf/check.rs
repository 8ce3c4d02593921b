//! Reads one file of any kind and says what it holds.

use std::path::Path;
use std::sync::Arc;

use crate::shelf::brief::read::read_brief;
use crate::shelf::fault::{Fault, Faults, Place};
use crate::shelf::file::sizes;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::inputs::is_brief;
use crate::shelf::key::unusual;
use crate::shelf::lab::book::read_book;
use crate::shelf::lab::check_rolls::check_rolls;
use crate::shelf::lab::curve::read_curve;
use crate::shelf::layup::read;
use crate::shelf::materials::{Checked, Shelf};
use crate::shelf::notation::record::Record;
use crate::shelf::notation::{sheet, tree};
use crate::shelf::stock::exposure::read_flux_series;
use crate::shelf::stock::exposure_file::read_exposure;
use crate::shelf::stock::raw::Kind;
use crate::shelf::stock::resolve::resolve;
use crate::shelf::suit::body_map::read_body_map;
use crate::shelf::suit::read::read_suit;
use crate::shelf::wording::plural;

/// Reads the file on top of the shelf.
pub(crate) fn check(shelf: &Shelf, path: &Path) -> Result<Checked, Faults> {
    let format = match path.extension().and_then(|ending| ending.to_str()) {
        Some("csv" | "xlsx") => sizes::ANY_ROWS,
        Some("toml") => sizes::SHELF_TABLES,
        _ if path.is_dir() => sizes::SHELF_TABLES,
        _ => {
            let what = format!("`{}` is neither a table nor TOML", path.display());
            let place = Place::file(path.display().to_string());
            let mend = "save a sheet of fabrics as CSV; write layups and exposures as TOML";
            return Err(
                Fault::new(what, place, "a file ending in .csv, .xlsx or .toml", mend).into()
            );
        }
    };
    let text = Text::load(path, format)?;
    let is_of = |kind: &Kind| path.ends_with(kind.file()) || path.ends_with(kind.workbook());
    let known = Kind::ALL.into_iter().find(is_of);
    match known.map_or_else(|| guess(&text), Guess::OnShelf) {
        Guess::OnShelf(kind) => on_shelf(shelf, kind, &text),
        Guess::Exposure => {
            let exposure = read_exposure(path)?;
            let notes = unusual::of_exposure(&exposure);
            Ok(Checked { kind: "exposure", names: vec![exposure.name], notes })
        }
        Guess::Suit => {
            let suit = read_suit(path, shelf)?;
            let notes = unusual::of_suit(&suit);
            Ok(Checked { kind: "suit", names: vec![suit.name], notes })
        }
        Guess::Body => {
            let map = read_body_map(path)?;
            let notes = unusual::of_body_map(&map);
            Ok(Checked { kind: "body", names: vec![map.name], notes })
        }
        Guess::Brief => {
            let brief = read_brief(path, shelf)?.brief;
            let notes = unusual::of_brief(&brief);
            Ok(Checked { kind: "brief", names: vec![brief.name], notes })
        }
        Guess::Curve => {
            let curve = read_curve(path)?;
            Ok(plain("curve of the bench", vec![curve.name]))
        }
        Guess::Rolls => Ok(plain("list of rolls", check_rolls(&text, shelf)?)),
        Guess::Book => {
            let n = read_book(path)?.tests.len();
            Ok(plain("bench book", vec![plural(n, "row")]))
        }
        Guess::FluxSeries => {
            read_flux_series(path)?;
            Ok(plain("flux series", vec![text.path.clone()]))
        }
        Guess::Layup => {
            let layup = read::read_layup_of(&text, shelf)?;
            let notes = unusual::of_layup(&layup);
            Ok(Checked { kind: "layup", names: vec![layup.name], notes })
        }
    }
}

/// A file of which nothing is unusual.
fn plain(kind: &'static str, names: Vec<String>) -> Checked {
    Checked { kind, names, notes: Vec::new() }
}

/// What a file is taken for.
enum Guess {
    OnShelf(Kind),
    Exposure,
    Suit,
    Body,
    Brief,
    Curve,
    Rolls,
    Book,
    FluxSeries,
    Layup,
}

/// The kind whose keys the file shares most with.
fn guess(text: &Arc<Text>) -> Guess {
    let mut unread = Vec::new();
    if text.form == Form::Toml {
        let root = tree::parse(text, &mut unread);
        let has = |key: &str| root.cells.iter().any(|cell| cell.key == key);
        return match () {
            () if has("exposure") => Guess::OnShelf(Kind::Exposure),
            () if has("skin") => Guess::OnShelf(Kind::Skin),
            () if has("panel") => Guess::Suit,
            () if has("region") || has("air") => Guess::Body,
            () if is_brief(&root) => Guess::Brief,
            () if has("stack") || n_shared(&root, Kind::Exposure) < 3 => Guess::Layup,
            () => Guess::Exposure,
        };
    }
    let Some(sheet) = sheet::parse(text, &mut unread) else { return Guess::OnShelf(Kind::Fabric) };
    let has = |of: &dyn Fn(&str) -> bool| {
        sheet.header.cells.iter().any(|cell| of(&cell.key.to_lowercase()))
    };
    match () {
        () if has(&|key| key == "lot") => return Guess::Rolls,
        () if has(&|key| key == "layup") && has(&|key| key == "figure") => return Guess::Book,
        () if has(&|key| key == "time_s") && has(&|key| key.starts_with("flux")) => {
            return Guess::FluxSeries;
        }
        () if has(&|key| key.starts_with("time"))
            && has(&|key| key.starts_with("temperature") || key.contains("rise")) =>
        {
            return Guess::Curve;
        }
        () => {}
    }
    let tables = [Kind::Fabric, Kind::Fibre, Kind::Target, Kind::Source, Kind::Band];
    let n_most = tables.map(|kind| n_shared(&sheet.header, kind)).into_iter().max();
    let best = tables.into_iter().find(|kind| Some(n_shared(&sheet.header, *kind)) == n_most);
    Guess::OnShelf(best.unwrap_or(Kind::Fabric))
}

fn n_shared(record: &Record, kind: Kind) -> usize {
    let keys = kind.keys().all();
    record.cells.iter().filter(|cell| keys.contains(&cell.key)).count()
}

fn on_shelf(shelf: &Shelf, kind: Kind, text: &Arc<Text>) -> Result<Checked, Faults> {
    let mut faults = Vec::new();
    let mut raw = shelf.raw.clone();
    raw.add_text(kind, text, &mut faults);
    let names = raw.names_in(kind, text);
    let resolved = resolve(raw, &mut faults);
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    let of = |name: &String| match kind {
        Kind::Fabric => resolved
            .fabric(name)
            .map_or(Vec::new(), |fabric| unusual::of_fabric(fabric, &format!("fabric `{name}`"))),
        Kind::Exposure => resolved.exposure(name).map_or(Vec::new(), unusual::of_exposure),
        _ => Vec::new(),
    };
    let notes = names.iter().flat_map(of).collect();
    Ok(Checked { kind: kind.keys().kind, names, notes })
}
