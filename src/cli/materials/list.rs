//! What lies on the shelf, a row each.

use super::kind::Kind;
use crate::bench::figure::figure_name;
use crate::cli::shelf::{shelf_layup, shelf_suit};
use crate::garment::charring::CharringPart;
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, celsius};
use crate::report::number::{Shown, fixed, short};
use crate::report::table::{Align, Table};
use crate::report::text::heading;
use crate::report::{exposure, verdict, words};
use crate::shelf::materials::Shelf;

const ALL: [(Kind, &str); 8] = [
    (Kind::Fabrics, "Fabrics"),
    (Kind::Fibres, "Fibres"),
    (Kind::Exposures, "Exposures"),
    (Kind::Targets, "Targets"),
    (Kind::Skins, "Skins"),
    (Kind::Bands, "Bands of the model"),
    (Kind::Layups, "Layups"),
    (Kind::Suits, "Suits"),
];

/// The list in text: one kind, or all of them.
pub fn text(shelf: &Shelf, kind: Option<Kind>) -> String {
    let mut parts = Vec::new();
    for (each, title) in ALL {
        if kind.is_none_or(|kind| kind == each) {
            parts.push(heading(title) + &table(shelf, each).render());
        }
    }
    parts.join("\n")
}

fn table(shelf: &Shelf, kind: Kind) -> Table {
    use Align::{Left, Right};
    let mut table;
    match kind {
        Kind::Fabrics => {
            table = Table::new(&[Left, Left, Left, Right, Right, Right]);
            table.row(["", "for", "fibre", "g/m²", "mm", "m²Pa/W"]);
            for fabric in shelf.fabrics() {
                table.row([
                    fabric.name.clone(),
                    fabric.role.word().to_string(),
                    fabric.fibre.clone(),
                    GRAMS_PER_AREA.fixed(fabric.areal_density.value, 0),
                    MILLIMETRES.fixed(fabric.thickness.value, 2),
                    match fabric.vapour_resistance.value {
                        0.0 => String::new(),
                        resistance => short(resistance, 1),
                    },
                ]);
            }
        }
        Kind::Fibres => {
            table = Table::new(&[Left, Left, Right]);
            table.row(["", "", "chars at °C"]);
            for fibre in shelf.fibres() {
                let peak = |part: &CharringPart| fixed(celsius(part.charring.temp_peak.value), 0);
                let chars = fibre.charring.first().map(peak).unwrap_or_default();
                table.row([&*fibre.name, &*fibre.description, &chars]);
            }
        }
        Kind::Exposures => {
            table = Table::new(&[Left, Left, Left]);
            for given in shelf.exposures() {
                table.row([given.name.clone(), given.method.clone(), exposure::brief(given)]);
            }
        }
        Kind::Targets => {
            table = Table::new(&[Left, Left, Left, Left]);
            for target in shelf.targets() {
                let figure = shelf
                    .exposure(&target.exposure)
                    .map_or("", |exposure| figure_name(target.figure, exposure));
                table.row([
                    target.name.clone(),
                    target.standard.clone(),
                    format!("{figure} ≥ {}", verdict::threshold(target)),
                    target.exposure.clone(),
                ]);
            }
        }
        Kind::Skins => {
            table = Table::new(&[Left, Left]);
            shelf.skins().for_each(|skin| table.row([&*skin.name, &*skin.description]));
        }
        Kind::Bands => {
            table = Table::new(&[Left, Left, Right, Right, Right, Left]);
            table.row(["", "", "lower", "upper", "cases", "basis"]);
            for band in shelf.bands().iter() {
                table.row([
                    band.class.word().to_string(),
                    band.reading.word().to_string(),
                    fixed(band.factors.lower, 2),
                    fixed(band.factors.upper, 2),
                    band.n_cases.to_string(),
                    band.basis.clone(),
                ]);
            }
        }
        Kind::Layups => {
            table = Table::new(&[Left, Left]);
            for name in shelf.layup_names() {
                table.row([name.to_string(), layup_words(shelf, name)]);
            }
        }
        Kind::Suits => {
            table = Table::new(&[Left, Left]);
            for name in shelf.suit_names() {
                table.row([name.to_string(), suit_words(shelf, name)]);
            }
        }
    }
    table
}

/// Panels of a suit on the shelf.
fn suit_words(shelf: &Shelf, name: &str) -> String {
    match shelf_suit(name, shelf) {
        Ok(suit) => {
            format!("{}, {}", suit.name, words::count(suit.panels.len(), "panel", "panels"))
        }
        Err(_) => "cannot be read; see `stillair materials check`".to_string(),
    }
}

/// Plies, thickness and mass of a layup on the shelf.
fn layup_words(shelf: &Shelf, name: &str) -> String {
    match shelf_layup(name, shelf) {
        Ok(layup) => format!(
            "{}, {} mm, {} g/m²",
            words::count(layup.plies().count(), "ply", "plies"),
            MILLIMETRES.short(layup.thickness(), 2),
            GRAMS_PER_AREA.fixed(layup.areal_density(), 0)
        ),
        Err(_) => "has faults; check its file".to_string(),
    }
}
