//! One thing on the shelf, each value with its provenance and source.

use std::collections::BTreeSet;

use crate::bench::figure::figure_name;
use crate::bench::lies::Stack;
use crate::cli::error::CliError;
use crate::cli::shelf::shelf_layup;
use crate::garment::charring::CharringPart;
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::fibre::Fibre;
use crate::garment::known::Known;
use crate::garment::property::OfPly;
use crate::garment::skin::Skin;
use crate::garment::source::keys;
use crate::garment::target::Target;
use crate::physics::units::{
    KILOJOULES_PER_MASS, KILOJOULES_PER_MOLE, KILOPASCALS, MILLIMETRES, PERCENT,
    VOLUMETRIC_HEAT_CAPACITY, celsius, kelvin,
};
use crate::report::number::{Shown, fixed, short};
use crate::report::property::digits;
use crate::report::table::{Align, Table, hanging, paragraph};
use crate::report::text::heading;
use crate::report::{exposure, layup, verdict};
use crate::shelf::materials::Shelf;

/// Names nearer than this are offered for one that is nowhere [–].
const NEAR: f64 = 0.8;
/// Temperatures at which a varying property is shown [°C].
const SHOWN_AT: [f64; 3] = [25.0, 200.0, 400.0];

/// Everything on the shelf that bears the name, in text.
pub fn text(shelf: &Shelf, name: &str) -> Result<String, CliError> {
    let mut parts = Vec::new();
    if let Ok(fabric) = shelf.fabric(name) {
        parts.push(fabric_text(fabric, shelf));
    }
    if let Ok(fibre) = shelf.fibre(name) {
        parts.push(fibre_text(fibre, shelf));
    }
    if let Ok(found) = shelf.exposure(name) {
        parts.push(exposure_text(found, shelf));
    }
    if let Ok(target) = shelf.target(name) {
        parts.push(target_text(target, shelf));
    }
    if let Ok(skin) = shelf.skin(name) {
        parts.push(skin_text(skin, shelf));
    }
    if shelf.layup_text(name).is_ok() {
        let read = shelf_layup(name, shelf)?;
        parts.push(
            heading(&format!("Layup {name}: {}", read.name)) + &layup::section(&read, Stack::Flat),
        );
    }
    if parts.is_empty() { Err(nowhere(shelf, name)) } else { Ok(parts.join("\n")) }
}

fn nowhere(shelf: &Shelf, name: &str) -> CliError {
    let names = shelf.fabrics().map(|x| x.name.as_str());
    let names = names
        .chain(shelf.fibres().map(|x| x.name.as_str()))
        .chain(shelf.exposures().map(|x| x.name.as_str()))
        .chain(shelf.targets().map(|x| x.name.as_str()))
        .chain(shelf.skins().map(|x| x.name.as_str()))
        .chain(shelf.layup_names());
    let mut near: Vec<(f64, &str)> = names
        .map(|known| (strsim::jaro_winkler(known, name), known))
        .filter(|(likeness, _)| *likeness > NEAR)
        .collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    let nearest = near.into_iter().take(3).map(|(_, known)| known.to_string()).collect();
    CliError::Nowhere { name: name.to_string(), nearest }
}

/// Rows of values with provenance, and the keys of the sources they cite.
struct Sheet {
    table: Table,
    cited: BTreeSet<String>,
}

impl Sheet {
    fn new() -> Sheet {
        let aligns = [Align::Left, Align::Right, Align::Left, Align::Left, Align::Left];
        Sheet { table: Table::new(&aligns), cited: BTreeSet::new() }
    }

    fn row(&mut self, label: &str, known: &Known, unit: &str, show: impl Fn(&f64) -> String) {
        let value = show(&known.value);
        let here = (known.provenance.word(), known.told_source());
        // A property over several rows says once where it comes from.
        let (word, source) = match label.starts_with("  ") {
            true => ("", ""),
            false => (here.0, here.1.as_str()),
        };
        self.table.row([label, &value, unit, word, source]);
        self.cited.extend(keys(&here.1).map(String::from));
    }

    fn property(&mut self, label: &str, of: OfPly, known: &Known) {
        let quantity = of.quantity();
        self.row(label, known, quantity.unit, |si| digits(of).of(quantity.outside(*si)));
    }

    fn render(self, shelf: &Shelf) -> String {
        self.table.render() + &sources(shelf, self.cited.iter())
    }
}

/// The citations behind keys; a key that is a text of its own needs none.
fn sources<'a>(shelf: &Shelf, keys: impl Iterator<Item = &'a String>) -> String {
    let mut out = String::new();
    for source in keys.filter_map(|key| shelf.source(key).ok()) {
        if out.is_empty() {
            out.push_str("\n  Sources\n");
        }
        out.push_str(&hanging(&format!("{}: ", source.key), &source.citation, 2));
    }
    out
}

/// The label of the i-th temperature; the property is named once.
fn at_temperature(property: &str, i: usize) -> String {
    let t = fixed(SHOWN_AT[i], 0);
    if i == 0 { format!("{property} at {t} °C") } else { format!("  at {t} °C") }
}

fn fabric_text(fabric: &Fabric, shelf: &Shelf) -> String {
    let mut out = heading(&format!("Fabric {}", fabric.name));
    out.push_str(&paragraph(&fabric.description, 2));
    let what = format!("for: {}; fibre: {}", fabric.role.word(), fabric.fibre);
    out.push_str(&paragraph(&what, 2));
    let mut sheet = Sheet::new();
    for of in OfPly::OF_FABRIC {
        match of {
            OfPly::Thickness => {
                let at = fabric
                    .thickness_pressure
                    .map_or(String::new(), |p| format!(" at {} kPa", KILOPASCALS.short(p, 3)));
                sheet.property(&format!("thickness{at}"), of, &of.known(fabric));
            }
            OfPly::Conductivity | OfPly::SpecificHeat => {
                for (i, t) in SHOWN_AT.into_iter().enumerate() {
                    let label = at_temperature(of.word(), i);
                    sheet.property(&label, of, &of.known_at(fabric, kelvin(t)));
                }
            }
            OfPly::FaceVoid => sheet.property("void of a face", of, &of.known(fabric)),
            OfPly::Limit => {
                if let Some(decomposition) = &fabric.decomposition {
                    let window = [decomposition.temp_from, decomposition.temp_to].map(celsius);
                    let label = format!("decomposition, {:.0} to {:.0} °C", window[0], window[1]);
                    let show = |v: &f64| KILOJOULES_PER_MASS.short(*v, 1);
                    sheet.row(&label, &decomposition.heat, "kJ/kg", show);
                }
                sheet.property(&format!("limit: {}", fabric.limit_event), of, &of.known(fabric));
            }
            _ => sheet.property(of.word(), of, &of.known(fabric)),
        }
    }
    charring_rows(&mut sheet, &fabric.charring);
    out + &sheet.render(shelf)
}

/// How each fibre that chars does so; in a blend under its name and share.
fn charring_rows(sheet: &mut Sheet, parts: &[CharringPart]) {
    for CharringPart { fibre, share, charring } in parts {
        if *share < 1.0 {
            let whose = format!("{fibre}, {} %", PERCENT.short(*share, 1));
            sheet.table.row([whose.as_str(), "", "", "", ""]);
        }
        sheet.row("energy of charring", &charring.energy, "kJ/mol", |v| {
            KILOJOULES_PER_MOLE.short(*v, 1)
        });
        let celsius_of = |v: &f64| fixed(celsius(*v), 0);
        sheet.row("fastest, 10 K/min", &charring.temp_peak, "°C", celsius_of);
        sheet.row("left as char", &charring.residue, "", |v| short(*v, 3));
        sheet
            .row("heat of charring", &charring.heat, "kJ/kg", |v| KILOJOULES_PER_MASS.short(*v, 1));
        sheet.row("water in its gas", &charring.water_share, "", |v| short(*v, 3));
    }
}

fn fibre_text(fibre: &Fibre, shelf: &Shelf) -> String {
    let mut out = heading(&format!("Fibre {}", fibre.name));
    out.push_str(&paragraph(&fibre.description, 2));
    let mut sheet = Sheet::new();
    sheet.row("density", &fibre.density, "kg/m³", |v| fixed(*v, 0));
    let named = |sheet: &mut Sheet, of: OfPly, known| sheet.property(of.word(), of, known);
    named(&mut sheet, OfPly::Conductivity, &fibre.conductivity);
    for (i, t) in SHOWN_AT.into_iter().enumerate() {
        let label = at_temperature(OfPly::SpecificHeat.word(), i);
        let known = fibre.specific_heat.map(|law| law.at(kelvin(t)));
        sheet.property(&label, OfPly::SpecificHeat, &known);
    }
    named(&mut sheet, OfPly::Regain, &fibre.regain);
    let limit = format!("limit: {}", fibre.limit_event);
    sheet.row(&limit, &fibre.temp_limit, "°C", |v| fixed(celsius(*v), 0));
    charring_rows(&mut sheet, &fibre.charring);
    out + &sheet.render(shelf)
}

fn exposure_text(found: &Exposure, shelf: &Shelf) -> String {
    let method = if found.method.is_empty() { "no test method" } else { &found.method };
    let mut out = heading(&format!("Exposure {} ({method})", found.name));
    out.push_str(&exposure::section(found));
    out + &sources(shelf, [&found.source].into_iter())
}

fn target_text(target: &Target, shelf: &Shelf) -> String {
    let mut out = heading(&format!("Target {} ({})", target.name, target.standard));
    out.push_str(&paragraph(&target.description, 2));
    let figure = shelf
        .exposure(&target.exposure)
        .map_or("the figure", |exposure| figure_name(target.figure, exposure));
    let mut asks =
        format!("{figure} at least {} under {}", verdict::threshold(target), target.exposure);
    if let Some(judged) = target.judged_on {
        asks.push_str(&format!("; a set of specimens is judged on: {}", judged.word()));
    }
    out.push_str(&paragraph(&asks, 2));
    out + &sources(shelf, [&target.source].into_iter())
}

fn skin_text(skin: &Skin, shelf: &Shelf) -> String {
    let mut out = heading(&format!("Skin {}", skin.name));
    out.push_str(&paragraph(&skin.description, 2));
    let mut table =
        Table::new(&[Align::Left, Align::Right, Align::Right, Align::Right, Align::Right]);
    table.row(["", "mm", "W/(m·K)", "MJ/(m³·K)", "perfusion W/(m³·K)"]);
    for layer in &skin.layers {
        table.row([
            layer.name.clone(),
            MILLIMETRES.short(layer.thickness, 4),
            short(layer.k, 4),
            VOLUMETRIC_HEAT_CAPACITY.short(layer.rho_cp, 4),
            short(layer.perfusion, 1),
        ]);
    }
    out.push_str(&table.render());
    out.push_str(&paragraph(
        &format!(
            "{} °C at the surface at the start, {} °C held at the back.",
            fixed(celsius(skin.temp_surface), 1),
            fixed(celsius(skin.temp_core), 1)
        ),
        2,
    ));
    out + &sources(shelf, [&skin.source].into_iter())
}
