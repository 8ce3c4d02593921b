//! The columns of what a spread comes from, and the file of odds.

use crate::bench::figure::{Figured, Told, filed};
use crate::physics::units::{BARE, PERCENT};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::csv;
use crate::report::number::{Shown, fixed};
use crate::report::odds::words::{OddsOf, figure_words, input_in_full, input_name, origin_word};
use crate::study::odds::indices::{Estimate, Index};
use crate::study::odds::inputs::Input;
use crate::study::odds::result::{Contribution, Shares};
use crate::study::odds::spread::Share;

/// What an input adds to the spread, as text lists it.
pub fn contributions<'a>(of: &OddsOf<'a>) -> Vec<Column<'a, Contribution>> {
    let (unit, inputs) = (of.unit(), &of.odds.inputs.all);
    let of_rows = of.odds.shares == Shares::Rows;
    let input = |one: &Contribution| -> &'a Input { &inputs[one.input] };
    let share = |heading: &str, part: fn(&Index) -> Estimate| {
        Column::text(heading, PERCENT, move |one: &Contribution| {
            let words = |index| estimate_words(part(index), of_rows);
            one.index.as_ref().map_or("–".to_string(), words)
        })
    };
    let both = move |one: &Contribution| {
        let input = input(one);
        PERCENT.short(input.of_set.hypot(input.of_specimen), 1)
    };
    let swing = move |one: &Contribution| {
        let [low, high] = one.swing.map(|figured| figure_words(figured, unit));
        format!("{low} {high}")
    };
    vec![
        Column::text("", BARE, move |one| input_name(input(one))).under("input"),
        Column::text("±", PERCENT, both),
        Column::text("", BARE, move |one| origin_word(input(one)).to_string()).under("from"),
        share("alone", |index| index.first_order),
        share("in all", |index| index.total),
        Column::text(&format!("{} at 5", of.figure()), unit, swing)
            .under(format!("and 95 %, {}", unit.unit)),
    ]
}

/// "3.3 ± 0.8"; without ± where one for all is told below.
fn estimate_words(estimate: Estimate, with_error: bool) -> String {
    let [value, error] = [estimate.value, estimate.half_width].map(|x| PERCENT.outside(x));
    let decimals = usize::from(error < 1.0);
    if !with_error {
        return fixed(value, decimals);
    }
    format!("{} ± {}", fixed(value, decimals), fixed(error.max(0.1), decimals))
}

/// A line of the file: odds, quantiles, a draw or an input, each with what it has.
#[derive(Default)]
struct Line {
    row: &'static str,
    name: String,
    known_by: &'static str,
    /// Half width of an input's 95 % from set to set, and from specimen to specimen.
    widths: Option<[f64; 2]>,
    /// A share and the ends of its interval.
    shares: Option<[f64; 3]>,
    total: Option<Estimate>,
    value: Option<f64>,
    /// Ends of the figure.
    ends: Option<[f64; 2]>,
    n: Option<usize>,
}

/// Odds, quantiles and contributions as CSV: one row for each.
///
/// Errors: a value that is not a finite number.
pub fn odds_csv(of: &OddsOf<'_>) -> Result<String, CurvesError> {
    let unit = filed(of.target.figure);
    let share = |at: usize| move |line: &Line| line.shares.map(|all| all[at]);
    let end = |at: usize| move |line: &Line| line.ends.map(|all| all[at]);
    let columns = [
        Column::new("layup", BARE, |_: &Line| of.layup.name.clone()),
        Column::new("target", BARE, |_: &Line| of.target.name.clone()),
        Column::new("row", BARE, |line: &Line| line.row),
        Column::new("name", BARE, |line: &Line| line.name.clone()),
        Column::new("known_by", BARE, |line: &Line| line.known_by),
        Column::new("of_set", PERCENT, |line: &Line| line.widths.map(|[of_set, _]| of_set)),
        Column::new("of_specimen", PERCENT, |line: &Line| line.widths.map(|[_, of_one]| of_one)),
        Column::new("value", PERCENT, share(0)),
        Column::new("low", PERCENT, share(1)),
        Column::new("high", PERCENT, share(2)),
        Column::new("total", PERCENT, |line: &Line| line.total.map(|total| total.value)),
        Column::new("total_half_width", PERCENT, |line: &Line| {
            line.total.map(|total| total.half_width)
        }),
        Column::new("value", unit, |line: &Line| line.value),
        Column::new("low", unit, end(0)),
        Column::new("high", unit, end(1)),
        Column::new("n", BARE, |line: &Line| line.n),
        Column::new("whole", BARE, |_: &Line| of.odds.whole),
    ];
    csv(&columns, &lines(of))
}

fn lines(of: &OddsOf<'_>) -> Vec<Line> {
    let odds = of.odds;
    let mut all = Vec::new();
    for (name, view) in [("tolerances", &odds.tolerances), ("with_model", &odds.with_model)] {
        let n = Some(odds.n_sets);
        let counted = |row: &'static str, share: &Share| Line {
            row,
            name: name.to_string(),
            shares: Some([share.value(), share.low, share.high]),
            n,
            ..Line::default()
        };
        all.extend([counted("odds_one", &view.one), counted("odds_set", &view.set)]);
        all.push(Line {
            row: "figure",
            name: name.to_string(),
            value: Some(view.median.value),
            ends: Some([view.low.value, view.high.value]),
            n,
            ..Line::default()
        });
    }
    all.extend(Told::of_verdict("", &of.verdict).map(|told| Line {
        row: "anchored",
        name: told.anchoring().map_or(String::new(), |own| own.tests.join("; ")),
        known_by: "own tests",
        value: told.anchored().map(|[middle, _, _]| middle),
        ends: told.anchored().map(|[_, low, high]| [low, high]),
        n: told.anchoring().map(|own| own.tests.len()),
        ..Line::default()
    }));
    let drawn = |(i, figured): (usize, &Figured)| Line {
        row: "drawn",
        name: format!("set {}", i + 1),
        known_by: if figured.reached { "" } else { "not reached, a bound" },
        value: Some(figured.value),
        ..Line::default()
    };
    all.extend(odds.drawn.iter().enumerate().map(drawn));
    all.extend(odds.contributions.iter().map(|one| line_of_input(of, one)));
    all
}

fn line_of_input(of: &OddsOf<'_>, contribution: &Contribution) -> Line {
    let n = match of.odds.shares {
        Shares::Surface { .. } => of.odds.n_sets,
        Shares::Rows | Shares::Rough { .. } | Shares::None => of.odds.n_rows,
    };
    let input = &of.odds.inputs.all[contribution.input];
    let index = contribution.index;
    let interval = |Estimate { value, half_width }| [value, value - half_width, value + half_width];
    Line {
        row: "input",
        name: input_in_full(input, of.layup),
        known_by: origin_word(input),
        widths: Some([input.of_set, input.of_specimen]),
        shares: index.map(|index| interval(index.first_order)),
        total: index.map(|index| index.total),
        value: Some(of.odds.nominal.figured().value),
        ends: Some(contribution.swing.map(|figured| figured.value)),
        n: index.map(|_| n),
    }
}
