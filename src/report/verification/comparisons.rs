//! Predictions beside measurements in text: each class with its cases, the summary, the signs.

use crate::report::number::{short, significant};
use crate::report::table::{Align, Table, hanging, paragraph};
use crate::report::text::heading;
use crate::report::verification::{capital, digits, ends, percent};
use crate::study::measured::record::{GOAL, median_absolute, summaries};
use crate::study::measured::{Basis, Class, Comparison, Kind, Measured, N_FABRIC_COMPLETE, Sign};

/// Every class, the summary and the signs.
pub fn section(measured: &Measured) -> String {
    let mut out = String::new();
    for class in Class::ALL {
        out.push_str(&class_section(class, measured));
        out.push('\n');
    }
    out.push_str(&heading("How far predictions lie from measurements"));
    out.push_str(&summary_table(measured).render());
    out.push_str(&paragraph(&goal(measured), 2));
    out.push('\n');
    out.push_str(&heading("Signs: which way published findings say that a change goes"));
    for sign in &measured.signs {
        out.push_str(&sign_text(sign));
    }
    out
}

/// The comparisons in one sentence.
pub fn summary(measured: &Measured) -> String {
    let n = |class| measured.comparisons.iter().filter(|c| c.class == class).count();
    let right = measured.signs.iter().filter(|sign| sign.is_right).count();
    format!(
        "{} complete cases ({N_FABRIC_COMPLETE} of fabric), {} interval cases and {} bands from \
         memory; {right} of {} signs as published. Comparisons have no bound to keep.",
        n(Class::Complete),
        n(Class::Interval),
        n(Class::Band),
        measured.signs.len()
    )
}

fn class_section(class: Class, measured: &Measured) -> String {
    use Align::{Left, Right};
    let found: Vec<&Comparison> =
        measured.comparisons.iter().filter(|c| c.class == class).collect();
    let mut out = heading(&format!("Measured, {}: {} cases", class.word(), found.len()));
    let mut lead = format!("{}.", capital(class.describe()));
    if class == Class::Complete {
        lead = format!("{lead} {}", no_fabric());
    }
    out.push_str(&paragraph(&lead, 2));
    let mut table = Table::new(&[Left, Right, Right, Right, Right, Left]);
    let places = class != Class::Complete;
    table.row([
        "case",
        "measured",
        "predicted",
        "range",
        "off %",
        if places { "lies" } else { "" },
    ]);
    for c in &found {
        table.row([
            format!("{} [{}]", c.name, c.unit),
            measured_cell(c),
            digits(c.predicted, 3),
            ends(c.range, 3),
            percent(c.difference()),
            if places { c.place().word().to_string() } else { String::new() },
        ]);
    }
    out.push_str(&table.render());
    for note in notes(&found) {
        out.push_str(&hanging("· ", &note, 2));
    }
    for (source, provenance) in sources(measured, class) {
        out.push_str(&hanging("source  ", &format!("{source} ({provenance})"), 2));
    }
    out
}

/// The notes of some cases, each once; one that belongs to a single case bears its name.
pub fn notes(found: &[&Comparison]) -> Vec<String> {
    let mut told: Vec<(&str, Vec<&str>)> = Vec::new();
    for c in found.iter().filter(|c| !c.note.is_empty()) {
        match told.iter_mut().find(|(known, _)| *known == c.note) {
            Some((_, names)) => names.push(&c.name),
            None => told.push((&c.note, vec![&c.name])),
        }
    }
    let note = |(note, names): (&str, Vec<&str>)| match names.as_slice() {
        [one] => format!("{one}: {note}"),
        _ => note.to_string(),
    };
    told.into_iter().map(note).collect()
}

/// What is said of fabrics in the class complete.
pub fn no_fabric() -> String {
    format!(
        "{N_FABRIC_COMPLETE} fabric cases: none was found that gives every layer's mass and \
         thickness, the flux and the measured time together."
    )
}

/// Sources of a class, each once, with how they are known.
pub fn sources(measured: &Measured, class: Class) -> Vec<(&str, &str)> {
    let mut all: Vec<(&str, &str)> = Vec::new();
    for c in measured.comparisons.iter().filter(|c| c.class == class) {
        // rows of a table differ in which columns were seen: the table is named once
        let source = c.source.split(';').next().unwrap_or("");
        if !all.iter().any(|(known, _)| known.split(';').next() == Some(source)) {
            all.push((c.source.as_str(), c.provenance.as_str()));
        }
    }
    all
}

/// A measured value as printed, or the band.
pub fn measured_cell(c: &Comparison) -> String {
    let (low, high) = c.measured;
    match c.is_range() {
        true => format!("{} to {}", short(low, 3), short(high, 3)),
        false => significant(c.measured_middle(), 3),
    }
}

fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Uncalibrated => "",
        Basis::Scaled => ", scaled",
    }
}

/// One row of the summary: class, exposure, cases, agreeing, median, median of sizes, largest.
pub fn summary_rows(measured: &Measured) -> Vec<[String; 7]> {
    let row = |s: &crate::study::measured::Summary| {
        let range = s.class == Class::Band || s.kind == Some(Kind::Conductivity);
        let size =
            if range { "–".to_string() } else { percent(s.median_absolute).replace('+', "") };
        [
            format!("{}{}", s.class.word(), basis(s.basis)),
            s.kind.map_or("all", Kind::word).to_string(),
            s.n.to_string(),
            s.n_agreeing.to_string(),
            percent(s.median),
            size,
            percent(s.largest),
        ]
    };
    summaries(&measured.comparisons).iter().map(row).collect()
}

fn summary_table(measured: &Measured) -> Table {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Left, Right, Right, Right, Right, Right]);
    table.row(["class", "exposure", "cases", "agree", "median %", "of sizes %", "largest %"]);
    for row in summary_rows(measured) {
        table.row(row);
    }
    table
}

/// How the comparisons stand to the project's goal.
pub fn goal(measured: &Measured) -> String {
    let of = |classes: &[Class]| median_absolute(&measured.comparisons, classes);
    let both = of(&[Class::Complete, Class::Interval]);
    let word = if both <= GOAL { "met" } else { "not met" };
    let percent = |share: f64| percent(share).replace('+', "");
    format!(
        "Median of the sizes, uncalibrated: {} % on complete and interval cases together (goal \
         {} %: {word}), {} % on complete ones, which are bare skin alone, {} % on interval ones, \
         the only ones of fabric. Agree: a complete case within {} %, otherwise one range inside \
         the other. Ranges count from their nearest end.",
        percent(both),
        GOAL * 100.0,
        percent(of(&[Class::Complete])),
        percent(of(&[Class::Interval])),
        GOAL * 100.0,
    )
}

/// Whether a sign comes out as published, in one word.
pub fn sign_word(sign: &Sign) -> &'static str {
    if sign.is_right { "same" } else { "opposite" }
}

/// The values of a sign in order, with their unit.
pub fn sign_values(sign: &Sign) -> String {
    let values: Vec<String> = sign.values.iter().map(|v| digits(*v, 3)).collect();
    format!("{} {}", values.join(", "), sign.unit)
}

fn sign_text(sign: &Sign) -> String {
    let note = if sign.note.is_empty() { String::new() } else { format!(" {}", sign.note) };
    let claim = capital(&sign.claim);
    let text =
        format!("{claim}. {}: {}.{note} [{}]", capital(&sign.what), sign_values(sign), sign.source);
    hanging(&format!("{:<8}  ", sign_word(sign)), &text, 2)
}
