//! A fit as JSON.

use serde::Serialize;

use crate::report::fit::{Written, hanging_together, unit, warnings};
use crate::report::fit_words::{key, name, outside};
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::study::answer::stack;
use crate::study::fit::fitting::Fit;
use crate::study::fit::levenberg::End;
use crate::study::fit::readings::Readings;

#[derive(Serialize)]
struct Body<'a> {
    layup: &'a str,
    /// "quilted" or "flat".
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    exposure: &'a str,
    readings: Vec<Source<'a>>,
    reading_unit: &'static str,
    values: Vec<Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    correlation: Option<Vec<Vec<Finite>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    condition_number: Option<Finite>,
    degrees_of_freedom: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    deviation: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    next_to_next_correlation: Option<Finite>,
    intervals_too_narrow: bool,
    warnings: Vec<String>,
    search: &'static str,
    n_jacobians: usize,
    n_runs: usize,
    step_error: Finite,
    mesh_error: Finite,
    written: Vec<&'a str>,
}

#[derive(Serialize)]
struct Source<'a> {
    from: &'a str,
    n: usize,
    notes: Vec<&'a str>,
}

/// A fitted value, in the unit that ends its key.
#[derive(Serialize)]
struct Value {
    key: &'static str,
    of: String,
    before: Finite,
    fitted: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Finite>,
    at_end_of_range: bool,
}

/// The fit as JSON.
///
/// Errors: a value that is not a finite number.
pub fn fit_json(fit: &Fit, written: &[Written]) -> Result<String, serde_json::Error> {
    let readings = match &fit.readings {
        Readings::Curves(curves) => curves
            .iter()
            .map(|curve| Source {
                from: &curve.name,
                n: curve.points.len(),
                notes: curve.notes.iter().map(String::as_str).collect(),
            })
            .collect(),
        Readings::Times { times, .. } => {
            vec![Source { from: "times", n: times.len(), notes: Vec::new() }]
        }
    };
    let rows = |matrix: &ndarray::Array2<f64>| {
        let row = |row: ndarray::ArrayView1<f64>| row.iter().map(|r| rounded(*r)).collect();
        matrix.rows().into_iter().map(row).collect()
    };
    let finite = fit.spread.condition.is_finite();
    let stack = stack(&fit.layup, fit.quilts);
    let body = Body {
        layup: &fit.layup.name,
        computed: lies::word(stack),
        why_flat: lies::why_flat(stack),
        exposure: &fit.exposure.name,
        readings,
        reading_unit: unit(fit),
        values: (0..fit.free.len()).map(|i| value(fit, i)).collect(),
        correlation: fit.spread.correlation.as_ref().map(rows),
        condition_number: finite.then(|| rounded(fit.spread.condition)),
        degrees_of_freedom: fit.spread.freedom,
        deviation: fit.spread.deviation.map(rounded),
        next_to_next_correlation: fit.next_to_next.map(rounded),
        intervals_too_narrow: hanging_together(fit).is_some(),
        warnings: warnings(fit),
        search: match fit.end {
            End::Settled => "settled",
            End::Stalled => "stalled",
            End::GivenUp => "given_up",
        },
        n_jacobians: fit.n_jacobians,
        n_runs: fit.n_runs,
        step_error: rounded(fit.step_error),
        mesh_error: rounded(fit.mesh_error),
        written: written.iter().map(|file| file.path.as_str()).collect(),
    };
    envelope("stillair/fit", &body)
}

fn value(fit: &Fit, i: usize) -> Value {
    let what = fit.free[i].what;
    let out = |value: f64| rounded(outside(what, value).0);
    let end = |sign: f64| fit.half_widths[i].map(|half| out(fit.values[i] + sign * half));
    Value {
        key: key(what),
        of: name(what, &fit.layup),
        before: out(fit.free[i].start),
        fitted: out(fit.values[i]),
        low: end(-1.0),
        high: end(1.0),
        at_end_of_range: fit.at_end[i],
    }
}
