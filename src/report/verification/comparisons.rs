//! Predictions beside measurements in text: each class with its cases, the summary, the signs.

use crate::evidence::measured::record::GOAL;
use crate::evidence::measured::support::{CASES_FOR_LIMITS, Supported, WIDENING};
use crate::evidence::measured::{
    Ablation, Class, Comparison, LEFT_OUT, Measured, N_FABRIC_COMPLETE, Sign, Subject,
};
use crate::physics::units::PERCENT;
use crate::report::document::{Grid, terminal};
use crate::report::form::rows::table;
use crate::report::number::fixed;
use crate::report::table::{Align, Table, hanging, paragraph};
use crate::report::text::{heading, section};
use crate::report::verification::columns::{of_summaries, shown};
use crate::report::verification::{digits, percent};
use crate::report::words::capital;

/// What the reader must know first: bands and summary; then every class and the signs.
pub fn body(measured: &Measured) -> String {
    let mut out = heading(BANDS_TITLE);
    out.push_str(&terminal::table(&bands(measured)));
    out.push_str(&paragraph(&band_rule(), 2));
    section(
        &mut out,
        "How far predictions lie from measurements",
        &table(&of_summaries(), &measured.summaries()),
    );
    out.push_str(&paragraph(&goal(measured), 2));
    out.push('\n');
    for class in Class::ALL {
        out.push_str(&class_section(class, measured));
        out.push('\n');
        if class == Class::Interval {
            out.push_str(&derived_section(measured));
            out.push('\n');
            out.push_str(&ablation_section(measured));
            out.push('\n');
        }
    }
    out.push_str(&heading("Signs: which way published findings say that a change goes"));
    for sign in &measured.signs {
        out.push_str(&sign_text(sign));
    }
    out
}

/// What is said above the bands.
pub const BANDS_TITLE: &str = "Bands that the measured cases support, as factors on a prediction";

/// What is said above the figures that follow from the same measurements.
pub const DERIVED_TITLE: &str = "Of the same specimens, whatever the layers";

/// What these figures are.
pub const DERIVED_LEAD: &str = "Ratios and dead times, t12 − (t24 − t12), of what was measured above: they \
are not counted again. The ratios need neither mass nor thickness.";

/// What is said above the predictions with one effect left out.
pub const ABLATION_TITLE: &str = "What water that moves and fibres that char are worth";

/// What these predictions are.
pub const ABLATION_LEAD: &str = "Each specimen in the middle of what its source leaves open, predicted with \
every effect and with one left out, in s. Without moving vapour nothing chars. Dead time: t12 − (t24 − t12). \
No effect is kept or left out for what it does to this table.";

/// Columns of that table, after the case and its figure.
pub fn ablation_heads() -> Vec<String> {
    let left_out = LEFT_OUT
        .iter()
        .map(|effect| format!("without {}", effect.word().trim_start_matches("moving-")));
    ["measured".to_owned(), "predicted".to_owned()].into_iter().chain(left_out).collect()
}

/// The figures of a row, in the order of [`ablation_heads`].
pub fn ablation_cells(row: &Ablation) -> Vec<String> {
    let told = |t: &f64| digits(*t, 3);
    [row.measured, row.predicted].iter().chain(&row.without).map(told).collect()
}

/// How the bands were found, in words.
pub fn band_rule() -> String {
    format!(
        "Measured over predicted (the prediction in the middle of its range), published cases alone. \
         {CASES_FOR_LIMITS} cases and more: 5 % and 95 % prediction limits of the logarithm of the ratio, \
         Student's t. Fewer: their range over and times {WIDENING}, a judgement. Bands are rounded outwards. The felts are of one paper, \
         the plies one suit; no case says anything of the others. A band is no certificate: what a target \
         needs is in what the commands print."
    )
}

/// The bands: measured over predicted, and by what they are found.
pub fn bands(measured: &Measured) -> Grid {
    let two = |v: f64| fixed(v, 2);
    let row = |s: &Supported| {
        let ratios =
            s.ratios.map_or("–".to_string(), |(low, high)| match two(low) == two(high) {
                true => two(low),
                false => format!("{} to {}", two(low), two(high)),
            });
        let band = s.band.map_or("–".to_string(), |band| {
            let (lower, upper) = band.hundredths();
            format!("{} to {}", two(lower), two(upper))
        });
        let by = s.band.map_or("not reached", |band| band.rule.word());
        let of = (s.subject.word().to_string(), s.of.word().to_string());
        [of.0, of.1, s.n.to_string(), ratios, band, by.to_string()]
    };
    let all = measured.supported();
    let (known, unknown): (Vec<&Supported>, Vec<&Supported>) = all.iter().partition(|s| s.n > 0);
    let mut grid = Grid::new(["layers", "figure", ">cases", ">measured/predicted", ">band", "by"]);
    known.into_iter().for_each(|one| grid.row(row(one)));
    for subject in Subject::OF_BANDS {
        let words = unknown.iter().filter(|s| s.subject == subject).map(|s| s.of.word());
        let words: Vec<&str> = words.collect();
        if !words.is_empty() {
            let [none, dash, by] = ["0", "–", "no case"].map(String::from);
            grid.row([subject.word().into(), words.join(", "), none, dash.clone(), dash, by]);
        }
    }
    grid
}

/// The comparisons in one sentence.
pub fn summary(measured: &Measured) -> String {
    let n = |class| measured.comparisons.iter().filter(|c| c.class == class).count();
    let right = measured.signs.iter().filter(|sign| sign.is_right).count();
    format!(
        "{} interval cases, {} complete ones ({N_FABRIC_COMPLETE} of fabric) and {} bands from \
         memory; {right} of {} signs as published. Comparisons have no bound to keep.",
        n(Class::Interval),
        n(Class::Complete),
        n(Class::Band),
        measured.signs.len()
    )
}

fn class_section(class: Class, measured: &Measured) -> String {
    let found: Vec<&Comparison> =
        measured.comparisons.iter().filter(|c| c.class == class).collect();
    let mut out = heading(&format!("Measured, {}: {} cases", class.word(), found.len()));
    let mut lead = format!("{}.", capital(class.describe()));
    if class == Class::Complete {
        lead = format!("{lead} {}", no_fabric());
    }
    out.push_str(&paragraph(&lead, 2));
    out.push_str(&cases_text(&found, class));
    out
}

fn derived_section(measured: &Measured) -> String {
    let mut out = heading(&format!("{DERIVED_TITLE}: {} figures", measured.derived.len()));
    out.push_str(&paragraph(DERIVED_LEAD, 2));
    out.push_str(&cases_text(&measured.derived.iter().collect::<Vec<_>>(), Class::Interval));
    out
}

/// A head on two lines.
fn in_two(head: &str) -> [String; 2] {
    let (first, second) = head.split_once(' ').unwrap_or((head, ""));
    [first.to_owned(), second.to_owned()]
}

fn ablation_section(measured: &Measured) -> String {
    use Align::{Left, Right};
    let mut out = heading(ABLATION_TITLE);
    out.push_str(&paragraph(ABLATION_LEAD, 2));
    let mut table = Table::new(&[Left, Left, Right, Right, Right, Right, Right]);
    let named = |case: &str, figure: &str| [case.to_owned(), figure.to_owned()].into_iter();
    let heads: Vec<[String; 2]> = ablation_heads().iter().map(|head| in_two(head)).collect();
    let line = |i: usize| heads.iter().map(move |head| head[i].clone());
    table.row(named("case", "figure").chain(line(0)).collect::<Vec<_>>());
    table.row(named("", "").chain(line(1)).collect::<Vec<_>>());
    let mut before = "";
    for row in &measured.ablations {
        let name = if row.specimen == before { "" } else { &row.specimen };
        before = &row.specimen;
        table.row(named(name, &row.figure).chain(ablation_cells(row)).collect::<Vec<_>>());
    }
    out.push_str(&table.render());
    out
}

/// Table, notes and sources of some cases of a class.
fn cases_text(found: &[&Comparison], class: Class) -> String {
    let mut out = table(&shown(class), found);
    if class == Class::Interval {
        out.push_str(&paragraph(
            "Ratio: measured over predicted. What lies furthest off comes first.",
            2,
        ));
    }
    for note in notes(found) {
        out.push_str(&hanging("· ", &note, 2));
    }
    for (source, provenance) in sources(found) {
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

/// Sources of some cases, each once, with how they are known.
pub fn sources<'c>(found: &[&'c Comparison]) -> Vec<(&'c str, &'c str)> {
    let mut all: Vec<(&str, &str)> = Vec::new();
    for c in found {
        // rows of a table differ in which columns were seen: the table is named once
        let source = c.source.split(';').next().unwrap_or("");
        if !all.iter().any(|(known, _)| known.split(';').next() == Some(source)) {
            all.push((c.source.as_str(), c.provenance.as_str()));
        }
    }
    all
}

/// How the comparisons stand to the project's goal: fabric alone is held against it.
pub fn goal(measured: &Measured) -> String {
    let of = |class| measured.median_absolute(&[class]);
    let fabric = of(Class::Interval);
    let word = if fabric <= GOAL { "met" } else { "not met" };
    let percent = |share: f64| percent(share).replace('+', "");
    format!(
        "Median of the sizes, uncalibrated: {} % on interval cases, the only ones of fabric (goal \
         {} %: {word}), {} % on complete ones, which are bare skin alone. Agree: a complete case \
         within {} %, otherwise one range inside the other. Ranges count from their nearest end.",
        percent(fabric),
        PERCENT.outside(GOAL),
        percent(of(Class::Complete)),
        PERCENT.outside(GOAL),
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
