//! How far own tests lie from predictions, in text and as a chart's data.

use crate::bench::figure::shown;
use crate::garment::band::Factors;
use crate::garment::exposure::Exposure;
use crate::report::anchored::{Told, sentences};
use crate::report::number::{fixed, significant};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice};
use crate::report::words::list;
use crate::study::book::how_far::{Drift, HowFar, Row};

/// The tests beside their predictions.
pub fn how_far_text(far: &HowFar<'_>) -> String {
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
    out.push('\n');
    out.push_str(&heading("Whether the ratios drift"));
    out.push_str(&paragraph(&drift_words(&far.drifts), 2));
    out.push('\n');
    out.push_str(&notice());
    out
}

fn cells(row: &Row<'_>) -> [String; 6] {
    let test = row.tested.test;
    let unit = shown(test.figure);
    let value = |si: f64| format!("{} {}", significant(unit.per_si * si, 3), unit.word);
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

fn drift_words(drifts: &[Drift]) -> String {
    if drifts.is_empty() {
        return "Four tests with a prediction are needed to tell.".to_owned();
    }
    let (told, chance): (Vec<&Drift>, Vec<&Drift>) =
        drifts.iter().partition(|drift| drift.beyond_chance);
    let mut said = Vec::new();
    for drift in told {
        let way = if drift.correlation > 0.0 { "rise" } else { "fall" };
        said.push(format!(
            "The ratios {way} with {} by more than chance explains (correlation {}, {} tests).",
            drift.along,
            fixed(drift.correlation, 2),
            drift.n
        ));
    }
    let names: Vec<&str> = chance.iter().map(|drift| drift.along).collect();
    if !names.is_empty() {
        said.push(format!("No drift beyond chance with {}.", list(&names)));
    }
    said.join(" ")
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
    out.push('\n');
    out.push_str(&notice());
    out
}
