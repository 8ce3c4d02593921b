//! A layup under pressure: times, and thickness below them.

use crate::bench::figure::figure_name;
use crate::bench::outcome::{Figures, When};
use crate::chart::bars::{Bar, BarChart, BarGroup, Tint, draw_bars};
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading, SHEET, Sheet};
use crate::chart::text::number;
use crate::garment::target::Figure;
use crate::physics::units::{KILOPASCALS, MILLIMETRES};
use crate::study::pressed::{PressedRow, PressedStudy, Stand};

/// The chart of a layup under pressure as SVG.
///
/// - `sentence`: what pressure takes, in words
///
/// Errors: no time is reached, a value that is not finite.
pub fn pressed_chart(study: &PressedStudy, sentence: &str) -> Result<String, ChartError> {
    let rise = figure_name(Figure::Rise24, &study.exposure);
    let name = &study.layup.name;
    let heading = Heading {
        title: format!("{name} under pressure"),
        subtitle: sentence.to_owned(),
        source: format!("layup {name}, exposure {}", study.exposure.name),
        summary: format!("Times and thickness under pressure. {sentence}"),
    };
    let group =
        |row: &PressedRow, bars: Vec<Option<Bar>>| BarGroup { label: label(row.stand), bars };
    let times = BarChart {
        heading: Heading::default(),
        axis: Axis::new("time [s]"),
        names: [rise, "second-degree burn"].map(String::from).to_vec(),
        groups: study.rows.iter().map(|row| group(row, times(row).map(bar).to_vec())).collect(),
        targets: Vec::new(),
    };
    let thickness = |row: &PressedRow| {
        let value = MILLIMETRES.outside(row.layup.thickness());
        vec![Some(Bar { value, whisker: None, note: number(value, 2) })]
    };
    let thick = BarChart {
        heading: Heading::default(),
        axis: Axis::new("thickness of plies and gaps [mm]"),
        names: vec!["thickness".to_owned()],
        groups: study.rows.iter().map(|row| group(row, thickness(row))).collect(),
        targets: Vec::new(),
    };
    let mut sheet = Sheet::begin(&heading, SHEET);
    let top = sheet.top;
    let middle = draw_bars(&mut sheet.canvas, &times, top, Tint::OfBar)?;
    let bottom = draw_bars(&mut sheet.canvas, &thick, middle + 14.0, Tint::OfBar)?;
    sheet.finish(bottom)
}

fn label(stand: Stand) -> String {
    match stand {
        Stand::AsItLies => "as it lies".to_owned(),
        Stand::Touching => "plies touching".to_owned(),
        Stand::Under(pressure) => {
            let kilopascal = KILOPASCALS.outside(pressure);
            number(kilopascal, if kilopascal < 1.0 { 2 } else { 1 })
                .trim_end_matches('0')
                .trim_end_matches('.')
                .to_owned()
                + " kPa"
        }
    }
}

fn times(row: &PressedRow) -> [Option<When>; 2] {
    let disc = row.outcome.disc.as_ref().and_then(|run| match &run.figures {
        Figures::Disc(disc) => Some(disc.rise24),
        Figures::Skin(_) => None,
    });
    let skin = row.outcome.skin.as_ref().and_then(|run| match &run.figures {
        Figures::Skin(skin) => Some(skin.second_degree),
        Figures::Disc(_) => None,
    });
    [disc, skin]
}

fn bar(when: Option<When>) -> Option<Bar> {
    match when {
        Some(When::At { t, error }) => Some(Bar {
            value: t,
            whisker: Some((t - error, t + error)),
            note: format!("{} s", number(t, 1)),
        }),
        _ => None,
    }
}
