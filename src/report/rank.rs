//! Layups side by side: order, table and CSV.

use crate::bench::figure::{Told, figure_name, filed, shown};
use crate::bench::lies::Stack;
use crate::bench::outcome::{ColumnKind, When};
use crate::garment::suit::{sewn_density, thread_density};
use crate::garment::target::{Figure, Target};
use crate::report::anchored;
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::exposure;
use crate::report::figures::{BEYOND_MARK, cell};
use crate::report::lies;
use crate::report::number::fixed;
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice, own_tests};
use crate::report::verdict::{self, answer, rules};
use crate::report::words::when_with_error;
use crate::study::ordering::{By, Placed, Ranking};

/// The rankings of one or more exposures in text.
pub fn rank_text(rankings: &[Ranking<'_>], targets: &[&Target]) -> String {
    let all = rankings.iter().flat_map(|ranking| &ranking.placed);
    let mut out = lies::first_line(all.map(|placed| placed.outcome.lies.stack()));
    for ranking in rankings {
        let Some(first) = ranking.placed.first() else { continue };
        let exposure = &first.outcome.exposure;
        out.push_str(&heading(&format!("Side by side: {}", exposure.name)));
        out.push_str(&paragraph(&exposure::sentence(exposure), 2));
        out.push_str(&paragraph(&order_words(ranking), 2));
        out.push('\n');
        out.push_str(&table(ranking));
        places_of_skin(ranking).iter().for_each(|line| out.push_str(&paragraph(line, 2)));
        out.push_str(&paragraph(&remark(ranking), 2));
        own_tests(&mut out, &all_told(ranking));
        if !targets.is_empty() {
            out.push('\n');
            out.push_str(&heading("Against the targets"));
            out.push_str(&against(ranking, targets));
        }
        out.push('\n');
    }
    out.push_str(&notice());
    out
}

/// What the layups are ordered by, and which one differences are counted from.
pub fn order_words(ranking: &Ranking<'_>) -> String {
    let base = ranking.placed.iter().find(|placed| placed.is_base);
    let base = base.map_or(String::new(), |placed| placed.outcome.layup.name.clone());
    let by = match (ranking.by, ranking.placed.first()) {
        (By::Mass, _) => "Lightest first".to_string(),
        (By::Thickness, _) => "Thinnest first".to_string(),
        (By::Figure(figure), Some(first)) => {
            let most = if figure == Figure::Tpp { "Highest" } else { "Longest" };
            format!("{most} {} first", figure_name(figure, &first.outcome.exposure))
        }
        _ => String::new(),
    };
    format!("{by}; differences counted from \"{base}\".")
}

fn table(ranking: &Ranking<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Right, Left, Right, Left, Right, Right, Right, Right, Right]);
    let figure = ranking.by.figure();
    let (unit, scale) = (shown(figure).unit, shown(figure).outside(1.0));
    let name = ranking.placed.first().map_or("", |p| figure_name(figure, &p.outcome.exposure));
    let name = if figure == Figure::SecondDegree { "2nd degree" } else { name };
    let per = format!("{unit} per");
    table.row(["", "", name, "", "mass", "thick", "more", "more", &per]);
    table.row(["", "layup", unit, "", "g/m²", "mm", unit, "g/m²", "100 g/m²"]);
    for (i, placed) in ranking.placed.iter().enumerate() {
        let layup = &placed.outcome.layup;
        let (value, mark) = cell(&placed.found, figure);
        let sign = |text: String| {
            if text.starts_with('-') || text == "0" || text == "0.00" {
                text
            } else {
                format!("+{text}")
            }
        };
        let more = match placed.gain {
            _ if placed.is_base => "base".to_string(),
            Some(gain) => sign(fixed(scale * gain, 2)),
            None => "–".to_string(),
        };
        let grams =
            if placed.is_base { "base".to_string() } else { sign(fixed(1e3 * placed.added, 0)) };
        table.row([
            (i + 1).to_string(),
            format!("{}{}", layup.name, lies::after_name(placed.outcome.lies.stack())),
            value,
            mark.to_string(),
            fixed(1e3 * sewn_density(layup), 0),
            fixed(1e3 * layup.thickness(), 2),
            more,
            grams,
            placed.per_mass().map_or("–".to_string(), |per| fixed(0.1 * scale * per, 2)),
        ]);
    }
    table.render()
}

/// What skin suffers at both places of each quilted layup, and why a quilted one lies flat.
pub fn places_of_skin(ranking: &Ranking<'_>) -> Vec<String> {
    let line = |placed: &Placed<'_>| {
        let (name, own) = (&placed.outcome.layup.name, &placed.outcome.lies);
        if let Some(why) = lies::why_flat(own.stack()) {
            return Some(format!("{name}: {why}."));
        }
        let quilted = lies::beside(Stack::Quilted(&own.over_cell()?.quilting));
        let seconds = |when: When| {
            let s = if matches!(when, When::At { .. }) { " s" } else { "" };
            format!("{}{s}", when_with_error(&when))
        };
        let [stitch, centre] = placed.outcome.second_degrees()?.map(seconds);
        Some(format!(
            "{name}: {quilted}, one disc behind a whole cell; second-degree burn of skin at a stitch \
             line {stitch}, at a cell's centre {centre}."
        ))
    };
    ranking.placed.iter().filter_map(line).collect()
}

/// What own tests make of the figures, in the ranking's order; empty where no tests were asked.
pub fn all_told(ranking: &Ranking<'_>) -> Vec<Told> {
    ranking.placed.iter().filter_map(|placed| placed.told.clone()).collect()
}

/// What ± and † mean, and which neighbours are too close to be told apart.
pub fn remark(ranking: &Ranking<'_>) -> String {
    let mut out = "± is the numerical error alone; fabric data and model weigh more.".to_string();
    if ranking.placed.iter().any(|placed| thread_density(&placed.outcome.layup) > 0.0) {
        out.push_str(" Masses are of the plies with their quilting thread.");
    }
    if ranking.placed.iter().any(|placed| placed.found.is_beyond()) {
        out.push_str(&format!(
            " {BEYOND_MARK} comes after a ply has gone past its limit, outside the model's validity."
        ));
    }
    if ranking.placed.iter().any(|placed| placed.told.is_some()) {
        out.push_str(
            " The figure is the model's; order and differences are those of the anchored one.",
        );
    }
    let n = ranking.n_too_close();
    if n > 0 {
        out.push_str(&format!(
            " {n} of {} neighbours lie closer together than the bench may lie from a prediction: their \
             order is too close to call for real fabric.",
            ranking.placed.len() - 1,
        ));
    }
    out
}

fn against(ranking: &Ranking<'_>, targets: &[&Target]) -> String {
    use Align::Left;
    let mut table = Table::new(&[Left, Left, Left, Left]);
    let mut asked = Vec::new();
    for target in targets {
        for (i, placed) in ranking.placed.iter().enumerate() {
            let call = placed.held(target);
            let head = match i {
                0 => [target.name.clone(), verdict::asks(&call.rule)],
                _ => [String::new(), String::new()],
            };
            let [target, asks] = head;
            let layup = placed.outcome.layup.name.clone();
            table.row([target, asks, layup, verdict::in_short(&call)]);
            asked.push(call.rule);
        }
    }
    let mut out = table.render();
    rules(asked.iter()).iter().for_each(|sentence| out.push_str(&paragraph(sentence, 2)));
    out
}

/// The disc's rise over time of every layup and exposure as CSV, one row a time.
///
/// Errors: a value that is not a finite number.
pub fn rank_curves_csv(rankings: &[Ranking<'_>]) -> Result<String, CurvesError> {
    let mut columns = Columns::new(["exposure", "layup", "time_s", "temperature_rise_C"]);
    for placed in rankings.iter().flat_map(|ranking| &ranking.placed) {
        let outcome = placed.outcome;
        let curves = outcome.disc.iter().map(|run| &run.curves);
        let rises = curves.flat_map(|curves| {
            let rise = curves.columns.iter().find(|column| column.kind == ColumnKind::Rise);
            curves.t.iter().zip(rise.into_iter().flat_map(|column| &column.values))
        });
        for (t, rise) in rises {
            columns.rows.push(vec![
                Cell::word(&outcome.exposure.name),
                Cell::word(&outcome.layup.name),
                Cell::Number(*t),
                Cell::Number(*rise),
            ]);
        }
    }
    columns.csv()
}

/// The rankings as CSV, one row a layup and exposure.
///
/// Errors: a value that is not a finite number.
pub fn rank_csv(rankings: &[Ranking<'_>], targets: &[&Target]) -> Result<String, CurvesError> {
    let figure = rankings.first().map_or(Figure::Rise24, |ranking| ranking.by.figure());
    let (unit, scale) = (filed(figure).suffix, filed(figure).outside(1.0));
    let mut headers: Vec<String> =
        ["exposure", "place", "layup", "computed", "figure"].map(String::from).to_vec();
    headers.extend(["value", "error", "more"].map(|word| format!("{word}_{unit}")));
    headers.extend(
        ["areal_density_g_m2", "more_g_m2", "thickness_mm", "beyond_limit"].map(String::from),
    );
    headers.extend(targets.iter().map(|target| format!("against {}", target.name)));
    let is_anchored = rankings.iter().any(|ranking| !all_told(ranking).is_empty());
    if is_anchored {
        headers.extend(anchored::heads(unit));
    }
    let mut columns = Columns::new(headers);
    for ranking in rankings {
        for (i, placed) in ranking.placed.iter().enumerate() {
            let layup = &placed.outcome.layup;
            let mut row = vec![
                Cell::word(&placed.outcome.exposure.name),
                Cell::Number((i + 1) as f64),
                Cell::word(&layup.name),
                Cell::word(lies::word(placed.outcome.lies.stack())),
                Cell::word(figure_name(figure, &placed.outcome.exposure)),
            ];
            row.extend(
                placed.valued().map_or([Cell::Blank, Cell::Blank], |v| Cell::valued(&v, scale)),
            );
            row.extend([
                Cell::maybe(placed.gain.map(|gain| scale * gain)),
                Cell::Number(1e3 * sewn_density(layup)),
                Cell::Number(1e3 * placed.added),
                Cell::Number(1e3 * layup.thickness()),
                Cell::word(if placed.found.is_beyond() { "yes" } else { "no" }),
            ]);
            row.extend(placed.verdicts(targets).iter().map(|v| Cell::word(&answer(v))));
            if is_anchored {
                row.extend(anchored::cells(placed.told.as_ref(), filed(figure)));
            }
            columns.rows.push(row);
        }
    }
    columns.csv()
}
