//! Records turned into the fabrics and the like that they describe.

use crate::garment::band::Bands;
use crate::garment::blend::read_fibre;
use crate::garment::fault::{Fault, Unknown};
use crate::garment::known::Provenance;
use crate::garment::raw::{Kind, Raw};
use crate::garment::read_band::read_band;
use crate::garment::read_exposure::{read_exposure, read_target};
use crate::garment::read_fabric::read_fabric;
use crate::garment::read_skin::read_skin;
use crate::garment::reader::{Reader, parse_origin};
use crate::garment::record::{Record, Value};
use crate::garment::shelf::Shelf;
use crate::garment::source::Source;
use crate::garment::tree;

/// Turns the records into what they describe.
pub(crate) fn resolve(raw: Raw, faults: &mut Vec<Fault>) -> Shelf {
    let mut found = Vec::new();
    let of = |kind: Kind| raw.of(kind);
    let sources: Vec<Source> =
        of(Kind::Source).iter().filter_map(|record| read_source(record, &mut found)).collect();
    let fibres: Vec<_> =
        of(Kind::Fibre).iter().filter_map(|record| read_fibre(record, &mut found)).collect();
    let fabrics = of(Kind::Fabric)
        .iter()
        .filter_map(|record| read_fabric(record, &fibres, &mut found))
        .collect();
    let exposures: Vec<_> =
        of(Kind::Exposure).iter().filter_map(|record| read_exposure(record, &mut found)).collect();
    let targets = of(Kind::Target)
        .iter()
        .filter_map(|record| read_target(record, &exposures, &mut found))
        .collect();
    let skins = of(Kind::Skin).iter().filter_map(|record| read_skin(record, &mut found)).collect();
    let bands = of(Kind::Band).iter().filter_map(|record| read_band(record, &mut found)).collect();
    for kind in Kind::ALL {
        for record in of(kind) {
            check_sources(kind, record, &sources, &mut found);
        }
    }
    tree::add_beyond_syntax(faults, found);
    Shelf { fabrics, fibres, exposures, targets, skins, bands: Bands::new(bands), sources, raw }
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

/// Says which sources a record cites that are not listed.
fn check_sources(kind: Kind, record: &Record, sources: &[Source], faults: &mut Vec<Fault>) {
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
            let expected = "the provenance, a colon and the key of a source";
            let mend = "list the source in sources.csv and write its key behind a colon";
            faults.push(Fault::new(what, cell.place(), expected, mend));
        } else if !sources.iter().any(|source| source.key == key) {
            let known = sources.iter().map(|source| source.key.as_str());
            faults.push(Unknown::new("source", &key, known).at(cell.place()));
        }
    }
}
