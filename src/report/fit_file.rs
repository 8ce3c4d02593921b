//! A fitted layup, fabric or exposure as a file that every command reads.
//!
//! Each fitted value is marked `fitted`, with the readings it comes from and its interval. A ply
//! whose fabric is no longer the shelf's stands in the file as a fabric of its own.

use crate::NOTICE;
use crate::garment::exposure::{Flux, Orientation, Told};
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::physics::law::Law;
use crate::physics::units::{
    BARE, CELSIUS, CONDUCTANCE, CONDUCTIVITY, CONDUCTIVITY_SLOPE, GRAMS, GRAMS_PER_AREA,
    GRAMS_PER_LENGTH, KILOGRAMS_PER_VOLUME, KILOJOULES_PER_MASS, KILOPASCALS, KILOWATTS_PER_AREA,
    MICROMETRES, MILLIMETRES, PERCENT, Quantity, SECONDS, SPECIFIC_HEAT, SPECIFIC_HEAT_SLOPE,
    SQUARE_CENTIMETRES, VAPOUR_RESISTANCE,
};
use crate::report::fit::warnings;
use crate::report::fit_words::{name, outside};
use crate::report::number::significant;
use crate::report::table::wrap;
use crate::shelf::materials::Shelf;
use crate::study::fit::fitting::Fit;
use crate::study::fit::free::{Free, What};
use crate::study::fit::readings::Readings;
use crate::study::property::{OfPly, Property};

/// Temperature at which a property is written [°C].
const TEMP_REF_C: f64 = 25.0;
/// Said of a conductivity that no file gives.
const CONDUCTIVITY_ESTIMATED: &str = "from areal density, thickness and fibre";
/// Keys in the shelf's list of sources: of a fitted value, and of one kept whose source is no key.
const SOURCE_FITTED: &str = "bench-fit";
const SOURCE_KEPT: &str = "fit-kept";
/// Columns of a comment.
const COMMENT: usize = 96;

/// A key with its value, ready for a file.
type Pair = (String, Text);

/// A value as a file has it.
enum Text {
    Number(f64),
    Word(String),
}

/// The layup with its fitted values marked.
pub fn marked(fit: &Fit) -> Layup {
    let mut layup = fit.fitted_layup.clone();
    for (i, free) in fit.free.iter().enumerate() {
        let origin = origin(fit, i);
        match free.what {
            What::Property(Property::Ply(j, of)) => {
                if let Some(ply) = nth_ply(&mut layup, j) {
                    mark_fabric(&mut ply.fabric, of, origin);
                }
            }
            What::Property(Property::Gap(j)) => {
                let mut gaps = layup.stack.iter_mut().filter_map(|entry| match entry {
                    Entry::Gap(gap) => Some(gap),
                    Entry::Ply(_) => None,
                });
                if let Some(gap) = gaps.nth(j) {
                    mark(&mut gap.thickness, origin);
                }
            }
            What::Joint(j) => {
                if let Some(PlyJoint::Conductance(h)) = nth_ply(&mut layup, j).map(|p| &mut p.joint)
                {
                    mark(h, origin);
                }
            }
            What::Property(_) => {}
        }
    }
    layup
}

fn nth_ply(layup: &mut Layup, j: usize) -> Option<&mut Ply> {
    let plies = layup.stack.iter_mut().filter_map(|entry| match entry {
        Entry::Ply(ply) => Some(ply.as_mut()),
        Entry::Gap(_) => None,
    });
    plies.into_iter().nth(j)
}

fn mark<T>(known: &mut Known<T>, origin: String) {
    known.provenance = Provenance::Fitted;
    known.source = origin.into();
}

fn mark_fabric(fabric: &mut Fabric, of: OfPly, origin: String) {
    match of {
        OfPly::Conductivity => mark(&mut fabric.conductivity, origin),
        OfPly::ConductivityRise => {
            let known = fabric.conductivity.clone();
            fabric.conductivity = known.with_rise(Provenance::Fitted, origin);
        }
        OfPly::SpecificHeat => mark(&mut fabric.specific_heat, origin),
        OfPly::ArealDensity => mark(&mut fabric.areal_density, origin),
        OfPly::Thickness => mark(&mut fabric.thickness, origin),
        OfPly::Emissivity => mark(&mut fabric.emissivity, origin),
        OfPly::Transmissivity => mark(&mut fabric.transmissivity, origin),
        OfPly::Regain => mark(&mut fabric.regain, origin),
        OfPly::FaceVoid => mark(&mut fabric.face_void, origin),
        OfPly::CharHeat => {
            let heats = fabric.charring.iter_mut().map(|part| &mut part.charring.heat);
            heats.for_each(|heat| mark(heat, origin.clone()));
        }
        OfPly::Thinning => {
            let shares = fabric.charring.iter_mut().map(|part| &mut part.charring.thinning);
            shares.for_each(|share| mark(share, origin.clone()));
        }
    }
}

/// Where a fitted value comes from, with its interval; no date, so that the same readings give the same file.
fn origin(fit: &Fit, i: usize) -> String {
    let interval = match fit.half_widths[i] {
        Some(half) => {
            format!("95 % ± {}", significant(outside(fit.free[i].what, half).0, 2))
        }
        None => "no interval".to_string(),
    };
    format!("{} under {}, {interval}", sources(fit), fit.exposure.name)
}

fn sources(fit: &Fit) -> String {
    match &fit.readings {
        Readings::Curves(curves) => {
            let files: Vec<&str> = curves.iter().map(|curve| curve.name.as_str()).collect();
            files.join(" and ")
        }
        Readings::Times { times, .. } => {
            let each: Vec<String> =
                times.iter().map(|timed| format!("{} K at {} s", timed.rise, timed.t)).collect();
            each.join(" and ")
        }
    }
}

/// The comment at the head of a file: what it is, what it rests on, what it cannot be used for.
fn head(fit: &Fit) -> String {
    let values: Vec<String> = fit
        .free
        .iter()
        .zip(&fit.values)
        .map(|(free, value)| {
            let (value, unit) = outside(free.what, *value);
            let text = format!("{} {} {unit}", name(free.what, &fit.layup), significant(value, 4));
            text.trim_end().to_string()
        })
        .collect();
    let mut sentences = vec![format!(
        "Fitted by stillair {} to {} under {}: {}.",
        env!("CARGO_PKG_VERSION"),
        sources(fit),
        fit.exposure.name,
        values.join(", ")
    )];
    sentences.extend(warnings(fit));
    sentences.push(NOTICE.to_string());
    let lines = sentences.iter().flat_map(|sentence| wrap(sentence, COMMENT));
    lines.map(|line| format!("# {line}\n")).collect()
}

/// The layup as a TOML file.
pub fn layup_toml(fit: &Fit, shelf: &Shelf) -> String {
    let layup = marked(fit);
    let mut out = head(fit);
    let note = match layup.note.as_str() {
        "" => "fitted to the bench".to_string(),
        note if note.ends_with("fitted to the bench") => note.to_string(),
        note => format!("{note}; fitted to the bench"),
    };
    out.push_str(&line(&("name".to_string(), Text::Word(layup.name.clone()))));
    out.push_str(&line(&("note".to_string(), Text::Word(note))));
    if let Some(pressure) = &layup.pressure {
        lines(&mut out, &known("pressure", KILOPASCALS, pressure));
    }
    let mut own = String::new();
    let mut n_plies = 0;
    for entry in &layup.stack {
        out.push_str("\n[[stack]]\n");
        match entry {
            Entry::Gap(gap) => {
                lines(&mut out, &[number("gap", MILLIMETRES, gap.thickness.value)]);
                lines(&mut out, &[word("from", from(&gap.thickness))]);
            }
            Entry::Ply(ply) => {
                n_plies += 1;
                let name = own_name(&ply.fabric, n_plies, shelf);
                lines(&mut out, &[word("ply", name.clone())]);
                match &ply.joint {
                    PlyJoint::Faces => {}
                    PlyJoint::Shared => lines(&mut out, &[word("joint", "shared".into())]),
                    PlyJoint::Conductance(h) => lines(&mut out, &known("joint", CONDUCTANCE, h)),
                }
                if name != ply.fabric.name {
                    own.push_str("\n[[fabric]]\n");
                    lines(&mut own, &fabric(&Fabric { name, ..ply.fabric.clone() }));
                }
            }
        }
    }
    out.push_str(&own);
    out.push_str(&quilting(&layup));
    out
}

fn quilting(layup: &Layup) -> String {
    let Some(quilting) = &layup.quilting else { return String::new() };
    // stitch lines that do not press stay so, whichever way each ply is rounded
    let loose: f64 = layup.plies().map(|ply| rounded(ply.fabric.thickness.value)).sum();
    let mut out = "\n[quilting]\n".to_string();
    lines(
        &mut out,
        &[
            word("pattern", quilting.pattern.word().to_string()),
            number("pitch", MILLIMETRES, quilting.pitch.value),
            number("stitch_width", MILLIMETRES, quilting.stitch_width.value),
            number("loft", MILLIMETRES, quilting.loft.value),
            number("pressed", MILLIMETRES, quilting.pressed.value.min(loose)),
        ],
    );
    if let Some(thread) = &quilting.thread {
        lines(&mut out, &[number("thread", GRAMS_PER_LENGTH, thread.value)]);
    }
    lines(&mut out, &[word("from", from(&quilting.pitch))]);
    out
}

/// The fitted fabrics as rows of a shelf's `fabrics.csv`; none when no property of a ply was fitted.
pub fn fabrics_csv(fit: &Fit, shelf: &Shelf) -> Option<String> {
    let layup = marked(fit);
    let fitted = |j: usize| {
        let of_ply = |free: &crate::study::fit::free::Free| matches!(free.what, What::Property(Property::Ply(ply, _)) if ply == j);
        fit.free.iter().any(of_ply)
    };
    let rows: Vec<Vec<Pair>> = layup
        .plies()
        .enumerate()
        .filter(|(j, _)| fitted(*j))
        .map(|(j, ply)| {
            let name = own_name(&ply.fabric, j + 1, shelf);
            let description = format!("{}; fitted to {}", ply.fabric.description, sources(fit));
            let mut row = fabric(&Fabric { name, description, ..ply.fabric.clone() });
            row.iter_mut().for_each(|pair| cite(pair, shelf));
            row
        })
        .collect();
    let first = rows.first()?;
    let mut headers: Vec<String> = first.iter().map(|entry| entry.0.clone()).collect();
    for (key, _) in rows.iter().flatten() {
        if !headers.contains(key) {
            headers.push(key.clone());
        }
    }
    let cell = |row: &[Pair], key: &String| -> String {
        match row.iter().find(|entry| entry.0 == *key).map(|entry| &entry.1) {
            Some(Text::Number(value)) => plain(*value),
            Some(Text::Word(word)) => format!("\"{}\"", word.replace('"', "\"\"")),
            None => String::new(),
        }
    };
    let mut out = head(fit);
    out.push_str(&headers.join(","));
    out.push('\n');
    for row in &rows {
        let cells: Vec<String> = headers.iter().map(|key| cell(row, key)).collect();
        out.push_str(&cells.join(","));
        out.push('\n');
    }
    Some(out)
}

/// Puts a source that a shelf lists in place of one that it does not.
fn cite((key, value): &mut Pair, shelf: &Shelf) {
    let Text::Word(origin) = value else { return };
    let Some((provenance, source)) = origin.split_once(": ").filter(|_| key.ends_with("_from"))
    else {
        return;
    };
    if provenance == Provenance::Fitted.word() {
        *origin = format!("{provenance}: {SOURCE_FITTED}");
    } else if shelf.source(source).is_err() {
        *origin = format!("{provenance}: {SOURCE_KEPT}");
    }
}

/// The exposure as a TOML file; none for a flux over time, which needs a file of its own.
pub fn exposure_toml(fit: &Fit) -> Option<String> {
    let exposure = &fit.fitted_exposure;
    let Flux::Steady(flux) = exposure.flux else { return None };
    let name = format!("{}-fitted", exposure.name.trim_end_matches("-fitted"));
    let origin = format!("fitted to {}", sources(fit));
    let mut out = head(fit);
    lines(
        &mut out,
        &[
            word("name", name),
            word("description", exposure.description.clone()),
            word("method", exposure.method.clone()),
            number("flux", KILOWATTS_PER_AREA, flux),
            number("radiant_share", BARE, exposure.radiant_share),
            number("flame_temperature", CELSIUS, exposure.temp_flame),
            number("gas_vapour", KILOPASCALS, exposure.p_vapour_gas),
            number("room_temperature", CELSIUS, exposure.temp_room),
        ],
    );
    let boundary = &exposure.boundary;
    for (base, own, property) in [
        ("radiant_share", &boundary.radiant_share, Some(Property::RadiantShare)),
        ("flame_temperature", &boundary.temp_flame, Some(Property::FlameTemperature)),
        ("gas_vapour", &boundary.p_vapour_gas, None),
    ] {
        let is_moved =
            |free: &Free| property.is_some_and(|moved| free.what == What::Property(moved));
        // what was said of a value does not hold for the fitted one
        if !fit.free.iter().any(is_moved) {
            lines(&mut out, &told(base, own));
        }
    }
    if let Some(duration) = exposure.duration {
        lines(&mut out, &[number("duration", SECONDS, duration)]);
    }
    let orientation = match exposure.orientation {
        Orientation::HeatedFromBelow => "heated from below",
        Orientation::Vertical => "vertical",
        Orientation::Still => "still",
    };
    lines(
        &mut out,
        &[
            number("until", SECONDS, exposure.t_end),
            number("cooling", CONDUCTANCE, exposure.h_cooling),
            word("orientation", orientation.to_string()),
            number("spacer", MILLIMETRES, exposure.spacer),
            word("source", origin),
        ],
    );
    let disc = &exposure.disc;
    out.push_str(&format!(
        "disc = {{ mass_g = {}, specific_heat_J_kgK = {}, area_cm2 = {}, emissivity = {} }}\n",
        plain(GRAMS.outside(disc.mass)),
        plain(disc.cp),
        plain(SQUARE_CENTIMETRES.outside(disc.area)),
        plain(disc.emissivity)
    ));
    Some(out)
}

/// What an exposure says of a value beside it.
fn told(base: &str, told: &Told) -> Vec<Pair> {
    let from = told.origin.iter().map(|(provenance, source)| match source.as_str() {
        "" => provenance.word().to_string(),
        source => format!("{}: {source}", provenance.word()),
    });
    let from = from.map(|from| word(&format!("{base}_from"), from));
    let tolerance =
        told.tolerance.map(|share| number(&format!("{base}_tolerance"), PERCENT, share));
    from.chain(tolerance).collect()
}

/// The name under which a ply's fabric is written: the shelf's if it is the shelf's.
fn own_name(fabric: &Fabric, ply: usize, shelf: &Shelf) -> String {
    if shelf.fabric(&fabric.name).is_ok_and(|known| known == fabric) {
        return fabric.name.clone();
    }
    let base = fabric.name.split("-fitted-").next().unwrap_or(&fabric.name);
    format!("{base}-fitted-{ply}")
}

/// All that a file gives of a fabric.
fn fabric(fabric: &Fabric) -> Vec<Pair> {
    let mut all = vec![
        word("name", fabric.name.clone()),
        word("description", fabric.description.clone()),
        word("role", fabric.role.word().to_string()),
        word("fibre", fabric.fibre.clone()),
    ];
    all.extend(known("areal_density", GRAMS_PER_AREA, &fabric.areal_density));
    all.extend(known("thickness", MILLIMETRES, &fabric.thickness));
    if let Some(pressure) = fabric.thickness_pressure {
        all.push(number("thickness_pressure", KILOPASCALS, pressure));
    }
    if !fabric.compression.is_empty() {
        let pair = |(p, l): &(f64, f64)| {
            format!("{}:{}", plain(KILOPASCALS.outside(*p)), plain(MILLIMETRES.outside(*l)))
        };
        let text: Vec<String> = fabric.compression.iter().map(pair).collect();
        all.push(word("compression", text.join(" ")));
    }
    let thickness_moved = fabric.thickness.provenance == Provenance::Fitted;
    if thickness_moved || *fabric.conductivity.source != *CONDUCTIVITY_ESTIMATED {
        all.extend(law("conductivity", [CONDUCTIVITY, CONDUCTIVITY_SLOPE], &fabric.conductivity));
    }
    all.extend(law("specific_heat", [SPECIFIC_HEAT, SPECIFIC_HEAT_SLOPE], &fabric.specific_heat));
    all.extend(known("face_void", MICROMETRES, &fabric.face_void));
    all.extend(known("emissivity", BARE, &fabric.emissivity));
    all.extend(known("transmissivity", BARE, &fabric.transmissivity));
    all.extend(known("regain", PERCENT, &fabric.regain));
    all.extend(known("vapour_resistance", VAPOUR_RESISTANCE, &fabric.vapour_resistance));
    all.extend(known("fibre_density", KILOGRAMS_PER_VOLUME, &fabric.fibre_density));
    if let Some(decomposition) = &fabric.decomposition {
        all.extend(known("decomposition", KILOJOULES_PER_MASS, &decomposition.heat));
        all.push(number("decomposition_from", CELSIUS, decomposition.temp_from));
        all.push(number("decomposition_to", CELSIUS, decomposition.temp_to));
    }
    all.extend(known("limit", CELSIUS, &fabric.temp_limit));
    all.push(word("limit_event", fabric.limit_event.clone()));
    all
}

/// A property by temperature: its value, and its slope where it is one line.
fn law(base: &str, [unit, slope_unit]: [Quantity; 2], law: &Known<Law>) -> Vec<Pair> {
    let origin = from(law);
    let of_rise = law.rise.as_ref().map_or_else(
        || origin.clone(),
        |rise| match &*rise.source {
            "" => format!("{}: as read", rise.provenance.word()),
            source => format!("{}: {source}", rise.provenance.word()),
        },
    );
    let value = |temp: f64| number(base, unit, law.value.at(temp));
    let at = |temp: f64| number(&format!("{base}_temp"), CELSIUS, temp);
    let said = |of: &str| word(&format!("{of}_from"), origin.clone());
    let slope = |slope: f64| {
        let from = word(&format!("{base}_slope_from"), of_rise.clone());
        [number(&format!("{base}_slope"), slope_unit, slope), from]
    };
    let temp_ref = CELSIUS.inside(TEMP_REF_C);
    let mut all = Vec::new();
    match law.value.ramps.as_slice() {
        [] => {
            all.extend([value(temp_ref), said(base)]);
            all.extend(slope(0.0));
        }
        [ramp] => {
            let temp = if ramp.hi > temp_ref { temp_ref } else { ramp.hi - 10.0 };
            all.extend([value(temp), said(base), at(temp)]);
            all.extend(slope(ramp.slope));
            if ramp.hi.is_finite() {
                all.push(number(&format!("{base}_to"), CELSIUS, ramp.hi));
            }
        }
        // a table is what the reader makes of the value alone
        _ => all.extend([value(temp_ref), said(base), at(temp_ref)]),
    }
    all
}

fn known(base: &str, quantity: Quantity, known: &Known) -> [Pair; 2] {
    [number(base, quantity, known.value), word(&format!("{base}_from"), from(known))]
}

/// Provenance and source as files have them.
fn from<T>(known: &Known<T>) -> String {
    match &*known.source {
        "" => known.provenance.word().to_string(),
        source => format!("{}: {source}", known.provenance.word()),
    }
}

/// The value of one in SI under the name with its unit.
fn number(name: &str, quantity: Quantity, si: f64) -> Pair {
    (quantity.key(name), Text::Number(quantity.outside(si)))
}

fn word(key: &str, text: String) -> Pair {
    (key.to_string(), Text::Word(text))
}

fn lines(out: &mut String, entries: &[Pair]) {
    for entry in entries {
        out.push_str(&line(entry));
    }
}

fn line((key, value): &Pair) -> String {
    match value {
        Text::Number(value) => format!("{key} = {}\n", plain(*value)),
        Text::Word(word) => format!("{key} = {}\n", toml::Value::String(word.clone())),
    }
}

/// A number to seven digits.
fn plain(value: f64) -> String {
    rounded(value).to_string()
}

fn rounded(value: f64) -> f64 {
    format!("{value:.6e}").parse().unwrap_or(value)
}
