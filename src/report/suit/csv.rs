//! A suit as CSV: a row for each panel with its own layup and with each alternative.

use crate::bench::figure::{Told, filed};
use crate::bench::outcome::When;
use crate::physics::units::{GRAMS, KILOPASCALS, PERCENT};
use crate::report::anchored;
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::suit::words;
use crate::study::suit_judged::Judged;

const HEADERS: [&str; 25] = [
    "panel",
    "place",
    "side",
    "count",
    "layup",
    "own",
    "area_m2",
    "cloth_g",
    "thread_g",
    "embroidery_g",
    "mass_g",
    "pressure_kPa",
    "target",
    "exposure",
    "figure_s",
    "figure_error_s",
    "figure_kJ_m2",
    "figure_error_kJ_m2",
    "margin_pct",
    "against",
    "taken_exact",
    "computed",
    "stitch_line_second_degree_s",
    "cell_centre_second_degree_s",
    "spare_pct",
];

/// The panels as CSV.
///
/// Errors: a value that is not a finite number.
pub fn suit_csv(judged: &Judged<'_>) -> Result<String, CurvesError> {
    let is_anchored = !judged.told().is_empty();
    let more = if is_anchored { anchored::heads("s_or_kJ_m2").to_vec() } else { Vec::new() };
    let mut columns = Columns::new(HEADERS.map(str::to_owned).into_iter().chain(more));
    for (i, (panel, studied)) in
        judged.study.suit.panels.iter().zip(&judged.study.panels).enumerate()
    {
        for (j, (fitted, judgement)) in studied.fitted.iter().zip(&judged.panels[i]).enumerate() {
            let mass = fitted.mass;
            let taken = judged.saving.as_ref().is_some_and(|s| s.exact.picks[i] == j);
            let yes = |is| Cell::word(if is { "yes" } else { "no" });
            let (unit, valued) = (filed(panel.target.figure), judgement.verdict.found.valued());
            let of = |key: &str| match valued {
                Some(valued) if unit.suffix == key => Cell::valued(&valued, unit.outside(1.0)),
                _ => [Cell::Blank, Cell::Blank],
            };
            let mut row = vec![
                Cell::word(&panel.name),
                Cell::word(panel.place.word()),
                Cell::word(panel.side.word()),
                Cell::Number(f64::from(panel.count)),
                Cell::word(&fitted.layup.name),
                yes(j == 0),
                Cell::Number(studied.area),
                Cell::Number(GRAMS.outside(mass.cloth)),
                Cell::Number(GRAMS.outside(mass.thread)),
                Cell::Number(GRAMS.outside(mass.embroidery)),
                Cell::Number(GRAMS.outside(mass.total())),
                Cell::maybe(panel.pressure.map(|p| KILOPASCALS.outside(p))),
                Cell::word(&panel.target.name),
                Cell::word(&panel.exposure.name),
            ];
            row.extend(of("s"));
            row.extend(of("kJ_m2"));
            row.extend([
                Cell::maybe(judgement.margin.map(|m| PERCENT.outside(m))),
                Cell::word(&words::answer(judgement)),
                yes(taken),
            ]);
            let stitched = judgement.stitched;
            let burns = |when: Option<When>| Cell::maybe(when.and_then(|when| when.t()));
            row.extend([
                Cell::word(if stitched.is_some() { "quilted" } else { "flat" }),
                burns(stitched.and_then(|s| s.at_stitch_line)),
                burns(stitched.and_then(|s| s.at_centre)),
                Cell::maybe(judgement.spare.map(|s| PERCENT.outside(s))),
            ]);
            if is_anchored {
                let told = Told::of_verdict("", &judgement.verdict);
                row.extend(anchored::cells(told.as_ref(), unit));
            }
            columns.rows.push(row);
        }
    }
    columns.csv()
}
