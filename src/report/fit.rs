//! A fit as text and CSV.

use crate::physics::units::{BARE, DEGREES_APART, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::fit_words::{name, otherwise, outside};
use crate::report::form::column::Column;
use crate::report::form::rows::csv;
use crate::report::number::{Shown, fixed, short, significant, with_error};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice};
use crate::report::words::{count, list};
use crate::report::{exposure, lies};
use crate::study::answer::stack;
use crate::study::fit::fitting::{Fit, LEVEL};
use crate::study::fit::levenberg::End;
use crate::study::fit::readings::Readings;
use crate::study::fit::twins::{Blur, Twins};

/// Most files named one by one.
const FILES_NAMED: usize = 4;

/// A file that was written, for the reader of the report.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// Its name.
    pub path: String,
    /// Largest difference of a reading when the file is read back [K] or [s]; none for a file that is
    /// not run.
    pub apart: Option<f64>,
}

/// The fit in text.
pub fn fit_text(fit: &Fit, written: &[Written]) -> String {
    let stack = stack(&fit.layup, fit.quilts);
    let mut out = lies::first_line([stack]);
    out.push_str(&heading(&format!("Fit: {}", fit.layup.name)));
    out.push_str(&lies::paragraph_on(stack));
    out.push_str(&paragraph(&measured(fit), 2));
    out.push_str(&paragraph(&exposure::sentence(&fit.exposure), 2));
    out.push('\n');
    section(&mut out, "Values", &values(fit));
    if fit.free.len() > 1 {
        section(&mut out, "How the values hang together", &correlation(fit));
    }
    section(&mut out, "Readings and fit", &residuals(fit));
    section(&mut out, "What the readings cannot tell", &cannot(fit));
    section(&mut out, "How exact the numbers are", &paragraph(&exactness(fit), 2));
    if !written.is_empty() {
        section(&mut out, "Written", &files(fit, written));
    }
    out.push_str(&notice());
    out
}

fn section(out: &mut String, title: &str, body: &str) {
    out.push_str(&heading(title));
    out.push_str(body);
    out.push('\n');
}

/// Unit of a reading.
pub fn unit(fit: &Fit) -> &'static str {
    match fit.readings {
        Readings::Curves(_) => "K",
        Readings::Times { .. } => "s",
    }
}

/// What was measured, in words.
pub fn measured(fit: &Fit) -> String {
    match &fit.readings {
        Readings::Curves(curves) => {
            let names: Vec<&str> = curves.iter().map(|curve| curve.name.as_str()).collect();
            let named = match names.len() {
                n if n <= FILES_NAMED => list(&names),
                n => format!("{} and {} more", names[..FILES_NAMED].join(", "), n - FILES_NAMED),
            };
            let mut out = format!(
                "{} of {} from {named}.",
                count(fit.readings.count(), "reading", "readings"),
                count(curves.len(), "specimen", "specimens")
            );
            for curve in curves {
                for note in &curve.notes {
                    out.push_str(&format!(" {} {note}.", curve.name));
                }
            }
            out
        }
        Readings::Times { times, deviation } => {
            let each: Vec<String> = times
                .iter()
                .map(|timed| format!("{} K after {} s", short(timed.rise, 1), short(timed.t, 3)))
                .collect();
            format!("Times alone: {}, each taken as ± {} s.", list(&each), short(*deviation, 3))
        }
    }
}

fn values(fit: &Fit) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Left, Right, Right, Left]);
    table.row(["", "", "before", "fitted", "95 % interval"]);
    for (i, free) in fit.free.iter().enumerate() {
        let (before, unit) = outside(free.what, free.start);
        let (value, _) = outside(free.what, fit.values[i]);
        let half = fit.half_widths[i].map(|half| outside(free.what, half).0);
        let (shown, interval) = match half {
            Some(half) if half >= value.abs() => {
                (significant(value, 3), "wider than the value itself".to_string())
            }
            Some(half) => {
                let (shown, error) = digits(value, half);
                let share =
                    PERCENT.fixed(half / value.abs(), if half < 0.1 * value { 1 } else { 0 });
                (shown, format!("± {error} (± {share} %)"))
            }
            None => (significant(value, 3), "the readings say nothing".to_string()),
        };
        let end = if fit.at_end[i] { ", at an end of its range" } else { "" };
        table.row([
            name(free.what, &fit.layup),
            unit.to_string(),
            significant(before, 3),
            shown,
            format!("{interval}{end}"),
        ]);
    }
    let mut out = table.render();
    if fit.free.iter().any(|free| ["W/(m·K)", "J/(kg·K)"].contains(&outside(free.what, 1.0).1)) {
        let text = "Properties that vary with temperature are given at 25 °C; their course with \
                    temperature is moved in proportion.";
        out.push_str(&paragraph(text, 2));
    }
    if fit.at_end.contains(&true) {
        let text = "A value at an end of its range was stopped there: its interval, and those of the \
                    others, mean little. Widen the range, or hold it and free something else.";
        out.push_str(&paragraph(text, 2));
    }
    out
}

/// Value and half width; small numbers with as many digits as the half width allows.
pub fn digits(value: f64, half: f64) -> (String, String) {
    if half >= 0.01 {
        return with_error(value, half);
    }
    let decimals = (1 - half.abs().max(1e-12).log10().floor() as i32).clamp(3, 9) as usize;
    (fixed(value, decimals), fixed(half, decimals))
}

fn correlation(fit: &Fit) -> String {
    let Some(matrix) = &fit.spread.correlation else {
        let text = "The readings leave at least one direction without any hold: no correlations.";
        return paragraph(text, 2);
    };
    let n = fit.free.len();
    let mut aligns = vec![Align::Left];
    aligns.extend(vec![Align::Right; n]);
    let mut table = Table::new(&aligns);
    let mut head = vec![String::new()];
    head.extend((1..=n).map(|i| format!("({i})")));
    table.row(head);
    for i in 0..n {
        let mut row = vec![format!("({}) {}", i + 1, name(fit.free[i].what, &fit.layup))];
        row.extend((0..=i).map(|j| fixed(matrix[[i, j]], 3)));
        table.row(row);
    }
    let text = format!("Correlations. Condition number {}.", condition(fit.spread.condition));
    table.render() + &paragraph(&text, 2)
}

fn condition(value: f64) -> String {
    if value.is_finite() { significant(value, 2) } else { "beyond bounds".to_string() }
}

fn residuals(fit: &Fit) -> String {
    use Align::{Left, Right};
    let unit = unit(fit);
    let read = fit.readings.values();
    let mut out = String::new();
    match &fit.readings {
        Readings::Curves(curves) => {
            let mut table = Table::new(&[Left, Right, Right, Right, Right, Right]);
            table.row(["", "readings", "before", "fitted", "mean", "largest"]);
            table.row(["", "", "rms, K", "rms, K", "K", "K"]);
            let mut from = 0;
            for curve in curves {
                let to = from + curve.points.len();
                let apart = |all: &[f64]| -> Vec<f64> {
                    all[from..to].iter().zip(&read[from..to]).map(|(a, b)| b - a).collect()
                };
                let (before, after) = (apart(&fit.before), apart(&fit.after));
                let largest = after.iter().fold(0.0f64, |m, r| m.max(r.abs()));
                let mean = after.iter().sum::<f64>() / after.len() as f64;
                table.row([
                    curve.name.clone(),
                    curve.points.len().to_string(),
                    fixed(rms(&before), 2),
                    fixed(rms(&after), 3),
                    fixed(mean, 3),
                    fixed(largest, 2),
                ]);
                from = to;
            }
            out.push_str(&table.render());
        }
        Readings::Times { times, .. } => {
            let mut table = Table::new(&[Left, Right, Right, Right, Right]);
            table.row(["rise", "measured", "before", "fitted", "less"]);
            table.row(["K", "s", "s", "s", "s"]);
            for (i, timed) in times.iter().enumerate() {
                table.row([
                    short(timed.rise, 1),
                    short(timed.t, 3),
                    fixed(fit.before[i], 2),
                    fixed(fit.after[i], 2),
                    fixed(timed.t - fit.after[i], 3),
                ]);
            }
            out.push_str(&table.render());
        }
    }
    let mut text = String::from("Readings less fit. ");
    if let (Some(deviation), Readings::Curves(_)) = (fit.spread.deviation, &fit.readings) {
        text.push_str(&format!(
            "Standard deviation of a reading {} {unit}, {} degrees of freedom. ",
            significant(deviation, 2),
            fit.spread.freedom
        ));
    }
    match hanging_together(fit) {
        Some((r, wider)) => text.push_str(&format!(
            "Neighbouring residuals hang together (correlation {}): what is left is more than noise, \
             the model or the specimens part from the curve, and the intervals should be about {} \
             times as wide.",
            fixed(r, 2),
            significant(wider, 2)
        )),
        None if matches!(fit.readings, Readings::Curves(_)) => text.push_str(
            "Neighbouring residuals do not hang together: what is left looks like noise.",
        ),
        None => {}
    }
    out + &paragraph(text.trim_end(), 2)
}

fn rms(values: &[f64]) -> f64 {
    (values.iter().map(|v| v * v).sum::<f64>() / values.len().max(1) as f64).sqrt()
}

/// Correlation of neighbouring residuals where it is more than chance, and by how much intervals are
/// too narrow: √((1 + r)/(1 − r)) for residuals that each remember the one before (common practice, no source).
pub fn hanging_together(fit: &Fit) -> Option<(f64, f64)> {
    let r = fit.next_to_next?;
    // beyond what chance gives once in two hundred
    let chance = 2.6 / (fit.readings.count() as f64).sqrt();
    (r > chance).then(|| (r, ((1.0 + r) / (1.0 - r).max(1e-3)).sqrt()))
}

fn cannot(fit: &Fit) -> String {
    let mut out = String::new();
    for sentence in warnings(fit) {
        out.push_str(&paragraph(&sentence, 2));
    }
    if let Readings::Times { .. } = fit.readings {
        out.push_str(&paragraph(TIMES_ALONE, 2));
    }
    if out.is_empty() {
        out = paragraph(
            "Nothing among the free properties: each has its own effect on the readings. Everything \
             that was held is taken as it stands in the layup; an error there goes into the fitted \
             values, and no interval shows it.",
            2,
        );
    }
    out
}

/// What times without a curve cannot tell.
pub const TIMES_ALONE: &str = "Times alone fix at most as many properties as there are different rises. \
    They do not show whether the curve between and beyond them fits, they cannot find a wrong start or \
    a drying ply, and the intervals rest on the error stated for a time, not on any scatter seen. With \
    the curve itself more could be told.";

/// A sentence for each group of properties that the readings cannot tell apart.
pub fn warnings(fit: &Fit) -> Vec<String> {
    fit.twins.iter().map(|twins| warning(fit, twins)).collect()
}

fn warning(fit: &Fit, twins: &Twins) -> String {
    let names: Vec<String> =
        twins.who.iter().map(|i| name(fit.free[*i].what, &fit.layup)).collect();
    let fix = fit.free[twins.fix].what;
    let fix_name = name(fix, &fit.layup);
    let mend = format!("Hold \"{fix_name}\" and fit again: {}.", otherwise(fix));
    if twins.blur == Blur::Unfelt {
        return format!("WARNING: the readings do not feel \"{fix_name}\" at all. {mend}");
    }
    let quoted: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    let trade: Vec<String> = twins
        .trade
        .iter()
        .map(|share| {
            format!("{}{} %", if *share < 0.0 { "−" } else { "+" }, significant(share.abs(), 3))
        })
        .collect();
    let moved = format!("{} in this order", list(&trade));
    match twins.blur {
        Blur::Inseparable => format!(
            "WARNING: the readings cannot separate {}. Moved by {moved} they leave the readings as they \
             are, so that only what they do together is known; the single values and intervals are not \
             to be used. {mend}",
            list(&quoted)
        ),
        _ => format!(
            "WARNING: the readings hardly separate {}: moved by {moved} they nearly leave the readings as \
             they are. {mend}",
            list(&quoted)
        ),
    }
}

fn exactness(fit: &Fit) -> String {
    let end = match fit.end {
        End::Settled => "The search settled",
        End::Stalled => "The search came as near as the steps of the solver allow",
        End::GivenUp => "The search was given up before it settled",
    };
    let unit = unit(fit);
    format!(
        "Intervals are those of the linear theory at the fitted values, from Student's t. {end} after {} \
         derivatives ({} runs of the solver, mesh {LEVEL}). Derivatives at half the step differ by {} % at \
         most; the next finer mesh moves the fitted readings by {} {unit} at most.",
        fit.n_jacobians,
        fit.n_runs,
        PERCENT.significant(fit.step_error, 2),
        significant(fit.mesh_error, 2)
    )
}

fn files(fit: &Fit, written: &[Written]) -> String {
    let mut out = String::new();
    for file in written {
        let apart = match file.apart {
            Some(apart) => format!(
                "; read back, it gives the fitted readings within {} {}",
                significant(apart.max(1e-4), 1),
                unit(fit)
            ),
            None => String::new(),
        };
        out.push_str(&paragraph(&format!("{}{apart}.", file.path), 2));
    }
    out
}

/// The readings as CSV: read, before the fit, fitted, and what is left.
///
/// Errors: a value that is not a finite number.
pub fn fit_csv(fit: &Fit) -> Result<String, CurvesError> {
    let read = fit.readings.values();
    let (labels, given, told): (Vec<(&str, f64)>, _, _) = match &fit.readings {
        Readings::Curves(curves) => {
            let labels = curves
                .iter()
                .flat_map(|curve| curve.points.iter().map(|point| (curve.name.as_str(), point.0)));
            (labels.collect(), ("time", SECONDS), ("temperature_rise", DEGREES_APART))
        }
        Readings::Times { times, .. } => {
            let labels = times.iter().map(|timed| ("times", timed.rise)).collect();
            (labels, ("temperature_rise", DEGREES_APART), ("time", SECONDS))
        }
    };
    let columns = [
        Column::new("curve", BARE, |i: &usize| labels[*i].0),
        Column::new(given.0, given.1, |i: &usize| labels[*i].1),
        Column::new(told.0, told.1, |i: &usize| read[*i]),
        Column::new("before", told.1, |i: &usize| fit.before[*i]),
        Column::new("fitted", told.1, |i: &usize| fit.after[*i]),
        Column::new("residual", told.1, |i: &usize| read[*i] - fit.after[*i]),
    ];
    csv(&columns, &(0..labels.len()).collect::<Vec<usize>>())
}
