//! The sentences about a suit on a body.

use crate::garment::body_map::BodyMap;
use crate::garment::known::Provenance;
use crate::physics::units::{CENTIMETRES, PERCENT, PERCENT_PER_GRAM, SECONDS_PER_GRAM};
use crate::report::exposure::{brief, title};
use crate::report::number::{Shown, fixed, short};
use crate::report::words::list;
use crate::study::body::record::{BodyStudy, Fire, Gram, PanelFirst};
use crate::study::quilt::path::Place;
use crate::study::suit_judged::Spot;

/// What every output says of its evidence.
pub const EVIDENCE: &str = "No published manikin result with complete layers was found: the figure compares \
garments, it foretells no manikin.";

/// What the degrees are, for tables of shares.
pub const DEGREES: &str =
    "At least that degree: Ω 0.53 and 1 behind the epidermis, 1 behind the dermis.";

/// Flux, skin, fit and wearer in a line or two.
pub fn terms(study: &BodyStudy) -> String {
    let flux = brief(&study.exposure);
    let flux = flux.rsplit_once(", ").map_or(flux.as_str(), |(flux, _)| flux);
    let (mass, height) = study.wearer;
    let shrunk = match study.shrunk > 0.0 {
        true => format!(" Cloth shorter by {} % from the start.", percent(study.shrunk)),
        false => String::new(),
    };
    format!(
        "{}: {flux}. Skin {}. Fit {}, worn by {} kg and {} cm.{shrunk}",
        title(&study.exposure),
        study.skin,
        study.fit.word(),
        short(mass, 1),
        CENTIMETRES.short(height, 1),
    )
}

/// What is covered, and what is left bare.
pub fn cover(study: &BodyStudy) -> String {
    let bare: Vec<String> = study.map.bare().map(|region| region.name.clone()).collect();
    let share: f64 = study.map.bare().map(|region| region.share.value).sum();
    let off = study.covered() + share - 1.0;
    let apart = match off.abs() < 5e-3 {
        true => String::new(),
        false => format!(", {} % by their table", percent(share)),
    };
    format!(
        "Panels cover {} % of the body; {} % is left bare, {}{apart}: not counted as burnt of the body, \
         then counted so.",
        percent(study.covered()),
        percent(study.uncovered()),
        list(&bare),
    )
}

/// Where the air comes from.
pub fn air(map: &BodyMap) -> String {
    let values = map.airs.iter().flat_map(|air| [&air.contact, &air.gap, &air.spread]);
    let worst = values.map(|known| known.provenance).max().unwrap_or(Provenance::Stated);
    let source = if worst == Provenance::CommonPractice { ", no source" } else { "" };
    format!("Air under the panels: {worst}{source} ({}).", map.name)
}

/// A share in percent.
pub fn percent(share: f64) -> String {
    PERCENT.fixed(share, 1)
}

/// A share in percent with its error; one that is nothing to one decimal is left out.
pub fn percent_with_error(share: f64, error: f64) -> String {
    let (error, tenth) = (PERCENT.outside(error), 0.1);
    if error < 0.5 * tenth {
        return percent(share);
    }
    // rounded up, so that it is never understated
    format!("{} ± {}", percent(share), fixed((error / tenth).ceil() * tenth, 1))
}

/// Where a panel burns first: "under a stitch line, in contact".
pub fn spot(first: &PanelFirst) -> String {
    let place = match first.first.place {
        Some(Place::StitchLine) => Some("under a stitch line"),
        Some(Place::Edge) => Some("beside a stitch line"),
        Some(Place::Between) => Some("between stitch line and middle of a cell"),
        Some(Place::Centre) => Some("in the middle of a cell"),
        None => None,
    };
    let embroidery = match first.spot {
        Spot::Whole => None,
        Spot::Beside => Some("beside the embroidery"),
        Spot::Under => Some("under the embroidery"),
    };
    let air = if first.first.in_contact { "in contact" } else { "across the least gaps" };
    let all: Vec<&str> = [place, embroidery, Some(air)].into_iter().flatten().collect();
    all.join(", ")
}

/// The panel that burns first after each fire; fires that begin at the same spot share a clause.
pub fn first(study: &BodyStudy) -> String {
    let mut clauses: Vec<(String, Vec<String>)> = Vec::new();
    for fire in &study.fires {
        let after = format!("{} s", short(fire.duration, 2));
        let (at, when) = match fire.first() {
            None => ("no panel has a second degree".to_string(), format!("after {after} of flame")),
            Some((i, first)) => (
                format!("{}, {}", study.suit.panels[i].name, spot(&first)),
                format!("at {} s after {after} of flame", fixed(first.first.t, 1)),
            ),
        };
        match clauses.last_mut().filter(|(known, _)| *known == at) {
            Some((_, all)) => all.push(when),
            None => clauses.push((at, vec![when])),
        }
    }
    let clauses: Vec<String> =
        clauses.iter().map(|(at, all)| format!("{at}: {}", list(all))).collect();
    format!("First to burn: {}.", clauses.join("; "))
}

/// The gram that moves most of the last fire; none where grams were not asked for.
pub fn best_gram(study: &BodyStudy, fire: &Fire) -> Option<String> {
    let name = |gram: &Gram| format!("{} of {}", gram.ply, study.suit.panels[gram.panel].name);
    let by_share = fire.grams.iter().max_by(|a, b| a.share.total_cmp(&b.share))?;
    let timed = fire.grams.iter().filter_map(|gram| Some((gram, gram.time?)));
    let by_time = timed.max_by(|a, b| a.1.total_cmp(&b.1));
    let after = short(fire.duration, 2);
    let share = match by_share.share > 0.0 {
        true => format!(
            "After {after} s a gram more of {} saves most: {} % of the body.",
            name(by_share),
            PERCENT_PER_GRAM.short(by_share.share, 3)
        ),
        false => format!("After {after} s no ply a tenth heavier leaves less of the body burnt."),
    };
    let time = by_time.filter(|(_, time)| *time > 0.0).map_or(String::new(), |(gram, time)| {
        format!(
            " A gram of {} delays that panel's first burn most: by {} s.",
            name(gram),
            SECONDS_PER_GRAM.short(time, 2)
        )
    });
    Some(share + &time)
}

/// What the runs took and left open.
pub fn exactness(study: &BodyStudy) -> String {
    let restless = match study.work.n_restless {
        0 => String::new(),
        n => format!(" {n} had not come to rest."),
    };
    format!(
        "± is what gaps, places and meshes leave open; {} runs, each until all is below 44 °C.{restless}",
        study.work.n_runs
    )
}
