//! Records turned into the fabrics and the like that they describe.

use std::collections::HashSet;

use crate::garment::band::Bands;
use crate::garment::known::Provenance;
use crate::garment::source::Source;
use crate::shelf::fault::{Fault, Unknown, enough};
use crate::shelf::key::reader::{Reader, parse_origin};
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::{Record, Value};
use crate::shelf::notation::tree;
use crate::shelf::stock::band::read_band;
use crate::shelf::stock::exposure::{read_exposure, read_target};
use crate::shelf::stock::fabric::read_fabric;
use crate::shelf::stock::fibre::read_fibre;
use crate::shelf::stock::raw::{Kind, Raw};
use crate::shelf::stock::skin::read_skin;

/// Turns the records into what they describe.
pub(crate) fn resolve(raw: Raw, faults: &mut Vec<Fault>) -> Shelf {
    let mut found = Vec::new();
    let found_in = &mut found;
    let sources = each(raw.of(Kind::Source), found_in, read_source);
    let fibres = each(raw.of(Kind::Fibre), found_in, read_fibre);
    let fabrics = each(raw.of(Kind::Fabric), found_in, |r, found| read_fabric(r, &fibres, found));
    let exposures = each(raw.of(Kind::Exposure), found_in, read_exposure);
    let targets =
        each(raw.of(Kind::Target), found_in, |r, found| read_target(r, &exposures, found));
    let skins = each(raw.of(Kind::Skin), found_in, read_skin);
    let bands = each(raw.of(Kind::Band), found_in, read_band);
    let keys: HashSet<&str> = sources.iter().map(|source| source.key.as_str()).collect();
    for kind in Kind::ALL {
        each(raw.of(kind), found_in, |record, found| {
            check_sources(kind, record, (&sources, &keys), found);
            Some(())
        });
    }
    tree::add_beyond_syntax(faults, found);
    Shelf { fabrics, fibres, exposures, targets, skins, bands: Bands::new(bands), sources, raw }
}

/// What each record describes, until there are faults enough.
fn each<T>(
    records: &[Record],
    faults: &mut Vec<Fault>,
    read: impl Fn(&Record, &mut Vec<Fault>) -> Option<T>,
) -> Vec<T> {
    let mut all = Vec::with_capacity(records.len());
    for record in records {
        if enough(faults) {
            break;
        }
        all.extend(read(record, faults));
    }
    all
}

fn read_source(record: &Record, faults: &mut Vec<Fault>) -> Option<Source> {
    let mut reader = Reader::new(record, "source", faults);
    if !record.word("key").is_empty() {
        reader.owner = format!("source `{}`", record.word("key"));
    }
    let key = reader.need_word("key");
    let citation = reader.need_word("citation");
    let provenance = reader.word("provenance").unwrap_or_default();
    let note = reader.word("note").unwrap_or_default();
    Some(Source { key: key?, citation: citation?, provenance, note })
}

/// A source that needs no entry in the list.
const IN_WORDS: &str = "mill's sheet of March";

/// Whether a source is told in words of its own: a key has none between which a blank stands.
fn in_words(source: &str) -> bool {
    source.contains(char::is_whitespace)
}

/// Says which sources a record cites that are neither listed nor told in words.
fn check_sources(
    kind: Kind,
    record: &Record,
    (sources, keys): (&[Source], &HashSet<&str>),
    faults: &mut Vec<Fault>,
) {
    let cites = |key: &str| match kind {
        Kind::Fabric | Kind::Fibre => key == "from" || key.ends_with("_from"),
        Kind::Exposure => key == "source" || key.ends_with("_from"),
        Kind::Target | Kind::Skin | Kind::Band => key == "source",
        Kind::Source => false,
    };
    for cell in record.cells.iter().filter(|cell| cites(&cell.key)) {
        let Value::Word(word) = &cell.value else { continue };
        let key = if cell.key == "source" {
            word.clone()
        } else {
            match parse_origin(word) {
                Some((Provenance::Measured | Provenance::Stated, source)) if source.is_empty() => {
                    continue;
                }
                Some((_, source)) => source,
                None => continue,
            }
        };
        if key.is_empty() {
            let what = format!("`{word}` names no source");
            let expected = "the provenance, a colon, and a source in words or by its key";
            let mend = format!("write the source behind a colon, for example `{word}: {IN_WORDS}`");
            faults.push(Fault::new(what, cell.place(), expected, mend));
        } else if !keys.contains(key.as_str()) && (cell.key == "source" || !in_words(&key)) {
            let known = sources.iter().map(|source| source.key.as_str());
            let unknown = Unknown::new("source", &key, known);
            if cell.key == "source" {
                faults.push(unknown.at(cell.place()));
                continue;
            }
            let expected = "a key of sources.csv, or a source in two words or more";
            let mend = match unknown.nearest.is_empty() {
                true => {
                    format!("list it in sources.csv, or write it in words such as `{IN_WORDS}`")
                }
                false => unknown.mend(),
            };
            faults.push(Fault::new(unknown.what(), cell.place(), expected, mend));
        }
    }
}
