//! How far own tests lie from predictions, in text and CSV.

use crate::bench::figure::{Told, filed, shown};
use crate::garment::band::Factors;
use crate::garment::exposure::Exposure;
use crate::physics::units::{BARE, KILOJOULES_PER_AREA, PERCENT, SECONDS};
use crate::report::anchored::{self, sentences};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::csv;
use crate::report::form::value::Object;
use crate::report::number::{Shown, fixed, significant};
use crate::report::sensitivity;
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{closed, heading, section};
use crate::report::words::list;
use crate::shelf::lab::book::Test;
use crate::study::book::drift::{CHANCE, Drift, N_CASES_LEAST, N_VALUES_LEAST, Told as Of};
use crate::study::book::explain::Explanation;
use crate::study::book::how_far::{HowFar, Row};

/// Tests held against predictions, with what would explain each.
pub struct Far<'a> {
    /// The tests.
    pub far: &'a HowFar<'a>,
    /// What would explain each, in their order.
    pub explained: &'a [Vec<Explanation>],
}

/// The tests beside their predictions.
pub fn how_far_text(of: &Far<'_>) -> String {
    let far = of.far;
    let mut out = heading("Own tests against predictions");
    let aligns = [Align::Left, Align::Left, Align::Right, Align::Right, Align::Right, Align::Left];
    let mut table = Table::new(&aligns);
    table.row(["layup", "figure", "measured", "predicted", "ratio", ""]);
    for row in &far.rows {
        table.row(cells(row));
    }
    out.push_str(&table.render());
    out.push_str(&paragraph(
        "Ratio: bench over prediction, geometric mean of the specimens; ± their scatter.",
        2,
    ));
    out.push('\n');
    out.push_str(&heading("By class, exposure and figure"));
    let aligns = [Align::Left, Align::Left, Align::Left, Align::Right, Align::Right, Align::Left];
    let mut table = Table::new(&aligns);
    table.row(["class", "exposure", "figure", "tests", "ratio", "from … to"]);
    for group in &far.groups {
        let [least, mean, most] = group.ratios.map(|ratio| fixed(ratio, 2));
        let n = group.n.to_string();
        let range = format!("{least} … {most}");
        let (class, exposure) = (group.class.clone(), group.exposure.clone());
        table.row([class, exposure, group.figure.clone(), n, mean, range]);
    }
    out.push_str(&table.render());
    section(&mut out, "What would explain each", &explained(of));
    out.push('\n');
    out.push_str(&heading("Whether the ratios drift"));
    for sentence in drift_words(&far.drifts) {
        out.push_str(&paragraph(&sentence, 2));
    }
    closed(out)
}

fn explained(of: &Far<'_>) -> String {
    if of.explained.iter().all(Vec::is_empty) {
        let said = "Properties are told for tests of the 24 K time and of the second-degree burn.";
        return paragraph(said, 2);
    }
    let mut table =
        Table::new(&[Align::Left, Align::Left, Align::Left, Align::Right, Align::Right]);
    table.row(["layup", "figure", "property", "would move %", "known to ± %"]);
    for (row, all) in of.far.rows.iter().zip(of.explained) {
        let test = row.tested.test;
        for (i, one) in all.iter().enumerate() {
            let head = match i {
                0 => [test.layup.clone(), test.figure_name.clone()],
                _ => [String::new(), String::new()],
            };
            let [layup, figure] = head;
            let change = PERCENT.fixed(one.change, 0);
            let sign = if one.change > 0.0 { "+" } else { "" };
            let tolerance = PERCENT.fixed(one.tolerance, 0);
            let name = sensitivity::name(one.property);
            table.row([layup, figure, name, format!("{sign}{change}"), tolerance]);
        }
    }
    let note = "By the derivatives: the property, if it alone were another, that would bring the prediction \
                to the mean read; first what need move least for what it is known to. Beyond some tens of \
                percent a derivative is a hint and no more, and several may be other together.";
    table.render() + &paragraph(note, 2)
}

fn cells(row: &Row) -> [String; 6] {
    let test = row.tested.test;
    let unit = shown(test.figure);
    let value = |si: f64| format!("{} {}", significant(unit.outside(si), 3), unit.unit);
    let measured = value(row.measured);
    let changed = if row.tested.has_changed() { ", file changed since" } else { "" };
    let (predicted, ratio, remark) = match (row.found.valued(), row.ratio()) {
        (Some(valued), Some(ratio)) => {
            let scatter =
                row.scatter.map_or(String::new(), |s| format!(" ± {}", fixed(ratio * s, 2)));
            let within = match row.within() {
                Some(true) => "within the band",
                _ => "outside the band",
            };
            let ratio = format!("{}{scatter}", fixed(ratio, 2));
            (value(valued.value), ratio, within)
        }
        _ => ("–".to_owned(), String::new(), "not reached within the time looked at"),
    };
    let layup = test.layup.clone();
    [layup, test.figure_name.clone(), measured, predicted, ratio, format!("{remark}{changed}")]
}

fn drift_words(drifts: &[Drift]) -> Vec<String> {
    let mut said = Vec::new();
    let (mut few, mut chance): (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
    for drift in drifts {
        match drift.told {
            Of::TooFew => few.push(drift.along),
            Of::Chance { .. } => chance.push(drift.along),
            Of::Drift { correlation } => {
                let way = if correlation > 0.0 { "rise" } else { "fall" };
                said.push(format!(
                    "The ratios {way} with {} by more than chance explains: correlation {} over {} \
                     cases.",
                    drift.along,
                    fixed(correlation, 2),
                    drift.n_cases
                ));
            }
        }
    }
    if !chance.is_empty() {
        said.push(format!("No drift beyond chance with {}.", list(&chance)));
    }
    if !few.is_empty() {
        said.push(format!(
            "Too few different cases to tell of {}: {N_CASES_LEAST} are needed, with \
             {N_VALUES_LEAST} different values; tests of one layup washed as often are one case.",
            list(&few)
        ));
    }
    if few.len() < drifts.len() {
        said.push(format!(
            "Chance alone tells of a drift in {} of 100 books, over all four measures together.",
            PERCENT.fixed(CHANCE, 0)
        ));
    }
    said
}

/// A test with what would explain it.
pub struct FarRow<'a> {
    /// The test beside its prediction.
    pub row: &'a Row<'a>,
    explained: &'a [Explanation],
}

impl Far<'_> {
    /// Each test with what would explain it.
    pub fn rows(&self) -> Vec<FarRow<'_>> {
        let all = self.far.rows.iter().zip(self.explained);
        all.map(|(row, explained)| FarRow { row, explained }).collect()
    }
}

/// What is told of it beside the test itself, which CSV has in short.
pub fn of_rows<'a>() -> Vec<Column<'a, FarRow<'a>>> {
    let word = |name: &str, of: fn(&Row) -> String| {
        Column::new(name, BARE, move |of_test: &FarRow| of(of_test.row))
    };
    let count = |name: &str, of: fn(&Test) -> usize| {
        Column::new(name, BARE, move |of_test: &FarRow| of(of_test.row.tested.test)).not_in_json()
    };
    let value = |name: &str, unit, of: fn(&Row) -> Option<f64>| {
        let of = move |of_test: &FarRow| {
            of(of_test.row).filter(|_| filed(of_test.row.tested.test.figure) == unit)
        };
        Column::new(name, unit, of)
    };
    let measured = |unit| value("measured", unit, |row| Some(row.measured));
    let predicted =
        |unit| value("predicted", unit, |row| row.found.valued().map(|valued| valued.value));
    let in_words = |of_test: &FarRow| {
        let one = |one: &Explanation| {
            let change = PERCENT.fixed(one.change, 0);
            format!("{} by {change} %", sensitivity::name(one.property))
        };
        of_test.explained.iter().map(one).collect::<Vec<_>>().join("; ")
    };
    let explained =
        |of_test: &FarRow| -> Vec<Object> { of_test.explained.iter().map(explanation).collect() };
    vec![
        word("date", |row| row.tested.test.date.to_string()).not_in_json(),
        word("layup", |row| row.tested.test.layup.clone()).not_in_json(),
        word("class", |row| row.class.clone()),
        word("exposure", |row| row.tested.exposure.name.clone()).not_in_json(),
        word("figure", |row| row.tested.test.figure_name.clone()).not_in_json(),
        count("specimens", |test| test.values.len()),
        count("washed", |test| test.washed as usize),
        word("state", |row| row.found.state().to_string()).not_in_csv(),
        measured(SECONDS),
        predicted(SECONDS),
        measured(KILOJOULES_PER_AREA),
        predicted(KILOJOULES_PER_AREA),
        Column::new("ratio", BARE, |of_test: &FarRow| of_test.row.ratio()),
        Column::new("scatter", PERCENT, |of_test: &FarRow| of_test.row.scatter),
        Column::new("within_band", BARE, |of_test: &FarRow| of_test.row.within()),
        Column::new("file_changed_since", BARE, |of_test: &FarRow| {
            of_test.row.tested.has_changed()
        }),
        Column::new("explained_by", BARE, in_words).not_in_json(),
        Column::new("explained_by", BARE, explained).not_in_csv(),
    ]
}

/// What would bring a prediction to the mean read.
fn explanation(one: &Explanation) -> Object {
    Object::new()
        .with("property", sensitivity::name(one.property))
        .with_unit("change", PERCENT, one.change)
        .with_unit("tolerance", PERCENT, one.tolerance)
}

/// The tests beside their predictions as CSV, one row a test.
///
/// Errors: a value that is not a finite number.
pub fn how_far_csv(of: &Far<'_>) -> Result<String, CurvesError> {
    csv(&of_rows(), &of.rows())
}

/// One figure of a layup as the model and as the own tests have it.
pub fn anchored_text(told: &Told, exposure: &Exposure) -> String {
    let mut out = heading(&format!("{}, {} under {}", told.of, told.name, exposure.name));
    let band = &told.band;
    if let Some(anchoring) = told.anchoring() {
        let Factors { lower, upper } = anchoring.shelf;
        let said = format!(
            "By the shelf alone the bench may lie at {} to {} of a prediction for {}.",
            fixed(lower, 2),
            fixed(upper, 2),
            band.class.in_words()
        );
        out.push_str(&paragraph(&said, 2));
    }
    let plain = Told { of: String::new(), ..told.clone() };
    for sentence in sentences(std::slice::from_ref(&plain)) {
        out.push_str(&paragraph(&sentence, 2));
    }
    closed(out)
}

/// The same as CSV, one row.
///
/// Errors: a value that is not a finite number.
pub fn anchored_csv(told: &Told, exposure: &Exposure) -> Result<String, CurvesError> {
    let unit = filed(told.figure);
    let model = |told: &Told| told.found.valued().map(|valued| valued.value);
    let mut columns = vec![
        Column::new("layup", BARE, |told: &Told| told.of.clone()),
        Column::new("exposure", BARE, |_: &Told| exposure.name.clone()),
        Column::new("figure", BARE, |told: &Told| told.name),
        Column::new("model", unit, model),
    ];
    columns.extend(anchored::columns("", unit, |told: &Told| Some(told.clone())));
    csv(&columns, [told])
}
